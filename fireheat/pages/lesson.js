// What a lesson does besides the explorer: units, guesses, steps one by one, and keys for what is too wide.

{
    const root = document.documentElement, NAMES = { metric: "cm, N", us: "in, lb" };
    const all = look => [...document.querySelectorAll(look)];
    const make = (tag, given) => Object.assign(document.createElement(tag), given);
    const units = document.querySelector(".units") ?? make("span", {});
    const turn = system => {
        root.dataset.units = system;
        for (const one of units.querySelectorAll("button")) {
            one.setAttribute("aria-pressed", String(one.value === system));
        }
        dispatchEvent(new Event("units"));
    };
    for (const [system, words] of Object.entries(NAMES)) {
        const one = make("button", { type: "button", value: system, textContent: words });
        one.addEventListener("click", () => turn(system));
        units.append(one);
    }

    // What tells the answers comes once a guess is made: below it, and where all guesses are asked for.
    const asks = all(".ask.guess"), after = all(".answer").filter(one => /predictions?\.$/.test(one.querySelector("summary").textContent));
    const later = [...after, ...all(".telling")].map(one => {
        const asked = asks.filter(ask => ask.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
        const note = make("p", { className: "note waits" });
        one.before(note);
        if (one.matches("figure")) note.after(make("p", { className: "paper", textContent: "The picture stands at the end." }));
        return { one, asked, note };
    });
    // On paper they stand with the answers.
    const apart = document.querySelector(".answers");
    addEventListener("beforeprint", () => apart?.append(...all(".telling")));
    addEventListener("afterprint", () => later.forEach(({ one, note }) => { if (one.closest(".answers")) note.nextSibling.after(one); }));
    const wait = () => {
        for (const { one, asked, note } of later) {
            const open = asked.filter(ask => !ask.classList.contains("made")).length;
            one.classList.toggle("unseen", open > 0);
            note.textContent = open ? `This opens once you have guessed above: ${open} to go.` : "";
        }
        scrollable();
    };
    for (const ask of asks) {
        const [answer, button, said] = [".answer", ".commit button", ".commit span"].map(look => ask.querySelector(look));
        const seen = look => [...ask.querySelectorAll(look)].find(one => one.checkVisibility());
        const summary = answer.querySelector("summary"), AGAIN = "Guess again";
        const [GUESS, SHUT] = [button.textContent, summary.textContent];
        const guess = () => {
            const chosen = ask.querySelector(":checked"), typed = seen("[inputmode]");
            if (typed) return /^\s*\d+([.,]\d+)?\s*$/.test(typed.value) ? typed.closest("p").textContent.replace(/^.*:/, typed.value.trim()) : "";
            return chosen ? seen(`[value="${chosen.value}"]`).closest("label").textContent : "";
        };
        const commit = made => {
            ask.classList.toggle("made", made);
            for (const one of ask.querySelectorAll("fieldset")) one.disabled = made;
            answer.classList.toggle("unseen", !made);
            answer.open = made;
            button.textContent = made ? AGAIN : GUESS;
            summary.textContent = made ? "The answer" : SHUT;
            wait();
        };
        button.hidden = false;
        button.addEventListener("click", () => {
            const made = ask.classList.contains("made"), words = guess();
            said.textContent = made ? "" : words ? `You said: ${words}.` : ask.querySelector("ol") ? "Choose one first." : "Type a number first.";
            if (made || words) commit(!made);
        });
        // The same choice in the other units, under the same name.
        addEventListener("units", () => {
            const chosen = ask.querySelector(":checked"), same = chosen && seen(`[value="${chosen.value}"]`);
            if (same) same.checked = true;
            if (ask.classList.contains("made")) said.textContent = `You said: ${guess()}.`;
        });
        answer.classList.add("unseen");
    }

    for (const steps of all(".steps")) {
        const next = make("button", { type: "button", textContent: "Next step" });
        const later = [...steps.children].slice(1);
        for (const step of later) step.classList.add("later");
        next.addEventListener("click", () => {
            const step = later.shift();
            step.classList.remove("later");
            step.tabIndex = -1;
            step.focus({ preventScroll: true });
            next.scrollIntoView({ block: "nearest" });
            if (!later.length) next.remove();
            scrollable();
        });
        if (later.length) steps.after(next);
    }
    // What is a little too wide is set smaller; what still is can be scrolled by keys, too.
    const LEAST = 0.68;
    const scrollable = () => {
        for (const shown of all(".shown")) {
            shown.style.fontSize = "";
            const fits = (shown.clientWidth - 4) / shown.scrollWidth;
            if (shown.scrollWidth > shown.clientWidth) shown.style.fontSize = `${Math.max(fits, LEAST)}em`;
        }
        for (const told of all(":is(p, li):has(> math)")) {
            told.classList.remove("sideways");
            told.classList.toggle("sideways", told.scrollWidth > told.clientWidth);
        }
        for (const wide of all(".shown, .wide, :is(p, li):has(> math)")) {
            if (wide.scrollWidth > wide.clientWidth) wide.tabIndex = 0;
            else wide.removeAttribute("tabindex");
        }
    };
    addEventListener("resize", scrollable);
    addEventListener("toggle", scrollable, true);
    units.hidden = false;
    turn("metric");
    wait();
}

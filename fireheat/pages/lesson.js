// What a lesson does besides the explorer: units, steps one by one, and keys for what is too wide.

{
    const root = document.documentElement, NAMES = { metric: "cm, N", us: "in, lb" };
    const units = document.querySelector(".units") ?? document.createElement("span");
    const turn = system => {
        root.dataset.units = system;
        for (const one of units.querySelectorAll("button")) {
            one.setAttribute("aria-pressed", String(one.value === system));
        }
        dispatchEvent(new Event("units"));
    };
    for (const [system, words] of Object.entries(NAMES)) {
        const one = Object.assign(document.createElement("button"), { type: "button", value: system, textContent: words });
        one.addEventListener("click", () => turn(system));
        units.append(one);
    }
    units.hidden = false;
    turn("metric");

    for (const steps of document.querySelectorAll(".steps")) {
        const next = Object.assign(document.createElement("button"), { type: "button", textContent: "Next step" });
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
    const scrollable = () => {
        for (const wide of document.querySelectorAll(".shown, .wide")) {
            if (wide.scrollWidth > wide.clientWidth) wide.tabIndex = 0;
            else wide.removeAttribute("tabindex");
        }
    };
    addEventListener("resize", scrollable);
    scrollable();
}

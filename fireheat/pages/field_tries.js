// Part 4 of 5: tries as the log has them, handed on only where asked; my kit.

// ---- tries, as the log has them -----------------------------------------------------------------------------

function spell_number(amount, [, scale]) {
    const spelling = (amount / scale).toFixed(8).replace(/0+$/, "").replace(/\.$/, "");
    const [whole, decimals = ""] = spelling.split(".");
    return decimals.length === 3 && whole !== "0" ? `${spelling}0` : spelling;
}
const cell = spelling => /[",\n\r]/.test(spelling) ? `"${spelling.replaceAll('"', '""')}"` : spelling;
const log_row = one => pairs(COLUMN).map(([key, { range, metric, log = metric }]) => one[key] === undefined ? ""
    : cell(range ? spell_number(one[key], log) : one[key])).join(",");
function trouble(one) {
    const wrong = Object.keys(COLUMN).find(key => COLUMN[key].range && one[key] !== undefined && !ordinary(key, one[key]));
    if (wrong) return ` ${capital(COLUMN[wrong].heading)} ${with_unit(wrong, one[wrong])} is no usual try: it stays out of the log.`;
    return one.smoke_time > one.time ? " Smoke after the end: it stays out of the log." : "";
}
const log_text = () => FIELD.head + tries().filter(one => !trouble(one)).map(one => `${log_row(one)}\n`).join("");
const summary_words = one => {
    const smoke = one.smoke_time === undefined ? "" : `, smoke ${clock_words(1000 * one.smoke_time)}`;
    const chosen = ["diameter", "force"].filter(key => one[key] !== undefined).map(key => `, ${with_unit(key, one[key])}`).join("");
    return `${one.learner || "who?"}: ${one.ended} ${clock_words(1000 * one.time)}${smoke}${chosen}.${trouble(one)}`;
};
function show_tries() {
    const all = tries();
    const show_log = () => { $("log").value = log_text(); };
    word("count", all.length ? `${all.length} ${all.length === 1 ? "try" : "tries"} on this phone. Open one to add what was measured.` : "No tries yet.");
    $("list").replaceChildren(...all.map(one => {
        const item = made("li"), box = made("details"), summary = made("summary", summary_words(one));
        const fields = made("div", "", { className: "fields" });
        const current = () => page.tries.find(other => other.id === one.id);
        for (const key of Object.keys(COLUMN)) {
            if (["date", "time", "ended"].includes(key)) continue;
            fields.append(field(key, one[key], to => {
                changed(one, { [key]: to });
                summary.textContent = summary_words(current());
                show_log();
            }));
        }
        const out = made("button", "Leave this try out", { type: "button" });
        twice(out, "Surely leave it out?", () => { left_out(one); show_tries(); });
        box.append(summary, fields, out);
        item.append(box);
        return item;
    }));
    $("share").hidden = !navigator.share;
    show_log();
}
// What cannot be taken back is asked for twice.
function twice(button, words, act, lost = () => true) {
    const first = button.textContent;
    let sure = 0;
    button.onclick = () => {
        if (sure || !lost()) {
            clearTimeout(sure);
            sure = 0;
            button.textContent = first;
            return act();
        }
        button.textContent = words;
        sure = setTimeout(() => { sure = 0; button.textContent = first; }, TWICE);
    };
}
const file_name = () => `tries-${date_words(new Date())}.csv`;
async function hand_on(how) {
    const spelling = log_text(), out = tries().filter(trouble).length;
    let words = "This phone would not. Mark the text below and copy it by hand.";
    try {
        if (how === "share") {
            const file = new File([spelling], file_name(), { type: "text/csv" });
            await navigator.share(navigator.canShare?.({ files: [file] }) ? { files: [file] } : { text: spelling });
            words = "Shared.";
        } else if (how === "copy") {
            try { await navigator.clipboard.writeText(spelling); } catch {
                $("log").select();
                if (!document.execCommand("copy")) throw new Error("refused");
            }
            words = "Copied.";
        } else {
            const address = URL.createObjectURL(new Blob([spelling], { type: "text/csv" }));
            made("a", "", { href: address, download: file_name() }).click();
            setTimeout(() => URL.revokeObjectURL(address), ANEW);
            words = "Saved among your downloads.";
        }
        handed = true;
    } catch (wrong) { // the words say so
        if (wrong.name === "AbortError") words = "Not shared.";
    }
    word("handed", `${words}${out ? ` Left out: ${out}, see the list.` : ""} Your tries stay here.`);
}

// ---- my kit ---------------------------------------------------------------------------------------------------

function show_kit() {
    $("kit_rows").replaceChildren(...KEYS.map(key => {
        const row = made("div"), name = capital(quantities[key].name);
        const unit = unit_of(key)[0];
        const care = made("select");
        care.setAttribute("aria-label", `${name}: how well measured`);
        care.append(...FIELD.care.map(([times, words]) => new Option(words, times)));
        care.value = String(page.kit[key]?.[1] ?? FIELD.care[0][0]);
        const put = to => {
            put_in(page.kit, key, to === undefined ? undefined : [to, Number(care.value)]);
            if (page.kit_in) put_kit_in();
            keep();
            show_kit_words();
        };
        care.onchange = () => { if (key in page.kit) put(page.kit[key][0]); };
        const box = field(key, page.kit[key]?.[0], put, `${name}${unit ? ` (${unit})` : ""}`);
        row.append(box, made("label", "How well"));
        row.lastChild.append(care);
        return row;
    }));
    $("kit_kept").checked = page.kit_kept;
    show_kit_words();
}
function put_kit_in() {
    page.kit_in = Object.keys(page.kit).length > 0;
    for (const [key, [amount]] of pairs(page.kit)) {
        page.set[key] = amount;
        if (WATCHED.includes(key)) page.log[key] = amount;
    }
    scale_sliders();
}
function show_kit_words() {
    $("kit_in").setAttribute("aria-pressed", String(page.kit_in));
    word("kit_in", page.kit_in ? "Take my kit off" : "Put my kit in");
    const some = Object.keys(page.kit).length;
    if (!page.kit_in) return word("kit_told", some ? "Not in yet: the sliders stand as they stood." : "Nothing is measured yet.");
    const { state, found } = reckoned(page.set), guessed = fireheat.estimate(state, {}, fireheat.settable(state));
    word("kit_told", `My kit is in. Ember, estimate ${band_words(found.ember.all)}; if all of it were guessed, ${band_words(guessed.ember.all)}.`);
}

// How the task of a what-if card stands: the rules of answers/cards.py and the words of lessons.py,
// each function by the name that it has there. The card's explorer tells what is set and found.

// Draws the goal on a lane: a field up to it, a pole, and a flag above all that the lane draws.
const goal_flag = goal => ({ across, path, words, foot }) => {
    const HIGH = 20, GAP = 6, POINT = 6, at = across(goal), text = `ember before ${time_words(goal)}`;
    const long = text.length * (LETTER + 1) + 16, by = at > long ? -1 : 1; // it flies to where there is room
    path("field", `M${across(0)} ${-GAP}H${at}V${foot}H${across(0)}Z`);
    path("pole", `M${at} ${-HIGH - GAP}V${foot}`);
    path("flag", `M${at} ${-HIGH - GAP}h${by * long}l${-by * POINT} ${HIGH / 2}l${by * POINT} ${HIGH / 2}H${at}Z`);
    words(at + by * 8, -HIGH / 2 - 1, text, by > 0 ? "start" : "end", "on-flag");
};

{
    const ROUNDED = 1 + 1e-6, SAME = 1e-9; // relatively: what rounding may leave
    const alike = (one, other) => one === other || Math.abs(one - other) <= SAME * Math.max(Math.abs(one), Math.abs(other));
    const arm_speed = ({ pull_max, speed_max, curvature }, pull) => {
        const x = Math.min(pull / pull_max, 1);
        return speed_max * curvature * (1 - x) / (x + curvature);
    };
    const hold_time = ({ critical_power, work_above }, power) =>
        power > critical_power ? work_above / (power - critical_power) : Infinity;
    const most_strokes = (length, acceleration) => 30 * Math.sqrt(acceleration / length);
    const broken = (rules, changed, state, found) => {
        const { arm, at_least, at_most } = rules, slow = found.ember.wood[2];
        if (changed.length > rules.change_at_most) return "change";
        if (state.speed > ROUNDED * arm_speed(arm, found.pull)) return "reach";
        for (const key in at_least) if (state[key] * ROUNDED < at_least[key]) return key;
        for (const key in at_most) if (state[key] > ROUNDED * at_most[key]) return key;
        const turns = ROUNDED * most_strokes(state.stroke_length, rules.acceleration);
        if (rules.strokes && state.strokes_per_minute > turns) return "turn";
        if (slow < Infinity && slow > hold_time(arm, found.pull * state.speed)) return "hold";
        return found.enough.times_least[1] >= 1 ? "" : "dust";
    };
    const places = (rules, changed, state, found, system) => {
        const said = key => key in fireheat.quantities ? quantity_words(key, state[key], system) : "";
        return {
            ...Object.fromEntries(Object.keys(state).map(key => [key, said(key)])),
            stroke: said("stroke_length"), strokes: said("strokes_per_minute"),
            slow: time_words(found.ember.wood[2]),
            hold: time_words(hold_time(rules.arm, found.pull * state.speed)),
            dust: `${fireheat.number_words(1000 * found.enough.mass)} g`,
            count: changed.length, allowed: rules.change_at_most,
        };
    };
    const too_late = (likely, goal) => {
        const time = time_words(likely);
        if (time === "never") return `most likely there is never an ember, and it has to come under ${goal}`;
        if (time === goal) return `even the likely ember is not quite under ${goal}`;
        return `the ember most likely takes ${time}, and it has to come under ${goal}`;
    };
    const name_of = key => key === "wood" ? "another wood" : fireheat.quantities[key].name;
    const met = (rules, found, goal, slow, ways) => {
        const { below } = rules, late = found.ember.all[2], names = [...ways].sort();
        const sure = late < below;
        const opening = sure ? `Goal met, come what may: ${time_words(late)} at the very latest.`
            : `Goal met with this wood: ${slow === goal ? `just under ${goal}` : slow} at the slow end.`;
        let more = sure ? "Even the pale bar ends before the flag."
            : "Part of the pale bar is past the flag: what we do not know can still spoil it.";
        if (rules.ways > 1 && names.length === 1) more += ` That is one way, by ${names[0]}. The task asks for two.`;
        if (rules.ways > 1 && names.length > 1) more += ` Both ways are found: by ${names[0]}, and by ${names[1]}.`;
        return ["✔", opening, more];
    };
    const stands = (rules, { start, state, found }, ways, system) => {
        const { below, free } = rules, goal = time_words(below), [, likely, last] = found.ember.wood;
        const { hint, replies } = rules.words[system], slow = time_words(last);
        const changed = free.filter(key => !alike(state[key], start[key]));
        if (!changed.length) return ["", "Not tried yet.", `The goal: an ember under ${goal}.`];
        const rule = broken(rules, changed, state, found);
        if (rule) {
            const told = places(rules, changed, state, found, system);
            return ["✘", replies[rule].replace(/\{(\w+)\}/g, (_, place) => told[place]), ""];
        }
        if (last < below) {
            ways.add(changed.map(name_of).join(" and "));
            return met(rules, found, goal, slow, ways);
        }
        if (likely >= below) return ["✘", `Not yet, because ${too_late(likely, goal)}.`, hint];
        return ["≈", "Likely, but not sure: the likely ember is before the flag, but " + ([goal, "never"].includes(slow)
            ? "the bar of this wood is not quite." : `with this wood it may take ${slow}.`), hint];
    };

    for (const card of document.querySelectorAll(".card")) {
        const rules = JSON.parse(card.dataset.card), ways = new Set(), verdict = card.querySelector(".verdict");
        const system = () => document.documentElement.dataset.units ?? "metric";
        card.querySelector(".explorer").addEventListener("shown", ({ detail }) => {
            const [mark, opening, more] = stands(rules, detail, ways, system()).map(unbroken);
            const lead = Object.assign(document.createElement("b"), { textContent: `${mark} ${opening}`.trim() });
            verdict.replaceChildren(lead, more && ` ${more}`);
        });
    }
}

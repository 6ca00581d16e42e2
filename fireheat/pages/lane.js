// One try's time on a plank, as figures/lane.py draws it, spelled as SVG for a page of any width.

const WOOD = 16, PALE = 11, DOT = 9; // half heights of the bars, and the dot's radius
const EDGE = 6, POINT = 10; // bare ends beside the plank, and the point of a bar that runs off it
const LETTER = 7.6; // about how wide a letter of 14 px is
const plank_end = (must, may) => {
    const need = Math.max(0, ...must.filter(time => time < LANE.too_long));
    const wish = Math.max(0, ...may.filter(time => time <= LANE.far * need));
    return LANE.planks.find(([end]) => end >= Math.min(Math.max(need, wish), LANE.too_long));
};
const _notch_words = seconds => {
    if (seconds < 30 || seconds % 30) return seconds ? `${seconds} s` : "0";
    return seconds === 30 ? "30 s" : `${Math.floor(seconds / 60)}${seconds % 60 ? "½" : ""} min`;
};
// Puts shapes, each [element, its attributes, its words], into an SVG: what stands there only changes.
const put_shapes = (place, shapes) => {
    shapes.forEach(([name, given, words = ""], n) => {
        let one = place.children[n];
        if (one?.tagName !== name) {
            const made = document.createElementNS(place.namespaceURI, name);
            one ? one.replaceWith(made) : place.append(made);
            one = made;
        }
        const was = one.shape ?? {};
        for (const key in was) if (!(key in given)) one.removeAttribute(key);
        for (const key in given) if (was[key] !== given[key]) one.setAttribute(key, given[key]);
        one.shape = given;
        if (words && one.textContent !== words) one.textContent = words;
    });
    while (place.children.length > shapes.length) place.lastChild.remove();
};
// Each lane has a pattern of its own: one of a lane that is not shown would not be drawn.
const _hatched = name => `<svg class="lane" role="img" style="--too-soon:url(#${name})"><defs><pattern id="${name}"`
    + ' width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v7"'
    + ' class="hatch"/></pattern></defs><g></g></svg>';
// found: what fireheat.estimate gives; before: the same, of what was kept; ours: a band of evenings;
// goal: a time that must be on the plank, and flag: what draws it.
const draw_lane = (place, found, { before = null, ours = null, goal = 0, flag = null, width = 640 } = {}) => {
    const shown = before ? [found, before] : [found];
    const [end, apart] = plank_end(
        [...shown.flatMap(one => [one.ember.wood[1], one.ember.wood[2], one.bound]), ours?.[0] ?? 0, goal],
        [...shown.map(one => one.ember.all[2]), ours?.[2] ?? 0],
    );
    const right = width - EDGE - POINT, left = EDGE, shapes = [];
    const across = time => Math.round(10 * (left + (right - left) * Math.min(time, end) / end)) / 10;
    const path = (look, d) => shapes.push(["path", { class: look, d }]);
    const rect = (look, y, height, to = right) => shapes.push(["rect", { class: look, x: left, y, width: to - left, height }]);
    const words = (x, y, text, anchor = "start", look = "") =>
        shapes.push(["text", { x, y, "text-anchor": anchor, class: look }, text]);
    const holds = time => time <= end && time < LANE.too_long;
    const bar = (band, y, half, look) => {
        if (!holds(band[0])) return;
        const x = across(band[0]), to = across(band[2]);
        const tip = holds(band[2]) ? "" : `L${to + POINT} ${y}`;
        path(look, `M${x} ${y - half}H${to}${tip}L${to} ${y + half}H${x}Z`);
    };
    const dot = (time, y, look) => {
        if (holds(time)) shapes.push(["circle", { class: look, cx: across(time), cy: y, r: DOT }]);
    };
    const centred = (band, y, text, look, least = 0) => {
        const half = text.length * LETTER / 2 + EDGE, middle = (across(band[0]) + across(band[2])) / 2;
        if (holds(band[0])) words(Math.min(Math.max(middle, least + half), width - half), y, text, "middle", look);
    };

    const y = 58, under = y + WOOD + 8, wall = across(found.bound), { wood, all } = found.ember;
    const named = wall - left > 8 * LETTER;
    rect("wall", y - WOOD, 2 * WOOD, wall);
    if (holds(found.bound)) { // the wall's edge, and how far off it may stand
        path("floor", `M${wall} ${y - WOOD - 3}v${2 * WOOD + 6}`);
        const [low, , high] = found.bound_all;
        path("range", `M${across(low)} ${under - 4}v8m0-4H${across(high)}m0-4v8`);
    }
    bar(all, y, PALE, "all");
    bar(wood, y, WOOD, "wood");
    dot(wood[1], y, "likely");
    if (named) words(left, 34, "too soon");
    centred(all, 14, "all we do not know");
    centred(wood, 34, "your wood", "strong", named ? left + 9 * LETTER : 0);
    let foot = under + 8;
    if (ours && holds(ours[0])) { // as a bracket, open where it runs off
        const at = foot + 6, [low, , high] = ours;
        path("ours", `M${across(low)} ${at - 7}V${at}H${across(high)}${holds(high) ? `V${at - 7}` : ""}`);
        centred(ours, at + 16, "your evenings", "ours");
        foot = at + 23;
    }
    if (before) {
        const at = foot + 12, { wood: was, all: far } = before.ember;
        if (holds(far[0])) path("was far", `M${across(far[0])} ${at}H${across(far[2])}`);
        bar(was, at, WOOD - 4, "was");
        dot(was[1], at, "was");
        const [low, , high] = far.map(across), wide = 8 * LETTER; // beside it, where there is room
        if (!holds(far[0]) || low > wide) words(left, at + 5, "before");
        else if (high + wide < right) words(high + EDGE, at + 5, "before");
        foot = at + WOOD + 6;
    }
    rect("plank", foot, 14);
    rect("shadow", foot + 10, 4);
    const every = across(apart) - left > 58 ? 1 : 2;
    for (let n = 0; n * apart <= end; n++) {
        const x = across(n * apart), last = n * apart === end;
        path("notch", `M${x} ${foot + 11}l-6 -11.5h12Z`);
        if (n % every === 0) {
            words(last ? right + POINT : x, foot + 31, _notch_words(n * apart), n ? (last ? "end" : "middle") : "start", "quiet");
        }
    }
    const drawn = shapes.length;
    flag?.({ across, path, words, foot });
    shapes.unshift(...shapes.splice(drawn)); // a flag and its field stand behind the lane
    if (!place.firstChild) place.innerHTML = _hatched(`too-soon-${document.querySelectorAll(".lane").length}`);
    const [svg] = place.children, height = foot + 38, box = `0 0 ${width} ${height}`;
    if (svg.shape !== box) {
        for (const [key, value] of Object.entries({ width, height, viewBox: box })) svg.setAttribute(key, value);
        svg.shape = box;
    }
    put_shapes(svg.lastChild, shapes);
    return svg;
};

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
// found: what fireheat.estimate gives; before: the same, of what was kept; says: what it shows.
const lane_picture = (found, { before = null, width = 640, says = "" } = {}) => {
    const shown = before ? [found, before] : [found];
    const [end, apart] = plank_end(
        shown.flatMap(one => [one.ember.wood[1], one.ember.wood[2], one.bound]),
        shown.map(one => one.ember.all[2]),
    );
    const right = width - EDGE - POINT, left = EDGE;
    const across = time => left + (right - left) * Math.min(time, end) / end;
    const words = (x, y, text, rest = "") => `<text x="${x.toFixed(1)}" y="${y}"${rest}>${text}</text>`;
    const holds = time => time <= end && time < LANE.too_long;
    const bar = (band, y, half, look) => {
        if (!holds(band[0])) return "";
        const x = across(band[0]), to = across(band[2]), off = !holds(band[2]);
        const tip = off ? `L${to + POINT} ${y}` : "";
        return `<path class="${look}" d="M${x} ${y - half}H${to}${tip}L${to} ${y + half}H${x}Z"/>`;
    };
    const dot = (time, y, look) => holds(time)
        ? `<circle class="${look}" cx="${across(time).toFixed(1)}" cy="${y}" r="${DOT}"/>` : "";
    const centred = (text, from, to, least) => {
        const half = text.length * LETTER / 2 + EDGE;
        const middle = (across(from) + across(Math.min(to, end))) / 2;
        return Math.min(Math.max(middle, least + half), width - half);
    };

    const y = 58, under = y + WOOD + 8, wall = across(found.bound), { wood, all } = found.ember;
    const named = wall - left > 8 * LETTER;
    // The wall's edge, and how far off it may stand.
    const floor = ({ bound_all: [low, , high] }) =>
        `<path class="floor" d="M${wall} ${y - WOOD - 3}v${2 * WOOD + 6}"/>`
        + `<path class="range" d="M${across(low)} ${under - 4}v8m0-4H${across(high)}m0-4v8"/>`;
    let drawn = `<rect class="wall" x="${left}" y="${y - WOOD}" width="${wall - left}" height="${2 * WOOD}"/>`
        + (holds(found.bound) ? floor(found) : "") + bar(all, y, PALE, "all") + bar(wood, y, WOOD, "wood") + dot(wood[1], y, "likely");
    if (named) drawn += words(left, 34, "too soon");
    if (holds(all[0])) {
        const text = "all we do not know";
        drawn += words(centred(text, all[0], all[2], 0), 14, text, ' text-anchor="middle"');
    }
    if (holds(wood[0])) {
        const text = "your wood", x = centred(text, wood[0], wood[2], named ? left + 9 * LETTER : 0);
        drawn += words(x, 34, text, ' text-anchor="middle" font-weight="700"');
    }
    let foot = under + 8;
    if (before) {
        const at = foot + 12, { wood: was, all: far } = before.ember;
        if (holds(far[0])) drawn += `<path class="was far" d="M${across(far[0])} ${at}H${across(far[2])}"/>`;
        drawn += bar(was, at, WOOD - 4, "was") + dot(was[1], at, "was");
        const low = holds(was[0]) ? across(was[0]) : width;
        drawn += low > 9 * LETTER ? words(left, at + 5, "before") : "";
        foot = at + WOOD + 6;
    }
    drawn += `<rect class="plank" x="${left}" y="${foot}" width="${right - left}" height="14"/>`
        + `<rect class="shadow" x="${left}" y="${foot + 10}" width="${right - left}" height="4"/>`;
    const every = across(apart) - left > 58 ? 1 : 2;
    for (let n = 0; n * apart <= end; n++) {
        const x = across(n * apart);
        drawn += `<path class="notch" d="M${x - 6} ${foot - .5}L${x} ${foot + 11}L${x + 6} ${foot - .5}Z"/>`;
        const last = n * apart === end, anchor = n ? (last ? "end" : "middle") : "start";
        if (n % every === 0) {
            drawn += words(last ? right + POINT : x, foot + 31, _notch_words(n * apart),
                ` class="quiet" text-anchor="${anchor}"`);
        }
    }
    const height = foot + 38;
    return `<svg class="lane" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img"`
        + ` aria-label="${says.replaceAll('"', "&quot;")}"><defs><pattern id="too-soon" width="7" height="7"`
        + ' patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v7" class="hatch"/>'
        + `</pattern></defs>${drawn}</svg>`;
};

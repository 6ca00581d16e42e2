// Times as words. Each function has the name of the one in words.py that it repeats.

const { number_words } = fireheat;
const to_even = value => value % 1 === 0.5 ? 2 * Math.round(value / 2) : Math.round(value); // as Python rounds
const round_to = (value, figures) => Number(value.toPrecision(figures));
const time_words = seconds => {
    if (seconds >= LANE.too_long) return "never";
    if (seconds < 0.095) return "under 0.1 s";
    if (seconds < 1) return `${round_to(seconds, 1)} s`;
    if (seconds < 105) return `${to_even(round_to(seconds, 2))} s`;
    if (seconds >= 600) return `${to_even(seconds / 60)} min`;
    const halves = to_even(seconds / 30);
    return `${Math.floor(halves / 2)}${halves % 2 ? "½" : ""} min`;
};
const likely_words = seconds => {
    const time = time_words(seconds);
    return `most likely ${/^\d/.test(time) ? "about " : ""}${time}`;
};
const floor_words = seconds => {
    if (seconds >= LANE.too_long && seconds < Infinity) return "over an hour";
    return seconds > 0 && seconds < 0.1 ? `${number_words(seconds)} s` : time_words(seconds);
};
const band_words = band => {
    const first = time_words(band[0]), last = time_words(band.at(-1));
    if (first === last) return first;
    const [number, unit] = first.split(" ");
    return unit && last.endsWith(` ${unit}`) ? `${number} to ${last}` : `${first} to ${last}`;
};
const _ratio = ratio => number_words(ratio < 0.1 ? round_to(ratio, 1) : ratio);
const _factor = ratio => {
    const words = _ratio(ratio);
    return words === "1" ? "the same time" : `${words} ${ratio < 1 ? "of" : "times"} the time`;
};
const factor_words = band => {
    const low = band[0], high = band.at(-1);
    if (low === Infinity) return "never an ember any more";
    if (high === 0) return "an ember at last";
    const first = _factor(low), last = _factor(high);
    if (high > 20) {
        if (low === 0) return "an ember at last, or no longer";
        return `${first.replace("times the time", "times")} or more${high < Infinity ? "" : ", even never"}`;
    }
    if (low < 1 / 20) return `at most ${last}`;
    if (first === last) return first === "the same time" ? first : `about ${first}`;
    return last === "the same time" ? `${first} to ${last}` : `${_ratio(low)} to ${last}`;
};
const inch_words = (inches, parts) => {
    const marks = Math.floor(inches * parts + 0.5), whole = Math.floor(marks / parts);
    let over = marks % parts, under = parts;
    if (!over) return `${whole}`;
    while (over % 2 === 0) [over, under] = [over / 2, under / 2];
    return whole ? `${whole} ${over}/${under}` : `${over}/${under}`;
};
// A value of a quantity with its unit, as Quantity.text spells it.
const quantity_words = (key, value, system) => {
    const { unit, scale, offset, digits, parts } = fireheat.quantities[key][system];
    const shown = (value - offset) / scale;
    const words = parts ? inch_words(shown, parts) : shown.toFixed(digits);
    return unit ? `${words}\u00a0${unit}` : words;
};
// No line ends between a number and its unit.
const unbroken = words => words.replace(/(\d|½) (?=(s|min|W)\b)/g, "$1\u00a0");

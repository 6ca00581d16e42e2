// Part 5 of 5: which view is seen, and who hears what is pressed.

// ---- the page ----------------------------------------------------------------------------------------------------

function show_fields() {
    $("set_fields").replaceChildren(...WATCHED.map(key => field(key, page.log[key], to => {
        put_in(page.log, key, to);
        keep();
        show_time();
    })), choice(made("label", "Whose arm (invented)"), "not asked", arms, page.arm, (arm = "") => {
        page.arm = arm;
        keep();
        show_time();
    }));
}
const SHOW = { move: () => { scale_sliders(); show_move(); show_against(); show_mine(); }, time: () => { show_fields(); show_time(); }, tries: show_tries, kit: show_kit, safety: () => {} };
function show() {
    const wish = location.hash.slice(1);
    const view = page.read && wish in TITLES ? wish : page.read ? "move" : "safety";
    const turned = document.body.dataset.view !== view;
    document.body.dataset.view = view;
    for (const one of document.querySelectorAll("main > section")) one.hidden = one.id !== view;
    word("title", TITLES[view]);
    document.title = `${TITLES[view]} · fireheat`;
    for (const link of document.querySelectorAll("nav a")) {
        if (link.hash === `#${view === "tries" ? "time" : view}`) link.setAttribute("aria-current", "page");
        else link.removeAttribute("aria-current");
    }
    $("to_tries").hidden = view !== "time";
    $("units").hidden = view === "safety";
    word("units", page.units === "us" ? "in" : "mm");
    $("units").setAttribute("aria-label", page.units === "us" ? "in, lb: change to mm and N" : "mm, N: change to in and lb");
    SHOW[view]();
    if (turned) scrollTo(0, 0);
    return turned;
}
function take_stored() {
    const [newest] = stored().reverse();
    if (!newest) return;
    const { kit, kit_in, kit_kept } = page;
    const mine = page.at && !newest.kit_kept ? { kit, kit_in, kit_kept } : {};
    if (newest.at > page.at) page = { ...newest, ...mine, tries: merged(page.tries, newest.tries) };
    else page.tries = merged(page.tries, newest.tries);
    before = page.before ? reckoned(page.before) : null;
    show_pin();
}

// What another page of this phone kept. What is half written here is kept on top of that.
function hear() {
    if ((stored().at(-1)?.at ?? page.at) === page.at) return tick();
    take_stored();
    document.activeElement?.blur();
    show();
}

for (const key of FIELD.main) slider(key, $("main_sliders"));
for (const key of FIELD.more) slider(key, $("more_sliders"));
$("wood").append(...pairs(woods).map(([key, { name }]) => new Option(name, key)));
$("wood").onchange = () => { page.set.wood = $("wood").value; keep(); move(); };
$("pin").onclick = () => {
    page.before = page.before ? null : { ...page.set };
    before = page.before && seen;
    keep();
    show_pin();
    show_move();
    show_against();
};
$("reset").onclick = () => {
    Object.assign(page, { set: usual(), before: null });
    before = null;
    keep();
    show_pin();
    show();
};
$("units").onclick = () => { page.units = page.units === "us" ? "metric" : "us"; keep(); show(); };
$("read").onclick = () => {
    page.read = true;
    keep();
    location.hash = "#move";
    show();
};
$("start").onclick = () => press("start");
for (const what of ["smoke", "ember", "up"]) $(`press_${what}`).onclick = () => press(what);
twice($("back"), "Surely?", take_back, () => page.run.end === null);
$("take").onclick = () => {
    for (const key of WATCHED.filter(one => one !== "learner")) page.log[key] = page.set[key];
    keep();
    show_fields();
    show_time();
};
$("tap").onpointerdown = event => { pointed = true; tap(event.timeStamp); };
$("tap").onclick = event => {
    if (!pointed) tap(event.timeStamp); // by a key, a switch or a screen reader
    pointed = false;
};
$("beat").onclick = turn_beat;
for (const how of ["share", "copy", "save"]) $(how).onclick = () => hand_on(how);
twice($("forget"), "Surely forget them all?", () => { tries().forEach(left_out); show_tries(); });
$("kit_in").onclick = () => {
    if (page.kit_in) page.kit_in = false;
    else put_kit_in();
    keep();
    show_kit_words();
};
$("kit_empty").onclick = () => { Object.assign(page, { kit: {}, kit_in: false }); keep(); show_kit(); };
$("kit_kept").onchange = () => { page.kit_kept = $("kit_kept").checked; keep(); };
addEventListener("hashchange", () => { if (show()) { keep(); $("title").focus({ preventScroll: true }); } });
addEventListener("storage", hear);
// Results stay in view while sliders move, if these have room; what is focused is not under them, and
// what lies below them stays under a thumb when they grow.
let room = [0, 0];
new ResizeObserver(([{ target }]) => {
    const { offsetHeight: high, offsetWidth: across } = target, [was, as_wide] = room;
    target.style.position = high > SHARE * innerHeight ? "static" : "";
    const stays = high && getComputedStyle(target).position === "sticky";
    document.documentElement.style.scrollPaddingTop = stays ? `${high + HEADER}px` : "";
    if (high && was && across === as_wide && (stays || scrollY) && getComputedStyle($("move")).display !== "grid") scrollBy(0, high - was);
    room = [high, across];
}).observe($("seen"));
addEventListener("resize", () => {
    wide = wide_bar = 0;
    if (document.body.dataset.view === "move") move();
    else tick();
});
addEventListener("beforeunload", event => { if (refused && !handed && tries().length) event.preventDefault(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) { hear(); stay_awake(); } });
setInterval(tick, TICK);
take_stored();
keep();
show();
stay_awake();

// Keys of a race, wherever in its panel somebody is: Space lets go or holds, R runs it again.
// These take Space themselves; a bet that is chosen already has no use for it.
const PRESSED = "button, input[type=radio]:not(:checked), select, textarea, [contenteditable]";
const TYPED = "input:not([type=radio]), select, textarea, [contenteditable]"; // and these take letters

function render({ el }) {
  el.innerHTML = "<kbd>Space</kbd> go, hold <kbd>R</kbd> again";
  const panel = () => el.closest(".fh-race");
  const press = (kind) => {
    const part = panel().querySelector(`.fh-key-${kind}`);
    if (part?.checkVisibility() && !part.disabled) part.click();
  };
  const hear = (event) => {
    if (!panel() || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === " " && !event.target.matches(PRESSED)) press("space");
    else if (event.key.toLowerCase() === "r" && !event.target.matches(TYPED)) press("reset");
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  let root = null, last = null;
  const note = (event) => (last = event.target);
  // Who points at the pace means the next Space for the race.
  const paced = (event) => {
    if (event.detail && event.target.closest(".fh-race-keys .widget-toggle-button")) {
      panel()?.querySelector(".fh-go:enabled")?.focus({ preventScroll: true });
    }
  };
  // What had the focus may be gone, as bets are once they are made: keys must still be heard.
  const gone = new MutationObserver(() => {
    const lost = document.activeElement === document.body || document.activeElement === last;
    if (!last || !lost || (last.isConnected && last.checkVisibility())) return;
    const able = [...panel().querySelectorAll(".fh-go:enabled, .fh-ask input")];
    able.find((part) => part.checkVisibility())?.focus({ preventScroll: true });
  });
  const listen = () => {
    root = el.closest(".fireheat:not(.fireheat .fireheat)");
    if (!root) return;
    root.addEventListener("keydown", hear, true);
    root.addEventListener("focusin", note);
    root.addEventListener("click", paced);
    for (const part of panel().querySelectorAll(".fh-race-asking, .fh-race-keys")) {
      gone.observe(part, { subtree: true, childList: true, attributeFilter: ["style"] });
    }
  };
  // It is put into the page a little later.
  const frame = requestAnimationFrame(listen);
  return () => {
    cancelAnimationFrame(frame);
    gone.disconnect();
    root?.removeEventListener("keydown", hear, true);
    root?.removeEventListener("focusin", note);
    root?.removeEventListener("click", paced);
  };
}

export default { render };

// Keys of a race, wherever in its panel somebody is: Space lets go or holds, R runs it again.
const PRESSED = "button, input[type=radio], select, textarea, [contenteditable]"; // these take Space
const TYPED = "input:not([type=radio]), select, textarea, [contenteditable]"; // and these letters

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
  let root = null;
  const listen = () => {
    root = el.closest(".fireheat:not(.fireheat .fireheat)");
    root?.addEventListener("keydown", hear, true);
  };
  // It is put into the page a little later.
  const frame = requestAnimationFrame(listen);
  return () => {
    cancelAnimationFrame(frame);
    root?.removeEventListener("keydown", hear, true);
  };
}

export default { render };

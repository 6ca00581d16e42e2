// All sayings in rows: a row opens its saying, arrows go from row to row. A row that nobody has
// voted on holds no number: none was sent.
const PARTS = ["helped", "same", "harmed"];
const ROOM = 9; // per cent of a bar, from which its number finds room in it

function piece(kind, words, inside = []) {
  const part = document.createElement("span");
  part.className = `fh-${kind}`;
  part.append(words, ...inside);
  return part;
}

function bar(counts) {
  const parts = counts.map((count, at) => {
    const part = piece(PARTS[at], count >= ROOM ? `${count}` : "");
    part.style.flexBasis = `${count}%`;
    part.hidden = !count;
    return part;
  });
  const whole = piece("parts", "", parts);
  whole.setAttribute("aria-hidden", "true");
  return whole;
}

function line({ key, words, counts, says, heard, now }) {
  const row = document.createElement("li"), open = document.createElement("button");
  open.dataset.key = key;
  if (now) open.setAttribute("aria-current", "true");
  const end = counts.length ? bar(counts) : piece("shut", says);
  open.append(piece("saying", words), piece("fate", counts.length ? says : ""), end);
  open.append(piece("heard", heard));
  row.append(open);
  return row;
}

function render({ model, el }) {
  const list = document.createElement("ol");
  el.append(list);
  const show = () => {
    const focus = list.contains(document.activeElement) && document.activeElement.dataset.key;
    list.replaceChildren(...model.get("rows").map(line));
    if (focus) list.querySelector(`[data-key="${focus}"]`)?.focus({ preventScroll: true });
  };
  const choose = (event) => {
    const key = event.target.closest("button")?.dataset.key;
    if (!key) return;
    model.set("chosen", key);
    model.save_changes();
  };
  const step = (event) => {
    const way = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
    const rows = [...list.querySelectorAll("button")], at = rows.indexOf(event.target);
    rows[(at + way + rows.length) % rows.length]?.focus();
    event.preventDefault();
    event.stopPropagation();
  };
  list.addEventListener("click", choose);
  list.addEventListener("keydown", step);
  model.on("change:rows", show);
  show();
  // What had the focus may be gone, as a ballot is once it is counted: keys must still be heard.
  let court = null, last = null;
  const note = (event) => (last = event.target);
  const gone = new MutationObserver(() => {
    const lost = document.activeElement === document.body || document.activeElement === last;
    if (!last || !lost || (last.isConnected && last.checkVisibility())) return;
    const able = [...court.querySelectorAll(".fh-docket button, .fh-ask input, .fh-court-keys button")];
    able.find((part) => part.checkVisibility())?.focus({ preventScroll: true });
  });
  // It is put into the page a little later.
  const frame = requestAnimationFrame(() => {
    court = el.closest(".fh-court");
    court?.addEventListener("focusin", note);
    if (court) gone.observe(court, { subtree: true, childList: true, attributeFilter: ["style", "class"] });
  });
  return () => {
    cancelAnimationFrame(frame);
    gone.disconnect();
    court?.removeEventListener("focusin", note);
    model.off("change:rows", show);
  };
}

export default { render };

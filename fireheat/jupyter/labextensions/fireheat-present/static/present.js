// Shows a notebook in a hall: one section a screen, each panel on a screen of its own, in large
// letters and without machinery. The notebook stays where it is, in JupyterLab with its kernel;
// classes on what is there say what is seen, so panels stay alive and leaving loses nothing.
// Written by hand in the form that JupyterLab loads, so nothing builds it.
(() => {
  const page = JSON.parse(document.getElementById('jupyter-config-data').textContent);
  const titles = new Map(page.fireheatTitles ?? []); // of each notebook of ours, by file name
  const asked = new URLSearchParams(location.search); // ?present=NAME&panel=WHICH
  const LETTERS = [32, 28, 25, 23]; // sizes of prose at a height of 720 px; none below 22
  const MOST_ROWS = 10; // of a table that is not taken apart
  const INTRO = LETTERS[2]; // of a few words above a question
  const MACHINERY = /Run All Cells/; // words on what a hall does not see
  const ROOT = '.fireheat', PROSE = '.jp-RenderedMarkdown', OUTPUT = '.jp-OutputArea-child';
  const HANDLE = '.noUi-handle'; // of a slider
  const MOVES = `input, select, textarea, [contenteditable="true"], ${HANDLE}`;
  const ACTS = `${MOVES}, button, a, summary, [role="radio"]`;

  const style = document.createElement('link');
  style.rel = 'stylesheet';
  style.href = new URL('present.css', document.currentScript.src);
  document.head.append(style);

  function make(tag, className, words = '', press = null) {
    const made = document.createElement(tag);
    made.className = className;
    made.textContent = words;
    if (press) made.addEventListener('click', press);
    return made;
  }

  // ---- what is on each screen -------------------------------------------------------------------

  // The smallest pieces that stay whole: long lists, tables and unfolded details come apart.
  function pieces(node, most = MOST_ROWS) {
    const inside = {
      UL: node => [...node.children],
      OL: node => [...node.children],
      TABLE: node => (node.rows.length > most ? [...node.tBodies[0].rows] : [node]),
      DETAILS: node => (node.open ? [...node.children].slice(1).flatMap(child => pieces(child)) : [node]),
    }[node.tagName];
    if (node.tagName === 'OL') [...node.children].forEach((item, i) => (item.value = i + 1));
    return inside ? inside(node) : [node];
  }

  // The parts of a panel that have a screen of their own: each question, and what follows it.
  function views(root) {
    const own = `.fh-ask, ${ROOT}`;
    const found = [];
    for (const child of root.children) {
      const taken = found.at(-1)?.some(part => part.matches(own)) ?? true;
      if (taken && (!found.length || child.matches(own))) found.push([]);
      found.at(-1).push(child);
    }
    return found.length > 1 ? found : [[root]];
  }

  const isQuestion = parts => parts.some(part => part.matches('.fh-ask, :has(> .fh-ask)'));

  // Sections of a notebook: a title, and runs of prose or views of panels, in their order.
  function sections(notebook) {
    const found = [];
    const open = title => found.push({ title, runs: [] });
    const add = (kind, cell, parts) => {
      if (!found.length) open(null);
      const { runs } = found.at(-1);
      if (kind === 'prose' && runs.at(-1)?.kind === kind) runs.at(-1).parts.push(...parts);
      else runs.push({ kind, cell, parts });
    };
    notebook.widgets.forEach((cell, number) => {
      cell.node.classList.add('fh-part');
      const told = cell.model.getMetadata('slideshow')?.slide_type;
      if (told === 'notes') return; // for whoever shows it
      if (cell.model.type === 'markdown' && told !== 'skip') {
        for (const child of cell.node.querySelector(PROSE)?.children ?? []) {
          child.classList.add('fh-part');
          if (/^H[12]$/.test(child.tagName)) open(child);
          else if (!MACHINERY.test(child.textContent)) add('prose', number, pieces(child));
        }
      }
      for (const output of cell.node.querySelectorAll(OUTPUT)) {
        const root = output.querySelector(ROOT);
        if (root) views(root).forEach(parts => add('panel', number, parts));
        else {
          const words = [...(output.querySelector(PROSE)?.children ?? [])];
          add('prose', number, words.length ? words.flatMap(child => pieces(child, 1)) : [output]);
        }
      }
    });
    return found;
  }

  // Share a run of prose among as few screens as hold it, each about as full as the others.
  function share(parts, box, room) {
    const head = part => (part.tagName === 'TR' && part.closest('table').tHead?.offsetHeight) || 0;
    const tops = parts.map(part => box.get(part).top - head(part));
    const ends = parts.map(part => box.get(part).bottom);
    const leads = i => /:$/.test(parts[i].textContent.trim()) || /^H\d$/.test(parts[i].tagName);
    const pack = limit => {
      const made = [[]];
      parts.forEach((part, i) => {
        const first = parts.indexOf(made.at(-1)[0]);
        const last = leads(i) && i + 1 < parts.length ? i + 1 : i; // a line that leads to the next
        if (made.at(-1).length && ends[last] - tops[first] > limit) made.push([]);
        made.at(-1).push(part);
      });
      return made;
    };
    const fewest = pack(room).length;
    let limit = (ends.at(-1) - tops[0]) / fewest;
    while (limit < room && pack(limit).length > fewest) limit += 10;
    return pack(Math.min(limit, room));
  }

  function cut(hall) {
    const { node, widgets } = hall.panel.content;
    for (const part of node.querySelectorAll('.fh-part')) part.classList.remove('fh-part', 'fh-on');
    const found = sections(hall.panel.content);
    const within = node.querySelector('.jp-WindowedPanel-viewport') ?? node;
    for (const { title, runs } of found) {
      for (const part of [title, ...runs.flatMap(run => run.parts)]) {
        for (let at = part; at && at !== within; at = at.parentElement) at.classList.add('fh-part');
      }
    }
    const prose = found.flatMap(({ runs }) => runs.filter(run => run.kind === 'prose'));
    const boxes = LETTERS.map(size => {
      hall.letters(size);
      const all = prose.flatMap(run => run.parts);
      return new Map(all.map(part => [part, part.getBoundingClientRect()]));
    });
    const room = hall.room();
    const brief = (screen, title) =>
      screen?.kind === 'prose' && screen.title === title && screen.high < room / 4;
    const screens = [];
    for (const { title, runs } of found) {
      if (!runs.length) runs.push({ kind: 'prose', cell: 0, parts: [] });
      for (const { kind, cell, parts } of runs) {
        const one = { title, cell, kind, over: 0 };
        if (kind === 'panel' && isQuestion(parts) && brief(screens.at(-1), title)) {
          const words = screens.pop();
          screens.push({ ...one, parts: [...words.parts, ...parts], size: INTRO, over: words.high });
          continue;
        }
        if (kind === 'panel' || !parts.length) {
          screens.push({ ...one, parts, size: LETTERS[0] });
          continue;
        }
        const high = (parts, box) => box.get(parts.at(-1)).bottom - box.get(parts[0]).top;
        one.high = high(parts, boxes[LETTERS.indexOf(INTRO)]);
        const shared = boxes.map(box => share(parts, box, room));
        const fewest = shared.at(-1).length;
        const fits = (made, i) => made.every(parts => high(parts, boxes[i]) <= room);
        const large = shared.findIndex((made, i) => made.length === fewest && fits(made, i));
        const at = large < 0 ? LETTERS.length - 1 : large;
        screens.push(...shared[at].map(parts => ({ ...one, parts, size: LETTERS[at] })));
      }
    }
    const isView = cell => screen => screen.kind === 'panel' && screen.cell === cell;
    for (const screen of screens) screen.views = screens.filter(isView(screen.cell)).length;
    return [...screens, { title: null, kind: 'pages', parts: [], cell: widgets.length - 1 }];
  }

  // ---- the hall ---------------------------------------------------------------------------------

  class Hall {
    constructor(app) {
      this.app = app;
      this.panel = null;
      this.way = null; // stops of a path, and at which one this is
      this.title = make('h2', 'fh-hall-title');
      this.title.tabIndex = -1;
      this.back = make('button', 'fh-hall-turn', '‹', () => this.turn(-1));
      this.next = make('button', 'fh-hall-turn', '›', () => this.turn(1));
      this.back.setAttribute('aria-label', 'Screen before');
      this.next.setAttribute('aria-label', 'Next screen');
      this.count = make('span', 'fh-hall-count');
      this.name = make('span', 'fh-hall-name');
      this.plank = make('div', 'fh-hall-plank');
      this.plank.setAttribute('aria-hidden', 'true');
      this.pages = make('ol', 'fh-hall-pages');
      const foot = make('div', 'fh-hall-foot');
      foot.append(this.name, this.plank);
      const corner = make('div', 'fh-hall-corner');
      corner.append(this.back, this.count, this.next);
      this.node = make('section', 'fh-hall');
      this.node.setAttribute('aria-label', 'Presentation');
      this.node.append(this.title, corner, this.pages, foot);
      window.addEventListener('keydown', event => this.key(event), true);
      window.addEventListener('resize', () => this.recut());
      document.addEventListener('toggle', () => this.recut(), true);
      app.shell.currentChanged?.connect((_, { newValue }) => {
        if (this.panel && newValue !== this.panel && newValue?.content?.widgets) this.show(newValue);
      });
    }

    async show(panel, where = {}) {
      this.strip();
      await panel.context.ready;
      const { content } = panel;
      for (const cell of content.widgets) if (cell.model.type === 'markdown') cell.rendered = true;
      await Promise.all(content.widgets.map(cell => cell.ready));
      this.panel = panel;
      this.at = 0;
      document.body.classList.add('fh-present');
      document.body.append(this.node);
      panel.node.classList.add('fh-shown');
      this.feed = content.node.querySelector('[role="feed"]'); // of cells, most of which are away
      this.feed?.setAttribute('role', 'group');
      for (let at = panel.node.parentElement; at; at = at.parentElement) at.classList.add('fh-way');
      this.app.shell.activateById(panel.id); // JupyterLab could not while it was hidden
      this.seen = '';
      this.watch = new MutationObserver(() => this.look());
      this.watch.observe(panel.content.node, { childList: true, subtree: true });
      this.watch.observe(panel.node, { attributeFilter: ['data-fireheat'] });
      this.recut();
      this.look();
      this.wanted = where;
      this.find();
    }

    // Give a panel its place in the notebook back.
    shrink() {
      this.root?.classList.remove('fh-big', 'fh-hall-panel', 'fh-hall-question');
      this.root = null;
    }

    // Take everything off the notebook that is shown.
    strip() {
      this.watch?.disconnect();
      this.feed?.setAttribute('role', 'feed');
      this.shrink();
      this.panel = this.screens = null;
      for (const name of ['fh-way', 'fh-shown', 'fh-part', 'fh-on']) {
        for (const part of document.querySelectorAll(`.${name}`)) part.classList.remove(name);
      }
    }

    leave() {
      const { panel, screens, way } = this;
      this.way = null;
      this.strip();
      document.body.classList.remove('fh-present');
      this.node.remove();
      if (way) return this.follow(way.home);
      if (panel.isDisposed) return;
      const { cell } = screens[this.at];
      panel.content.activeCellIndex = cell;
      panel.content.activate();
      panel.content.widgets[cell]?.node.scrollIntoView();
    }

    // Panels come one after another while a notebook wakes, and one comes after a prediction.
    look() {
      const { node } = this.panel.content;
      const parts = node.querySelectorAll(`${ROOT}, .fh-ask, ${OUTPUT}, ${PROSE} > *, mjx-container`);
      const now = `${this.panel.node.dataset.fireheat} ${parts.length}`;
      if (now === this.seen) return;
      this.seen = now;
      cancelAnimationFrame(this.soon);
      this.soon = requestAnimationFrame(() => this.panel && (this.recut(), this.find()));
    }

    recut() {
      if (!this.panel) return;
      const was = this.screens?.[this.at];
      document.body.classList.add('fh-measuring');
      const screens = cut(this);
      document.body.classList.remove('fh-measuring');
      this.screens = screens;
      this.go(this.again(was));
    }

    // Where to be in screens cut anew: with the same words or panel, or the one that just came.
    again(was) {
      const { screens, at } = this;
      if (!was || at === 0) return 0;
      if (was.kind === 'pages') return screens.length - 1;
      const same = screens.findIndex(screen => was.parts[0] && screen.parts.includes(was.parts[0]));
      const views = screens.filter(screen => screen.kind === 'panel' && screen.cell === was.cell);
      const came = was.kind === 'panel' && was.views && views.length > was.views;
      if (views.length && (came || same < 0)) return screens.indexOf(views.at(-1));
      return same < 0 ? Math.min(at, screens.length - 1) : same;
    }

    // Go where a link points: a screen, a panel by its number or by a word of its cell, a heading; or
    // to the cell that a reader was at.
    find() {
      const { screen, panel, cell: from } = this.wanted ?? {};
      if (panel && this.panel.node.dataset.fireheat === 'waking') return; // not all panels are there
      this.wanted = null;
      this.prepare();
      if (screen) this.go(Math.min(Math.max(1, screen), this.screens.length) - 1);
      if (from) this.go(this.screens.findLastIndex(one => one.cell <= from && one.kind !== 'pages'));
      if (!panel) return;
      const { widgets } = this.panel.content;
      const cells = [...new Set(this.screens.filter(s => s.kind === 'panel').map(s => s.cell))];
      const named = cell => widgets[cell].model.sharedModel.getSource().split(/\W+/).includes(panel);
      const cell = /^\d+$/.test(panel) ? cells[panel - 1] : cells.find(named);
      const at = this.screens.findIndex(one => one.kind === 'panel' && one.cell === cell);
      if (at >= 0) return this.go(at);
      const headed = this.screens.findIndex(one => one.title && place(one.title) === panel);
      if (headed >= 0) this.go(headed);
    }

    letters(size) {
      this.panel.node.style.setProperty('--fh-letters', size);
    }

    room() {
      return 0.97 * this.panel.content.node.clientHeight; // the last line has a margin of its own
    }

    // ---- moving about ----

    turn(step) {
      const key = `.fh-key-${step < 0 ? 'back' : 'next'}`;
      const part = this.root?.matches('.fh-steps') && this.root.querySelector(key);
      if (part && !part.disabled) return part.click(); // steps first, then the next screen
      if (this.way && this.screens[this.at + step]?.cell !== this.screens[this.at].cell) this.stop(step);
      else if (this.at + step >= this.screens.length) this.page(1);
      else this.go(Math.max(0, this.at + step), true);
    }

    // Go to a screen of this page, off the path.
    leap(at) {
      this.way = null;
      this.go(at, true);
    }

    go(at, moved = false) {
      this.at = at;
      const { title, kind, parts, size, over } = this.screens[at];
      const { node } = this.panel.content;
      node.querySelectorAll('.fh-on').forEach(part => part.classList.remove('fh-on'));
      this.shrink();
      for (const part of parts) {
        for (let up = part; up && up !== node; up = up.parentElement) up.classList.add('fh-on');
      }
      const isPanel = kind === 'panel', isAsked = isQuestion(parts);
      const own = parts.find(part => part.matches(ROOT)) ?? parts.at(-1)?.closest(ROOT);
      this.root = isPanel ? own : null;
      this.root?.classList.add('fh-big', 'fh-hall-panel');
      this.root?.classList.toggle('fh-hall-question', isAsked);
      this.root?.style.setProperty('--fh-over', `${over}px`);
      // A panel that asks a question of its own has it as its heading.
      const asks = !isAsked && Boolean(this.root?.querySelector('.fh-question')?.textContent.trim());
      for (let up = parts[0]; up && up !== this.panel.node; up = up.parentElement) up.scrollTop = 0;
      this.letters(size ?? LETTERS[0]);
      this.title.replaceChildren(...words(title ?? 'On from here'));
      this.title.classList.toggle('fh-heard', asks);
      const many = this.screens.length;
      const awake = this.panel.node.dataset.fireheat !== 'waking';
      this.count.textContent = this.way
        ? `stop ${this.way.at + 1} of ${this.way.stops.length}`
        : `${at + 1} of ${awake ? many : '…'}`;
      this.name.textContent = this.titleOf(this.panel);
      this.back.disabled = at === 0 && !this.way;
      this.drawPlank();
      this.pages.replaceChildren(...(kind === 'pages' ? this.links() : []));
      if (moved) {
        document.activeElement?.blur();
        this.title.focus({ preventScroll: true });
      }
    }

    drawPlank() {
      const notches = this.screens.map((screen, i) => {
        const notch = make('i', `fh-notch fh-notch-${screen.kind}`, '', () => this.leap(i));
        notch.classList.toggle('fh-notch-now', i === this.at);
        return notch;
      });
      this.plank.replaceChildren(...notches);
    }

    titleOf({ content, context }) {
      const first = content.node.querySelector(`${PROSE} h1`);
      return first ? words(first).map(part => part.textContent).join('') : file(context.path);
    }

    links() {
      const names = [...titles.keys()], now = names.indexOf(file(this.panel.context.path));
      return names.map((name, i) => {
        const item = make('li', i === now ? 'fh-hall-now' : '');
        item.append(make('button', '', titles.get(name), () => this.page(i - now)));
        return item;
      });
    }

    // Go to another stop of the path that a link was taken from, and after the last one back to it.
    stop(step) {
      const { stops, at, home } = this.way;
      const next = stops[at + step];
      this.way = next ? { stops, at: at + step, home } : null;
      this.follow(next ?? home);
    }

    // Open what a link leads to, in the hall if that is where we are.
    async follow({ path, id }) {
      const panel = await open(this.app, path);
      if (this.panel && !id) this.show(panel);
      else if (id) panel.setFragment(id);
      else panel.content.activate(); // keys are for it again
    }

    // The next stop's page wakes while this one is shown, so nobody waits for it.
    async prepare() {
      const next = this.way?.stops[this.way.at + 1];
      if (!next || next.path === this.panel.context.path) return;
      const panel = await open(this.app, next.path, { activate: false });
      panel.node.dataset.fireheatSoon = '';
    }

    // Go on to another notebook, so many further in their order.
    page(step) {
      this.way = null;
      const names = [...titles.keys()], { path } = this.panel.context;
      const name = names[names.indexOf(file(path)) + step];
      if (!step) this.go(0, true);
      else if (name) open(this.app, path.slice(0, -file(path).length) + name).then(next => this.show(next));
    }

    key(event) {
      if (!this.panel || event.ctrlKey || event.metaKey || event.altKey) return;
      const { target } = event;
      const on = kinds => Boolean(target.closest?.(kinds));
      if (on('.jp-Dialog')) return;
      const moves = this.root?.querySelector('.fh-live'); // Space holds it
      const act = {
        PageDown: () => this.turn(1),
        PageUp: () => this.turn(-1),
        Escape: () => this.leave(),
        ...(!on(MOVES) && {
          ArrowRight: () => this.turn(1),
          ArrowLeft: () => this.turn(-1),
          Home: () => this.leap(0),
          End: () => this.leap(this.screens.length - 1),
          n: () => this.page(1),
          p: () => this.page(-1),
          f: () => {}, // it fills the window already
        }),
        ...(on(HANDLE) && {
          ArrowUp: () => this.handle(target, -1),
          ArrowDown: () => this.handle(target, 1),
        }),
        ...(this.root && !on(ROOT) && {
          b: () => this.tell(event.key),
          r: () => this.tell(event.key),
          ...(moves && !on(ACTS) && { ' ': () => this.tell(event.key) }),
        }),
        ...(!on(ACTS) && { Enter: () => this.unfold(), ...(!moves && { ' ': () => this.unfold() }) }),
      }[event.key.length === 1 ? event.key.toLowerCase() : event.key];
      if (!act && (on(ACTS) || on(ROOT) || /^(Tab|F\d+|Shift)$/.test(event.key))) return;
      event.stopImmediatePropagation(); // a letter would cut or merge the cells that are hidden
      event.preventDefault();
      act?.();
    }

    // A panel has keys of its own, which it hears wherever the focus is.
    tell(key) {
      this.root.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
    }

    handle(from, step) {
      const all = [...this.root.querySelectorAll(HANDLE)].filter(each => each.checkVisibility());
      all.at((all.indexOf(from) + step) % all.length)?.focus();
    }

    unfold() {
      const all = [...this.panel.content.node.querySelectorAll('details')];
      const folded = all.find(each => each.checkVisibility());
      if (!folded) return;
      folded.open = !folded.open;
      this.recut(); // at once: the page is told a moment later, and would be seen uncut till then
    }
  }

  const file = path => path.split('/').pop();

  const place = heading => words(heading).map(part => part.textContent).join('').replaceAll(' ', '-');

  // Which of our pages a link leads to, and where on it. JupyterLab turns links in words into
  // addresses of files.
  function target(link, path) {
    const href = link.getAttribute('href');
    const name = decodeURIComponent(file(new URL(href, location).pathname));
    const beside = path.slice(0, -file(path).length) + name;
    return { path: href.startsWith('#') ? path : beside, id: decodeURIComponent(link.hash) };
  }

  // Show a heading, and have the next Tab lead on from there. A page grows while its panels wake, so
  // the heading is held in its place until they have, or somebody moves.
  async function stand({ content, context, node }, id) {
    await context.ready;
    const at = content.widgets.findIndex(({ model }) => model.type === 'markdown'
      && (model.sharedModel.getSource().match(/^#+ .*/gm) ?? [])
        .some(line => place(line.replace(/^#+ +/, '')) === id));
    if (at < 0) return false;
    content.activeCellIndex = at;
    content.activate();
    const moved = new AbortController();
    for (const kind of ['wheel', 'keydown', 'pointerdown']) {
      node.addEventListener(kind, () => moved.abort(), { capture: true, signal: moved.signal });
    }
    for (let still = 0, turns = 0; still < 20 && turns < 600 && !moved.signal.aborted; turns++) {
      const { node: cell } = content.widgets[at];
      const heading = [...cell.querySelectorAll('h1, h2, h3, h4')].find(each => place(each) === id);
      (heading ?? cell).scrollIntoView({ block: 'start' });
      still = node.dataset.fireheat === 'waking' ? 0 : still + 1;
      await new Promise(done => setTimeout(done, 100));
    }
    moved.abort();
    return true;
  }

  // A heading's own words, without the mark that JupyterLab puts behind it.
  function words(heading) {
    if (typeof heading === 'string') return [document.createTextNode(heading)];
    const copy = heading.cloneNode(true);
    copy.querySelectorAll('.jp-InternalAnchorLink').forEach(mark => mark.remove());
    return [...copy.childNodes];
  }

  const open = (app, path, options) => app.commands.execute('docmanager:open', { path, options });

  const extension = {
    id: 'fireheat-present:plugin',
    autoStart: true,
    activate: app => {
      const hall = new Hall(app);
      const current = () => app.shell.currentWidget;
      const isNotebook = widget => Boolean(widget?.context && widget.content?.widgets);
      app.commands.addCommand('fireheat:present', {
        label: 'Present',
        caption: 'Show this notebook in a hall (P); Esc leads back',
        isEnabled: () => isNotebook(current()),
        execute: async ({ path, ...where }) => {
          const panel = path ? await open(app, path) : current();
          if (!isNotebook(panel)) return;
          await hall.show(panel, path ? where : { cell: panel.content.activeCellIndex });
        },
      });
      // A link in a notebook: [words](03-what-moves-the-time.ipynb#present-explorer).
      app.docRegistry.addWidgetExtension('Notebook', {
        createNew(panel) {
          const follow = panel.setFragment.bind(panel);
          panel.setFragment = fragment => {
            const [, present, which] = /^#?(present-?)?(.*)$/.exec(decodeURIComponent(fragment));
            if (present || hall.panel === panel) hall.show(panel, { panel: which });
            else stand(panel, which).then(found => found || follow(fragment));
          };
        },
      });
      // Links that open panels, one below the other, are the stops of a path.
      document.addEventListener('click', event => {
        const link = event.target.closest?.('.jp-Notebook a[href]');
        const { path } = current()?.context ?? {};
        const to = link && path && target(link, path);
        if (!to?.path.endsWith('.ipynb')) return;
        const row = [...(link.closest('table')?.querySelectorAll('a[href]') ?? [])];
        const stops = row.filter(each => target(each, path).id.startsWith('#present'));
        const at = stops.indexOf(link), home = { path, id: '' };
        hall.way = at < 0 ? null : { stops: stops.map(each => target(each, path)), at, home };
        // JupyterLab follows links in words, but knows none in panels, and nothing of the hall.
        if (!link.closest(ROOT) && !hall.panel) return;
        event.preventDefault();
        event.stopPropagation();
        hall.follow(to);
      }, true);
      const name = asked.get('present') ?? page.fireheatPresent;
      if (!name) return;
      const where = { panel: asked.get('panel'), screen: asked.get('screen') };
      const path = name.endsWith('.ipynb') ? name : `${name}.ipynb`;
      app.restored.then(() => app.commands.execute('fireheat:present', { path, ...where }));
    },
  };

  window._JUPYTERLAB ??= {};
  window._JUPYTERLAB['fireheat-present'] = {
    init: () => {},
    get: async () => () => ({ __esModule: true, default: extension }),
  };
})();

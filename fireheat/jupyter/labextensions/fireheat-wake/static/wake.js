// Wakes fireheat's notebooks: runs their cells as they open, and leaves the view at the top and
// the file unmarked. Written by hand in the form that JupyterLab loads, so nothing builds it.
//
// What runs by itself must be the reader's to trust. That is: all its code came with the library;
// or it bears the name of a notebook of ours, and Jupyter trusts it, which it does after the
// reader has run and saved it on this machine. A mark or a list beside a notebook could come from
// a stranger with it, so neither counts.
(() => {
  const WIDGET = 'application/vnd.jupyter.widget-view+json';
  const page = JSON.parse(document.getElementById('jupyter-config-data').textContent);
  const ours = page.fireheatCode ?? {}; // name of each notebook of ours: sources of its code cells
  const style = document.createElement('link');
  style.rel = 'stylesheet';
  style.href = new URL('page.css', document.currentScript.src);
  document.head.append(style);
  const NARROW = 1000; // pixels of a window in which the list of files leaves a page too little
  const opened = new WeakSet(); // a second view of a notebook does not run it again

  const pause = milliseconds => new Promise(done => setTimeout(done, milliseconds));
  const codeCells = panel => panel.content.widgets.filter(cell => cell.model.type === 'code');
  const source = cell => cell.model.sharedModel.getSource();

  function isOurs(panel, context) {
    const code = codeCells(panel).filter(cell => source(cell).trim());
    const same = list =>
      list.length === code.length && list.every((text, i) => text === source(code[i]));
    if (Object.values(ours).some(same)) return true;
    const name = context.path.split('/').pop().replace(/\.new(-\d+)?(?=\.ipynb$)/, '');
    return Object.hasOwn(ours, name) && code.every(cell => cell.model.trusted);
  }

  // All that a reader can write, as text.
  const written = context =>
    JSON.stringify(context.model.toJSON().cells.map(c => [c.cell_type, c.source, c.attachments]));

  // A view stored with the file belongs to a kernel that is gone: let its picture stand instead.
  function dropDeadViews(cell) {
    const outputs = cell.model.outputs.toJSON();
    if (!outputs.some(output => output.data?.[WIDGET])) return;
    outputs.forEach(output => delete output.data?.[WIDGET]);
    cell.model.outputs.fromJSON(outputs);
  }

  async function wake(app, panel, context) {
    await context.ready;
    if (!isOurs(panel, context)) return;
    panel.node.dataset.fireheat = 'waking';
    if (innerWidth < NARROW) app.restored.then(() => app.shell.collapseLeft());
    const before = written(context);
    const unmark = () => {
      if (context.model.dirty && written(context) === before) context.model.dirty = false;
    };
    codeCells(panel).forEach(dropDeadViews);
    const { sessionContext } = panel;
    // One of many tabs waits until it is looked at, or about to be.
    while (!panel.isVisible && !panel.isDisposed && !('fireheatSoon' in panel.node.dataset)) {
      unmark();
      await pause(200);
    }
    await sessionContext.ready;
    await sessionContext.session?.kernel?.info;
    // A mistake in one cell does not keep panels below it asleep.
    for (const cell of codeCells(panel)) {
      if (panel.isDisposed || !sessionContext.session?.kernel) return;
      unmark();
      if (!cell.isDisposed) await cell.constructor.execute(cell, sessionContext);
    }
    unmark();
    panel.node.dataset.fireheat = 'awake';
  }

  const extension = {
    id: 'fireheat-wake:plugin',
    autoStart: true,
    activate: app =>
      app.docRegistry.addWidgetExtension('Notebook', {
        createNew(panel, context) {
          if (opened.has(context)) return;
          opened.add(context);
          wake(app, panel, context).catch(error => console.warn('fireheat: not all cells ran', error));
        },
      }),
  };

  window._JUPYTERLAB ??= {};
  window._JUPYTERLAB['fireheat-wake'] = {
    init: () => {},
    get: async () => () => ({ __esModule: true, default: extension }),
  };
})();

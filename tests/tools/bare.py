"""A widget's browser half in a page of its own: no JupyterLab or kernel; the model is a stub."""

from pathlib import Path

# What anywidget hands to a script. ``sent`` keeps what would have gone to the kernel: states saved
# by ``save_changes``, and messages. ``kernel`` changes names and sends messages as a kernel would.
MODEL = """async ({ esm, state }) => {
    const heard = {}, fire = (name, ...args) =>
        [...(heard[name] ?? [])].forEach(hear => hear(...args));
    let unsaved = {};
    const put = (name, value, known) => {
        if (JSON.stringify(state[name]) === JSON.stringify(value)) return;
        state[name] = value;
        if (!known) unsaved[name] = value;
        fire(`change:${name}`, model, value);
        fire('change', model);
    };
    const model = window.model = {
        get: name => state[name],
        set: (name, value) => {
            const all = typeof name === 'string' ? { [name]: value } : name;
            for (const [each, one] of Object.entries(all)) put(each, one, false);
        },
        save_changes: () => {
            if (Object.keys(unsaved).length) window.sent.push(structuredClone(unsaved));
            unsaved = {};
        },
        send: content => { window.sent.push(structuredClone(content)); },
        on: (names, hear) => names.split(' ').forEach(name => (heard[name] ??= []).push(hear)),
        off: (names, hear) => (names ?? Object.keys(heard).join(' ')).split(' ').forEach(name => {
            heard[name] = hear ? (heard[name] ?? []).filter(one => one !== hear) : [];
        }),
    };
    window.sent = [];
    window.kernel = {
        set: all => Object.entries(all).forEach(([name, value]) => put(name, value, true)),
        send: content => fire('msg:custom', content, []),
    };
    const address = URL.createObjectURL(new Blob([esm], { type: 'text/javascript' }));
    const { default: made } = await import(address);
    const script = typeof made === 'function' ? await made() : made;
    const el = document.getElementById('widget');
    await script.initialize?.({ model });
    window.leave = await script.render?.({ model, el });
}"""
# The browser tells in the order asked: once this is told, a script knows whether it is seen.
IN_VIEW = "() => new Promise(told => new IntersectionObserver(told).observe(document.body))"
PAGE = '<!doctype html><html lang="en"><title>bare</title><style>{css}</style>{around}'
ROOT = '<div id="widget"></div>'


def show_bare(page, esm, css="", state=None, around="{}"):
    """Show a widget alone in a page that may have been used, and return the page.

    In the page, ``window.model`` is the model, ``window.sent`` the list of what was saved or sent
    to the kernel, ``window.kernel.set({...})`` and ``.send(...)`` are the kernel's word, and
    ``window.leave()`` is what ``render`` gave back. An error in the script is raised here.

    Parameters
    ----------
    page : playwright.sync_api.Page
        Any page.
    esm, css : Path or str
        The widget's ``_esm`` and ``_css``: a file, or the text itself.
    state : dict, optional
        What the model holds; ``widget.get_state()`` is that of a real one.
    around : str, optional
        HTML in which the widget stands, at ``{}``.
    """
    # A new document, or names of the last one would still be there.
    page.goto("about:blank")
    page.set_content(PAGE.format(css=_text(css), around=around.format(ROOT)))
    plain = {key: one for key, one in (state or {}).items() if not key.startswith("_")}
    page.evaluate(MODEL, {"esm": _text(esm), "state": plain})
    page.evaluate(IN_VIEW)
    return page


def _text(source):
    return source.read_text(encoding="utf-8") if isinstance(source, Path) else str(source)

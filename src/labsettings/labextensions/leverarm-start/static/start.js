// A press of "Start this lesson" before Python is awake: JupyterLab would drop it, this keeps it.
// A page that was saved and is opened again has lost the controls in its outputs: in their place stands one
// sentence that says which button brings them back, instead of an error.
// On a phone, and in a window at 200 or 400 percent, the list of files would leave the lesson a strip
// of a few pixels: it is folded away whenever the window has become that narrow, on a phone with the
// bars at both sides (View, Appearance shows them again). It is folded away too when large type is chosen on a
// screen no wider than a projector's.
// A plugin for JupyterLab without a build step: the container it asks for is written out.
(() => {
  const BUTTON = 'button[data-commandlinker-command="notebook:run-all-cells"]';
  const WAITING = 'Python is waking up: the lesson starts by itself';

  const awake = (context) => context.isReady && context.session && context.session.kernel
    && ['idle', 'busy'].includes(context.session.kernel.status);

  async function untilAwake(context, tries = 600) {
    await context.ready;
    for (; tries && !awake(context) && !context.isDisposed; tries--) {
      await new Promise((done) => setTimeout(done, 100));
    }
    return awake(context);
  }

  const LOST = 'Error displaying widget', RUN_ALL = 'choose Run, then Run All Cells';

  // What to press to bring a page back: the button its head names, or the menu where it has none.
  function toPress(app, node) {
    const sheet = [...app.shell.widgets('main')].find((each) => each.node.contains(node));
    const head = sheet && sheet.content.model && sheet.content.model.cells && sheet.content.model.cells.get(0);
    const named = head && /notebook:run-all-cells[^>]*>([^<]+)</.exec(head.sharedModel.getSource());
    return named ? `press “${named[1]}” at the top` : RUN_ALL;
  }

  function comesBack(app, node) {
    if (!node.matches || !node.matches('.jp-OutputArea-output') || !node.textContent.startsWith(LOST)) return;
    node.textContent = `This part comes back when you ${toPress(app, node)}.`;
    node.dataset.leverarm = 'at-rest';
  }

  const NARROW = 720, PHONE = 480, BESIDE = 1560;

  function activate(app) {
    const kept = new WeakSet();
    const narrow = window.matchMedia(`(max-width: ${NARROW}px)`);
    const phone = window.matchMedia(`(max-width: ${PHONE}px)`);
    const fold = () => {
      if (narrow.matches) { app.shell.collapseLeft(); app.shell.collapseRight(); }
      for (const side of ['left', 'right'])
        if (app.shell.isSideTabBarVisible(side) === phone.matches) app.shell.toggleSideTabBarVisibility(side);
    };
    app.restored.then(() => { if (narrow.matches) fold(); });
    narrow.addEventListener('change', fold);
    phone.addEventListener('change', fold);
    // In large type a picture needs the whole width of a projector.
    document.addEventListener('change', ({target}) => {
      if (target.checked && target.matches('.lv-begin [type=checkbox]') && window.innerWidth < BESIDE)
        app.shell.collapseLeft();
    });
    new MutationObserver((changes) => {
      for (const {target, addedNodes} of changes)
        if (addedNodes.length && addedNodes[0].nodeType === Node.TEXT_NODE) comesBack(app, target);
    }).observe(document.body, {childList: true, subtree: true});
    document.addEventListener('click', async (event) => {
      const button = event.target.closest && event.target.closest(BUTTON);
      const sheet = app.shell.currentWidget, context = sheet && sheet.sessionContext;
      if (!button || !context || awake(context)) return;
      event.preventDefault(); event.stopPropagation();
      if (kept.has(context)) return;
      kept.add(context);
      const label = button.textContent;
      button.textContent = WAITING;
      button.setAttribute('aria-busy', 'true');
      if (await untilAwake(context) && app.shell.currentWidget === sheet) {
        await app.commands.execute('notebook:run-all-cells');
      }
      button.textContent = label;
      button.removeAttribute('aria-busy');
      kept.delete(context);
    }, true);
  }

  const plugin = {id: 'leverarm-start:plugin', autoStart: true, activate};
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['leverarm-start'] = {
    init: () => undefined,
    get: async () => () => ({__esModule: true, default: plugin}),
  };
})();

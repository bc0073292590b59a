// A page of the workbook runs once it is opened, so that its panel is there. Written by hand: nothing is built.
//
// Only code that this release ships is run: a notebook that its owner wrote or changed is left to its owner.
// The container below is what JupyterLab asks of any extension that is not built into it: `init` is given the
// libraries that it shares, `get` hands out our plugin.
(() => {
  "use strict";
  const SHOWN = "application/vnd.jupyter.widget-view+json";
  const OURS = ".mm"; // the class of every panel
  const LOST = "Error displaying widget"; // what stands in place of one that was not found again
  const PATIENCE_MS = 15000;
  let shared = {};

  /** A library that JupyterLab shares, as one of its own parts would import it. */
  async function library(name) {
    const [version] = Object.values(shared[name] ?? {});
    if (!version) throw new Error(`modelmath: this JupyterLab shares no ${name}`);
    return (await version.get())();
  }

  /** The code cells of each page as shipped, by its path in the workbook folder. */
  function shipped() {
    const config = JSON.parse(document.getElementById("jupyter-config-data").textContent);
    return JSON.parse(config.modelmathCode ?? "{}");
  }

  function codeCells(panel) {
    const cells = panel.content.model.cells;
    return Array.from({ length: cells.length }, (_, at) => cells.get(at)).filter((cell) => cell.type === "code");
  }

  function isShipped(panel, pages) {
    const code = pages[panel.context.path];
    const here = codeCells(panel).map((cell) => cell.sharedModel.getSource());
    return Boolean(code) && code.length === here.length && code.every((each, at) => each === here[at]);
  }

  /** The panels that stand in the notebook as it was saved, by the names that its kernel gave them. */
  function savedPanels(panel) {
    const outputs = codeCells(panel).flatMap((cell) => cell.sharedModel.getOutputs());
    return outputs.map((output) => output.data?.[SHOWN]?.model_id).filter(Boolean);
  }

  /** Whether a saved panel comes back from a kernel that lived on, with what was entered. */
  async function comesBack(panel, kernel) {
    const { content } = await kernel.requestCommInfo({ target_name: "jupyter.widget" });
    if (!savedPanels(panel).some((name) => name in (content.comms ?? {}))) return false;
    for (let waited = 0; waited < PATIENCE_MS && !panel.isDisposed; waited += 200) {
      const outputs = [...panel.node.querySelectorAll(".jp-OutputArea-output")];
      if (outputs.some((output) => output.querySelector(OURS))) return true;
      if (outputs.some((output) => output.textContent.includes(LOST))) return false;
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    return false;
  }

  async function shallRun(panel, pages) {
    await panel.context.ready;
    if (!isShipped(panel, pages)) return false;
    await panel.revealed;
    await panel.sessionContext.ready;
    const kernel = panel.sessionContext.session?.kernel;
    if (!kernel) return false; // its owner chose to open it without one
    await kernel.info;
    if (await comesBack(panel, kernel)) return false;
    return !panel.isDisposed && isShipped(panel, pages); // neither closed nor changed meanwhile
  }

  async function runFirst(panel, pages, NotebookActions) {
    const run = await shallRun(panel, pages);
    panel.node.dataset.modelmath = run ? "run" : "left";
    if (!run) return;
    await NotebookActions.runAll(panel.content, panel.sessionContext);
    if (panel.isDisposed) return;
    panel.content.activeCellIndex = 0; // running ends at the last cell; reading begins at the first
    await panel.content.scrollToItem(0, "start");
  }

  async function plugin() {
    const { INotebookTracker, NotebookActions } = await library("@jupyterlab/notebook");
    return {
      id: "modelmath:first-panel",
      description: "Runs a page of the workbook once it is opened.",
      autoStart: true,
      requires: [INotebookTracker],
      activate: (_app, tracker) => {
        const pages = shipped();
        const open = (panel) => {
          runFirst(panel, pages, NotebookActions).catch((fault) => console.warn("modelmath: not run:", fault));
        };
        tracker.forEach(open);
        tracker.widgetAdded.connect((_tracker, panel) => open(panel));
      },
    };
  }

  (window._JUPYTERLAB ??= {}).modelmath = {
    init: (scope) => {
      shared = scope;
    },
    get: async () => {
      const made = { __esModule: true, default: await plugin() };
      return () => made;
    },
  };
})();

// Leads from one page of the workbook to another, once the page's own work is done.
// Only a page beside this one is gone to: no scheme, no host, no other folder.
const BESIDE = /^[A-Za-z0-9_-]+\.ipynb(\?[A-Za-z0-9_.~%=&-]*)?$/;

function go(model) {
  const to = model.get("to");
  if (BESIDE.test(to)) window.location.assign(to);
}

export default {
  render({ model }) {
    model.on("change:to", () => go(model));
    go(model);
  },
};

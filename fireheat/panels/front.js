// The doors of the front page: plain words and links. What a link opens is JupyterLab's to know.
function render({ model, el }) {
  const show = () => {
    el.innerHTML = model.get("words");
  };
  model.on("change:words", show);
  show();
  return () => model.off("change:words", show);
}

export default { render };

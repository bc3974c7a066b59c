// Twenty times a second the widget goes, or comes back, until the page is told to rest.
addEventListener("DOMContentLoaded", () => {
  const stage = document.getElementById("stage");
  const widget = stage.firstElementChild;
  window.turns = 0;
  const restless = setInterval(() => {
    window.turns += 1;
    if (widget.isConnected) widget.remove();
    else stage.append(widget);
  }, 50);
  window.rest = () => {
    clearInterval(restless);
    if (!widget.isConnected) stage.append(widget);
  };
});

// Moves the focus from block to block of a figure with the arrow keys, as well
// as with Tab.
const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

document.addEventListener("keydown", (event) => {
  const step = steps[event.key];
  const figure = event.target.closest?.(".hf");
  if (!step || !figure || event.altKey || event.ctrlKey || event.metaKey) return;
  const blocks = [...figure.querySelectorAll("a[href],[tabindex='0']")];
  const next = blocks[blocks.indexOf(event.target.closest("a,[tabindex]")) + step];
  if (!next) return;
  event.preventDefault();
  next.focus();
});

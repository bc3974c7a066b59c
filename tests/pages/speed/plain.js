// The least a page can do at a keystroke: read a field, write a figure.
const price = document.getElementById("price");
document.getElementById("length").addEventListener("input", (event) => {
  price.textContent = `$${(Number(event.target.value) * 10).toFixed(2)}`;
});
performance.mark("scantling-first-price");

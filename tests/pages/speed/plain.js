// The least a page can do at a keystroke: read a field, write a figure.
const price = document.getElementById("price");
document.getElementById("length").addEventListener("input", (event) => {
  const [feet, inches] = event.target.value.split("'").map(Number);
  price.textContent = `$${((feet * 12 + inches) * 10).toFixed(2)}`;
});
performance.mark("scantling-first-price");

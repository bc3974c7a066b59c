// The "Price a …" links choose the design in the estimator; without this script they still lead to it.
const quote = document.querySelector("scantling-quote");
for (const link of document.querySelectorAll("a[data-design]")) {
  link.addEventListener("click", () => quote.setAttribute("design", link.dataset.design));
}

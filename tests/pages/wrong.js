// One of each thing that a test must see when it goes wrong on a page.
console.error("an error", "in two words");
console.warn("a warning");
setTimeout(() => {
  throw new Error("thrown");
});
Promise.reject(new Error("rejected"));
fetch("no-such-file.json");
fetch("http://127.0.0.1:9/").catch(() => {});
document.dispatchEvent(new CustomEvent("scantling-estimate", { bubbles: true, detail: { likely: "1240.00" } }));

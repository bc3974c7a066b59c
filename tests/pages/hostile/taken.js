// The name belongs to whoever comes first.
customElements.define(
  "scantling-quote",
  class extends HTMLElement {
    connectedCallback() {
      this.title = "the page's own";
    }
  },
);

// The page's script, run twice: once as the page, and once more as a worker that answers what takes long. {wasm} is the engine.
wasm_bindgen.initSync({ module: Uint8Array.from(atob("{wasm}"), (c) => c.charCodeAt(0)) });

// The one address a script may be loaded from: this page's own script, out of this page.
const another = () => {
  const script = new Blob([document.currentScript.textContent], { type: "text/javascript" });
  const address = URL.createObjectURL(script);
  const own = { createScriptURL: (asked) => (asked === address ? asked : null) };
  const allowed = self.trustedTypes?.createPolicy("scantling-shop", own).createScriptURL(address) ?? address;
  return new Worker(allowed);
};

if (self.document) {
  let worker;
  try {
    worker = another();
  } catch {
    // The page reckons everything itself, only slower.
  }
  wasm_bindgen.start(document.getElementById("shop"), worker);
  performance.mark("scantling-shop");
} else {
  self.onmessage = ({ data: [number, book, question] }) => self.postMessage([number, wasm_bindgen.answer(book, question), wasm_bindgen.packed(book)]);
}

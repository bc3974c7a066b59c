// The page's script, run twice: once as the page, and once more as a worker that answers what takes long. {wasm} is the engine.
wasm_bindgen.initSync({ module: Uint8Array.from(atob("{wasm}"), (c) => c.charCodeAt(0)) });

if (self.document) {
  // Scripts are loaded from two addresses alone: this page's own script, out of this page, and the file beside a served page that keeps it.
  const script = new Blob([document.currentScript.textContent], { type: "text/javascript" });
  const [own, keeper] = [URL.createObjectURL(script), "shop-worker.js"];
  const rule = { createScriptURL: (asked) => (asked === own || asked === keeper ? asked : null) };
  const rules = self.trustedTypes?.createPolicy("scantling-shop", rule);
  const allowed = (address) => rules?.createScriptURL(address) ?? address;
  let worker;
  try {
    worker = new Worker(allowed(own));
  } catch {
    // The page reckons everything itself, only slower.
  }
  wasm_bindgen.start(document.getElementById("shop"), worker);
  performance.mark("scantling-shop");
  // Served, it may be installed; opened from disk, it asks for nothing.
  if (location.protocol.startsWith("http")) {
    const manifest = Object.assign(document.createElement("link"), { rel: "manifest", href: "shop.webmanifest" });
    document.head.append(manifest);
    // Where the file is missing or the browser refuses, the page is served as before.
    navigator.serviceWorker?.register(allowed(keeper), { scope: "shop.html" }).catch(() => {});
  }
} else {
  self.onmessage = ({ data: [number, book] }) => self.postMessage([number, wasm_bindgen.answer(book), wasm_bindgen.packed(book)]);
}

/**
 * <scantling-quote book="price-book.json" design="…" units="inch|metric" postal-code="…">fallback</scantling-quote>
 *
 * Defines the element and nothing else: it fetches the price book, starts the wasm once for the whole page, and hands both to
 * Rust. What stands between the tags shows until the widget is ready, and stays when it can't start.
 *
 * Events, both bubbling and composed:
 * - scantling-estimate: the buyer changed something; detail { design, currency, low, likely, high, delivery }
 * - scantling-error: it can't start; detail { reason, message }, reason one of book, widget
 */

const files = new URL(".", import.meta.url);
/** The largest price book that is read, as in the engine. */
const LARGEST_BOOK = 2 * 1024 * 1024;

/** One start for every element on the page; a failed one is tried again by the next element. */
let starting;

function start() {
  starting ??= load().catch((error) => {
    starting = undefined;
    throw error;
  });
  return starting;
}

async function load() {
  const [widget, sheet] = await Promise.all([
    import("./scantling_widget.js").then(async (module) => {
      await module.default({ module_or_path: new URL("scantling_widget_bg.wasm", files) });
      return module;
    }),
    style(),
  ]);
  return { widget, sheet };
}

/** The style sheet, made once and shared by every shadow root. */
async function style() {
  const answer = await fetch(new URL("scantling-quote.css", files));
  if (!answer.ok) throw new Error(`the style can't be had (${answer.status})`);
  return new CSSStyleSheet().replace(await answer.text());
}

/** A failure with the reason the page is told. */
class Failure extends Error {
  constructor(reason, message) {
    super(message);
    this.reason = reason;
  }
}

async function readBook(address) {
  if (!address) throw new Failure("book", "the attribute book is missing: name the price book's file");
  let answer;
  try {
    answer = await fetch(new URL(address, document.baseURI), { credentials: "same-origin" });
  } catch (error) {
    throw new Failure("book", `the price book ${address} can't be had: ${error.message}`);
  }
  if (!answer.ok) throw new Failure("book", `the price book ${address} can't be had (${answer.status})`);
  const text = await answer.text();
  if (text.length > LARGEST_BOOK) throw new Failure("book", `the price book ${address} is larger than 2 MiB`);
  return text;
}

/** The language of the page where the element stands, if the platform knows it. */
function languageOf(element) {
  const named = element.closest("[lang]")?.lang || navigator.language || "en";
  try {
    return Intl.getCanonicalLocales(named)[0] ?? "en";
  } catch {
    return "en";
  }
}

class ScantlingQuote extends HTMLElement {
  static observedAttributes = ["book", "design", "units", "postal-code"];

  #mounted;
  #fallback;
  /** Counts starts, so that a slow one that was overtaken does nothing. */
  #run = 0;

  connectedCallback() {
    if (this.#mounted) return;
    if (!this.shadowRoot) {
      this.#fallback = document.createElement("slot");
      this.attachShadow({ mode: "open" }).append(this.#fallback);
    }
    this.#start();
  }

  disconnectedCallback() {
    // A move is a removal and an insertion: only what is still gone afterwards is taken down.
    queueMicrotask(() => {
      if (!this.isConnected) this.#stop();
    });
  }

  attributeChangedCallback(name, before, now) {
    if (before === now || !this.#mounted) return;
    if (name === "book") {
      this.#stop();
      this.#start();
    } else {
      this.#mounted.set(name, now ?? "");
    }
  }

  async #start() {
    const run = ++this.#run;
    try {
      const [{ widget, sheet }, book] = await Promise.all([start(), readBook(this.getAttribute("book"))]);
      if (run !== this.#run || !this.isConnected) return;
      this.shadowRoot.adoptedStyleSheets = [sheet];
      try {
        this.#mounted = widget.mount(this.shadowRoot, this, book, languageOf(this));
      } catch (error) {
        throw new Failure("book", `the price book can't be used:\n${error.message}`);
      }
      this.#fallback.remove();
      // For anyone who measures the page: when the first price stood there.
      performance.mark("scantling-first-price");
    } catch (error) {
      if (run === this.#run) this.#fail(error);
    }
  }

  #stop() {
    this.#run += 1;
    this.#mounted?.free();
    this.#mounted = undefined;
    this.shadowRoot.append(this.#fallback);
  }

  #fail(error) {
    const detail = { reason: error.reason ?? "widget", message: error.message };
    this.dispatchEvent(new CustomEvent("scantling-error", { bubbles: true, composed: true, detail }));
  }
}

// A page may load this script twice, or have the name taken already.
if (!customElements.get("scantling-quote")) customElements.define("scantling-quote", ScantlingQuote);

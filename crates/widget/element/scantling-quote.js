/**
 * <scantling-quote book="price-book.json" design="…" units="inch|metric" country="…" postal-code="…" language="…" detail="all|price"
 *     start="near|now">
 *   fallback <p slot="notes">the maker's own words under the terms</p>
 * </scantling-quote>
 *
 * Defines the element and nothing else: once it is about a screen away from being seen, it fetches the price book and the words
 * of one language, starts the wasm once for the whole page, and hands them to Rust. What stands between the tags shows until the
 * widget is ready, and stays when it can't start. Each attribute is a property too: `element.postalCode = "60601"`.
 *
 * Events, both bubbling and composed:
 * - scantling-estimate: what the buyer changed has brought an estimate; detail { design, currency, low, likely, high, delivery }
 * - scantling-error: it can't start, or not in the words asked for; detail { reason, message }, reason one of book, widget, words
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
  // Asked for at once, not when the script that starts it is there: a slow line has one journey less to wait for.
  const code = fetch(new URL("scantling_widget_bg.wasm", files));
  const [widget, sheet] = await Promise.all([
    import("./scantling_widget.js").then(async (module) => {
      await module.default({ module_or_path: code });
      return module;
    }),
    style(),
    code,
    // The widget's script imports it: asked for at once as well.
    import("./scantling_later.js").catch(() => {}),
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

/** Where postal codes lie, fetched once for the page when a destination first asks for it. */
let points;

function postalPoints() {
  points ??= fetch(new URL("postal-points.csv", files)).then((answer) => {
    if (!answer.ok) throw new Error(answer.status);
    return answer.text();
  });
  points.catch(() => (points = undefined));
  return points;
}

/** The languages there are words in. */
const LANGUAGES = new Set(["en", "de", "fr", "es"]);

/** The language asked for, else that of the page where the element stands, if the platform knows it. */
function languageOf(element) {
  const named = element.getAttribute("language") || element.closest("[lang]")?.lang || navigator.language || "en";
  try {
    return Intl.getCanonicalLocales(named)[0] ?? "en";
  } catch {
    return "en";
  }
}

/** Tables of words by language, fetched once for the page; a failed one is tried again by the next element. */
const tables = new Map();

function table(language) {
  if (!tables.has(language)) {
    const address = new URL(`words/${language}.json`, files);
    const fetched = fetch(address).then((answer) => {
      if (!answer.ok) throw new Error(answer.status);
      return answer.json();
    });
    tables.set(
      language,
      fetched.catch((error) => {
        tables.delete(language);
        throw new Failure("words", `the words in ${language} can't be had: ${error.message}`);
      }),
    );
  }
  return tables.get(language);
}

/**
 * The words for an element, as one table: those in its language over the English ones, so that a key that is missing is said in
 * English. A page in a language we have no words in is answered in English; one that asks for it by the attribute is told.
 */
async function wordsFor(element, tell) {
  const [language] = languageOf(element).split("-");
  const wanted = language !== "en" && (LANGUAGES.has(language) || element.hasAttribute("language"));
  const own = wanted ? table(language).catch(tell) : undefined;
  return JSON.stringify({ ...(await table("en")), ...(await own) });
}

/** What the first price is marked with, once for the page. */
const FIRST_PRICE = "scantling-first-price";

class ScantlingQuote extends HTMLElement {
  static observedAttributes = ["book", "language", "design", "units", "country", "postal-code", "detail", "start"];

  /** Starts elements that come within about a screen of being seen, by whatever scrolls. One for the page; it holds no element. */
  static #near = new IntersectionObserver(
    (seen) => {
      for (const { isIntersecting, target } of seen) if (isIntersecting) target.#begin();
    },
    { rootMargin: "100%", scrollMargin: "100%" },
  );

  /** Fits drawings to another width; in the next frame, as none may be laid out while widths are still being told. */
  static #wide = new ResizeObserver((all) =>
    requestAnimationFrame(() => {
      for (const { target } of all) if (!target.#mounted?.fit()) ScantlingQuote.#wide.unobserve(target);
    }),
  );

  #mounted;
  #fallback;
  /** The book as it was last read, so that an element that is taken away and put back does not ask for it again. */
  #read;
  /** Whether a start is under way or done, and so has what it needs of the attributes. */
  #begun = false;
  /** Counts starts, so that a slow one that was overtaken does nothing. */
  #run = 0;

  connectedCallback() {
    if (!this.#fallback) {
      this.#fallback = document.createElement("slot");
      this.attachShadow({ mode: "open" }).appendChild(this.#fallback);
      // What a page set before the element was defined stands in the way of the properties.
      for (const name of PROPERTIES) {
        if (!Object.hasOwn(this, name)) continue;
        const value = this[name];
        delete this[name];
        this[name] = value;
      }
    }
    this.#await();
  }

  disconnectedCallback() {
    // A move is a removal and an insertion: only what is still gone afterwards is taken down.
    queueMicrotask(() => {
      if (!this.isConnected) this.#stop();
    });
  }

  attributeChangedCallback(name, before, now) {
    if (before === now || !this.isConnected) return;
    if (name === "book" || name === "language") {
      if (!this.#begun) return;
      this.#stop();
      this.#begin();
    } else if (name === "start") {
      this.#await();
    } else {
      this.#mounted?.set(name, now ?? "");
    }
  }

  /** Starts at once where it is told to or a link leads to an estimate, else when it is about to be seen. */
  #await() {
    if (this.#begun) return;
    if (this.getAttribute("start") === "now" || location.hash.startsWith("#scantling")) this.#begin();
    else ScantlingQuote.#near.observe(this);
  }

  #begin() {
    if (this.#begun || !this.isConnected) return;
    ScantlingQuote.#near.unobserve(this);
    this.#begun = true;
    this.#start();
  }

  async #start() {
    const run = ++this.#run;
    try {
      const [{ widget, sheet }, book, words] = await Promise.all([
        start(),
        this.#book(),
        wordsFor(this, (error) => this.#fail(error)),
      ]);
      if (run !== this.#run || !this.isConnected) return;
      this.shadowRoot.adoptedStyleSheets = [sheet];
      try {
        this.#mounted = widget.mount(this.shadowRoot, this, book, languageOf(this), words, () => this.#locate(run));
      } catch (error) {
        throw new Failure("book", `the price book can't be used: ${error.message}`);
      }
      this.shadowRoot.removeChild(this.#fallback);
      ScantlingQuote.#wide.observe(this);
      // For anyone who measures the page: when the first price stood there.
      if (performance.getEntriesByName(FIRST_PRICE).length === 0) performance.mark(FIRST_PRICE);
      // What the price does not need is fetched once the price has been painted.
      const mounted = this.#mounted;
      requestAnimationFrame(() => setTimeout(() => mounted === this.#mounted && mounted.come_alive()));
    } catch (error) {
      if (run === this.#run) this.#fail(error);
    }
  }

  async #book() {
    const address = this.getAttribute("book");
    if (this.#read?.address !== address) this.#read = { address, text: await readBook(address) };
    return this.#read.text;
  }

  /** Without the file, the way by the maker's van says that it does not know how far it is; the rest is priced. */
  async #locate(run) {
    const text = await postalPoints().catch(() => undefined);
    if (text && run === this.#run) this.#mounted?.locate(text);
  }

  #stop() {
    ScantlingQuote.#near.unobserve(this);
    ScantlingQuote.#wide.unobserve(this);
    this.#run += 1;
    this.#begun = false;
    this.#mounted?.free();
    this.#mounted = undefined;
    this.shadowRoot.appendChild(this.#fallback);
  }

  #fail(error) {
    const detail = { reason: error.reason ?? "widget", message: error.message };
    this.dispatchEvent(new CustomEvent("scantling-error", { bubbles: true, composed: true, detail }));
  }
}

/** The properties, for what a page sets before the element is defined. */
const PROPERTIES = new Set();

// A property for each attribute, which is the only place where the value stands. No page that changes what arrays can do stops it.
for (const attribute of ScantlingQuote.observedAttributes) {
  const name = attribute.replace(/-(.)/g, (_, letter) => letter.toUpperCase());
  PROPERTIES.add(name);
  Object.defineProperty(ScantlingQuote.prototype, name, {
    configurable: true,
    enumerable: true,
    get() {
      return this.getAttribute(attribute);
    },
    set(value) {
      if (value == null) this.removeAttribute(attribute);
      else this.setAttribute(attribute, value);
    },
  });
}

// A page may load this script twice, or have the name taken already.
if (!customElements.get("scantling-quote")) customElements.define("scantling-quote", ScantlingQuote);

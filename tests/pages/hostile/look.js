// How a page and the widget on it look, as lines of text, so that two looks can be compared. It stands before whatever a page does, and
// keeps to what no page can take from it: loops, strings, and functions it has put aside.
{
  const { ownKeys, apply } = Reflect;
  const { getComputedStyle } = window;
  const names = Object.getOwnPropertyNames;

  /** Listeners on what everybody shares, by target and kind. */
  const listening = new Map();
  const shared = () => [
    [window, "window"],
    [document, "document"],
    [document.documentElement, "html"],
    [document.body, "body"],
  ];
  const count = (target, kind, step) => {
    for (const [known, name] of shared()) {
      if (known === target) listening.set(`${name} ${kind}`, (listening.get(`${name} ${kind}`) ?? 0) + step);
    }
  };
  const { addEventListener: add, removeEventListener: remove } = EventTarget.prototype;
  EventTarget.prototype.addEventListener = function (kind, ...rest) {
    count(this ?? window, kind, 1);
    return apply(add, this ?? window, [kind, ...rest]);
  };
  EventTarget.prototype.removeEventListener = function (kind, ...rest) {
    count(this ?? window, kind, -1);
    return apply(remove, this ?? window, [kind, ...rest]);
  };

  const styles = (element, called, leave) => {
    const style = getComputedStyle(element);
    let lines = "";
    for (let n = 0; n < style.length; n += 1) {
      if (!leave(style[n])) lines += `${called} { ${style[n]}: ${style.getPropertyValue(style[n])} }\n`;
    }
    return lines;
  };

  /** What belongs to the page: its elements' styles, its globals, what objects can do, who listens to it, what is kept. */
  const page = () => {
    let lines = "";
    for (const element of document.querySelectorAll("html, head *, body, main, main > *, main > :not(#stage) *")) {
      // How high the widget is moves the page's own edges, and may bring a scroll bar that takes of its width.
      const leave = (name) => /(block-size|inline-size|height|width|inset|^top|^bottom|^left|^right|origin)/.test(name) && !/(border|outline|max|min)/.test(name);
      lines += styles(element, element.localName, leave);
    }
    for (const name of names(window)) if (!/^\d+$/.test(name)) lines += `window.${name}\n`;
    for (const kind of [Object, Array, Function, String, Number, Promise, Map, Element, HTMLElement, Node, Event, EventTarget, Document, ShadowRoot]) {
      for (const key of ownKeys(kind.prototype)) lines += `${kind.name}.prototype.${String(key)}\n`;
    }
    for (const key of ownKeys(document)) lines += `document.${String(key)}\n`;
    for (const [name, so_many] of listening) if (so_many !== 0) lines += `${so_many} listeners: ${name}\n`;
    for (const { name, value } of document.documentElement.attributes) lines += `<html ${name}="${value}">\n`;
    lines += `${document.title} ${location.href} ${history.length} ${document.cookie} ${document.adoptedStyleSheets.length}\n`;
    for (let n = 0; n < localStorage.length; n += 1) lines += `kept: ${localStorage.key(n)}\n`;
    lines += `${document.head.childElementCount} in the head, ${document.body.childElementCount} in the body\n`;
    return lines;
  };

  /** Parts whose every property is compared. */
  const PARTS = [".scantling", ".widget", ".price", ".range", ".likely", "form", "fieldset", "legend", "label", 'input[type="text"]', 'input[type="radio"]', "select", "button", "summary", "h3", "p.note", "table", "caption", "th", "td", "li", "svg", "svg path", "svg text"];

  /** What belongs to the widget: its parts' styles, and how large each of its elements is. */
  const widget = () => {
    const root = document.querySelector("scantling-quote").shadowRoot;
    let lines = "";
    for (const part of PARTS) lines += styles(root.querySelector(part), part, () => false);
    let n = 0;
    for (const element of root.querySelectorAll("*")) {
      n += 1;
      lines += `${n} ${element.localName} ${element.offsetWidth ?? "-"} by ${element.offsetHeight ?? "-"}\n`;
    }
    return lines;
  };

  // A stage as wide as on every other page.
  addEventListener("DOMContentLoaded", () => {
    const stage = document.getElementById("stage").style;
    for (const [name, value] of [["display", "block"], ["width", "800px"], ["max-width", "none"]]) stage.setProperty(name, value, "important");
  });

  /** Brings the widget in. */
  const enter = () => {
    import("/scantling/scantling-quote.js");
  };

  window.look = { page, widget, enter };
}

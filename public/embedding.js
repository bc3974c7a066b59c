// Puts a field beside each row of the tables, which the build has made from the README's: a row that is added there is tried here.
const quote = document.querySelector("scantling-quote");

/** The last of so many events are listed. */
const LISTED = 20;

/** Which values an attribute may have, where there are few; any text goes into the others. */
const VALUES = { units: ["inch", "metric"], language: ["en", "de", "fr", "es"], start: ["now"] };

function made(name, properties, ...inside) {
  const element = Object.assign(document.createElement(name), properties);
  element.append(...inside);
  return element;
}

/** Has each row of a table make what goes into its last cell. */
function each(table, what) {
  for (const row of document.querySelectorAll(`table[data-of="${table}"] tbody tr`)) {
    row.querySelector(".try").append(...what(row.dataset.name, row));
  }
}

function choice(values, chosen) {
  const options = ["", ...values].map((value) => made("option", { value, textContent: value || "(none)" }));
  const select = made("select", {}, ...options);
  select.value = chosen;
  return select;
}

const outputs = [];

each("attribute", (name, row) => {
  const property = row.dataset.property || name;
  const value = quote.getAttribute(name) ?? "";
  const field = VALUES[name] ? choice(VALUES[name], value) : made("input", { value, size: 18, autocomplete: "off" });
  field.ariaLabel = `The attribute ${name}`;
  field.addEventListener("change", () => {
    if (field.value) quote.setAttribute(name, field.value);
    else quote.removeAttribute(name);
  });
  const says = made("code");
  outputs.push(() => {
    says.textContent = `element.${property} = ${JSON.stringify(quote[property])}`;
    if (document.activeElement !== field) field.value = quote.getAttribute(name) ?? "";
  });
  return [field, says];
});

const tell = () => outputs.forEach((output) => output());
new MutationObserver(tell).observe(quote, { attributes: true });
customElements.whenDefined("scantling-quote").then(tell);

const log = document.getElementById("log");

each("event", (name) => {
  let count = 0;
  const times = made("span", { textContent: "not yet" });
  quote.addEventListener(name, ({ detail }) => {
    count += 1;
    times.textContent = count === 1 ? "once" : `${count} times`;
    log.prepend(made("li", { textContent: `${name} ${JSON.stringify(detail)}` }));
    while (log.children.length > LISTED) log.lastElementChild.remove();
  });
  return ["Told: ", times];
});

each("slot", (name) => {
  const words = quote.querySelector(name === "none" ? ":scope > :not([slot])" : `:scope > [slot="${name}"]`);
  const field = made("textarea", { rows: 2, value: words.textContent, ariaLabel: `The words for the slot: ${name}` });
  field.addEventListener("input", () => (words.textContent = field.value));
  return [field];
});

each("custom property", (name) => {
  const sized = name.endsWith("-size");
  const field = sized ? choice(["14px", "1em", "20px", "24px"], "") : made("input", { type: "color", value: "#808080" });
  field.ariaLabel = `The property ${name}`;
  const says = made("code");
  const show = () => {
    const value = quote.style.getPropertyValue(name);
    says.textContent = value ? `${name}: ${value}` : "not set";
  };
  const set = () => {
    if (field.value) quote.style.setProperty(name, field.value);
    else quote.style.removeProperty(name);
    show();
  };
  field.addEventListener(sized ? "change" : "input", set);
  const back = made("button", { type: "button", textContent: "As it was", ariaLabel: `${name} as it was` });
  back.addEventListener("click", () => {
    quote.style.removeProperty(name);
    if (sized) field.value = "";
    show();
  });
  show();
  return [field, back, says];
});

each("part", (name) => {
  // A sheet of its own, made by the script: the strict policy lets it, where it would refuse a style element.
  const sheet = new CSSStyleSheet();
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  const button = made("button", { type: "button", textContent: "Outline it", ariaPressed: "false", ariaLabel: `Outline it: ${name}` });
  button.addEventListener("click", () => {
    const on = button.ariaPressed !== "true";
    button.ariaPressed = String(on);
    sheet.replaceSync(on ? `scantling-quote::part(${name}) { outline: 3px solid var(--mark); outline-offset: -3px; }` : "");
  });
  return [button];
});

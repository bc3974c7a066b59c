// What a page under test is watched with, from before its first script. The server puts it into every page it serves to a test, so it
// works alike in every engine, and the page's own policy lets it in as a file of its own host.
{
  /** What the page's policy refused. */
  window.refused = [];
  /** The element's events, each with its detail. */
  window.told = [];
  /** What went wrong: errors nobody caught, files that did not load, what was written to the console as an error or a warning. */
  window.complained = [];

  addEventListener("securitypolicyviolation", (event) => refused.push(`${event.violatedDirective} ${event.blockedURI}`));

  for (const name of ["scantling-estimate", "scantling-error"]) {
    addEventListener(name, (event) => told.push([name, event.detail]));
  }

  // Caught on the way down, since a file that does not load tells only its own element.
  addEventListener("error", (event) => complained.push(event.message ?? `did not load: ${event.target.outerHTML}`), true);
  addEventListener("unhandledrejection", (event) => complained.push(`nobody caught: ${event.reason}`));

  for (const level of ["error", "warn"]) {
    const before = console[level];
    console[level] = (...words) => {
      complained.push(`${level}: ${words.join(" ")}`);
      before.apply(console, words);
    };
  }
}

/**
 * Fetches what comes after the first price, when the widget's wasm asks for it (`later.rs`). The build gives this script and that file
 * a name by what is in them, which the wasm knows: parts of two builds never meet, whatever a browser has kept.
 */

import { initSync } from "./scantling_widget.js";

/** Tells the function at `callback` in the table whether it is there; asked again after a failure, it tries again. */
export async function __wasm_split_load_later(callback, data) {
  // It runs already: this gives what it exports.
  const first = initSync();
  let there = false;
  try {
    await instantiate(await fetch(new URL("scantling_later.wasm", import.meta.url)), { __wasm_split: first });
    there = true;
  } catch (error) {
    console.error(error);
  }
  first.__indirect_function_table.get(callback)(data, there);
}

/** Compiles it while it comes or, from a host that sends it as another type, once it is there: browsers refuse to do the former then. */
async function instantiate(answer, imports) {
  if (!answer.ok) throw new Error(`what comes after the first price can't be had (${answer.status})`);
  if (/^application\/wasm$/i.test(answer.headers.get("content-type"))) return WebAssembly.instantiateStreaming(answer, imports);
  return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}

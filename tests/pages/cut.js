// What comes after the first price can't be had until the page says so.
window.asked = 0;
const fetched = window.fetch;
window.fetch = (address, ...more) => {
  if (!/later.*wasm/.test(address)) return fetched(address, ...more);
  window.asked += 1;
  return window.mended ? fetched(address, ...more) : Promise.reject(new TypeError("the line is cut"));
};

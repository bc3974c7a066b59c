// What comes after the first price can't be had until the page says so: by `mended` at once, by `held` once it calls `let_go`. By
// `no_post` nothing more is sent.
window.asked = 0;
const fetched = window.fetch;
window.fetch = (address, ...more) => {
  if (window.no_post && more[0]?.method === "POST") return Promise.reject(new TypeError("the line is cut"));
  if (!/later.*wasm/.test(address)) return fetched(address, ...more);
  window.asked += 1;
  if (window.held) return new Promise((done) => (window.let_go = () => done(fetched(address, ...more))));
  return window.mended ? fetched(address, ...more) : Promise.reject(new TypeError("the line is cut"));
};

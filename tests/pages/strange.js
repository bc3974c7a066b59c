// A browser that is not as it should be. How, a test says in the session's store, which outlives a reload: `strange-store` is `none` where
// the browser keeps nothing for a page; `strange-clock` is how many seconds the computer's clock is ahead. A worker has the clock on the wall.
{
  const told = (name) => sessionStorage.getItem(`strange-${name}`);
  if (told("store") === "none") {
    const refuse = () => {
      throw new DOMException("The operation is insecure.", "SecurityError");
    };
    Object.defineProperty(window, "localStorage", { get: refuse });
  }
  window.shift = Number(told("clock") ?? 0);
  window.wall = Date;
  window.Date = class extends wall {
    constructor(...parts) {
      if (parts.length) super(...parts);
      else super(wall.now() + shift * 1000);
    }
    static now() {
      return wall.now() + shift * 1000;
    }
  };
}

// What old libraries and careless pages do to the objects everybody shares, and then a page that lets nobody change them back.
{
  const refuse = (name) =>
    function refused() {
      throw new Error(`the page has taken ${name} away`);
    };
  for (const name of ["map", "filter", "forEach", "find", "reduce", "some", "every", "flatMap", "at"]) {
    Array.prototype[name] = refuse(`Array.prototype.${name}`);
  }
  for (const name of ["append", "prepend", "replaceChildren", "matches", "toggleAttribute", "insertAdjacentElement"]) {
    Element.prototype[name] = refuse(`Element.prototype.${name}`);
  }
  // Found by every `for … in`.
  Object.prototype.inherited = "by every object";
  Array.prototype.last = function last() {
    return this[this.length - 1];
  };
  for (const kind of [Object, Array, Element, Node, HTMLElement, Function, String, Promise]) Object.freeze(kind.prototype);
}

// What the year does on the page, as whoever sits before it would: buttons by what they say, fields by their ids. And a clock on the wall
// that the test can move.
window.shift ??= 0;
if (!window.wall) {
  window.wall = Date;
  window.Date = class extends wall {
    constructor(...parts) {
      if (parts.length) super(...parts); else super(wall.now() + shift * 1000);
    }
    static now() { return wall.now() + shift * 1000; }
  };
}
window.title = () => document.querySelector('main h2')?.textContent;
window.main = () => document.querySelector('main').textContent;
window.said = () => document.querySelector('.said').textContent;
window.button = words => [...document.querySelectorAll('button')].find(b => [b.getAttribute('aria-label'), b.textContent.trim()].includes(words));
window.press = words => {
  const found = button(words);
  if (!found) throw new Error(`there is no button “${words}”`);
  found.focus();
  found.click();
};
window.pressAll = start => [...document.querySelectorAll('button')].filter(b => b.getAttribute('aria-label')?.startsWith(start)).map(b => b.click()).length;
window.openRow = key => [...document.querySelectorAll('.picks button')].find(b => b.querySelector('b').textContent === key).click();
window.field = id => {
  const found = document.getElementById(id);
  if (!found) throw new Error(`there is no field ${id}`);
  return found;
};
window.type = (id, text) => {
  const found = field(id);
  found.value = text;
  found.dispatchEvent(new Event('input', { bubbles: true }));
  found.dispatchEvent(new Event('change', { bubbles: true }));
  return 1;
};
// Rows of a table, known by its caption.
window.figures = caption => {
  const table = [...document.querySelectorAll('main table')].find(one => one.caption?.textContent.startsWith(caption));
  return table ? [...table.tBodies[0].rows].map(row => [...row.cells].map(cell => cell.textContent.trim())) : null;
};
// What is written as a file is caught.
URL.createObjectURL = blob => (blob.text().then(text => { window.saved = text; }), 'blob:caught');
HTMLAnchorElement.prototype.click = function () { window.named = this.download; };

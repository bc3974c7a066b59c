//! Elements made by hand. What is painted anew at every key or movement sets what has changed on the elements that are there, and
//! builds no view; and what stands there first does without the code of a view.

use scantling_drawing::Drawing;
use scantling_drawing::svg::{Ink, Words, ink};
use wasm_bindgen::JsCast;
use web_sys::{Document, Element};

/// The namespace of SVG. Source: SVG 2, section 1.
const SVG: &str = "http://www.w3.org/2000/svg";

/// Makes elements of a page and puts them in their place.
#[derive(Debug, Clone)]
pub(crate) struct Maker(pub(crate) Document);

impl Maker {
    /// A new element of SVG at the end of another. Nothing only where the page takes no element at all.
    pub(crate) fn svg(&self, parent: &Element, tag: &str, class: &str) -> Option<Element> {
        placed(self.0.create_element_ns(Some(SVG), tag).ok()?, parent, class)
    }

    /// A new element of HTML at the end of another.
    pub(crate) fn html(&self, parent: &Element, tag: &str, class: &str) -> Option<Element> {
        placed(self.0.create_element(tag).ok()?, parent, class)
    }

    /// Paints a drawing: its lines into one group, its words into another that lies above.
    pub(crate) fn paint(&self, drawing: &Drawing, lines: &Element, words: &Element) {
        let (mut line, mut word) = (Row::of(lines), Row::of(words));
        for shape in &drawing.shapes {
            match ink(shape) {
                Ok(Ink { class, path, fill }) => {
                    let Some(element) = line.next(|parent| self.svg(parent, "path", "")) else { return };
                    set(&element, "class", class);
                    set(&element, "d", &path);
                    match fill {
                        Some(fill) => set(&element, "fill", &fill),
                        None => drop(element.remove_attribute("fill")),
                    }
                }
                Err(Words { class, at: (x, y), upright, text }) => {
                    let Some(element) = word.next(|parent| self.svg(parent, "text", "")) else { return };
                    set(&element, "class", class);
                    set(
                        &element,
                        "transform",
                        &format!("translate({x} {y}){}", if upright { "rotate(-90)" } else { "" }),
                    );
                    say(&element, text);
                }
            }
        }
        line.end();
        word.end();
    }
}

fn placed(element: Element, parent: &Element, class: &str) -> Option<Element> {
    if !class.is_empty() {
        set(&element, "class", class);
    }
    parent.append_child(&element).ok()?;
    Some(element)
}

/// Sets an attribute. The names are our own, so it can't fail.
pub(crate) fn set(element: &Element, name: &str, value: &str) {
    drop(element.set_attribute(name, value));
}

/// Makes an element that holds a text alone say this, unless it does.
pub(crate) fn say(element: &Element, text: &str) {
    if element.first_child().and_then(|said| said.node_value()).as_deref() != Some(text) {
        tell(element, text);
    }
}

/// Makes an element that holds a text alone say this, which is another. The text stays there and says something else: where another is
/// put in its place, a browser takes the one out, puts the other in and styles it anew.
pub(crate) fn tell(element: &Element, text: &str) {
    match element.first_child() {
        Some(said) => said.set_node_value(Some(text)),
        None => element.set_text_content(Some(text)),
    }
}

/// Sets a property of an element's own style, which the page's policy allows where an attribute would be refused.
pub(crate) fn style(element: &Element, name: &str, value: &str) {
    if let Some(element) = element.dyn_ref::<web_sys::HtmlElement>() {
        drop(element.style().set_property(name, value));
    }
}

/// Children taken one after another: those that are there first, then new ones.
pub(crate) struct Row<'p> {
    parent: &'p Element,
    next: Option<Element>,
}

impl<'p> Row<'p> {
    pub(crate) fn of(parent: &'p Element) -> Self {
        Self { parent, next: parent.first_element_child() }
    }

    pub(crate) fn next(&mut self, make: impl FnOnce(&Element) -> Option<Element>) -> Option<Element> {
        let Some(there) = self.next.take() else { return make(self.parent) };
        self.next = there.next_element_sibling();
        Some(there)
    }

    /// Takes away what was not taken.
    pub(crate) fn end(mut self) {
        while let Some(left) = self.next.take() {
            self.next = left.next_element_sibling();
            left.remove();
        }
    }
}

//! Printing the widget alone, on one clean page, whatever page it stands on.
//!
//! A frame inside the widget's own root takes copies of what belongs on paper, so that nothing of the page around it is printed and
//! nothing of it is touched.

use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{HtmlElement, HtmlIFrameElement, Window};

use super::after;

/// What belongs on paper, in its order.
const ON_PAPER: [&str; 4] = [".brief", ".price", ".sheet", ".details"];

/// Prints it; where no frame can be had, the page as a whole, whose print style hides the widget's form.
pub(crate) fn print(host: &HtmlElement, title: &str) {
    let (host, title) = (host.clone(), title.to_owned());
    super::later(async move {
        let Some(frame) = frame(&host) else { return whole_page() };
        // Some browsers put an empty document into a new frame a moment later.
        after(0).await;
        match fill(&frame, &host, &title) {
            Some(window) if window.print().is_ok() => {}
            _ => whole_page(),
        }
    });
}

fn whole_page() {
    if let Some(window) = web_sys::window() {
        drop(window.print());
    }
}

/// An empty frame in the widget's root, in place of one of an earlier print. It stays until the next: some browsers print it late.
fn frame(host: &HtmlElement) -> Option<HtmlIFrameElement> {
    let root = host.shadow_root()?;
    let place = root.query_selector(".scantling").ok()??;
    if let Some(earlier) = place.query_selector("iframe").ok()? {
        earlier.remove();
    }
    let frame: HtmlIFrameElement = host.owner_document()?.create_element("iframe").ok()?.dyn_into().ok()?;
    for (name, value) in [("class", "paper"), ("aria-hidden", "true"), ("tabindex", "-1")] {
        frame.set_attribute(name, value).ok()?;
    }
    place.append_child(&frame).ok()?;
    Some(frame)
}

/// Copies the widget into a frame.
fn fill(frame: &HtmlIFrameElement, host: &HtmlElement, title: &str) -> Option<Window> {
    let (document, window) = (frame.content_document()?, frame.content_window()?);
    // It names the file when the paper is one.
    document.set_title(title);
    // It is of the frame's own world: to this one it is no element at all, so that no check would pass.
    let holder: HtmlElement = document.create_element("div").ok()?.unchecked_into();
    let around = web_sys::window()?.get_computed_style(host).ok()??;
    for property in ["font-family", "direction"] {
        holder.style().set_property(property, &around.get_property_value(property).ok()?).ok()?;
    }
    holder.set_dir(&around.get_property_value("direction").ok()?);
    document.body()?.append_child(&holder).ok()?;
    let root = holder.attach_shadow(&web_sys::ShadowRootInit::new(web_sys::ShadowRootMode::Open)).ok()?;
    let (place, widget) = (document.create_element("div").ok()?, document.create_element("div").ok()?);
    place.set_class_name("scantling");
    widget.set_class_name("widget");
    let whole = host.shadow_root()?;
    for part in ON_PAPER {
        if let Some(part) = whole.query_selector(part).ok()? {
            widget.append_child(&document.import_node_with_deep(&part, true).ok()?).ok()?;
        }
    }
    // The maker's own words stand in the page, not in the widget.
    let mut next = host.first_element_child();
    while let Some(words) = next {
        if words.has_attribute("slot") {
            holder.append_child(&document.import_node_with_deep(&words, true).ok()?).ok()?;
        }
        next = words.next_element_sibling();
    }
    place.append_child(&widget).ok()?;
    root.append_child(&place).ok()?;
    style(&window, &whole, &root)?;
    Some(window)
}

/// Gives the copy the widget's own style: a sheet serves the document it was made in, so that the rules are written anew.
fn style(window: &Window, from: &JsValue, to: &JsValue) -> Option<()> {
    let adopted = JsValue::from_str("adoptedStyleSheets");
    let sheets = Array::new();
    for sheet in Array::from(&Reflect::get(from, &adopted).ok()?).iter() {
        let rules = Array::from(&Reflect::get(&sheet, &JsValue::from_str("cssRules")).ok()?);
        let text = |rule: JsValue| Reflect::get(&rule, &JsValue::from_str("cssText")).ok()?.as_string();
        let text: String = rules.iter().filter_map(text).collect();
        let maker: Function = Reflect::get(window, &JsValue::from_str("CSSStyleSheet")).ok()?.dyn_into().ok()?;
        let copy = Reflect::construct(&maker, &Array::new()).ok()?;
        let replace: Function = Reflect::get(&copy, &JsValue::from_str("replaceSync")).ok()?.dyn_into().ok()?;
        replace.call1(&copy, &JsValue::from_str(&text)).ok()?;
        sheets.push(&copy);
    }
    Reflect::set(to, &adopted, &sheets).ok().filter(|set| *set).map(drop)
}

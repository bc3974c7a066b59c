//! The page the widget is on: its address, its other widgets, the day of its browser.

use js_sys::Reflect;
use scantling_pricing::book::values::Day;
use wasm_bindgen::{JsCast, JsValue};

use crate::incoming::Address;

/// The day where the buyer is.
pub(crate) fn today() -> Option<Day> {
    let now = js_sys::Date::new_0();
    let (year, month, day) = (now.get_full_year(), now.get_month().saturating_add(1), now.get_date());
    Day::new(&format!("{year:04}-{month:02}-{day:02}")).ok()
}

/// Which widget of its page an element is.
pub(crate) fn address(host: &web_sys::HtmlElement) -> Address {
    let mut address = Address { id: host.id(), place: None, ids: Vec::new() };
    let Ok(all) = Reflect::get(&host.get_root_node(), &JsValue::from_str("querySelectorAll")) else { return address };
    let Ok(all) = all.dyn_into::<js_sys::Function>() else { return address };
    let Ok(list) = all.call1(&host.get_root_node(), &JsValue::from_str(&host.local_name())) else { return address };
    for (place, one) in (1..).zip(js_sys::Array::from(&list).iter()) {
        let Ok(one) = one.dyn_into::<web_sys::Element>() else { continue };
        if one.is_same_node(Some(host)) {
            address.place = Some(place);
        }
        address.ids.push(one.id());
    }
    address
}

/// What stands behind `#` in the page's address.
pub(crate) fn fragment() -> String {
    web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default()
}

/// The page's address without what stands behind `#`.
pub(crate) fn here() -> String {
    let address = web_sys::window().and_then(|window| window.location().href().ok()).unwrap_or_default();
    address.split('#').next().unwrap_or_default().to_owned()
}

//! The day and the moment it is where the maker is.

use js_sys::Date;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::moment::Moment;
use scantling_pricing::book::read::Read;
use scantling_pricing::book::values::Day;
use wasm_bindgen::JsValue;

/// The day it is where the maker is.
pub(crate) fn today() -> Option<Day> {
    let now = Date::new_0();
    let text = format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month().saturating_add(1), now.get_date());
    Day::new(&text).ok()
}

/// The second it is, by universal time, as the computer's clock has it.
pub(crate) fn now() -> Option<Moment> {
    let text = String::from(Date::new_0().to_iso_string());
    // `2026-11-26T05:45:30.123Z`, by ECMA-262; what is less than a second is left off.
    let (seconds, _) = text.split_once('.')?;
    Moment::read(&Node::Text(format!("{seconds}Z"))).ok()
}

/// A moment as the clock on this wall has it: `2026-11-26 05:45`.
pub(crate) fn on_this_wall(moment: Moment) -> String {
    let at = Date::new(&JsValue::from_str(&moment.to_string()));
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}",
        at.get_full_year(),
        at.get_month().saturating_add(1),
        at.get_date(),
        at.get_hours(),
        at.get_minutes()
    )
}

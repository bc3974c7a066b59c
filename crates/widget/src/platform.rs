//! Numbers, amounts, dates, plurals and names of countries as the reader's own platform writes them.
//!
//! What is a number goes over as text, so that no cent passes through a float. Away from a browser there is no such platform:
//! then a number is written in digits and counted as in English.

use scantling_pricing::money::Money;

/// A number that is written in digits.
pub(crate) fn number(locale: &str, digits: &str) -> Option<String> {
    asked("NumberFormat", locale, &[], Method::Format, digits)
}

/// An amount: whole where it has no cents, else to the minor unit.
pub(crate) fn money(locale: &str, money: Money) -> Option<String> {
    let (amount, currency) = (money.amount(), money.currency());
    let decimals = if amount.fract().is_zero() { "0".to_owned() } else { currency.minor_digits().to_string() };
    let options = [
        ("style", "currency"),
        ("currency", currency.code()),
        ("minimumFractionDigits", decimals.as_str()),
        ("maximumFractionDigits", decimals.as_str()),
    ];
    asked("NumberFormat", locale, &options, Method::Format, &amount.normalize().to_string())
}

/// A day that is written as `2026-11-25`.
pub(crate) fn day(locale: &str, day: &str) -> Option<String> {
    asked("DateTimeFormat", locale, &[("dateStyle", "long"), ("timeZone", "UTC")], Method::FormatDay, day)
}

/// The name of a country.
pub(crate) fn country(locale: &str, code: &str) -> Option<String> {
    asked("DisplayNames", locale, &[("type", "region")], Method::Of, code)
}

/// The form of the plural for a count.
pub(crate) fn plural(language: &str, count: &str) -> Option<String> {
    asked("PluralRules", language, &[], Method::Select, count)
}

/// The day it is where the reader is, as `2026-11-25`.
#[cfg(target_arch = "wasm32")]
pub(crate) fn today() -> Option<String> {
    let now = js_sys::Date::new_0();
    let (year, month, day) = (now.get_full_year(), now.get_month().saturating_add(1), now.get_date());
    Some(format!("{year:04}-{month:02}-{day:02}"))
}

/// Outside a browser no one says what day it is.
#[cfg(not(target_arch = "wasm32"))]
pub(crate) fn today() -> Option<String> {
    None
}

/// How a kind of writer is asked.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Method {
    Format,
    FormatDay,
    Of,
    Select,
}

#[cfg(target_arch = "wasm32")]
thread_local! {
    /// The writers made so far, by what was asked of each. To make one takes a browser as long as pricing a table does, and a screen
    /// asks for dozens of amounts.
    static WRITERS: std::cell::RefCell<Vec<(String, Writer)>> = const { std::cell::RefCell::new(Vec::new()) };
}

/// One of the platform's writers, and its function.
#[cfg(target_arch = "wasm32")]
#[derive(Clone)]
struct Writer {
    made: wasm_bindgen::JsValue,
    writes: js_sys::Function,
}

#[cfg(target_arch = "wasm32")]
fn writer(kind: &str, locale: &str, options: &[(&str, &str)], method: Method) -> Option<Writer> {
    let mut asked_for = [kind, locale].join(" ");
    for (_, value) in options {
        asked_for.push(' ');
        asked_for.push_str(value);
    }
    WRITERS.with_borrow_mut(|writers| {
        if let Some((_, known)) = writers.iter().find(|(known, _)| *known == asked_for) {
            return Some(known.clone());
        }
        let made = make(kind, locale, options, method)?;
        writers.push((asked_for, made.clone()));
        Some(made)
    })
}

#[cfg(target_arch = "wasm32")]
fn make(kind: &str, locale: &str, options: &[(&str, &str)], method: Method) -> Option<Writer> {
    use js_sys::{Array, Function, Object, Reflect, global};
    use wasm_bindgen::{JsCast, JsValue};

    let field = |of: &JsValue, name: &str| Reflect::get(of, &JsValue::from_str(name)).ok();
    let settings = Object::new();
    for (name, value) in options {
        Reflect::set(&settings, &JsValue::from_str(name), &JsValue::from_str(value)).ok()?;
    }
    let kind: Function = field(&field(&global(), "Intl")?, kind)?.dyn_into().ok()?;
    let made = Reflect::construct(&kind, &Array::of2(&JsValue::from_str(locale), &settings)).ok()?;
    let name = match method {
        Method::Format | Method::FormatDay => "format",
        Method::Of => "of",
        Method::Select => "select",
    };
    let writes = field(&made, name)?.dyn_into().ok()?;
    Some(Writer { made, writes })
}

#[cfg(target_arch = "wasm32")]
fn asked(kind: &str, locale: &str, options: &[(&str, &str)], method: Method, what: &str) -> Option<String> {
    use wasm_bindgen::JsValue;

    let Writer { made, writes } = writer(kind, locale, options, method)?;
    let what = JsValue::from_str(what);
    let what = if method == Method::FormatDay { js_sys::Date::new(&what).into() } else { what };
    writes.call1(&made, &what).ok()?.as_string()
}

#[cfg(not(target_arch = "wasm32"))]
fn asked(_: &str, _: &str, _: &[(&str, &str)], method: Method, what: &str) -> Option<String> {
    let select = || if what == "1" { "one" } else { "other" };
    (method == Method::Select).then(|| select().to_owned())
}

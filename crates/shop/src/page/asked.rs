//! A brief as a maker types it: design, sizes, materials, options, finish, how many. What is wrong stands beside its field.

use std::collections::BTreeMap;

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::values::{Count, Key};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::Design;
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::{DecimalMark, LengthUnit, read_length};
use scantling_pricing::publish::{Basis, fold};

use super::fields::mend_first;
use super::little::options;
use crate::comma::plain;
use crate::desk::Desk;

/// What is typed, by the place in a brief it is for; what is not typed is as the design has it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Typed(BTreeMap<String, String>);

/// What is wrong, by the place in a brief.
pub(crate) type Faults = BTreeMap<String, String>;

impl Typed {
    fn get(&self, place: &str) -> Option<&str> {
        self.0.get(place).map(String::as_str).filter(|text| !text.trim().is_empty())
    }

    /// The brief that was typed, when the book can fill it.
    pub(crate) fn brief(&self, book: &ShopBook) -> Result<Brief, Faults> {
        let unit = book.shop.units.length_unit();
        let mut faults = Faults::new();
        let Some(design) = self.design(book) else {
            return Err(Faults::from([("design".to_owned(), "choose a design".to_owned())]));
        };
        let mut brief = Brief::new(design.key.clone());
        for dimension in &design.dimensions {
            let place = format!("dimensions.{}", dimension.key);
            match self.get(&place).map(|text| read_length(&plain(text), unit, DecimalMark::Point)) {
                Some(Ok(length)) => drop(brief.dimensions.insert(dimension.key.clone(), length)),
                Some(Err(why)) => drop(faults.insert(place, why.to_string())),
                None => {}
            }
        }
        let chosen = |place: String| self.get(&place).and_then(|text| Key::new(text).ok());
        for role in &design.roles {
            let own = chosen(format!("materials.{}", role.key));
            brief.materials.extend(own.map(|material| (role.key.clone(), material)));
        }
        for group in &design.options {
            let own = chosen(format!("options.{}", group.key));
            brief.options.extend(own.map(|choice| (group.key.clone(), choice)));
        }
        brief.finish = chosen("finish".to_owned());
        if let Some(text) = self.get("quantity") {
            match text.trim().parse().ok().and_then(Count::new) {
                Some(quantity) => brief.quantity = quantity,
                None => drop(faults.insert("quantity".into(), "write a whole number, as 1".into())),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        buildable(book, brief, unit)
    }

    fn design<'b>(&self, book: &'b ShopBook) -> Option<&'b Design> {
        let key = self.get("design");
        book.designs.iter().find(|design| key.is_none_or(|key| design.key.as_str() == key))
    }
}

fn buildable(book: &ShopBook, brief: Brief, unit: LengthUnit) -> Result<Brief, Faults> {
    let folded =
        fold(book, Basis::Selling).map_err(|fault| Faults::from([(String::new(), fault.fault.to_string())]))?;
    match estimate(&folded, &brief) {
        Ok(_) => Ok(brief),
        Err(problems) => Err(problems.iter().map(|problem| (problem.field(), problem.explain(unit))).collect()),
    }
}

/// The form. `id` is what the ids of its fields start with.
pub(crate) fn form(desk: &Desk, id: &'static str, typed: RwSignal<Typed>) -> AnyView {
    let faults = {
        let desk = desk.clone();
        Memo::new(move |_| {
            let book = desk.book();
            book.and_then(|book| typed.with(|typed| typed.brief(&book)).err()).unwrap_or_default()
        })
    };
    let design = Memo::new(move |_| typed.with(|typed| typed.get("design").map(str::to_owned)));
    let there = {
        let desk = desk.clone();
        Memo::new(move |_| desk.book().is_some())
    };
    let desk = desk.clone();
    let body = move || {
        let chosen = design.get();
        let book = there.get().then(|| untrack(|| desk.book())).flatten();
        book.map_or_else(
            || mend_first(&desk),
            |book| {
                let of = Of { id, typed, faults };
                fields(&book, chosen.as_deref(), of).into_any()
            },
        )
    };
    view! { <div class="fields">{body}</div> }.into_any()
}

/// What every field of a form shares.
#[derive(Clone, Copy)]
struct Of {
    id: &'static str,
    typed: RwSignal<Typed>,
    faults: Memo<Faults>,
}

fn fields(book: &ShopBook, chosen: Option<&str>, of: Of) -> impl IntoView + use<> {
    let unit = book.shop.units.length_unit();
    let designs = book.designs.iter().map(|design| (design.key.to_string(), design.name.to_string())).collect();
    let design = book.designs.iter().find(|design| chosen.is_none_or(|key| design.key.as_str() == key));
    let mut all = vec![of.choice("design", "Design", designs)];
    if let Some(design) = design {
        for dimension in &design.dimensions {
            let place = format!("dimensions.{}", dimension.key);
            all.push(of.line(&place, dimension.label.as_str(), &dimension.default.show(unit)));
        }
        for role in design.roles.iter().filter(|role| role.materials.len() > 1) {
            let names = role.materials.iter().map(|key| (key.to_string(), material(book, key))).collect();
            all.push(of.choice(&format!("materials.{}", role.key), role.label.as_str(), names));
        }
        for group in &design.options {
            let names = group.choices.iter().map(|one| (one.key.to_string(), one.label.to_string())).collect();
            all.push(of.choice(&format!("options.{}", group.key), group.label.as_str(), names));
        }
    }
    let finishes = book.finishes.iter().map(|finish| (finish.key.to_string(), finish.name.to_string())).collect();
    all.push(of.choice("finish", "Finish", finishes));
    all.push(of.line("quantity", "How many", "1"));
    let rest = move || {
        let (of_sizes, whole) = of.faults.with(|faults| (faults.get("dimensions").cloned(), faults.get("").cloned()));
        of_sizes.or(whole).map(|why| view! { <p class="fault">{why}</p> })
    };
    (all, rest)
}

/// What a material is called.
fn material(book: &ShopBook, key: &Key) -> String {
    let timber = book.timbers.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
    let slab = || book.slabs.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
    let sheet = || book.sheets.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
    let resin = || book.resins.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
    timber.or_else(slab).or_else(sheet).or_else(resin).unwrap_or_else(|| key.to_string())
}

impl Of {
    fn take(self, place: &str, text: String) {
        let place = place.to_owned();
        self.typed.update(|typed| {
            // Sizes and woods of one design are none of another.
            if place == "design" {
                typed.0.retain(|key, _| key == "quantity" || key == "finish");
            }
            typed.0.insert(place, text);
        });
    }

    fn labelled(self, place: &str, label: &str, field: impl FnOnce(String, String) -> AnyView) -> AnyView {
        let id = format!("{}-{place}", self.id);
        let fault = format!("{id}-fault");
        let own = place.to_owned();
        let wrong = move || self.faults.with(|faults| faults.get(&own).cloned());
        view! {
            <div class="field">
                <label for=id.clone()>{label.to_owned()}</label>
                {field(id, fault.clone())}
                <span class="fault" id=fault>{wrong}</span>
            </div>
        }
        .into_any()
    }

    fn invalid(self, place: &str) -> impl Fn() -> &'static str + Send + Sync + 'static + use<> {
        let place = place.to_owned();
        move || if self.faults.with(|faults| faults.contains_key(&place)) { "true" } else { "false" }
    }

    fn line(self, place: &str, label: &str, usual: &str) -> AnyView {
        let (own, usual, invalid) = (place.to_owned(), usual.to_owned(), self.invalid(place));
        let held = self.typed.with_untracked(|typed| typed.get(place).map(str::to_owned)).unwrap_or(usual);
        self.labelled(place, label, move |id, fault| {
            view! {
                <input
                    id=id
                    type="text"
                    autocomplete="off"
                    spellcheck="false"
                    aria-describedby=fault
                    aria-invalid=invalid
                    value=held
                    on:change=move |event| self.take(&own, event_target_value(&event))
                />
            }
            .into_any()
        })
    }

    fn choice(self, place: &str, label: &str, names: Vec<(String, String)>) -> AnyView {
        let (own, invalid) = (place.to_owned(), self.invalid(place));
        let held = self.typed.with_untracked(|typed| typed.get(place).map(str::to_owned));
        let held = held.unwrap_or_default();
        let options = options(move || names.clone(), move || held.clone());
        self.labelled(place, label, move |id, fault| {
            view! {
                <select
                    id=id
                    aria-describedby=fault
                    aria-invalid=invalid
                    on:change=move |event| self.take(&own, event_target_value(&event))
                >
                    {options}
                </select>
            }
            .into_any()
        })
    }
}

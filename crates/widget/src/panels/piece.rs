//! Which piece, of what, finished how.

use std::sync::Arc;

use leptos::prelude::*;
use scantling_pricing::alternatives::Change;
use scantling_pricing::book::stock::Finish;
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::design::{OptionChoice, OptionGroup, Role};

use crate::fields::{Choice, Folded, Offer, choice, fold};
use crate::form::Form;
use crate::ui::Ui;
use crate::wording;

/// Takes a choice whose value is a key; other text is left alone, since no page of ours makes it.
fn with_key(value: &str, take: impl FnOnce(Key)) {
    if let Ok(key) = Key::new(value) {
        take(key);
    }
}

/// Which design.
pub(crate) fn piece(ui: Ui) -> impl IntoView {
    let offers = ui.book.designs.iter().map(|design| Offer {
        value: design.key.to_string(),
        label: design.name.to_string(),
        note: design.summary.to_string(),
        swatch: None,
        change: None,
    });
    choice(
        &ui,
        Choice {
            name: "design".into(),
            legend: ui.say(wording::PIECE),
            offers: offers.collect(),
            chosen: Box::new(|form| form.design.to_string()),
            choose: |ui, form, _, value| with_key(value, |design| form.choose_design(&ui.book, &design)),
        },
    )
}

/// What each role is of.
pub(crate) fn materials(ui: Ui) -> impl IntoView {
    ui.for_design(|ui, design| design.roles.iter().map(|role| material(ui, role)).collect_view())
}

fn material(ui: &Ui, role: &Role) -> impl IntoView + use<> {
    let offer = |key: &Key| {
        let stock = ui.book.stock(key)?;
        Some(Offer {
            value: key.to_string(),
            label: stock.name().to_owned(),
            note: stock.character().to_owned(),
            swatch: Some(stock.swatch().to_owned()),
            change: Some(Change::Material { role: role.key.clone(), to: key.clone() }),
        })
    };
    let (key, first) = (role.key.clone(), role.materials.first().map(Key::to_string).unwrap_or_default());
    choice(
        ui,
        Choice {
            name: role.key.to_string(),
            legend: role.label.to_string(),
            offers: role.materials.iter().filter_map(offer).collect(),
            chosen: Box::new(move |form| form.materials.get(&key).map_or_else(|| first.clone(), Key::to_string)),
            choose: |_, form, role, value| {
                with_key(role, |role| with_key(value, |material| drop(form.materials.insert(role, material))));
            },
        },
    )
}

/// Which finish.
pub(crate) fn finish(ui: Ui) -> impl IntoView {
    let (book, words) = (Arc::clone(&ui.book), Arc::clone(&ui.words));
    let said = move |form: &Form| {
        let name = chosen_finish(&book, form).map(|finish| finish.name.to_string()).unwrap_or_default();
        wording::change(&words, &words.say(wording::FINISH), &name)
    };
    let folded = Folded {
        name: "finish-folded",
        said: Box::new(said),
        is_other: |ui, form| {
            form.finish.as_ref().is_some_and(|key| ui.book.finishes.first().is_none_or(|first| first.key != *key))
        },
        field: None,
    };
    fold(&ui, folded, finishes(&ui))
}

/// The finish that is chosen, or that a book begins with.
fn chosen_finish<'b>(book: &'b PriceBook, form: &Form) -> Option<&'b Finish> {
    form.finish.as_ref().map_or_else(|| book.finishes.first(), |key| book.finish(key))
}

/// What a buyer should know of a finish, a line for each.
fn about(ui: &Ui, finish: &Finish) -> String {
    let durability = finish.durability.as_ref().map(|text| wording::finish_durability(&ui.words, text.as_str()));
    let care = finish.care.as_ref().map(|text| wording::finish_care(&ui.words, text.as_str()));
    let shows = format!("{}. {}", finish.sheen, finish.character);
    let lines = [Some(shows), durability, care, Some(finish.food_contact.to_string())];
    lines.into_iter().flatten().collect::<Vec<_>>().join("\n")
}

fn finishes(ui: &Ui) -> AnyView {
    let offers = ui.book.finishes.iter().map(|finish| Offer {
        value: finish.key.to_string(),
        label: finish.name.to_string(),
        note: about(ui, finish),
        swatch: None,
        change: Some(Change::Finish { to: finish.key.clone() }),
    });
    let first = ui.book.finishes.first().map(|finish| finish.key.to_string()).unwrap_or_default();
    choice(
        ui,
        Choice {
            name: "finish".into(),
            legend: ui.say(wording::FINISH),
            offers: offers.collect(),
            chosen: Box::new(move |form| form.finish.as_ref().map_or_else(|| first.clone(), Key::to_string)),
            choose: |_, form, _, value| with_key(value, |finish| form.finish = Some(finish)),
        },
    )
}

/// The design's variants.
pub(crate) fn options(ui: Ui) -> impl IntoView {
    let (book, words) = (Arc::clone(&ui.book), Arc::clone(&ui.words));
    let said = move |form: &Form| {
        let groups = book.design(&form.design).map(|design| design.options.as_slice()).unwrap_or_default();
        let said = groups.iter().filter_map(|group| {
            let choice = chosen_variant(group, form)?;
            Some(wording::change(&words, group.label.as_str(), choice.label.as_str()))
        });
        said.collect::<Vec<_>>().join(" · ")
    };
    let folded = Folded {
        name: "options-folded",
        said: Box::new(said),
        is_other: |ui, form| {
            let groups = ui.book.design(&form.design).map(|design| design.options.as_slice()).unwrap_or_default();
            groups.iter().any(|group| {
                let first = group.choices.first().map(|choice| &choice.key);
                form.options.get(&group.key).is_some_and(|key| first != Some(key))
            })
        },
        field: None,
    };
    let groups = ui.for_design(|ui, design| design.options.iter().map(|group| variants(ui, group)).collect_view());
    fold(&ui, folded, groups.into_any())
}

/// The variant of a group that is chosen, or that it begins with.
fn chosen_variant<'g>(group: &'g OptionGroup, form: &Form) -> Option<&'g OptionChoice> {
    let chosen = form.options.get(&group.key);
    group.choices.iter().find(|choice| chosen.is_none_or(|key| choice.key == *key))
}

fn variants(ui: &Ui, group: &OptionGroup) -> impl IntoView + use<> {
    let offer = |choice: &OptionChoice| Offer {
        value: choice.key.to_string(),
        label: choice.label.to_string(),
        note: String::new(),
        swatch: None,
        change: Some(Change::Choice { option: group.key.clone(), to: choice.key.clone() }),
    };
    let first = group.choices.first().map(|choice| choice.key.to_string()).unwrap_or_default();
    let key = group.key.clone();
    let chosen = move |form: &Form| form.options.get(&key).map_or_else(|| first.clone(), Key::to_string);
    choice(
        ui,
        Choice {
            name: group.key.to_string(),
            legend: group.label.to_string(),
            offers: group.choices.iter().map(offer).collect(),
            chosen: Box::new(chosen),
            choose: |_, form, option, value| {
                with_key(option, |option| with_key(value, |choice| drop(form.options.insert(option, choice))));
            },
        },
    )
}

//! What was kept, side by side in a table, to open again or delete.

use leptos::prelude::*;
use scantling_pricing::estimate::PriceRange;

use super::{Passing, why};
use crate::bits::{El, button, el, live, nothing};
use crate::compare::{Column, Delivered, Today, column};
use crate::out;
use crate::wording::{self, passing_on};
use crate::words::Word;

/// The shelf; nothing as long as there is nothing to tell.
pub(crate) fn kept(passing: &Passing) -> AnyView {
    let passing = passing.clone();
    live(move || {
        passing.shelved.track();
        let ui = &passing.ui;
        let unit = ui.form.with_untracked(|form| form.unit);
        let state = passing.state.borrow();
        let (columns, apart) = match &state.shelf {
            Ok(shelf) => {
                let columns = shelf.kept.iter().map(|slip| column(&ui.words, &ui.book, slip, unit));
                (columns.collect::<Vec<_>>(), passing_on::unreadable_kept(&ui.words, shelf.newer, shelf.damaged))
            }
            Err(fault) => (Vec::new(), Some(ui.say(why(*fault)))),
        };
        let undo = state.taken.is_some();
        if columns.is_empty() && apart.is_none() && !undo {
            return nothing();
        }
        el("section")
            .class("kept")
            .attr("part", "kept")
            .attr("aria-label", &ui.say(passing_on::KEPT))
            .el(el("h3").text(ui.say(passing_on::KEPT)))
            .child(if columns.is_empty() { nothing() } else { table(&passing, &columns) })
            .child(if undo { put_back(&passing) } else { nothing() })
            .el(el("p").class("note").text(apart.unwrap_or_default()))
            .view()
    })
}

fn put_back(passing: &Passing) -> AnyView {
    let ui = &passing.ui;
    let press = {
        let passing = passing.clone();
        move || {
            if let Some(key) = passing.put_back() {
                out::focus(passing.ui.host(), &id(&passing, "open", &key));
            }
        }
    };
    let back = button(ui.say(passing_on::PUT_BACK), press).attr("id", &ui.id("put-back"));
    el("p").class("buttons").text(ui.say(passing_on::DELETED)).el(back).view()
}

/// A row for each thing worth comparing, a column for each kept estimate.
fn table(passing: &Passing, columns: &[Column]) -> AnyView {
    let ui = &passing.ui;
    let range = |price: PriceRange| wording::range(&ui.words, &ui.money(price.low), &ui.money(price.high));
    let row = |head: El, cell: &dyn Fn(&Column) -> El| {
        let mut row = el("tr").el(head);
        for column in columns {
            row = row.el(cell(column));
        }
        row
    };
    let told = |label: Word, tell: &dyn Fn(&Column) -> String| {
        row(el("th").attr("scope", "row").text(ui.say(label)), &|column| el("td").text(tell(column)))
    };
    let today = |label: Word, tell: &dyn Fn(&Today) -> String| {
        told(label, &|column| column.today.as_ref().map_or_else(String::new, tell))
    };
    let woods = |today: &Today| {
        let each = today.woods.iter().map(|(role, wood)| wording::role_of(&ui.words, role, wood));
        each.collect::<Vec<_>>().join(", ")
    };
    let delivered = |today: &Today| match today.delivered {
        Delivered::For(price) => range(price),
        Delivered::Collected => ui.say(passing_on::COLLECTED),
        Delivered::NoPlace => ui.say(passing_on::NO_PLACE),
    };
    let weeks = |today: &Today| match today.weeks {
        Some((fewest, most)) if fewest == most => most.to_string(),
        Some((fewest, most)) => passing_on::some_weeks(&ui.words, &fewest.to_string(), &most.to_string()),
        None => String::new(),
    };
    let kept_on = |column: &Column| {
        let day = ui.words.day(&column.day);
        let kept = match column.then {
            Some(then) => passing_on::kept_then(&ui.words, &day, &ui.money(then)),
            None => day,
        };
        match column.today {
            Some(_) => kept,
            None => [kept, ui.say(passing_on::NOT_NOW)].join(". "),
        }
    };
    let head = |column: &Column| el("th").attr("scope", "col").text(column.name.clone());
    let body = el("tbody")
        .el(today(wording::SIZES, &|today| today.size.clone()))
        .el(today(passing_on::KEPT_WOOD, &woods))
        .el(today(wording::WORKSHOP, &|today| range(today.works)))
        .el(today(wording::DELIVERED, &delivered))
        .el(today(passing_on::KEPT_WEEKS, &weeks))
        .el(told(passing_on::KEPT_ON, &kept_on))
        .el(row(el("td"), &|column| buttons(passing, column)));
    let table = el("table")
        .el(el("caption").class("note").text(ui.say(passing_on::KEPT_HINT)))
        .el(el("thead").el(row(el("td"), &head)))
        .el(body);
    let name = ui.say(passing_on::KEPT);
    el("div").class("scroll").attr("tabindex", "0").attr("role", "group").attr("aria-label", &name).el(table).view()
}

/// The id of a button about a kept estimate.
fn id(passing: &Passing, button: &str, key: &str) -> String {
    passing.ui.id(&format!("{button}-{}", key.replace('.', "-")))
}

fn buttons(passing: &Passing, column: &Column) -> El {
    let ui = &passing.ui;
    let day = ui.words.day(&column.day);
    let named = |words: Word, press: Box<dyn Fn()>| {
        let name = passing_on::about(&ui.words, &ui.say(words), &column.name, &day);
        button(ui.say(words), press).attr("aria-label", &name)
    };
    let open = {
        let (passing, key) = (passing.clone(), column.key.clone());
        move || passing.open_kept(&key)
    };
    let delete = {
        let (passing, key) = (passing.clone(), column.key.clone());
        move || {
            passing.delete(&key);
            out::focus(passing.ui.host(), &passing.ui.id("put-back"));
        }
    };
    let open = named(passing_on::OPEN, Box::new(open)).attr("id", &id(passing, "open", &column.key));
    let delete = named(passing_on::DELETE, Box::new(delete));
    el("td").el(el("div").class("buttons").el(open).el(delete))
}

//! The row of buttons under the price: keep, link, print, ask; and the line that says what was done.

use leptos::prelude::*;

use super::Passing;
use crate::bits::{button, el, live, nothing};
use crate::out::{self, Shared};
use crate::ui::Ui;
use crate::wording::{self, passing_on};

/// The row.
pub(crate) fn bar(passing: &Passing) -> AnyView {
    let ui = &passing.ui;
    let keep = {
        let passing = passing.clone();
        button(ui.say(passing_on::KEEP), move || passing.keep())
    };
    let link = {
        let passing = passing.clone();
        button(ui.say(passing_on::LINK), move || show_link(&passing))
    };
    let print = {
        let ui = ui.clone();
        let press = move || {
            ui.printing.notify();
            out::print(ui.host(), &paper_title(&ui));
        };
        button(passing.ui.say(passing_on::PRINT), press)
    };
    let ask = {
        let ui = ui.clone();
        button(ui.say(passing_on::ASK), move || out::focus(ui.host(), &ui.id("ask")))
    };
    let (said, notice) = (passing.clone(), passing.clone());
    el("section")
        .class("actions")
        .attr("part", "actions")
        .attr("aria-label", &ui.say(passing_on::PASS_ON))
        .el(el("div").class("buttons").el(keep).el(link).el(print).el(ask))
        .child(link_field(passing))
        .el(el("p").class("said").attr("role", "status").live_text(move || said.said.get()))
        .el(el("p").class("notice").attr("role", "status").live_text(move || notice.notice.get()))
        .view()
}

/// The maker, the piece and the day: the name of the file when the paper is one.
fn paper_title(ui: &Ui) -> String {
    let piece = ui.form.with_untracked(|form| ui.book.design(&form.design).map(|design| design.name.to_string()));
    let day = out::today().map(|day| day.as_str().to_owned());
    passing_on::about(&ui.words, ui.book.shop.name.as_str(), &piece.unwrap_or_default(), &day.unwrap_or_default())
}

/// Opens the field with the link, and copies it.
fn show_link(passing: &Passing) {
    if passing.ui.settled().is_none() {
        return passing.say(passing_on::NOT_CURRENT);
    }
    let Some(link) = passing.link() else { return passing.say(passing_on::LINK_TOO_LONG) };
    passing.state.borrow_mut().linking = true;
    passing.linked.notify();
    let copying = out::copy(&link);
    let passing = passing.clone();
    out::later(async move {
        let copied = copying.await || {
            let field = out::element(passing.ui.host(), &passing.ui.id("link"));
            field.is_some_and(|field| out::select(&field))
        };
        passing.say(if copied { passing_on::LINK_COPIED } else { passing_on::LINK_SELECTED });
    });
}

/// The link, in a field to copy it from; once open, it follows the form.
fn link_field(passing: &Passing) -> AnyView {
    let passing = passing.clone();
    live(move || {
        passing.linked.track();
        if !passing.state.borrow().linking {
            return nothing();
        }
        let ui = &passing.ui;
        let (id, link) = (ui.id("link"), passing.clone());
        let hint = format!("{id}-hint");
        let field = el("input")
            .attr("type", "text")
            .attr("readonly", "")
            .attr("id", &id)
            .attr("aria-describedby", &hint)
            .live_attr("value", move || {
                link.ui.shown.track();
                link.link().unwrap_or_default()
            });
        let share = if out::can_share() { share_button(&passing) } else { nothing() };
        el("div")
            .class("field link")
            .el(el("label").attr("for", &id).text(ui.say(passing_on::LINK_LABEL)))
            .el(el("div").class("buttons").el(field).child(share))
            .el(el("p").class("note").attr("id", &hint).text(ui.say(passing_on::LINK_HINT)))
            .view()
    })
}

/// The system's own sharing.
fn share_button(passing: &Passing) -> AnyView {
    let words = passing.ui.say(passing_on::SHARE);
    let passing = passing.clone();
    let press = move || {
        let Some(link) = passing.link() else { return passing.say(passing_on::NOT_CURRENT) };
        let sharing = out::share(&passing.ui.say(wording::WIDGET), None, Some(&link));
        let passing = passing.clone();
        out::later(async move {
            match sharing.await {
                Shared::Done => passing.say(passing_on::SHARED),
                Shared::Left => {}
                Shared::Failed => passing.say(passing_on::NOT_SHARED),
            }
        });
    };
    button(words, press).view()
}

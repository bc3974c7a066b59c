//! The request: who asks, what they agree to, and the ways to send it.

use leptos::prelude::*;
use scantling_pricing::request::{Contact, ContactFault};

use super::Passing;
use super::outgoing::{Outgoing, Waits};
use crate::bits::{El, button, el, live, nothing};
use crate::out;
use crate::wording::passing_on;
use crate::words::Word;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Field {
    Name,
    Mail,
    Message,
    Consent,
}

impl Field {
    pub(super) const ALL: [Self; 4] = [Self::Name, Self::Mail, Self::Message, Self::Consent];

    /// Its name among the ids of the widget.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Name => "ask-name",
            Self::Mail => "ask-mail",
            Self::Message => "ask-message",
            Self::Consent => "ask-consent",
        }
    }
}

/// The contact from what stands in the fields, or every field that can't be taken, with why. It is read when it is needed and kept nowhere.
pub(super) fn contact(out: &Outgoing) -> Result<Contact, Vec<(Field, Word)>> {
    let typed = |field: Field| out.field(field).map(|field| out::typed(&field)).unwrap_or_default();
    let contact = Contact::typed(&typed(Field::Name), &typed(Field::Mail), &typed(Field::Message));
    let told: fn(&ContactFault) -> (Field, Word) = |fault| match fault {
        ContactFault::NoName => (Field::Name, passing_on::NAME_MISSING),
        ContactFault::LongName => (Field::Name, passing_on::NAME_LONG),
        ContactFault::NoMail => (Field::Mail, passing_on::MAIL_MISSING),
        ContactFault::NotMail => (Field::Mail, passing_on::MAIL_WRONG),
        ContactFault::LongMessage => (Field::Message, passing_on::MESSAGE_LONG),
    };
    let mut faults: Vec<(Field, Word)> = contact.as_ref().err().into_iter().flatten().map(told).collect();
    if !out.field(Field::Consent).is_some_and(|field| out::ticked(&field)) {
        faults.push((Field::Consent, passing_on::CONSENT_MISSING));
    }
    contact.ok().filter(|_| faults.is_empty()).ok_or(faults)
}

/// The form.
pub(crate) fn ask(passing: &Passing) -> AnyView {
    let out = Outgoing::new(passing.clone());
    out.send_what_waits();
    let ui = &passing.ui;
    let shop = ui.book.shop.name.as_str();
    let heading = ui.id("ask");
    let words = |word: Word| el("p").class("note").text(ui.say(word));
    let typing = {
        let out = out.clone();
        move || out.typing()
    };
    let names = el("div")
        .class("row")
        .el(field(&out, Field::Name, "input", passing_on::NAME, &[("type", "text"), ("autocomplete", "name")]))
        .el(field(&out, Field::Mail, "input", passing_on::MAIL, &[("type", "email"), ("autocomplete", "email")]));
    // Without a button that submits, Enter in one of two fields submits nothing.
    let form = el("form")
        .attr("novalidate", "")
        .on_typing(Box::new(typing))
        .el(names)
        .el(field(&out, Field::Message, "textarea", passing_on::MESSAGE, &[("rows", "4")]))
        .el(consent(&out, shop))
        .el(words(passing_on::PRIVACY))
        .el(buttons(&out, shop));
    el("section")
        .class("request")
        .attr("part", "request")
        .attr("aria-labelledby", &heading)
        .el(el("h3").attr("id", &heading).attr("tabindex", "-1").text(ui.say(passing_on::ASK)))
        .el(words(passing_on::ASK_HINT))
        .child(waiting(&out))
        .el(form)
        .child(outcome(&out))
        .view()
}

/// A control with what is wrong with it beside it, and that line.
fn told(out: &Outgoing, field: Field, tag: &'static str, attributes: &[(&'static str, &str)]) -> (El, El) {
    let id = out.passing.ui.id(field.name());
    let fault_id = format!("{id}-fault");
    let fault = out.fault(field);
    let invalid = {
        let fault = fault.clone();
        move || if fault.with(String::is_empty) { "false" } else { "true" }.to_owned()
    };
    let control = attributes.iter().fold(el(tag), |control, (name, value)| control.attr(name, value));
    let control = control.attr("id", &id).live_attr("aria-invalid", invalid);
    // The message alone may be left out, and has a hint besides.
    let control = if field == Field::Message {
        control.attr("aria-describedby", &format!("{fault_id} {id}-hint"))
    } else {
        control.attr("aria-describedby", &fault_id).attr("aria-required", "true")
    };
    (control, el("p").class("fault").attr("id", &fault_id).live_text(move || fault.get()))
}

fn field(out: &Outgoing, field: Field, tag: &'static str, label: Word, attributes: &[(&'static str, &str)]) -> El {
    let ui = &out.passing.ui;
    let id = ui.id(field.name());
    let (control, fault) = told(out, field, tag, attributes);
    let whole = el("div").class("field").el(el("label").attr("for", &id).text(ui.say(label))).el(control).el(fault);
    if field == Field::Message { whole.el(el("p").class("note").text(ui.say(passing_on::MESSAGE_HINT))) } else { whole }
}

fn consent(out: &Outgoing, shop: &str) -> El {
    let ui = &out.passing.ui;
    let (control, fault) = told(out, Field::Consent, "input", &[("type", "checkbox")]);
    let label = el("label").attr("for", &ui.id(Field::Consent.name())).text(passing_on::consent(&ui.words, shop));
    el("div").class("offer").el(control).el(label).el(fault)
}

/// The ways to send it, the best first.
fn buttons(out: &Outgoing, shop: &str) -> El {
    let words = &out.passing.ui.words;
    let way = |words: String, send: fn(&Outgoing)| {
        let out = out.clone();
        button(words, move || send(&out))
    };
    let mut row = el("div").class("buttons");
    if out.passing.ui.book.shop.receiver.is_some() {
        row = row.el(way(passing_on::send_to(words, shop), Outgoing::post));
    }
    row = row.el(way(words.say(passing_on::BY_MAIL), Outgoing::mail));
    if out::can_share() {
        row = row.el(way(words.say(passing_on::SHARE), Outgoing::share));
    }
    row.el(way(words.say(passing_on::COPY_TEXT), Outgoing::copy))
        .el(way(words.say(passing_on::SAVE_FILE), Outgoing::save))
}

/// What came of it, and what to do where a program could not be reached.
fn outcome(out: &Outgoing) -> AnyView {
    let (said, out) = (out.outcome.clone(), out.clone());
    let by_hand = live(move || {
        out.handed.track();
        let ui = &out.passing.ui;
        let mut left = el("div").class("left");
        if let Some(uri) = &*out.mailed.borrow() {
            let shop = &ui.book.shop;
            let address = passing_on::write_to(&ui.words, shop.name.as_str(), shop.contact.as_str());
            left = left.el(el("a").attr("href", uri).text(ui.say(passing_on::MAIL_AGAIN))).el(el("p").text(address));
        }
        if let Some(text) = &*out.text.borrow() {
            let id = ui.id("ask-text");
            let field = el("textarea").attr("id", &id).attr("readonly", "").attr("rows", "8").text(text.clone());
            left = left.el(el("label").attr("for", &id).text(ui.say(passing_on::TEXT_LABEL))).el(field);
        }
        left.view()
    });
    let said = el("p").class("said").attr("role", "status").live_text(move || said.get());
    el("div").el(said).child(by_hand).view()
}

/// Requests that wait to be sent, and those that can't be sent from here.
fn waiting(out: &Outgoing) -> AnyView {
    let out = out.clone();
    live(move || {
        out.passing.shelved.track();
        let ui = &out.passing.ui;
        let state = out.passing.state.borrow();
        let queue = &state.queue;
        let apart = passing_on::unreadable_waiting(&ui.words, queue.newer, queue.damaged);
        let some = !queue.waiting.is_empty();
        if !some && apart.is_none() {
            return nothing();
        }
        let count = queue.waiting.len().to_string();
        let notice = el("div").class("notice waiting").el(el("b").text(ui.say(passing_on::WAITING)));
        let notice = if some {
            notice.el(el("p").text(passing_on::waiting_requests(&ui.words, &count, &count))).el(waiting_buttons(&out))
        } else {
            notice
        };
        notice.el(el("p").class("note").text(apart.unwrap_or_default())).view()
    })
}

/// What can be done with what waits.
fn waiting_buttons(out: &Outgoing) -> El {
    let ui = &out.passing.ui;
    let (now, discard) = (out.clone(), out.clone());
    let mut row = el("p").class("buttons");
    if ui.book.shop.receiver.is_some() {
        row = row.el(button(ui.say(passing_on::SEND_NOW), move || now.send_waiting(Waits::All)));
    }
    row.el(button(ui.say(passing_on::DISCARD), move || discard.discard()))
}

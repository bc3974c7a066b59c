//! A request on its way: made from what is on the screen and typed, and handed to whichever way the buyer pressed.
//!
//! **Invariant:** nothing leaves the page but by a press of a button, or from the queue into which such a press has put it.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};

use leptos::prelude::*;
use scantling_pricing::book::values::Day;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::resolve;
use scantling_pricing::request::Request;
use send_wrapper::SendWrapper;

use super::Passing;
use super::ask::{Field, contact};
use crate::letter::Letter;
use crate::out::{self, Shared};
use crate::outbox::{ATTEMPTS, Answer, answer, pause_after};
use crate::shelf::{self, Waiting};
use crate::store::{Browser, Store};
use crate::summary;
use crate::wording::passing_on;
use crate::words::Word;

/// How many days a waiting request is sent by itself; later only by a press of the button, since the buyer may have forgotten it.
const DAYS_WAITING: u32 = 7;

/// One sender on a page: of several widgets, and several events at once, only one sends what waits.
static SENDING: AtomicBool = AtomicBool::new(false);

/// Which of the waiting requests.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Waits {
    /// Those of the last days.
    Fresh,
    /// All of them: the buyer has pressed the button.
    All,
}

/// The form and what it sends, shared by all its buttons.
#[derive(Clone)]
pub(super) struct Outgoing(SendWrapper<Rc<Form>>);

impl std::ops::Deref for Outgoing {
    type Target = Form;

    fn deref(&self) -> &Form {
        &self.0
    }
}

/// What they share.
pub(super) struct Form {
    pub(super) passing: Passing,
    /// What is wrong with each field; empty where nothing is.
    faults: [ArcRwSignal<String>; 4],
    /// What came of it.
    pub(super) outcome: ArcRwSignal<String>,
    /// The mail link that was opened, for opening it again.
    pub(super) mailed: RefCell<Option<String>>,
    /// The text, where it has to be copied by hand.
    pub(super) text: RefCell<Option<String>>,
    /// Told when one of the last two has changed.
    pub(super) handed: ArcTrigger,
    /// Whether one is being sent: a second press must not send it twice.
    busy: Cell<bool>,
}

impl Outgoing {
    pub(super) fn new(passing: Passing) -> Self {
        Self(SendWrapper::new(Rc::new(Form {
            passing,
            faults: std::array::from_fn(|_| ArcRwSignal::new(String::new())),
            outcome: ArcRwSignal::new(String::new()),
            mailed: RefCell::default(),
            text: RefCell::default(),
            handed: ArcTrigger::new(),
            busy: Cell::default(),
        })))
    }

    /// What is wrong with a field.
    pub(super) fn fault(&self, field: Field) -> ArcRwSignal<String> {
        let [name, mail, message, consent] = &self.faults;
        match field {
            Field::Name => name.clone(),
            Field::Mail => mail.clone(),
            Field::Message => message.clone(),
            Field::Consent => consent.clone(),
        }
    }

    /// A field on the page.
    pub(super) fn field(&self, field: Field) -> Option<web_sys::HtmlElement> {
        out::element(self.passing.ui.host(), &self.passing.ui.id(field.name()))
    }

    /// Something was typed: a fault goes as soon as its field is mended; none comes before a button is pressed.
    pub(super) fn typing(&self) {
        if self.faults.iter().any(|fault| fault.with_untracked(|fault| !fault.is_empty())) {
            let left = contact(self).err().unwrap_or_default();
            for field in Field::ALL {
                if !left.iter().any(|(faulty, _)| *faulty == field) {
                    self.fault(field).set(String::new());
                }
            }
        }
    }

    fn tell(&self, words: Word) {
        self.outcome.set(self.passing.ui.say(words));
    }

    /// Says that an address won't take it.
    fn tell_refused(&self, status: u16) {
        self.outcome.set(passing_on::refused(&self.passing.ui.words, &status.to_string()));
    }

    /// Says for which time it is being sent.
    fn tell_sending(&self, attempt: u32) {
        let words = &self.passing.ui.words;
        self.outcome.set(match attempt {
            1 => words.say(passing_on::SENDING),
            _ => passing_on::sending_again(words, &attempt.to_string(), &ATTEMPTS.to_string()),
        });
    }

    /// Tells the page what came of a request; nothing of it is personal.
    fn report(&self, by: &str, outcome: &str, design: &str) {
        let about = [("by", by), ("outcome", outcome), ("design", design)];
        self.passing.ui.emit("scantling-request", &about);
    }

    /// The request as it would be sent now; nothing when a field has to be mended, which is told and gone to.
    fn letter(&self) -> Option<Letter> {
        self.hand(None, None);
        let contact = contact(self);
        let faults = contact.as_ref().err().map_or(&[][..], Vec::as_slice);
        for field in Field::ALL {
            let fault = faults.iter().find(|(faulty, _)| *faulty == field);
            self.fault(field).set(fault.map(|(_, word)| self.passing.ui.say(*word)).unwrap_or_default());
        }
        if let Some((first, _)) = faults.first() {
            self.outcome.set(String::new());
            out::focus(self.passing.ui.host(), &self.passing.ui.id(first.name()));
        }
        let contact = contact.ok()?;
        let ui = &self.passing.ui;
        let Some(shown) = ui.settled() else {
            self.tell(passing_on::NOT_CURRENT);
            return None;
        };
        let Some(day) = out::today() else {
            self.tell(passing_on::NO_DAY);
            return None;
        };
        let unit = ui.form.with_untracked(|form| form.unit);
        let estimate = &shown.estimate;
        // What was left to the book is written out, so that the maker rebuilds just this piece, whatever changes meanwhile.
        let brief = Brief { delivery: estimate.chosen, ..shown.brief.spelled_out(&ui.book) };
        let rows = summary::rows(&ui.words, &ui.book, &brief, estimate, unit);
        let resolved = resolve(&ui.book, &brief).ok()?;
        let subject =
            passing_on::subject(&ui.words, resolved.design.name.as_str(), &summary::size(&ui.words, &resolved, unit));
        let price = estimate.price();
        let [low, high, likely] = [price.low, price.high, price.likely].map(|price| ui.money(price));
        let told = passing_on::told(&ui.words, &low, &high, &likely, &ui.words.day(&estimate.edition));
        let Some(request) = Request::new(brief, estimate, contact) else {
            self.tell(passing_on::PRICE_TOO_LARGE);
            return None;
        };
        let request = Request { written: Some(day), shop: Some(ui.book.shop.name.clone()), ..request };
        Some(Letter { subject, rows, told, request })
    }

    /// What is left on the page for the buyer to use by hand.
    fn hand(&self, mailed: Option<String>, text: Option<String>) {
        self.mailed.replace(mailed);
        self.text.replace(text);
        self.handed.notify();
    }

    /// Opens it in the buyer's mail program.
    pub(super) fn mail(&self) {
        let Some(letter) = self.letter() else { return };
        let link = letter.mailto(&self.passing.ui.words, self.passing.ui.book.shop.contact.as_str());
        self.report("mail", "handed", letter.request.brief.design.as_str());
        if link.whole {
            self.tell(passing_on::MAIL_OPENED);
        } else {
            self.copy_text(&letter, passing_on::MAIL_PASTE, passing_on::MAIL_PASTE_BY_HAND);
        }
        out::go(&link.uri);
        self.hand(Some(link.uri), None);
    }

    /// Puts its text on the clipboard.
    pub(super) fn copy(&self) {
        let Some(letter) = self.letter() else { return };
        self.report("copy", "handed", letter.request.brief.design.as_str());
        self.copy_text(&letter, passing_on::TEXT_COPIED, passing_on::TEXT_SELECTED);
    }

    fn copy_text(&self, letter: &Letter, copied: Word, by_hand: Word) {
        let text = letter.text(&self.passing.ui.words);
        let copying = out::copy(&text);
        let out = self.clone();
        out::later(async move {
            if copying.await {
                return out.tell(copied);
            }
            let mailed = out.mailed.borrow_mut().take();
            out.hand(mailed, Some(text));
            // Once the field stands there.
            out::after(0).await;
            let ui = &out.passing.ui;
            let field = out::element(ui.host(), &ui.id("ask-text"));
            let copied_the_old_way = field.is_some_and(|field| out::select(&field));
            out.tell(if copied_the_old_way { copied } else { by_hand });
        });
    }

    /// Hands its text to the system's sharing.
    pub(super) fn share(&self) {
        let Some(letter) = self.letter() else { return };
        let sharing = out::share(&letter.subject, Some(&letter.text(&self.passing.ui.words)), None);
        let out = self.clone();
        out::later(async move {
            match sharing.await {
                Shared::Done => {
                    out.tell(passing_on::SHARED);
                    out.report("share", "handed", letter.request.brief.design.as_str());
                }
                Shared::Left => {}
                Shared::Failed => out.tell(passing_on::NOT_SHARED),
            }
        });
    }

    /// Saves it as a file.
    pub(super) fn save(&self) {
        let Some(letter) = self.letter() else { return };
        let day = letter.request.written.as_ref().map_or("", |day| day.as_str());
        if out::save(&format!("request-{day}.json"), &letter.request.json()) {
            let ui = &self.passing.ui;
            self.outcome.set(passing_on::saved(&ui.words, ui.book.shop.contact.as_str()));
            self.report("file", "handed", letter.request.brief.design.as_str());
        } else {
            self.copy_text(&letter, passing_on::TEXT_COPIED, passing_on::TEXT_SELECTED);
        }
    }

    /// Sends it to the maker's address; where that can't be reached, it waits.
    pub(super) fn post(&self) {
        let Some(receiver) = self.passing.ui.book.shop.receiver.clone() else { return };
        let Some(letter) = self.letter() else { return };
        if self.busy.replace(true) {
            return;
        }
        let out = self.clone();
        out::later(async move {
            let (json, design) = (letter.request.json(), letter.request.brief.design.as_str());
            let answer = deliver(receiver.as_str(), &json, &|attempt| out.tell_sending(attempt)).await;
            out.busy.set(false);
            match answer {
                Answer::Taken => {
                    out.tell(passing_on::SENT);
                    out.report("post", "sent", design);
                }
                Answer::Refused(status) => {
                    out.tell_refused(status);
                    out.report("post", "failed", design);
                }
                Answer::NotNow => {
                    let waits = shelf::wait(&Browser, &json).is_ok();
                    out.tell(if waits { passing_on::WAITS } else { passing_on::SEND_FAILED });
                    out.report("post", if waits { "queued" } else { "failed" }, design);
                    out.passing.changed();
                }
            }
        });
    }

    /// Sends what waits from an earlier press: now, and whenever a connection comes back.
    pub(super) fn send_what_waits(&self) {
        self.send_waiting(Waits::Fresh);
        let out = self.clone();
        let listening = window_event_listener(leptos::ev::online, move |_| out.send_waiting(Waits::Fresh));
        on_cleanup(move || listening.remove());
    }

    /// Sends the waiting requests, one after the other, each taken away once it is taken.
    pub(super) fn send_waiting(&self, which: Waits) {
        let Some(receiver) = self.passing.ui.book.shop.receiver.clone() else { return };
        let waiting = self.passing.state.borrow().queue.waiting.clone();
        let today = out::today();
        let due = waiting.into_iter().filter(|waiting| which == Waits::All || is_fresh(waiting, today.as_ref()));
        let due: Vec<Waiting> = due.collect();
        if due.is_empty() || SENDING.swap(true, Ordering::Relaxed) {
            return;
        }
        let out = self.clone();
        out::later(async move {
            for Waiting { key, json, design, .. } in due {
                // Another page may have sent it, or the buyer discarded it, since it was read.
                if !Browser.get(&key).is_ok_and(|held| held.is_some()) {
                    continue;
                }
                match deliver(receiver.as_str(), &json, &|_| {}).await {
                    Answer::Taken => {
                        // What can't be taken away would be sent again, which the maker can tell by its being the same.
                        let _ = Browser.remove(&key);
                        out.tell(passing_on::WAITED_SENT);
                        out.report("post", "sent", &design);
                    }
                    Answer::Refused(status) => {
                        out.tell_refused(status);
                        out.report("post", "failed", &design);
                    }
                    Answer::NotNow if which == Waits::All => out.tell(passing_on::WAITED_STILL),
                    Answer::NotNow => {}
                }
            }
            SENDING.store(false, Ordering::Relaxed);
            out.passing.changed();
        });
    }

    /// Takes away what waits, unsent.
    pub(super) fn discard(&self) {
        let waiting = self.passing.state.borrow().queue.waiting.clone();
        for Waiting { key, .. } in waiting {
            let _ = Browser.remove(&key);
        }
        self.passing.changed();
        self.tell(passing_on::DISCARDED);
        out::focus(self.passing.ui.host(), &self.passing.ui.id("ask"));
    }
}

/// Whether a waiting request may still be sent by itself.
fn is_fresh(waiting: &Waiting, today: Option<&Day>) -> bool {
    let until = waiting.written.as_ref().and_then(|day| day.after(DAYS_WAITING));
    until.as_ref().zip(today).is_some_and(|(until, today)| today <= until)
}

/// Sends a request, and again after a pause where the address is busy or can't be reached.
async fn deliver(address: &str, json: &str, trying: &dyn Fn(u32)) -> Answer {
    let mut attempt = 1;
    loop {
        if !out::online() {
            return Answer::NotNow;
        }
        trying(attempt);
        let answer = answer(out::post(address, json).await);
        match (answer, pause_after(attempt)) {
            (Answer::NotNow, Some(pause)) => out::after(pause).await,
            (answer, _) => return answer,
        }
        attempt = attempt.saturating_add(1);
    }
}

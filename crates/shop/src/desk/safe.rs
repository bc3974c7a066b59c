//! Nothing is lost: the book is kept as it changes; where it can't be, the maker is told until it is; and nothing else is opened over it.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::{Desk, Judged, Opening};
use crate::everything;
use crate::keep::{Keeping, Kept, NotKept, Told, aside, drop_aside};
use crate::opening::{last_good, named};
use crate::page::{Browser, Whole, here, now};
use crate::sheet::Sheet;

/// Why something is not opened over a book that is kept nowhere.
pub(crate) const NOT_SAFE: &str =
    "what you changed on this page is kept nowhere yet and would be lost. Save the shop book as a file first.";

/// Why something is not opened while two windows have changed the same book.
const CHOOSE_FIRST: &str =
    "another window has changed this shop's book too. Choose above which of the two is to be the newest.";

impl Desk {
    /// Opens another book; says why when it can't be.
    pub(crate) fn open(&self, text: &str) -> Result<(), String> {
        let sheet = Sheet::open_what_can_be_read(text).map_err(|fault| fault.to_string())?;
        if !matches!(sheet.root(), Node::Table(_)) {
            return Err(sheet.root().wrong("a shop book, a table in curly brackets").to_string());
        }
        // What was typed a moment ago is among the earlier states, too.
        if !self.is_safe() {
            return Err(NOT_SAFE.to_owned());
        }
        if self.unkept.get_untracked() == Some(NotKept::Overtaken) {
            return Err(CHOOSE_FIRST.to_owned());
        }
        self.show(sheet);
        Ok(())
    }

    /// Shows a book in the place of the one that is there.
    fn show(&self, sheet: Sheet) {
        self.sheet.set(sheet);
        // It came from where it still is.
        self.is_filed();
        // Nothing stands for "before" until this book has been priced, and what was said of the last one is not said of it.
        self.before.set(None);
        self.judged.set(Judged::default());
        self.opening.set_value(Opening::Asked { edited: false });
        self.ask();
    }

    /// The book as it stands is in a file.
    pub(crate) fn is_filed(&self) {
        self.filed.set_value(Some(self.text()));
    }

    /// Every shop of this browser as one file, with the book that is open as it stands: a browser that is full has not kept it.
    pub(crate) fn everything(&self) -> String {
        self.keep_at_once();
        // What is only looked at is among the states as it was found.
        let open = (!self.is_held_now()).then(|| Keeping::new(self.text(), self.told()));
        everything::write(&Whole, open.as_ref().map(|open| (here(), open)))
    }

    /// Opens the newest book that was kept and can be worked on.
    pub(crate) fn open_last_good(&self) {
        match last_good(&Browser, &self.text()) {
            Some((state, sheet)) => {
                self.show(sheet);
                self.say(format!("The book before is open again: {}.", named(&state)));
            }
            None => {
                self.say("This browser has kept no other book that can be used. Open one that you saved as a file.");
            }
        }
    }

    /// Opens the book that was put aside when another window was faster; it is a state like the others then.
    pub(crate) fn open_aside(&self) -> Result<(), String> {
        let book = aside(&Browser).and_then(|state| state.book_in_part()).ok_or("nothing of it can be read.")?;
        self.open(&book)?;
        self.keep_at_once();
        if self.unkept.get_untracked().is_none() {
            drop_aside(&mut Browser);
        }
        Ok(())
    }

    /// What is told of the book as it stands, once it is kept.
    pub(super) fn told(&self) -> Told {
        self.sheet.with_untracked(|sheet| Told::new(now(), sheet.last_done().unwrap_or_default()))
    }

    /// Keeps a book in the browser, or tells until it is why it is not.
    pub(super) fn keep(&self, new: Keeping) {
        self.keep_by(new, Kept::keep);
    }

    fn keep_by(&self, new: Keeping, way: impl FnOnce(&mut Kept, &mut Browser, &Keeping) -> Result<(), NotKept>) {
        // What is only looked at is not kept.
        if self.is_held_now() {
            return;
        }
        let why = self.kept.try_update_value(|kept| way(kept, &mut Browser, &new)).and_then(Result::err);
        let waits = why == Some(NotKept::Full);
        self.waiting.set_value(waits.then_some(new));
        self.tell_unkept(why);
    }

    fn tell_unkept(&self, why: Option<NotKept>) {
        if self.unkept.get_untracked() != why {
            self.unkept.set(why);
        }
    }

    /// Keeps the book as it stands, before the page is left: there is no time to ask another thread.
    pub(crate) fn keep_at_once(&self) {
        let book = self.text();
        let known = self.unkept.get_untracked().is_none() && self.kept.with_value(|kept| kept.has(&book));
        if !known {
            self.keep(Keeping::new(book, self.told()));
        }
    }

    /// Keeps what waits for room, if there is room by now.
    pub(crate) fn keep_what_waits(&self) {
        let book = self.text();
        if let Some(waiting) = self.waiting.get_value().filter(|waiting| waiting.book == book) {
            self.keep_by(waiting, Kept::keep_where_there_is_room);
        }
    }

    /// Keeps the book as it stands; whether it is in the browser by now, or in a file.
    pub(crate) fn is_safe(&self) -> bool {
        self.keep_at_once();
        match self.unkept.get_untracked() {
            // What another window was in the way of was put aside.
            None | Some(NotKept::Overtaken) => true,
            Some(NotKept::Full | NotKept::NoStore) => {
                self.is_held_now() || self.filed.with_value(|filed| *filed == Some(self.text()))
            }
        }
    }

    /// Another window may have kept something: the maker is told before typing any further.
    pub(crate) fn look_at_other_windows(&self) {
        if self.is_held_now() {
            return;
        }
        let book = self.text();
        let overtaken = self.kept.with_value(|kept| kept.is_overtaken(&Browser, &book));
        if overtaken {
            return self.tell_unkept(Some(NotKept::Overtaken));
        }
        if self.unkept.get_untracked() == Some(NotKept::Overtaken) {
            // The other window has come to the same book.
            self.keep_at_once();
        }
    }

    /// Of the books of two windows, this one's is the newest from here on.
    pub(crate) fn choose_this(&self) {
        if self.keep_after_the_other() {
            self.say("This window's book is the newest now. The other window's is among the earlier states.");
        }
    }

    /// Of the books of two windows, the other one's is shown here. What was changed here is kept first.
    pub(crate) fn choose_other(&self) {
        let (kept, theirs) = Kept::find(&Browser);
        let Some(sheet) = theirs.and_then(|text| Sheet::open_what_can_be_read(&text).ok()) else {
            return self.say("The other window's book can't be read: keep this window's.");
        };
        let changed = !self.kept.with_value(|known| known.has(&self.text()));
        if !changed {
            self.kept.set_value(kept);
            self.tell_unkept(None);
        } else if !self.keep_after_the_other() {
            return;
        }
        self.show(sheet);
        self.say("The other window's book is open. What was changed here is among the earlier states.");
    }

    /// Keeps this window's book as the newest, after what another window has kept; whether it could be.
    fn keep_after_the_other(&self) -> bool {
        self.kept.update_value(|kept| kept.go_on_from_newest(&Browser));
        self.keep_at_once();
        let kept = self.unkept.get_untracked().is_none();
        if kept {
            drop_aside(&mut Browser);
        }
        kept
    }

    fn is_held_now(&self) -> bool {
        self.held.get_untracked()
    }
}

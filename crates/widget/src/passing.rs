//! What keeping, sharing and sending have in common: the shelf, the line that says what was done, a brief opened in the form.

mod ask;
mod bar;
mod kept;
mod outgoing;

pub(crate) use ask::ask;
pub(crate) use bar::bar;
pub(crate) use kept::kept;

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;
use scantling_pricing::brief::Brief;
use scantling_pricing::kept::Kept;
use scantling_pricing::link::{Link, LinkFault};
use scantling_pricing::measure::LengthUnit;
use send_wrapper::SendWrapper;

use crate::form::asks_the_way;
use crate::opening::PieceGone;
use crate::out;
use crate::shelf::{self, Keeping, Queue, Shelf, Taken};
use crate::store::{Browser, StoreFault};
use crate::ui::Ui;
use crate::wording::passing_on;
use crate::words::Word;

thread_local! {
    /// Told whenever a widget has changed what is in storage, for the others on its page.
    static STORAGE: ArcTrigger = ArcTrigger::new();
}

/// One widget's shelf and what it says, shared by all its buttons: one count to a clone, not one for each thing in it.
#[derive(Clone)]
pub(crate) struct Passing(SendWrapper<Rc<Shared>>);

impl std::ops::Deref for Passing {
    type Target = Shared;

    fn deref(&self) -> &Shared {
        &self.0
    }
}

/// What they share.
pub(crate) struct Shared {
    pub(crate) ui: Ui,
    /// What was just done, shown and announced.
    said: ArcRwSignal<String>,
    /// What a link that was opened has to say for itself; stays until another is opened.
    notice: ArcRwSignal<String>,
    state: RefCell<State>,
    /// Told when what is on the shelf, or how it is shown, has changed.
    shelved: ArcTrigger,
    /// Told when the field with the link is opened.
    linked: ArcTrigger,
}

/// What is told by triggers, since each kind of thing in a signal of its own adds two kilobytes to what a buyer fetches.
struct State {
    /// What is kept.
    shelf: Result<Shelf, StoreFault>,
    /// What was deleted last, until it is put back or another is.
    taken: Option<Taken>,
    /// Requests that wait to be sent.
    queue: Queue,
    /// Whether the field with the link is open.
    linking: bool,
}

impl Passing {
    pub(crate) fn new(ui: Ui) -> Self {
        let state = State { shelf: Ok(Shelf::default()), taken: None, queue: Queue::default(), linking: false };
        let passing = Self(SendWrapper::new(Rc::new(Shared {
            ui,
            said: ArcRwSignal::new(String::new()),
            notice: ArcRwSignal::new(String::new()),
            state: RefCell::new(state),
            shelved: ArcTrigger::new(),
            linked: ArcTrigger::new(),
        })));
        passing.look();
        passing.watch();
        passing
    }

    /// Looks at storage again when another widget or another page has changed it, and shows it anew in another unit, or once it is
    /// known where postal codes lie.
    fn watch(&self) {
        let (passing, storage) = (self.clone(), STORAGE.with(Clone::clone));
        Effect::new(move |_| {
            storage.track();
            passing.look();
        });
        let passing = self.clone();
        let listening = window_event_listener(leptos::ev::storage, move |_| passing.look());
        on_cleanup(move || listening.remove());
        let passing = self.clone();
        Effect::new(move |before: Option<u32>| {
            let inches = passing.ui.form.with(|form| form.unit == LengthUnit::Inch);
            let now = u32::from(inches) << 1 | u32::from(passing.ui.book.atlas.is_filled());
            if before.is_some_and(|before| before != now) {
                passing.shelved.notify();
            }
            now
        });
    }

    /// The maker's name, by which records are told apart.
    fn shop(&self) -> &str {
        self.ui.book.shop.name.as_str()
    }

    /// Looks at what is in storage now.
    pub(crate) fn look(&self) {
        let shelf = shelf::shelf(&Browser, self.shop());
        let goes_far = |shelf: &Shelf| shelf.kept.iter().any(|slip| asks_the_way(&slip.kept.brief));
        if shelf.as_ref().is_ok_and(goes_far) {
            self.ui.far.set(1);
        }
        let queue = shelf::waiting(&Browser, self.shop()).unwrap_or_default();
        {
            let mut state = self.state.borrow_mut();
            (state.shelf, state.queue) = (shelf, queue);
        }
        self.shelved.notify();
    }

    /// After storage was changed: looks at it here and in the other widgets of the page.
    pub(crate) fn changed(&self) {
        self.look();
        STORAGE.with(ArcTrigger::notify);
    }

    /// Says what was done.
    pub(crate) fn say(&self, word: Word) {
        self.said.set(self.ui.say(word));
    }

    /// Keeps the estimate on the screen.
    pub(crate) fn keep(&self) {
        let Some(shown) = self.ui.settled() else { return self.say(passing_on::NOT_CURRENT) };
        let Some(day) = out::today() else { return self.say(passing_on::NO_DAY) };
        let brief = shown.brief.spelled_out(&self.ui.book);
        let Some(kept) = Kept::new(&self.ui.book, brief, &shown.estimate, day) else {
            return self.say(passing_on::PRICE_TOO_LARGE);
        };
        self.say(match shelf::keep(&Browser, &kept) {
            Ok(Keeping::Kept(_)) => passing_on::KEPT_NOW,
            Ok(Keeping::There(_)) => passing_on::KEPT_BEFORE,
            Err(fault) => why(fault),
        });
        self.state.borrow_mut().taken = None;
        self.changed();
    }

    /// Takes a kept estimate off the shelf, to be put back as long as nothing else is done.
    pub(crate) fn delete(&self, key: &str) {
        match shelf::take(&Browser, key) {
            Ok(taken) => {
                self.state.borrow_mut().taken = taken;
                self.say(passing_on::DELETED);
            }
            Err(fault) => self.say(why(fault)),
        }
        self.changed();
    }

    /// Puts back what was deleted last; its key.
    pub(crate) fn put_back(&self) -> Option<String> {
        let taken = self.state.borrow().taken.clone()?;
        let key = match shelf::put_back(&Browser, &taken) {
            Ok(key) => {
                self.state.borrow_mut().taken = None;
                self.say(passing_on::IS_BACK);
                Some(key)
            }
            Err(fault) => {
                self.say(why(fault));
                None
            }
        };
        self.changed();
        key
    }

    /// Opens a kept estimate in the form.
    pub(crate) fn open_kept(&self, key: &str) {
        let brief = {
            let state = self.state.borrow();
            let slip = state.shelf.as_ref().ok().and_then(|shelf| shelf.kept.iter().find(|slip| slip.key == key));
            slip.map(|slip| slip.kept.brief.clone())
        };
        match brief.map(|brief| self.take(&brief)) {
            Some(Ok(gone)) => {
                self.notice.set(gone);
                self.say(passing_on::OPENED);
                out::focus(self.ui.host(), &self.ui.id("price"));
            }
            Some(Err(PieceGone)) => self.say(passing_on::PIECE_GONE),
            None => {}
        }
    }

    /// Puts a brief into the form; what is no longer offered, in words.
    fn take(&self, brief: &Brief) -> Result<String, PieceGone> {
        let mut opened = Err(PieceGone);
        self.ui.edit(|form| opened = form.open(&self.ui.book, brief));
        // What was taken with one press was taken of another brief.
        self.ui.taken.set(Vec::new());
        self.ui.opened.notify();
        opened.map(|gone| match gone.as_slice() {
            [] => String::new(),
            gone => passing_on::no_longer_offered(&self.ui.words, &gone.join(", ")),
        })
    }

    /// The link to what is on the screen.
    pub(crate) fn link(&self) -> Option<String> {
        let shown = self.ui.settled()?;
        let link = Link { brief: shown.brief.spelled_out(&self.ui.book), edition: shown.estimate.edition };
        let fragment = out::address(self.ui.host()).fragment(&link.write()?);
        Some(format!("{}#{fragment}", out::here()))
    }

    /// Follows a link that the page was opened with, if it is for this widget, and those that come later.
    pub(crate) fn follow_links(&self) {
        self.follow();
        let passing = self.clone();
        let listening = window_event_listener(leptos::ev::hashchange, move |_| passing.follow());
        on_cleanup(move || listening.remove());
    }

    fn follow(&self) {
        let fragment = out::fragment();
        let address = out::address(self.ui.host());
        let Some(letters) = address.letters(&fragment) else { return };
        let notice = match Link::read(letters) {
            Ok(link) => self.opened(&link),
            Err(LinkFault::Newer) => self.ui.say(passing_on::LINK_NEWER),
            Err(LinkFault::TooLong | LinkFault::Damaged) => self.ui.say(passing_on::LINK_DAMAGED),
        };
        self.notice.set(notice);
        let host = self.ui.host().clone();
        // Once the widget stands there with its height.
        request_animation_frame(move || host.scroll_into_view());
    }

    /// Opens a link's brief; what there is to say about it.
    fn opened(&self, link: &Link) -> String {
        let words = &self.ui.words;
        let Ok(gone) = self.take(&link.brief) else { return self.ui.say(passing_on::LINK_PIECE_GONE) };
        let (then, now) = (&link.edition, &self.ui.book.edition);
        let mut sentences = vec![self.ui.say(passing_on::OPENED_BY_LINK)];
        if then != now {
            sentences.push(passing_on::prices_since(words, &words.day(then), &words.day(now)));
        }
        sentences.push(gone);
        sentences.join(" ").trim_end().to_owned()
    }
}

/// Why nothing can be kept, in words.
pub(crate) const fn why(fault: StoreFault) -> Word {
    match fault {
        StoreFault::Missing => passing_on::STORE_MISSING,
        StoreFault::Full => passing_on::STORE_FULL,
    }
}

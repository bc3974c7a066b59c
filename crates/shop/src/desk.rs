//! What every part of the page shares: the book as it is edited, what the engine says of it, and where the maker is.

mod safe;

use std::sync::Arc;

pub(crate) use safe::NOT_SAFE;

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::work::PastJobs;
use scantling_pricing::book::{ShopBook, Text};
use scantling_pricing::measure::LengthUnit;

use crate::aside::Judge;
use crate::basket::Priced;
use crate::form::Kind;
use crate::judge::Answer;
use crate::keep::{Keeping, Kept, NotKept};
use crate::opening;
use crate::sheet::{Edit, Path, Sheet, Step};

/// Where the maker is on the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Section {
    /// A part of the book, by its key.
    Part(String),
    /// The pieces the maker cares about.
    Basket,
    /// What the jobs teach.
    Learning,
    /// Offers for one piece.
    Offers,
    /// Requests that came in.
    Requests,
    /// Quotes that went out.
    Quotes,
    /// Jobs, done and on the bench.
    Jobs,
    /// The price book.
    Publish,
    /// Files and earlier states.
    Keeping,
    /// Several shops side by side.
    Shops,
    /// A rate swept over a range, and what prices hang on.
    Sweep,
    /// A word looked for in every table.
    Find,
}

impl Section {
    /// Where a part of the book is worked at.
    pub(crate) fn of(key: &str) -> Self {
        match key {
            "requests" => Self::Requests,
            "quotes" => Self::Quotes,
            "offers" => Self::Offers,
            "jobs" => Self::Jobs,
            other => Self::Part(other.to_owned()),
        }
    }

    /// The part of the book that is worked at here.
    pub(crate) fn part(&self) -> Option<&str> {
        match self {
            Self::Part(key) => Some(key),
            Self::Requests => Some("requests"),
            Self::Quotes => Some("quotes"),
            Self::Offers => Some("offers"),
            Self::Jobs => Some("jobs"),
            Self::Basket | Self::Learning | Self::Publish | Self::Keeping | Self::Shops | Self::Sweep | Self::Find => {
                None
            }
        }
    }
}

/// What the engine says of the book as it stands.
#[derive(Debug, Clone, Default)]
pub(crate) struct Judged {
    /// What is wrong with it, each with its place.
    pub(crate) faults: Vec<(Path, String)>,
    /// Whether anything has been said of it yet: until then nothing is right or wrong with it.
    told: bool,
    /// Its text, when it is sound.
    sound: Option<Arc<str>>,
    /// The basket priced from it; the last one that could be, while something is wrong.
    pub(crate) now: Option<Arc<Priced>>,
    /// What the jobs of the last sound book teach.
    past_jobs: Option<PastJobs>,
}

/// How far the engine is with a book that was opened.
#[derive(Debug, Clone, Copy)]
enum Opening {
    /// It is asked what it says of the book as it was opened.
    Asked {
        /// Whether the book is another by now.
        edited: bool,
    },
    /// It has said so.
    Answered,
}

/// The page.
#[derive(Clone)]
pub(crate) struct Desk {
    /// The book as it is edited.
    pub(crate) sheet: ArcRwSignal<Sheet>,
    /// The book as text: written once for all who keep it or ask about it.
    text: ArcMemo<Arc<str>>,
    /// Whether it is only looked at.
    held: ArcMemo<bool>,
    /// What its places may hold.
    pub(crate) kind: Arc<Kind>,
    /// What the engine says of it, once typing rests.
    pub(crate) judged: ArcRwSignal<Judged>,
    /// The book itself, when it is sound: read when a section first asks for it, and once.
    book: ArcMemo<Option<Arc<ShopBook>>>,
    /// The states kept in the browser.
    kept: StoredValue<Kept>,
    /// Why the book as it stands is not kept, where it is not.
    pub(crate) unkept: ArcRwSignal<Option<NotKept>>,
    /// What waits for room in the browser.
    waiting: StoredValue<Option<Keeping>>,
    /// The book that stands in a file, as far as is known here.
    filed: StoredValue<Option<Arc<str>>>,
    /// Who judges.
    judge: StoredValue<Judge, LocalStorage>,
    /// Whether what is asked of the book as it was opened is not answered yet: what is edited meanwhile waits for that.
    opening: StoredValue<Opening>,
    /// The basket as it was priced before the edits: what "before" means.
    pub(crate) before: ArcRwSignal<Option<Arc<Priced>>>,
    /// Where the maker is.
    pub(crate) section: ArcRwSignal<Section>,
    /// The request, quote, job or piece that is open, by its key.
    pub(crate) opened: ArcRwSignal<String>,
    /// What was just done, for the line at the top.
    pub(crate) said: ArcRwSignal<String>,
    /// Whether the maker is still to be told what the page starts with.
    pub(crate) first: ArcRwSignal<bool>,
    /// The place that whoever shows it next should open.
    going: ArcRwSignal<Option<Path>>,
}

impl Desk {
    /// A page for a book, judged by another thread where there is one.
    pub(crate) fn new(found: opening::Opening, kind: Kind, worker: Option<web_sys::Worker>) -> Self {
        let opening::Opening { sheet, kept, told, first } = found;
        let (sheet, judged) = (ArcRwSignal::new(sheet), ArcRwSignal::new(Judged::default()));
        let desk = Self {
            text: text_of(&sheet),
            held: {
                let sheet = sheet.clone();
                ArcMemo::new(move |_| sheet.with(|sheet| sheet.held().is_some()))
            },
            sheet,
            kind: Arc::new(kind),
            book: book_of(&judged),
            judged,
            kept: StoredValue::new(kept),
            unkept: ArcRwSignal::new(None),
            waiting: StoredValue::new(None),
            filed: StoredValue::new(None),
            judge: StoredValue::new_local(Judge::new(worker)),
            opening: StoredValue::new(Opening::Asked { edited: false }),
            before: ArcRwSignal::new(None),
            section: ArcRwSignal::new(Section::Basket),
            opened: ArcRwSignal::new(String::new()),
            said: ArcRwSignal::new(told),
            first: ArcRwSignal::new(first),
            going: ArcRwSignal::new(None),
        };
        // What nobody has changed yet is nobody's to lose.
        desk.filed.set_value(Some(desk.text()));
        desk.ask();
        desk
    }

    /// Goes on with a book that was only looked at.
    pub(crate) fn let_go(&self) {
        self.sheet.update(Sheet::let_go);
        self.say(
            "The book can be changed from here on, and is kept. What was open before is among the earlier states.",
        );
    }

    /// Whether the book is only looked at, as it changes.
    pub(crate) fn is_held(&self) -> impl Fn() -> bool + Clone + Send + use<> {
        let held = self.held.clone();
        move || held.get()
    }

    /// Takes the basket as it is priced now for what "before" means.
    pub(crate) fn start_anew(&self) {
        self.before.set(self.judged.with_untracked(|judged| judged.now.clone()));
    }

    /// Has the book as it stands read, and the basket priced from it; as it was opened first, or nothing could be told from before.
    pub(crate) fn judge(&self) {
        if self.opening.with_value(|opening| matches!(opening, Opening::Asked { .. })) {
            return self.opening.set_value(Opening::Asked { edited: true });
        }
        self.ask();
    }

    fn ask(&self) {
        let book = self.text();
        let desk = self.clone();
        let take = {
            let (book, told) = (book.clone(), self.told());
            move |answer, packed| desk.take(Keeping { book, packed, told }, answer)
        };
        self.judge.with_value(|judge| judge.ask(book, take));
    }

    fn take(&self, new: Keeping, answer: Answer) {
        let book = Arc::clone(&new.book);
        self.keep(new);
        self.judged.update(|judged| {
            judged.told = true;
            judged.faults = answer.faults;
            if answer.sound {
                judged.past_jobs = answer.past_jobs;
            }
            judged.sound = answer.sound.then_some(book);
            judged.now = answer.priced.map(Arc::new).or_else(|| judged.now.take());
        });
        if self.before.with_untracked(Option::is_none) {
            self.start_anew();
        }
        let opening = self.opening.get_value();
        self.opening.set_value(Opening::Answered);
        if matches!(opening, Opening::Asked { edited: true }) {
            self.ask();
        }
    }

    /// The book as text, as it stands.
    pub(crate) fn text(&self) -> Arc<str> {
        self.text.get_untracked()
    }

    /// The book, when it is sound.
    pub(crate) fn book(&self) -> Option<Arc<ShopBook>> {
        self.book.get()
    }

    /// The book as it stands this moment, when it is sound: for what a button does with what was typed just before it.
    pub(crate) fn book_now(&self) -> Option<Arc<ShopBook>> {
        ShopBook::read(&self.text()).ok().map(Arc::new)
    }

    /// The same, telling the maker when it is not sound.
    pub(crate) fn book_or_say(&self) -> Option<Arc<ShopBook>> {
        let book = self.book_now();
        if book.is_none() {
            self.say("The book is not right yet: mend first what is named at the top of the page.");
        }
        book
    }

    /// Whether the engine has said anything of the book that is open, right or wrong.
    pub(crate) fn is_told(&self) -> bool {
        self.judged.with(|judged| judged.told)
    }

    /// Makes an edit of the maker's.
    pub(crate) fn edit(&self, what: &str, edits: Vec<Edit>) {
        let _told = self.edited(what, edits);
    }

    /// The same, for who has more to say of it once it is made: whether it was.
    pub(crate) fn edited(&self, what: &str, edits: Vec<Edit>) -> bool {
        let made = self.sheet.try_update(|sheet| sheet.edit(what, edits)).unwrap_or(false);
        if !made {
            self.refused(what);
        }
        made
    }

    /// Makes the edit of a keystroke: all of them at one place are one edit, until the field is left.
    pub(crate) fn type_at(&self, what: &str, place: &Path, edits: Vec<Edit>) {
        if !self.sheet.try_update(|sheet| sheet.type_at(what, place, edits)).unwrap_or(false) {
            self.refused(what);
        }
    }

    /// A field was left: what is typed next is an edit of its own.
    pub(crate) fn typed(&self) {
        // Nothing that is shown changes by it.
        self.sheet.update_untracked(Sheet::typed);
    }

    /// What the jobs of the book that was last right teach.
    pub(crate) fn past_jobs(&self) -> Option<PastJobs> {
        self.judged.with(|judged| judged.past_jobs.clone())
    }

    /// Opens the part of the book that a place is in, at that place.
    pub(crate) fn go_to(&self, place: Path) {
        let Some(key) = place.first_key() else { return };
        let section = Section::of(&key);
        if !matches!(section, Section::Part(_)) {
            // What goes by a key is opened by it.
            let row = match place.steps().get(1) {
                Some(Step::Index(row)) => untrack(|| self.words_at(&Path::whole().key(&key).index(*row).key("key"))),
                Some(Step::Key(_)) | None => String::new(),
            };
            return self.go(section, &row);
        }
        let desk = self.clone();
        crate::page::goes_to_place(&place.to_string(), move || desk.going.set(None));
        self.going.set(Some(place));
        self.section.set(section);
    }

    /// Whether a place that is being gone to lies in this one: what is folded away on the way there is opened.
    pub(crate) fn leads_through(&self, place: &Path) -> bool {
        self.going.with_untracked(|going| going.as_ref().is_some_and(|going| going.is_in(place)))
    }

    /// The row of a list that was gone to, if one was.
    pub(crate) fn row_gone_to(&self, list: &Path) -> Option<usize> {
        let place = self.going.get_untracked().filter(|place| place.is_in(list))?;
        match place.steps().get(list.steps().len())? {
            Step::Index(row) => Some(*row),
            Step::Key(_) => None,
        }
    }

    /// Makes edits, and first the tables they lie in that are not there yet.
    pub(crate) fn edit_with_tables(&self, what: &str, edits: Vec<Edit>) {
        let with_tables = self.sheet.with_untracked(|sheet| sheet.with_tables(edits));
        self.edit(what, with_tables);
    }

    /// Takes the last edit back.
    pub(crate) fn undo(&self) {
        if let Some(what) = self.sheet.with_untracked(|sheet| sheet.last_done().map(str::to_owned)) {
            self.sheet.update(Sheet::undo);
            self.say(format!("Undone: {what}."));
        }
    }

    /// Does the edit that was last taken back again.
    pub(crate) fn redo(&self) {
        if let Some(what) = self.sheet.with_untracked(|sheet| sheet.last_undone().map(str::to_owned)) {
            self.sheet.update(Sheet::redo);
            self.say(format!("Done again: {what}."));
        }
    }

    fn refused(&self, what: &str) {
        let why =
            if self.held.get_untracked() { "the book is only looked at; see above" } else { "it does not go here" };
        self.say(format!("{what} could not be done: {why}."));
    }

    /// Makes the book another one as a single edit, so that Undo brings this one back; says whether it could. One that is only to be looked at
    /// is no edit.
    pub(crate) fn replace(&self, what: &str, text: &str) -> bool {
        let other = Sheet::open_what_can_be_read(text).ok().filter(|other| other.held().is_none());
        let Some(other) = other else { return false };
        let edits = self.sheet.with_untracked(|sheet| sheet.towards(&other));
        !self.held.get_untracked() && self.edited(what, edits)
    }

    /// Goes to a section, and opens what goes by a key there.
    pub(crate) fn go(&self, section: Section, key: &str) {
        crate::page::goes_to_opened();
        self.opened.set(key.to_owned());
        if self.section.with_untracked(|now| *now != section) {
            self.section.set(section);
        }
    }

    /// Tells the maker what was done.
    pub(crate) fn say(&self, words: impl Into<String>) {
        self.said.set(words.into());
    }

    /// What is wrong at a place, or in it.
    pub(crate) fn wrong_at(&self, place: &Path) -> Option<String> {
        self.judged.with(|judged| judged.faults.iter().find(|(at, _)| at.is_in(place)).map(|(_, what)| what.clone()))
    }

    /// The words at a place; empty where there are none.
    pub(crate) fn words_at(&self, place: &Path) -> String {
        self.sheet.with(|sheet| match sheet.at(place) {
            Some(Node::Text(text)) => text.clone(),
            Some(Node::Int(number)) => number.to_string(),
            Some(Node::Bool(value)) => value.to_string(),
            Some(Node::Null | Node::Float | Node::List(_) | Node::Table(_)) | None => String::new(),
        })
    }

    /// How many rows a list has.
    pub(crate) fn rows_at(&self, place: &Path) -> usize {
        self.sheet.with(|sheet| match sheet.at(place) {
            Some(Node::List(rows)) => rows.len(),
            _ => 0,
        })
    }

    /// The unit the shop works in, as far as the book says.
    pub(crate) fn length_unit(&self) -> LengthUnit {
        if self.words_untracked("shop.units") == "metric" { LengthUnit::Millimetre } else { LengthUnit::Inch }
    }

    /// The words at a place as they are now, whatever becomes of them.
    pub(crate) fn words_untracked(&self, place: &str) -> String {
        let place = Path::read(place);
        self.sheet.with_untracked(|sheet| match sheet.at(&place) {
            Some(Node::Text(text)) => text.clone(),
            _ => String::new(),
        })
    }

    /// The name of the shop, as far as it is written.
    pub(crate) fn shop_name(&self) -> String {
        let name = self.words_at(&Path::read("shop.name"));
        Text::new(&name).map_or_else(|_| "A shop without a name".to_owned(), |name| name.to_string())
    }
}

fn text_of(sheet: &ArcRwSignal<Sheet>) -> ArcMemo<Arc<str>> {
    let sheet = sheet.clone();
    ArcMemo::new(move |_| sheet.with(Sheet::text).into())
}

/// Reads a sound book when it is asked for, and once.
fn book_of(judged: &ArcRwSignal<Judged>) -> ArcMemo<Option<Arc<ShopBook>>> {
    let judged = judged.clone();
    let read = move |_: Option<&Option<Arc<ShopBook>>>| {
        let text = judged.with(|judged| judged.sound.clone())?;
        ShopBook::read(&text).ok().map(Arc::new)
    };
    // Whether a book was read anew is told by where it lies: looking through two large ones costs more than drawing a section anew.
    ArcMemo::new_with_compare(read, |before, now| match (before, now) {
        (Some(Some(before)), Some(Some(now))) => !Arc::ptr_eq(before, now),
        (before, now) => before.is_some_and(Option::is_some) || now.is_some_and(Option::is_some),
    })
}

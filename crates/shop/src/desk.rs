//! What every part of the page shares: the book as it is edited, what the engine says of it, and where the maker is.

use std::sync::Arc;

use leptos::prelude::*;
use scantling_pricing::book::document::{DocumentError, Node};
use scantling_pricing::book::{ShopBook, Text};

use crate::basket::{self, Priced};
use crate::form::Kind;
use crate::sheet::{Edit, Path, Sheet};

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
    /// The price book.
    Publish,
    /// Files and earlier states.
    Keeping,
}

/// What the engine says of the book as it stands.
#[derive(Debug, Clone, Default)]
pub(crate) struct Judged {
    /// What is wrong with it, each with its place.
    pub(crate) faults: Vec<(Path, String)>,
    /// The book, when nothing is.
    pub(crate) book: Option<Arc<ShopBook>>,
    /// The basket priced from it; the last one that could be, while something is wrong.
    pub(crate) now: Option<Arc<Priced>>,
}

/// The page.
#[derive(Clone)]
pub(crate) struct Desk {
    /// The book as it is edited.
    pub(crate) sheet: ArcRwSignal<Sheet>,
    /// What its places may hold.
    pub(crate) kind: Arc<Kind>,
    /// What the engine says of it, once typing rests.
    pub(crate) judged: ArcRwSignal<Judged>,
    /// The basket as it was priced before the edits: what "before" means.
    pub(crate) before: ArcRwSignal<Option<Arc<Priced>>>,
    /// Where the maker is.
    pub(crate) section: ArcRwSignal<Section>,
    /// Places the basket is delivered to, as typed.
    pub(crate) places: ArcRwSignal<String>,
    /// What was just done, for the line at the top.
    pub(crate) said: ArcRwSignal<String>,
}

impl Desk {
    /// A page for a book.
    pub(crate) fn new(sheet: Sheet, kind: Kind) -> Self {
        let desk = Self {
            sheet: ArcRwSignal::new(sheet),
            kind: Arc::new(kind),
            judged: ArcRwSignal::new(Judged::default()),
            before: ArcRwSignal::new(None),
            section: ArcRwSignal::new(Section::Basket),
            places: ArcRwSignal::new(String::new()),
            said: ArcRwSignal::new(String::new()),
        };
        desk.judge();
        desk.start_anew();
        desk
    }

    /// Opens another book; says why when it can't be.
    pub(crate) fn open(&self, text: &str) -> Result<(), DocumentError> {
        let sheet = Sheet::open(text)?;
        if !matches!(sheet.root(), Node::Table(_)) {
            return Err(sheet.root().wrong("a shop book, a table in curly brackets"));
        }
        self.sheet.set(sheet);
        self.judge();
        self.start_anew();
        Ok(())
    }

    /// Takes the basket as it is priced now for what "before" means.
    pub(crate) fn start_anew(&self) {
        self.before.set(self.judged.with_untracked(|judged| judged.now.clone()));
    }

    /// Reads the book as it stands and prices the basket from it.
    pub(crate) fn judge(&self) {
        let text = self.sheet.with_untracked(Sheet::text);
        let places = self.places.get_untracked();
        self.judged.update(|judged| match ShopBook::read(&text) {
            Ok(book) => {
                let to = basket::places(&book, &places);
                let priced = basket::price(&book, &basket::usual(&book), &to);
                judged.faults = priced.as_ref().err().map(fault).into_iter().collect();
                judged.now = priced.ok().map(Arc::new).or_else(|| judged.now.take());
                judged.book = Some(Arc::new(book));
            }
            Err(faults) => {
                judged.faults = faults.iter().map(fault).collect();
                judged.book = None;
            }
        });
    }

    /// Makes an edit of the maker's.
    pub(crate) fn edit(&self, what: &str, edits: Vec<Edit>) {
        if !self.sheet.try_update(|sheet| sheet.edit(what, edits)).unwrap_or(false) {
            self.say(format!("{what} could not be done here."));
        }
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

    /// The name of the shop, as far as it is written.
    pub(crate) fn shop_name(&self) -> String {
        let name = self.words_at(&Path::read("shop.name"));
        Text::new(&name).map_or_else(|_| "A shop without a name".to_owned(), |name| name.to_string())
    }
}

fn fault(error: &DocumentError) -> (Path, String) {
    (Path::read(&error.path), error.fault.to_string())
}

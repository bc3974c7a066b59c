//! What the engine says of the book as it stands: what is wrong with it, and what the basket comes to.
//!
//! The answer can be text on the way, so that another thread is asked: a large book is judged there while the page goes on.

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::DocumentError;
use scantling_pricing::book::values::{Factor, Share};
use scantling_pricing::book::work::PastJobs;
use scantling_pricing::brief::Brief;
use scantling_pricing::learning;
use scantling_pricing::money::{Currency, Money};
use serde::{Deserialize, Serialize};

use crate::basket::{self, Figures, Piece, Priced};
use crate::sheet::Path;

/// What the engine says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answer {
    /// What is wrong with the book, each with its place.
    pub faults: Vec<(Path, String)>,
    /// Whether the book reads as a whole.
    pub sound: bool,
    /// The basket priced from it, when it can be.
    pub priced: Option<Priced>,
    /// What its past jobs teach.
    pub past_jobs: Option<PastJobs>,
}

/// Reads a book and prices the basket from it, delivered to the places it names.
#[must_use]
pub fn judge(book: &str) -> Answer {
    let book = match ShopBook::read(book) {
        Ok(book) => book,
        Err(faults) => return Answer { faults: faults.iter().map(fault).collect(), ..Answer::default() },
    };
    let priced = basket::price(&book, &basket::watched(&book), &basket::places(&book));
    Answer {
        faults: priced.as_ref().err().map(fault).into_iter().collect(),
        sound: true,
        priced: priced.ok(),
        past_jobs: learning::from_jobs(&book.jobs),
    }
}

fn fault(error: &DocumentError) -> (Path, String) {
    (Path::read(&error.path), error.fault.to_string())
}

/// A piece: its name and its brief as the engine writes and reads it.
#[derive(Serialize, Deserialize)]
struct Named(String, String);

#[derive(Serialize, Deserialize)]
struct Told {
    faults: Vec<(String, String)>,
    sound: bool,
    priced: Option<Vec<(Named, Result<Amounts, String>)>>,
    /// How many times the hours estimated a job takes, and by how much it misses.
    past_jobs: Option<(Decimal, Decimal)>,
}

/// Figures with their currency named once.
#[derive(Serialize, Deserialize)]
struct Amounts {
    currency: String,
    price: Decimal,
    profit: Decimal,
    margin: Decimal,
    pay: Option<Decimal>,
    delivered: Vec<Option<Decimal>>,
}

impl Answer {
    /// As text.
    #[must_use]
    pub fn write(&self) -> String {
        let piece = |(piece, figures): &(Piece, Result<Figures, String>)| {
            (Named::of(piece), figures.as_ref().map(Amounts::of).map_err(String::clone))
        };
        let told = Told {
            faults: self.faults.iter().map(|(place, what)| (place.to_string(), what.clone())).collect(),
            sound: self.sound,
            priced: self.priced.as_ref().map(|priced| priced.pieces.iter().map(piece).collect()),
            past_jobs: self.past_jobs.as_ref().map(|past| (past.hours_take.value(), past.miss_by.value())),
        };
        serde_json::to_string(&told).unwrap_or_default()
    }

    /// Out of text; nothing when it is no answer.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let told: Told = serde_json::from_str(text).ok()?;
        let piece = |(named, amounts): (Named, Result<Amounts, String>)| {
            let figures = match amounts {
                Ok(amounts) => Ok(amounts.figures()?),
                Err(why) => Err(why),
            };
            Some((named.piece()?, figures))
        };
        let priced = match told.priced {
            Some(pieces) => Some(Priced { pieces: pieces.into_iter().map(piece).collect::<Option<_>>()? }),
            None => None,
        };
        let faults = told.faults.into_iter().map(|(place, what)| (Path::read(&place), what)).collect();
        let past_jobs = match told.past_jobs {
            Some((take, miss)) => Some(PastJobs { hours_take: Factor::new(take)?, miss_by: Share::new(miss)? }),
            None => None,
        };
        Some(Self { faults, sound: told.sound, priced, past_jobs })
    }
}

impl Named {
    fn of(piece: &Piece) -> Self {
        Self(piece.name.clone(), serde_json::to_string(&piece.brief).unwrap_or_default())
    }

    fn piece(self) -> Option<Piece> {
        Some(Piece { name: self.0, brief: Brief::read(&self.1).ok()? })
    }
}

impl Amounts {
    fn of(figures: &Figures) -> Self {
        Self {
            currency: figures.price.currency().code().to_owned(),
            price: figures.price.amount(),
            profit: figures.profit.amount(),
            margin: figures.margin,
            pay: figures.pay.map(Money::amount),
            delivered: figures.delivered.iter().map(|price| price.map(Money::amount)).collect(),
        }
    }

    fn figures(self) -> Option<Figures> {
        let currency = Currency::from_code(&self.currency)?;
        let money = |amount| Money::rounded(amount, currency);
        Some(Figures {
            price: money(self.price),
            profit: money(self.profit),
            margin: self.margin,
            pay: self.pay.map(money),
            delivered: self.delivered.into_iter().map(|price| price.map(money)).collect(),
        })
    }
}

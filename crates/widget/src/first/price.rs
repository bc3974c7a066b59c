//! The price on the page: the ranges, delivered and at the workshop.

use std::cell::{Cell, RefCell};

use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::{Estimate, PriceRange};
use web_sys::Element;

use super::Shown;
use crate::base::Base;
use crate::nodes::{Maker, say, set, tell};
use crate::wording;
use crate::words::Word;

/// What a line is laid out by.
const ROOM: &str = "data-room";

/// Where the price stands. Its elements stay as they are, and only their texts change: it is written at every key.
pub(crate) struct Price {
    base: Base,
    pub(crate) section: Element,
    figures: Element,
    delivered: Range,
    /// Why nothing is delivered.
    note: Element,
    workshop: Range,
    /// Said when it is the price of an earlier form.
    earlier: Element,
    state: Cell<Option<State>>,
}

/// Whether it is the price of the form as it stands; and what is said where nothing is delivered.
type State = (bool, Option<Word>);

/// A range with its likely price.
struct Range {
    whole: Element,
    range: Line,
    likely: Line,
}

/// A line whose figures change at every key. It is laid out by what stands in for it unseen, the same text with every digit a
/// nought, so that the page is laid out anew only when a price gains or loses a digit.
struct Line {
    room: Element,
    text: Element,
    /// What both say, in this order. It is known here, since to ask the page takes as long as to tell it.
    says: RefCell<[String; 2]>,
}

impl Price {
    /// Builds it at the end of an element of the page.
    pub(crate) fn new(base: &Base, maker: &Maker, widget: &Element) -> Option<Self> {
        let section = maker.html(widget, "section", "price")?;
        for (name, value) in [
            ("part", "price"),
            ("id", base.id("price").as_str()),
            ("tabindex", "-1"),
            ("aria-label", base.say(wording::PRICE).as_str()),
        ] {
            set(&section, name, value);
        }
        let figures = maker.html(&section, "div", "figures")?;
        let range = |name: Word, class: &str| {
            let whole = maker.html(&figures, "div", class)?;
            say(&maker.html(&whole, "span", "name")?, &base.say(name));
            Some(Range {
                range: Line::new(maker, &whole, "b", "range")?,
                likely: Line::new(maker, &whole, "span", "likely")?,
                whole,
            })
        };
        let delivered = range(wording::DELIVERED, "span delivered")?;
        let note = maker.html(&figures, "p", "note")?;
        let workshop = range(wording::WORKSHOP, "span workshop")?;
        let earlier = maker.html(&section, "p", "fault")?;
        Some(Self { base: base.clone(), section, figures, delivered, note, workshop, earlier, state: Cell::default() })
    }

    /// Shows an estimate.
    pub(crate) fn show(&self, shown: &Shown) {
        let Shown { estimate, current, .. } = shown;
        let brought = estimate.brought();
        self.stand((*current, brought.is_none().then(|| not_brought(estimate))));
        if let Some(brought) = brought {
            self.delivered.show(&self.base, brought.price);
        }
        self.workshop.show(&self.base, estimate.works);
    }

    /// Puts there what does not change with the figures: whether they are of an earlier form, and the delivered price or why there is none.
    fn stand(&self, state: State) {
        if self.state.replace(Some(state)) == Some(state) {
            return;
        }
        let (current, why_not) = state;
        set(&self.section, "class", if current { "price" } else { "price earlier" });
        let say_or_not = |word: Option<Word>| word.map(|word| self.base.say(word)).unwrap_or_default();
        say(&self.earlier, &say_or_not((!current).then_some(wording::EARLIER)));
        say(&self.note, &say_or_not(why_not));
        if why_not.is_some() {
            self.delivered.whole.remove();
        } else if !self.delivered.whole.is_connected() {
            drop(self.figures.insert_before(&self.delivered.whole, Some(&self.note)));
        }
    }
}

/// Why an estimate has no delivered price.
fn not_brought(estimate: &Estimate) -> Word {
    let anything_brings_it = estimate.ways.iter().any(|way| way.mode != Mode::Collect && way.outcome.is_ok());
    match (estimate.region.is_some(), anything_brings_it) {
        (true, true) => wording::COLLECTING,
        (true, false) => wording::NO_WAY,
        (false, _) => wording::NO_DESTINATION,
    }
}

impl Range {
    fn show(&self, base: &Base, price: PriceRange) {
        self.range.say(&wording::range(&base.words, &base.money(price.low), &base.money(price.high)));
        self.likely.say(&wording::likely(&base.words, &base.money(price.likely)));
    }
}

impl Line {
    fn new(maker: &Maker, parent: &Element, tag: &str, class: &str) -> Option<Self> {
        let room = maker.html(parent, tag, class)?;
        let text = maker.html(&room, "span", "live")?;
        Some(Self { room, text, says: RefCell::default() })
    }

    fn say(&self, text: &str) {
        let room: String = text.chars().map(|letter| if letter.is_ascii_digit() { '0' } else { letter }).collect();
        let [laid_out_by, said] = &mut *self.says.borrow_mut();
        if *laid_out_by != room {
            set(&self.room, ROOM, &room);
            *laid_out_by = room;
        }
        if said != text {
            tell(&self.text, text);
            text.clone_into(said);
        }
    }
}

//! What a buyer has typed and chosen, as plain data: no signal, no browser, tested on the host.
//!
//! A size keeps the text as typed and, once it reads, the exact length: switching the unit on display re-writes the text and
//! never the length, so nothing drifts.

use scantling_pricing::alternatives::Change;
use scantling_pricing::book::values::{Count, Text};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::{Brief, Destination, MOST_PIECES, Site};
use scantling_pricing::delivery::{Mode, countries};
use scantling_pricing::design::Dimension;
use scantling_pricing::estimate::{Estimate, estimate};
use scantling_pricing::map::Map;
use scantling_pricing::measure::{DecimalMark, Length, LengthError, LengthUnit, read_length};
use scantling_pricing::problem::Problem;

use crate::wording;
use crate::words::{Words, marked};

/// A size as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Size {
    /// The text in the field.
    pub text: String,
    /// The length it reads as, or why it does not read.
    pub read: Result<Length, LengthError>,
}

/// Everything typed and chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Form {
    /// The design.
    pub design: Key,
    /// The unit lengths are shown in, and a bare number is read in.
    pub unit: LengthUnit,
    /// The decimal mark of the page's language.
    pub mark: DecimalMark,
    /// Sizes that were typed, by dimension; the others are at their default.
    pub sizes: Map<Key, Size>,
    /// Materials chosen, by role.
    pub materials: Map<Key, Key>,
    /// The finish chosen.
    pub finish: Option<Key>,
    /// Variants chosen, by option.
    pub options: Map<Key, Key>,
    /// How many, as typed.
    pub quantity: String,
    /// Two letters of the country.
    pub country: String,
    /// The postal code, as typed.
    pub postal_code: String,
    /// What kind of place it goes to.
    pub site: Site,
    /// Whether it is to be carried in.
    pub inside: bool,
    /// The way of delivery picked.
    pub delivery: Option<Mode>,
}

/// A field that can't be taken as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The field, as a path into the brief: `dimensions.length`.
    pub field: String,
    /// What is wrong and how to mend it.
    pub message: String,
}

/// What a form comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The brief and its estimate, when every field can be taken.
    pub priced: Option<(Brief, Estimate)>,
    /// The fields that can't.
    pub faults: Vec<Fault>,
}

/// Whether a brief asks where postal codes lie: it has one. A country alone, with which a form starts, lies nowhere.
pub(crate) fn asks_the_way(brief: &Brief) -> bool {
    brief.destination.as_ref().is_some_and(|to| to.postal_code.is_some())
}

/// The country that stands for every country without a list of its own. Source: ISO 3166-1 leaves ZZ to its users.
pub const ELSEWHERE: &str = "ZZ";

impl Form {
    /// A form for a design of the book, by its key where there is one of that name, else for the first.
    #[must_use]
    pub fn new(book: &PriceBook, design: &str, mark: DecimalMark) -> Option<Self> {
        let chosen = book.designs.iter().find(|known| known.key.as_str() == design).or_else(|| book.designs.first())?;
        Some(Self {
            design: chosen.key.clone(),
            unit: book.shop.units.length_unit(),
            mark,
            sizes: Map::new(),
            materials: Map::new(),
            finish: None,
            options: Map::new(),
            quantity: "1".to_owned(),
            country: book.shop.country.to_string(),
            postal_code: String::new(),
            site: Site::Home,
            inside: false,
            delivery: None,
        })
    }

    /// Takes a size as typed.
    pub fn type_size(&mut self, dimension: &Key, text: &str) {
        let read = read_length(text, self.unit, self.mark);
        self.sizes.insert(dimension.clone(), Size { text: text.to_owned(), read });
    }

    /// Moves a size by so many of its dimension's steps, within the limits.
    pub fn step_size(&mut self, book: &PriceBook, dimension: &Key, steps: i64) {
        if let Some(known) = book.design(&self.design).and_then(|design| design.dimension(dimension.as_str())) {
            self.set_size(known, self.size(known) + known.step.scaled(steps, 1));
        }
    }

    /// Makes a size this long, or as near to it as the limits let it.
    pub fn set_size(&mut self, known: &Dimension, size: Length) {
        let size = size.max(known.least).min(known.most);
        self.sizes.insert(known.key.clone(), Size { text: self.show(size), read: Ok(size) });
    }

    /// A size as it stands: as typed where that reads, else where it starts.
    #[must_use]
    pub fn size(&self, known: &Dimension) -> Length {
        self.sizes.get(&known.key).and_then(|size| size.read.clone().ok()).unwrap_or(known.default)
    }

    /// Moves the quantity by so many pieces; what does not read starts from one.
    pub fn step_quantity(&mut self, steps: i64) {
        let now: i64 = self.quantity.trim().parse().unwrap_or(1);
        self.quantity = now.saturating_add(steps).clamp(1, MOST_PIECES.into()).to_string();
    }

    /// A length as it is typed here.
    pub(crate) fn show(&self, length: Length) -> String {
        marked(length.show(self.unit), self.mark)
    }

    /// A size as typed, or as it starts.
    #[must_use]
    pub fn typed(&self, known: &Dimension) -> Size {
        let untouched = || Size { text: self.show(known.default), read: Ok(known.default) };
        self.sizes.get(&known.key).cloned().unwrap_or_else(untouched)
    }

    /// The text of a size's field.
    #[must_use]
    pub fn size_text(&self, dimension: &Key, default: Length) -> String {
        self.sizes.get(dimension).map_or_else(|| self.show(default), |size| size.text.clone())
    }

    /// Shows every length in another unit. What does not read is left as it was typed.
    pub fn switch_unit(&mut self, unit: LengthUnit) {
        self.unit = unit;
        for size in self.sizes.values_mut() {
            if let Ok(length) = size.read {
                size.text = marked(length.show(unit), self.mark);
            }
        }
    }

    /// Takes another design. Where it goes, how many and the finish stay; what is of the design starts anew, but for a
    /// material the other design offers for a role of the same name.
    pub fn choose_design(&mut self, book: &PriceBook, design: &Key) {
        let Some(chosen) = book.design(design) else { return };
        self.design = design.clone();
        self.sizes.clear();
        self.options.clear();
        self.materials.retain(|role, material| chosen.role(role).is_some_and(|role| role.materials.contains(material)));
    }

    /// Takes a change that was proposed.
    pub fn take(&mut self, change: &Change) {
        match change {
            Change::Material { role, to } => drop(self.materials.insert(role.clone(), to.clone())),
            Change::Finish { to } => self.finish = Some(to.clone()),
            Change::Choice { option, to } => drop(self.options.insert(option.clone(), to.clone())),
            Change::Size { dimension, to } => {
                let size = Size { text: marked(to.show(self.unit), self.mark), read: Ok(*to) };
                self.sizes.insert(dimension.clone(), size);
            }
            Change::Delivery { to } => self.delivery = Some(*to),
        }
    }

    /// Takes an attribute of the element. An unknown name or value changes nothing.
    pub(crate) fn take_attribute(&mut self, book: &PriceBook, name: &str, value: &str) {
        match (name, value) {
            ("design", _) => {
                if let Ok(design) = Key::new(value) {
                    self.choose_design(book, &design);
                }
            }
            ("units", "inch") => self.switch_unit(LengthUnit::Inch),
            ("units", "metric") => self.switch_unit(LengthUnit::Millimetre),
            ("country", _) => {
                let code = value.trim().to_ascii_uppercase();
                if code == ELSEWHERE || countries().any(|known| known == code) {
                    self.country = code;
                }
            }
            ("postal-code", _) => value.clone_into(&mut self.postal_code),
            _ => {}
        }
    }

    /// Reads the form and prices it.
    #[must_use]
    pub fn read(&self, book: &PriceBook, words: &Words) -> Reading {
        let mut faults = Vec::new();
        let mut brief = Brief::new(self.design.clone());
        brief.materials = self.materials.clone();
        brief.finish = self.finish.clone();
        brief.options = self.options.clone();
        for (dimension, size) in &self.sizes {
            match &size.read {
                Ok(length) => {
                    brief.dimensions.insert(dimension.clone(), *length);
                }
                Err(error) => {
                    let message = wording::length(words, error);
                    faults.push(Fault { field: format!("dimensions.{dimension}"), message });
                }
            }
        }
        match self.quantity.trim().parse().ok().and_then(Count::new) {
            Some(quantity) => brief.quantity = quantity,
            None => {
                let message = wording::quantity_fault(words, &self.quantity);
                faults.push(Fault { field: "quantity".into(), message });
            }
        }
        brief.destination = self.destination();
        brief.delivery = self.delivery.filter(|_| brief.destination.is_some());
        if !faults.is_empty() {
            return Reading { priced: None, faults };
        }
        self.price(book, brief, words)
    }

    /// Prices a brief. A way that is not to be had where it goes, or a postal code that does not read yet, must not cost the
    /// buyer the price at the workshop: it is told beside its field, and the rest is priced without it.
    fn price(&self, book: &PriceBook, mut brief: Brief, words: &Words) -> Reading {
        let mut faults = Vec::new();
        loop {
            match estimate(book, &brief) {
                Ok(estimate) => return Reading { priced: Some((brief, estimate)), faults },
                Err(problems) => {
                    let place = problems.iter().any(|p| matches!(p, Problem::PostalCode { .. } | Problem::Country(_)));
                    let way = problems.iter().any(|problem| matches!(problem, Problem::ModeNotOffered { .. }));
                    faults.extend(problems.iter().map(|problem| self.fault(problem, words)));
                    if place && brief.destination.is_some() {
                        brief.destination = None;
                        brief.delivery = None;
                    } else if way && brief.delivery.is_some() {
                        brief.delivery = None;
                    } else {
                        return Reading { priced: None, faults };
                    }
                }
            }
        }
    }

    fn fault(&self, problem: &Problem, words: &Words) -> Fault {
        Fault { field: problem.field(), message: wording::problem(words, problem, self.unit) }
    }

    /// Where it goes, once there is enough to tell.
    fn destination(&self) -> Option<Destination> {
        let words = |text: &str| Text::new(text.trim()).ok();
        let postal_code = words(&self.postal_code);
        // The regions of the United States go by the code; elsewhere the country alone may tell.
        let enough = postal_code.is_some() || self.country != "US";
        let to = Destination::new(words(&self.country)?, postal_code);
        enough.then_some(Destination { site: self.site, inside: self.inside, ..to })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book() -> PriceBook {
        PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
    }

    fn words() -> Words {
        Words::read(include_str!("../element/words/en.json"), "en".into()).unwrap()
    }

    fn form(book: &PriceBook) -> Form {
        Form::new(book, "trestle-table", DecimalMark::Point).unwrap()
    }

    fn key(text: &str) -> Key {
        Key::new(text).unwrap()
    }

    fn length_of(form: &Form, book: &PriceBook) -> Option<Length> {
        form.read(book, &words()).priced.map(|(brief, _)| *brief.dimensions.get(&key("length")).unwrap())
    }

    #[test]
    fn sizes_read_as_people_write_them() {
        let book = book();
        for (typed, expected) in [
            ("72", Length::inches(72)),
            ("6' 2\"", Length::inches(74)),
            ("6 ft 2½", Length::sixty_fourths(64 * 74 + 32)),
            ("1840 mm", Length::from_nanometres(1_840_000_000)),
            ("184cm", Length::from_nanometres(1_840_000_000)),
        ] {
            let mut form = form(&book);
            form.type_size(&key("length"), typed);
            assert_eq!(length_of(&form, &book), Some(expected), "{typed}");
        }
    }

    #[test]
    fn what_can_t_be_taken_is_told_at_its_field_and_kept_as_typed() {
        let book = book();
        for (typed, says) in
            [("", "No length is given"), ("six", "does not read"), ("3 cubits", "cubits"), ("20 ft", "60 in to 108 in")]
        {
            let mut form = form(&book);
            form.type_size(&key("length"), typed);
            let reading = form.read(&book, &words());
            assert!(reading.priced.is_none(), "{typed}");
            assert_eq!(reading.faults[0].field, "dimensions.length");
            assert!(reading.faults[0].message.contains(says), "{typed}: {}", reading.faults[0].message);
            assert_eq!(form.size_text(&key("length"), Length::ZERO), typed);
        }
    }

    #[test]
    fn switching_units_never_changes_a_size() {
        let book = book();
        let mut form = form(&book);
        form.type_size(&key("length"), "1840 mm");
        let before = length_of(&form, &book);
        for _ in 0..50 {
            form.switch_unit(LengthUnit::Millimetre);
            form.switch_unit(LengthUnit::Inch);
        }
        assert_eq!(length_of(&form, &book), before);
        form.type_size(&key("width"), "nonsense");
        form.switch_unit(LengthUnit::Millimetre);
        assert_eq!(form.size_text(&key("width"), Length::ZERO), "nonsense");
    }

    #[test]
    fn another_design_keeps_where_it_goes_and_drops_what_is_not_its_own() {
        let book = book();
        let mut form = form(&book);
        form.postal_code = "60601".into();
        form.type_size(&key("length"), "90");
        form.materials.insert(key("base"), key("white-ash"));
        form.materials.insert(key("top"), key("white-oak"));
        form.choose_design(&book, &key("slab-console"));
        assert_eq!(form.postal_code, "60601");
        assert!(form.sizes.is_empty());
        assert_eq!(form.materials.get(&key("base")), Some(&key("white-ash")), "the frame may be of ash too");
        assert_eq!(form.materials.get(&key("top")), None, "a slab top is no board");
        assert!(form.read(&book, &words()).priced.is_some());
    }

    #[test]
    fn a_bad_postal_code_costs_only_the_delivery() {
        let book = book();
        let mut form = form(&book);
        form.postal_code = "6060".into();
        let reading = form.read(&book, &words());
        assert_eq!(reading.faults[0].field, "destination.postal_code");
        let (brief, estimate) = reading.priced.unwrap();
        assert!(brief.destination.is_none() && estimate.ways.is_empty());
    }

    #[test]
    fn where_postal_codes_lie_is_asked_for_once_one_is_typed_wherever_the_shop_is() {
        let mut book = book();
        for (home, code) in [("US", "60601"), ("DE", "10115"), ("GB", "SW1A 1AA")] {
            book.shop.country = Text::new(home).unwrap();
            let mut form = form(&book);
            assert_eq!(form.country, home);
            let asks = |form: &Form| asks_the_way(&form.read(&book, &words()).priced.unwrap().0);
            assert!(!asks(&form), "{home}, nothing typed");
            form.postal_code = "?".into();
            assert!(!asks(&form), "{home}, no code");
            form.postal_code = code.into();
            assert!(asks(&form), "{home}, {code}");
        }
    }

    #[test]
    fn a_way_that_is_gone_falls_back_to_one_that_is_there() {
        let book = book();
        let mut form = form(&book);
        form.postal_code = "60601".into();
        form.delivery = Some(Mode::Van);
        assert!(form.read(&book, &words()).faults.is_empty());
        form.postal_code = "98101".into();
        let reading = form.read(&book, &words());
        assert_eq!(reading.faults[0].field, "delivery");
        assert_eq!(reading.priced.unwrap().1.chosen, Some(Mode::Freight));
    }

    #[test]
    fn steps_stop_at_the_limits() {
        let book = book();
        let mut form = form(&book);
        form.step_size(&book, &key("length"), 1);
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "85 in");
        form.step_size(&book, &key("length"), -500);
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "60 in");
    }

    #[test]
    fn a_size_that_is_set_keeps_to_the_limits_and_is_written_in_the_unit_on_display() {
        let book = book();
        let mut form = form(&book);
        let known = book.design(&form.design).unwrap().dimension("length").unwrap();
        assert_eq!(form.size(known), Length::inches(84));
        assert_eq!(form.typed(known).text, "84 in");
        form.set_size(known, Length::inches(500));
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "108 in");
        form.switch_unit(LengthUnit::Millimetre);
        form.set_size(known, Length::inches(61));
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "1549.4 mm");
        assert_eq!(length_of(&form, &book), Some(Length::inches(61)));
        form.type_size(&key("length"), "nonsense");
        assert_eq!(form.size(known), Length::inches(84), "what does not read is drawn where it starts");
    }

    #[test]
    fn abroad_is_quoted_by_hand_and_still_priced_at_the_workshop() {
        let book = book();
        let mut form = form(&book);
        form.country = ELSEWHERE.into();
        let (_, estimate) = form.read(&book, &words()).priced.unwrap();
        assert_eq!(estimate.region.as_ref().unwrap().key.as_str(), "elsewhere");
        assert!(estimate.brought().is_none(), "nothing brings it there by itself");
    }
}

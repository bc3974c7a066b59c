//! Opening a brief that was kept or came in a link: the form takes it as far as the book still offers it.

use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::delivery::countries;

use crate::form::{ELSEWHERE, Form, Size};

/// The design of a brief is not in the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceGone;

impl Form {
    /// Takes a brief over everything chosen before; the unit on display stays. Returns what the book no longer offers, by the labels
    /// it has for them, which is left at its first choice. Sizes that are no longer built stay as they were asked, for the field to
    /// say so.
    ///
    /// # Errors
    /// When the book has no such design; then nothing changes.
    pub fn open(&mut self, book: &PriceBook, brief: &Brief) -> Result<Vec<String>, PieceGone> {
        let design = book.design(&brief.design).ok_or(PieceGone)?;
        let mut form = Self::new(book, design.key.as_str(), self.mark).ok_or(PieceGone)?;
        let mut gone = Vec::new();
        form.unit = self.unit;
        for (key, length) in &brief.dimensions {
            if design.dimension(key.as_str()).is_some() {
                form.sizes.insert(key.clone(), Size { text: form.show(*length), read: Ok(*length) });
            } else {
                gone.push(key.to_string());
            }
        }
        for (key, material) in &brief.materials {
            match design.role(key) {
                Some(role) if role.materials.contains(material) => {
                    drop(form.materials.insert(key.clone(), material.clone()));
                }
                Some(role) => gone.push(role.label.to_string()),
                None => gone.push(key.to_string()),
            }
        }
        for (key, choice) in &brief.options {
            match design.options.iter().find(|group| group.key == *key) {
                Some(group) if group.choices.iter().any(|known| known.key == *choice) => {
                    drop(form.options.insert(key.clone(), choice.clone()));
                }
                Some(group) => gone.push(group.label.to_string()),
                None => gone.push(key.to_string()),
            }
        }
        if let Some(finish) = &brief.finish {
            match book.finish(finish) {
                Some(_) => form.finish = Some(finish.clone()),
                None => gone.push(finish.to_string()),
            }
        }
        form.quantity = brief.quantity.value().to_string();
        if let Some(place) = &brief.destination {
            let country = place.country.as_str().to_ascii_uppercase();
            form.country = if countries().any(|known| known == country) { country } else { ELSEWHERE.to_owned() };
            (form.site, form.inside) = (place.site, place.inside);
            form.postal_code = place.postal_code.as_ref().map_or_else(String::new, ToString::to_string);
        }
        form.delivery = brief.delivery;
        *self = form;
        Ok(gone)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Words;
    use scantling_pricing::book::Key;
    use scantling_pricing::measure::{DecimalMark, LengthUnit};

    fn book() -> PriceBook {
        PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
    }

    fn words() -> Words {
        Words::read("{}", "en".into()).unwrap()
    }

    fn key(text: &str) -> Key {
        Key::new(text).unwrap()
    }

    #[test]
    fn every_brief_of_the_project_opens_to_what_it_was() {
        let book = book();
        for text in [
            include_str!("../../../shared/briefs/table-to-chicago.json"),
            include_str!("../../../shared/briefs/bench-nearby-pair.json"),
            include_str!("../../../shared/briefs/river-table-abroad.json"),
            include_str!("../../../shared/briefs/console-to-seattle.json"),
            include_str!("../../../shared/briefs/shelf-collected.json"),
        ] {
            let brief = Brief::read(text).unwrap().spelled_out(&book);
            let mut form = Form::new(&book, "hall-bench", DecimalMark::Point).unwrap();
            form.switch_unit(LengthUnit::Millimetre);
            form.postal_code = "left from before".into();
            assert_eq!(form.open(&book, &brief), Ok(Vec::new()));
            assert_eq!(form.unit, LengthUnit::Millimetre);
            let reading = form.read(&book, &words());
            let (read, _) = reading.priced.unwrap();
            assert_eq!(Brief { destination: brief.destination.clone(), ..read.clone() }, brief);
            if brief.destination.is_some() {
                assert_eq!(read.destination, brief.destination);
            }
            assert_eq!(reading.faults, []);
        }
    }

    #[test]
    fn what_the_book_no_longer_offers_is_named_and_the_rest_is_taken() {
        let (book, mut form) = (book(), Form::new(&book(), "hall-bench", DecimalMark::Point).unwrap());
        let mut brief = Brief::new(key("trestle-table")).spelled_out(&book);
        brief.materials.insert(key("top"), key("bog-oak"));
        brief.materials.insert(key("drawer"), key("white-oak"));
        brief.options.insert(key("ends"), key("gilded"));
        brief.finish = Some(key("shellac"));
        let gone = form.open(&book, &brief).unwrap();
        assert_eq!(gone.len(), 4, "{gone:?}");
        assert!(gone.contains(&"shellac".to_owned()) && gone.contains(&"drawer".to_owned()), "{gone:?}");
        let (read, _) = form.read(&book, &words()).priced.unwrap();
        assert_eq!(read.materials.get(&key("base")), Some(&key("black-walnut")));
        assert_eq!(read.materials.get(&key("top")), None, "the first choice");
    }

    #[test]
    fn a_piece_that_is_gone_changes_nothing() {
        let (book, mut form) = (book(), Form::new(&book(), "hall-bench", DecimalMark::Point).unwrap());
        form.postal_code = "60601".into();
        let before = form.clone();
        assert_eq!(form.open(&book, &Brief::new(key("throne"))), Err(PieceGone));
        assert_eq!(form, before);
    }
}

//! What was kept, side by side: each priced as of today, with what it came to when it was kept.

use scantling_pricing::book::PriceBook;
use scantling_pricing::book::values::Day;
use scantling_pricing::design::resolve;
use scantling_pricing::estimate::{PriceRange, estimate};
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::money::{Currency, Money};

use crate::shelf::Slip;
use crate::summary::{self, Row};
use crate::words::Words;

/// One kept estimate as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Column {
    /// The key of its record.
    pub(crate) key: String,
    /// What the piece is called.
    pub(crate) name: String,
    /// When it was kept.
    pub(crate) day: Day,
    /// What it comes to today; nothing when it can't be had as it was any more.
    pub(crate) today: Option<Today>,
    /// What it was likely to come to then, if that is another price than today's.
    pub(crate) then: Option<Money>,
}

/// A kept estimate as of today.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Today {
    pub(crate) size: String,
    pub(crate) woods: Vec<Row>,
    pub(crate) works: PriceRange,
    pub(crate) delivered: Delivered,
    /// Fewest and most weeks.
    pub(crate) weeks: Option<(u32, u32)>,
}

/// Whether it is brought, and for how much.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Delivered {
    For(PriceRange),
    Collected,
    NoPlace,
}

/// A kept estimate, priced anew.
pub(crate) fn column(words: &Words, book: &PriceBook, slip: &Slip, unit: LengthUnit) -> Column {
    let brief = &slip.kept.brief;
    let told = &slip.kept.told;
    let priced = estimate(book, brief).ok().zip(resolve(book, brief).ok());
    let likely = priced.as_ref().map(|(estimate, _)| estimate.price().likely);
    let currency = Currency::from_code(told.currency.as_str());
    let then =
        currency.map(|currency| Money::rounded(told.likely.value(), currency)).filter(|then| Some(*then) != likely);
    let today = priced.map(|(estimate, resolved)| Today {
        size: summary::size(words, &resolved, unit),
        woods: summary::woods(&resolved),
        works: estimate.works,
        delivered: match (estimate.brought(), &brief.destination) {
            (Some(delivered), _) => Delivered::For(delivered.price),
            (None, Some(_)) => Delivered::Collected,
            (None, None) => Delivered::NoPlace,
        },
        weeks: estimate.days().map(|(fewest, most)| (fewest.div_ceil(7), most.div_ceil(7))),
    });
    let design = book.design(&brief.design);
    let name = design.map_or_else(|| brief.design.to_string(), |design| design.name.to_string());
    Column { key: slip.key.clone(), name, day: slip.kept.day.clone(), today, then }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scantling_pricing::kept::Kept;

    const RECORD: &str = include_str!("../../pricing/tests/kept/1.json");

    fn of(record: &str) -> Column {
        let book = PriceBook::read(include_str!("../../../public/price-book.json")).unwrap();
        let slip = Slip { key: "scantling.kept.1".into(), kept: Kept::read(record).unwrap() };
        column(&Words::read("{}", "en".into()).unwrap(), &book, &slip, LengthUnit::Inch)
    }

    #[test]
    fn a_kept_table_beside_its_price_of_today() {
        let column = of(RECORD);
        let today = column.today.unwrap();
        assert_eq!((column.name.as_str(), today.size.as_str()), ("Trestle dining table", "84 in × 38 in × 29 1/2 in"));
        assert_eq!(
            today.woods,
            [
                ("Top".to_owned(), "Black walnut".to_owned()),
                ("Trestles and stretcher".to_owned(), "Black walnut".to_owned())
            ]
        );
        assert!(
            matches!(today.delivered, Delivered::For(price) if price.likely.amount() > today.works.likely.amount())
        );
        assert!(today.weeks.is_some_and(|(fewest, most)| (8..20).contains(&fewest) && fewest <= most));
    }

    #[test]
    fn a_price_that_has_changed_is_told_and_one_that_has_not_is_not() {
        assert_eq!(of(&RECORD.replace("\"4500\"", "\"4321\"")).then.unwrap().amount().normalize().to_string(), "4321");
        let unchanged = of(RECORD).today.unwrap();
        let Delivered::For(now) = unchanged.delivered else { panic!("it is brought") };
        let same = RECORD.replace("\"4500\"", &format!("\"{}\"", now.likely.amount().normalize()));
        assert_eq!(of(&same).then, None);
    }

    #[test]
    fn what_can_t_be_had_any_more_keeps_its_name_and_price() {
        let column = of(&RECORD.replace("black-walnut", "bog-oak"));
        assert_eq!((column.name.as_str(), &column.today), ("Trestle dining table", &None));
        assert_eq!(column.then.unwrap().amount().normalize().to_string(), "4500");
        assert_eq!(of(&RECORD.replace("trestle-table", "throne")).name, "throne");
        let nowhere = RECORD.replace(",\"destination\":{\"country\":\"US\",\"postal_code\":\"60601\"}", "");
        assert_eq!(of(&nowhere).today.unwrap().delivered, Delivered::NoPlace);
    }
}

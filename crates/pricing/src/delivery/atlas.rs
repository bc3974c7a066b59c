//! Where postal codes lie: data that is read when a destination asks for it, and never before.

use std::borrow::Cow;
use std::cmp::Ordering;
use std::sync::OnceLock;

use super::distance::Point;
use super::place::Place;

/// Where the postal codes of a few countries lie, by their first signs; empty until it is filled.
///
/// The data is `crates/pricing/data/postal-points.csv`, written by `cargo xtask points` from the open tables in
/// `shared/reference/delivery`; its head names sources and licences. A line is `US546,4386,-9045`: the country and the first three
/// digits of a ZIP code or the postal area of the United Kingdom, then hundredths of a degree north and east. Lines are in the order of
/// their bytes, so that one is found in a dozen steps: a price asks for two at every key.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Atlas(OnceLock<Cow<'static, str>>);

impl Atlas {
    /// The atlas of the project, built in: for the command and the maker, who fetch nothing.
    #[must_use]
    pub fn bundled() -> Self {
        Self(OnceLock::from(Cow::Borrowed(include_str!("../../data/postal-points.csv"))))
    }

    /// Fills an empty atlas with the text of its file. One that is filled stays as it is.
    pub fn fill(&self, text: String) {
        drop(self.0.set(Cow::Owned(text)));
    }

    /// Whether it has been filled.
    #[must_use]
    pub fn is_filled(&self) -> bool {
        self.0.get().is_some()
    }

    /// Where a place lies, when its postal code is known here.
    ///
    /// The middle of a ZIP prefix lies within 20 miles of half of its codes and within 45 of nine in ten; a postal area of the United
    /// Kingdom, mostly within 15. Source: `shared/reference/delivery/regions.md` sections 2 and 4.
    #[must_use]
    pub fn point(&self, place: &Place) -> Option<Point> {
        let area = match place.country.as_str() {
            "US" => place.postal_code.get(..3)?,
            "GB" => place.state.as_deref()?,
            _ => return None,
        };
        let (north, east) = line_of(self.0.get()?, &format!("{}{area}", place.country))?.split_once(',')?;
        let degrees = |hundredths: &str| hundredths.parse::<i32>().ok()?.checked_mul(100);
        Some(Point { north: degrees(north)?, east: degrees(east)? })
    }
}

/// What follows the first comma of the line that begins with this and a comma. The lines are halved until it is met.
fn line_of<'t>(text: &'t str, wanted: &str) -> Option<&'t str> {
    let (mut from, mut to) = (0, text.len());
    while from < to {
        let middle = usize::midpoint(from, to);
        let before = text.get(from..middle)?.bytes().rposition(|byte| byte == b'\n');
        let start = before.map_or(from, |at| from.saturating_add(at).saturating_add(1));
        let line = text.get(start..to)?.lines().next()?;
        let (begins, rest) = line.split_once(',').unwrap_or((line, ""));
        match begins.cmp(wanted) {
            Ordering::Equal => return Some(rest),
            Ordering::Less => from = start.saturating_add(line.len()).saturating_add(1),
            Ordering::Greater => to = start,
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = include_str!("../../data/postal-points.csv");

    #[test]
    fn every_line_of_the_file_is_found_and_none_that_is_not_there() {
        assert!(FILE.is_ascii());
        let lines: Vec<(&str, &str)> =
            FILE.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(',')).collect();
        assert!(lines.len() > 1000, "{}", lines.len());
        assert!(lines.is_sorted_by(|one, next| one.0 < next.0));
        for (begins, rest) in &lines {
            assert_eq!(line_of(FILE, begins), Some(*rest), "{begins}");
            for other in [format!("{begins}A"), format!("{begins}0"), begins.to_lowercase()] {
                let there = lines.iter().any(|(begins, _)| *begins == other);
                assert_eq!(line_of(FILE, &other).is_some(), there, "{other}");
            }
        }
        assert_eq!((line_of(FILE, ""), line_of(FILE, "US"), line_of(FILE, "ZZ999")), (None, None, None));
    }

    #[test]
    fn a_file_that_is_something_else_has_no_points_and_stops_nothing() {
        for text in ["", "\n", ",", "\r\n\r\n", "US606", "öäü\nöUS606,1,2", "US9,1,2\nUS1,1,2\nUS606,4,5"] {
            for wanted in ["US606", "GBB", ""] {
                assert!(line_of(text, wanted).is_none_or(|rest| text.contains(rest)), "{text:?} {wanted}");
            }
        }
        assert_eq!(line_of("US606,4,5", "US606"), Some("4,5"));
        assert_eq!(line_of("GBB,1,2\r\nUS606,4,5\r\n", "US606"), Some("4,5"), "as a server may send it");
    }
}

//! Where postal codes lie: data that is read when a destination asks for it, and never before.

use std::borrow::Cow;
use std::sync::OnceLock;

use super::distance::Point;
use super::place::Place;

/// Where the postal codes of a few countries lie, by their first signs; empty until it is filled.
///
/// The data is `crates/pricing/data/postal-points.csv`, written by `cargo xtask points` from the open tables in
/// `shared/reference/delivery`; its head names sources and licences. A line is `US546,4386,-9045`: the country and the first three
/// digits of a ZIP code or the postal area of the United Kingdom, then hundredths of a degree north and east.
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
        let text = self.0.get()?;
        let wanted = format!("\n{}{area},", place.country);
        let (_, rest) = text.split_once(wanted.as_str())?;
        let (north, east) = rest.lines().next()?.split_once(',')?;
        let degrees = |hundredths: &str| hundredths.parse::<i32>().ok()?.checked_mul(100);
        Some(Point { north: degrees(north)?, east: degrees(east)? })
    }
}

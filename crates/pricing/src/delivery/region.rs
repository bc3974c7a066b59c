//! Which region a place belongs to: the first that matches, by postal prefix, state or country.

use super::Place;
use super::postal::beginning;
use crate::book::delivery::Region;

/// The first region that matches; nothing only in a book without a last resort, which the book check refuses.
#[must_use]
pub fn region_for<'b>(regions: &'b [Region], place: &Place) -> Option<&'b Region> {
    regions.iter().find(|region| matches(region, place))
}

/// A region without criteria matches everyone. With prefixes or states, the country must match as well where one is given.
fn matches(region: &Region, place: &Place) -> bool {
    let in_country = region.countries.is_empty() || region.countries.iter().any(|code| code.as_str() == place.country);
    let in_state = region.states.iter().any(|state| Some(state.as_str()) == place.state.as_deref());
    let in_prefix = region.prefixes.iter().any(|prefix| covers(prefix.as_str(), place));
    let narrowed = !region.states.is_empty() || !region.prefixes.is_empty();
    in_country && (!narrowed || in_state || in_prefix)
}

/// Whether a prefix, or a run of prefixes of one length such as `546-549`, covers a code.
fn covers(prefix: &str, place: &Place) -> bool {
    let (first, last) = prefix.split_once('-').unwrap_or((prefix, prefix));
    let beginning = beginning(&place.country, &place.postal_code, first);
    let lengths = [last.len(), beginning.len()];
    !first.is_empty() && lengths == [first.len(); 2] && (first..=last).contains(&beginning)
}

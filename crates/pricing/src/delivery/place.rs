//! Where a piece goes: a country and a postal code as people write them.

use super::state_of_zip3;
use crate::brief::Destination;
use crate::problem::Problem;

/// A destination that reads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// ISO 3166-1 code, in capitals.
    pub country: String,
    /// The postal code without spaces, in capitals; a ZIP+4 without its last four.
    pub postal_code: String,
    /// The state, for the United States.
    pub state: Option<&'static str>,
}

/// Reads a destination.
///
/// # Errors
/// [`Problem::Country`] when the country is not two letters; [`Problem::PostalCode`] when a United States code is not five
/// digits, or nine. Codes of other countries are taken as written: their regions go by country.
pub fn read_place(destination: &Destination) -> Result<Place, Problem> {
    let country = destination.country.as_str().trim().to_ascii_uppercase();
    if country.len() != 2 || !country.bytes().all(|b| b.is_ascii_uppercase()) {
        return Err(Problem::Country(destination.country.to_string()));
    }
    let written = destination.postal_code.as_str();
    let compact: String = written.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_uppercase();
    if country != "US" {
        return Ok(Place { country, postal_code: compact, state: None });
    }
    let zip = five_digits(&compact);
    let zip = zip.ok_or_else(|| Problem::PostalCode { written: written.to_owned(), example: "60601 or 60601-1234" })?;
    let state = zip.get(..3).and_then(state_of_zip3);
    Ok(Place { country, postal_code: zip.to_owned(), state })
}

/// The first five digits of a ZIP or ZIP+4. Source: `^\d{5}(-\d{4})?$`, `shared/reference/delivery/regions.md` section 2;
/// the hyphen may be missing.
fn five_digits(compact: &str) -> Option<&str> {
    let (zip, rest) = compact.split_at_checked(5)?;
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    (digits(zip) && (rest.is_empty() && !compact.ends_with('-') || rest.len() == 4 && digits(rest))).then_some(zip)
}

//! Where a piece goes: a country and a postal code as people write them.

use super::postal;
use crate::brief::{Destination, Site};
use crate::problem::Problem;

/// A destination that reads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// ISO 3166-1 code, in capitals.
    pub country: String,
    /// The postal code without marks, in capitals; a ZIP+4 without its last four; empty where none is given.
    pub postal_code: String,
    /// The state of the United States, the province of Canada, the postal area of the United Kingdom.
    pub state: Option<String>,
    /// What kind of place it is.
    pub site: Site,
    /// Whether it is to be carried in.
    pub inside: bool,
}

/// The code of a country that goes by another in use: the United Kingdom and, in the European Union's own papers, Greece.
///
/// Source: ISO 3166-1 sets UK aside and gives GB; EL is of the Union's style guide, where ISO has GR (both from memory).
#[must_use]
pub(crate) fn proper_country(code: &str) -> Option<&'static str> {
    match code {
        "UK" => Some("GB"),
        "EL" => Some("GR"),
        _ => None,
    }
}

/// Reads a destination.
///
/// # Errors
/// [`Problem::Country`] when the country is not two letters; [`Problem::PostalCode`] when a code is none of a country whose codes are
/// known, or the United States are asked for without one: their regions go by state.
pub fn read_place(destination: &Destination) -> Result<Place, Problem> {
    let mut country = destination.country.as_str().trim().to_ascii_uppercase();
    if let Some(proper) = proper_country(&country) {
        proper.clone_into(&mut country);
    }
    if country.len() != 2 || !country.bytes().all(|b| b.is_ascii_uppercase()) {
        return Err(Problem::Country(destination.country.to_string()));
    }
    let written = destination.postal_code.as_ref().map_or("", |code| code.as_str());
    let (site, inside) = (destination.site, destination.inside);
    if written.is_empty() && country != "US" {
        return Ok(Place { country, postal_code: String::new(), state: None, site, inside });
    }
    let code = postal::read(&country, written).ok_or_else(|| Problem::PostalCode {
        written: written.to_owned(),
        example: postal::example(&country).unwrap_or_default(),
    })?;
    let state = postal::state(&country, &code);
    Ok(Place { country, postal_code: code, state, site, inside })
}

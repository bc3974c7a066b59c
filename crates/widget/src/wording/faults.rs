//! Why something can't be taken: the engine's reasons in the words of the page, in whole sentences.

use scantling_pricing::brief::MOST_PIECES;
use scantling_pricing::measure::{Length, LengthError, LengthUnit};
use scantling_pricing::problem::Problem;

use super::{NO_LENGTH, finding, mode, sentences, unreachable, with_why};
use crate::words::Words;

sentences! {
    quantity_no_number(typed, most) = "quantity.fault";
    unknown_unit(typed) = "length.unknown-unit";
    unexpected(typed) = "length.unexpected";
    bad_number(typed) = "length.bad-number";
    unit_order(typed) = "length.unit-order";
    too_long(typed) = "length.too-long";
    not_in_book(asked) = "problem.not-in-book";
    not_offered(asked, offered) = "problem.not-offered";
    size(label, least, most, asked) = "problem.size";
    quantity(asked, most) = "problem.quantity";
    slab_gone(slab) = "problem.slab-gone";
    part_too_long(part, material, needs, longest) = "problem.part-too-long";
    part_too_thick(part, material, needs) = "problem.part-too-thick";
    slab_too_small(slab, needs, has) = "problem.slab-too-small";
    slab_too_thin(slab, needs, left) = "problem.slab-too-thin";
    sheet_too_small(sheet, part) = "problem.sheet-too-small";
    sheet_thickness(sheet, part, needs, has) = "problem.sheet-thickness";
    postal_code(typed, example) = "problem.postal-code";
    country(typed) = "problem.country";
    no_such_way(mode, why) = "problem.mode";
}

/// Why a quantity can't be taken.
pub(crate) fn quantity_fault(words: &Words, typed: &str) -> String {
    quantity_no_number(words, typed.trim(), &MOST_PIECES.to_string())
}

/// Why a text is not a length.
pub(crate) fn length(words: &Words, error: &LengthError) -> String {
    match error {
        LengthError::Empty => words.say(NO_LENGTH),
        LengthError::UnknownUnit(typed) => unknown_unit(words, typed),
        LengthError::Unexpected(typed) => unexpected(words, typed),
        LengthError::BadNumber(typed) => bad_number(words, typed),
        LengthError::UnitOrder(typed) => unit_order(words, typed),
        LengthError::TooLong(typed) => too_long(words, typed),
    }
}

/// Why a brief can't be priced as it stands, and what to do.
pub(crate) fn problem(words: &Words, problem: &Problem, unit: LengthUnit) -> String {
    let offered = |asked: &str, offered: &[String]| not_offered(words, asked, &offered.join(", "));
    match problem {
        Problem::UnknownDesign { design: key, .. }
        | Problem::UnknownDimension(key)
        | Problem::UnknownRole(key)
        | Problem::UnknownOption(key) => not_in_book(words, key.as_str()),
        Problem::MaterialNotOffered { material: asked, offered: known, .. }
        | Problem::UnknownFinish { finish: asked, offered: known }
        | Problem::UnknownChoice { choice: asked, offered: known, .. } => offered(asked.as_str(), known),
        Problem::QuantityOutOfRange(asked) => quantity(words, &asked.to_string(), &MOST_PIECES.to_string()),
        Problem::SlabGone(slab) => slab_gone(words, slab),
        Problem::Refused(found) => finding(words, found, unit),
        Problem::PostalCode { written, example } => postal_code(words, written, example),
        Problem::Country(written) => country(words, written),
        Problem::ModeNotOffered { mode: asked, why } => {
            no_such_way(words, &words.say(mode(*asked)), &unreachable(words, why, unit))
        }
        Problem::SizeOutOfRange { .. }
        | Problem::PartTooLong { .. }
        | Problem::PartTooThick { .. }
        | Problem::SlabTooSmall { .. }
        | Problem::SlabTooThin { .. }
        | Problem::SheetTooSmall { .. }
        | Problem::SheetThickness { .. } => of_size(words, problem, unit),
    }
}

/// The problems that speak of sizes.
fn of_size(words: &Words, problem: &Problem, unit: LengthUnit) -> String {
    let show = |size: &Length| words.length(*size, unit);
    let both = |(length, width): &(Length, Length)| [show(length), show(width)].join(" × ");
    match problem {
        Problem::SizeOutOfRange { label, asked, least, most, why, .. } => {
            with_why(size(words, label, &show(least), &show(most), &show(asked)), why.as_ref())
        }
        Problem::PartTooLong { part, material, needs, longest } => {
            part_too_long(words, part, material, &show(needs), &show(longest))
        }
        Problem::PartTooThick { part, material, needs } => part_too_thick(words, part, material, &show(needs)),
        Problem::SlabTooSmall { slab, needs, has } => slab_too_small(words, slab, &both(needs), &both(has)),
        Problem::SlabTooThin { slab, needs, left } => slab_too_thin(words, slab, &show(needs), &show(left)),
        Problem::SheetTooSmall { sheet, part } => sheet_too_small(words, sheet, part),
        Problem::SheetThickness { sheet, part, needs, has } => {
            sheet_thickness(words, sheet, part, &show(needs), &show(has))
        }
        _ => String::new(),
    }
}

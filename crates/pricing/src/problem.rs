//! Why a brief can't be priced as it stands: one kind per mistake, each naming its field and how to mend it.

use std::fmt;

use crate::book::values::{Key, Text};
use crate::brief::MOST_PIECES;
use crate::checks::Finding;
use crate::delivery::{Mode, Unreachable};
use crate::measure::{Length, LengthUnit};

/// What is wrong with a brief.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// The book has no such design.
    UnknownDesign {
        /// The key asked for.
        design: Key,
        /// The nearest the book has.
        nearest: Option<String>,
    },
    /// The design has no such dimension.
    UnknownDimension(Key),
    /// Smaller or larger than is built.
    SizeOutOfRange {
        /// The dimension.
        dimension: Key,
        /// What it is called.
        label: String,
        /// The size asked for.
        asked: Length,
        /// The least that is built.
        least: Length,
        /// The most that is built.
        most: Length,
        /// Why these limits, in the maker's words.
        why: Option<Text>,
    },
    /// The design has no such role.
    UnknownRole(Key),
    /// The role is not offered in that material.
    MaterialNotOffered {
        /// The role.
        role: Key,
        /// The material asked for.
        material: Key,
        /// What is offered.
        offered: Vec<String>,
    },
    /// The book has no such finish.
    UnknownFinish {
        /// The finish asked for.
        finish: Key,
        /// What is offered.
        offered: Vec<String>,
    },
    /// The design has no such option.
    UnknownOption(Key),
    /// The option has no such choice.
    UnknownChoice {
        /// The option.
        option: Key,
        /// The choice asked for.
        choice: Key,
        /// What is offered.
        offered: Vec<String>,
    },
    /// None, or more than are taken on.
    QuantityOutOfRange(u32),
    /// Longer than the longest stock.
    PartTooLong {
        /// The part.
        part: String,
        /// The material.
        material: String,
        /// The blank it needs.
        needs: Length,
        /// The longest there is.
        longest: Length,
    },
    /// The material is not sold thick enough, even in layers.
    PartTooThick {
        /// The part.
        part: String,
        /// The material.
        material: String,
        /// The thickness asked for.
        needs: Length,
    },
    /// The slab is too narrow or too short.
    SlabTooSmall {
        /// The slab.
        slab: String,
        /// Length and width asked for.
        needs: (Length, Length),
        /// Length and width there are.
        has: (Length, Length),
    },
    /// Once flat, the slab is too thin.
    SlabTooThin {
        /// The slab.
        slab: String,
        /// The thickness asked for.
        needs: Length,
        /// The thickness left once it is flat.
        left: Length,
    },
    /// The slab is sold, or more of it is asked for than is left.
    SlabGone(String),
    /// The part is of another thickness than the sheet.
    SheetThickness {
        /// The sheet.
        sheet: String,
        /// The part.
        part: String,
        /// The thickness asked for.
        needs: Length,
        /// The thickness of the sheet.
        has: Length,
    },
    /// The part fits on no sheet.
    SheetTooSmall {
        /// The sheet.
        sheet: String,
        /// The part.
        part: String,
    },
    /// A check refuses it.
    Refused(Finding),
    /// Not a postal code of that country.
    PostalCode {
        /// What was written.
        written: String,
        /// What one looks like there.
        example: &'static str,
    },
    /// Not a country code.
    Country(String),
    /// That way of delivery is not to be had there.
    ModeNotOffered {
        /// The way asked for.
        mode: Mode,
        /// Why not.
        why: Unreachable,
    },
}

impl Problem {
    /// The field of the brief that is to be changed, as a path into it.
    #[must_use]
    pub fn field(&self) -> String {
        match self {
            Self::UnknownDesign { .. } => "design".into(),
            Self::UnknownDimension(key) => format!("dimensions.{key}"),
            Self::SizeOutOfRange { dimension, .. } => format!("dimensions.{dimension}"),
            Self::UnknownRole(key) => format!("materials.{key}"),
            Self::MaterialNotOffered { role, .. } => format!("materials.{role}"),
            Self::UnknownFinish { .. } => "finish".into(),
            Self::UnknownOption(key) => format!("options.{key}"),
            Self::UnknownChoice { option, .. } => format!("options.{option}"),
            Self::QuantityOutOfRange(_) => "quantity".into(),
            Self::PartTooLong { .. } | Self::PartTooThick { .. } => "dimensions".into(),
            Self::SheetTooSmall { .. } | Self::SheetThickness { .. } => "dimensions".into(),
            Self::SlabTooSmall { .. } | Self::SlabTooThin { .. } | Self::Refused(_) => "dimensions".into(),
            Self::SlabGone(_) => "materials".into(),
            Self::PostalCode { .. } => "destination.postal_code".into(),
            Self::Country(_) => "destination.country".into(),
            Self::ModeNotOffered { .. } => "delivery".into(),
        }
    }

    /// What is wrong and how to mend it, with lengths in the unit on display.
    #[must_use]
    pub fn explain(&self, unit: LengthUnit) -> String {
        self.explain_choice().or_else(|| self.explain_size(unit)).unwrap_or_else(|| self.explain_destination(unit))
    }

    fn explain_choice(&self) -> Option<String> {
        Some(match self {
            Self::UnknownDesign { design, nearest: Some(nearest) } => {
                format!("there is no design “{design}”; did you mean “{nearest}”?")
            }
            Self::UnknownDesign { design, nearest: None } => {
                format!("there is no design “{design}”; choose one of the book's")
            }
            Self::UnknownDimension(key) => format!("the design has no dimension “{key}”; take it out"),
            Self::UnknownRole(key) => format!("the design has no role “{key}”; take it out"),
            Self::MaterialNotOffered { material, offered, .. } => {
                format!("“{material}” is not offered here; choose one of: {}", offered.join(", "))
            }
            Self::UnknownFinish { finish, offered } => {
                format!("there is no finish “{finish}”; choose one of: {}", offered.join(", "))
            }
            Self::UnknownOption(key) => format!("the design has no option “{key}”; take it out"),
            Self::UnknownChoice { choice, offered, .. } => {
                format!("“{choice}” is not offered here; choose one of: {}", offered.join(", "))
            }
            Self::QuantityOutOfRange(quantity) => {
                format!("{quantity} pieces can't be estimated here; ask for 1 to {MOST_PIECES}, or write to the maker")
            }
            Self::SlabGone(slab) => format!("the slab “{slab}” is sold, or too little of it is left; choose another"),
            _ => return None,
        })
    }

    fn explain_size(&self, unit: LengthUnit) -> Option<String> {
        let show = |length: &Length| length.show(unit);
        Some(match self {
            Self::SizeOutOfRange { label, asked, least, most, why, .. } => {
                let why = why.as_ref().map(|why| format!(". {}", why.as_str().trim_end_matches('.')));
                format!(
                    "{label} is built from {} to {}; {} is outside that, so choose a size between them{}",
                    show(least),
                    show(most),
                    show(asked),
                    why.unwrap_or_default()
                )
            }
            Self::PartTooLong { part, material, needs, longest } => format!(
                "{part} needs a {material} board of {}, and the longest to be had is {}; make the piece shorter or choose another wood",
                show(needs),
                show(longest)
            ),
            Self::PartTooThick { part, material, needs } => {
                format!(
                    "{part} is {} thick, more than {material} can be laminated to; choose another wood",
                    show(needs)
                )
            }
            Self::SlabTooSmall { slab, needs, has } => format!(
                "{} by {} is asked for, and the slab “{slab}” gives {} by {}; make the piece smaller or choose another slab",
                show(&needs.0),
                show(&needs.1),
                show(&has.0),
                show(&has.1)
            ),
            Self::SlabTooThin { slab, needs, left } => format!(
                "once flat, the slab “{slab}” is {} thick at this size, and {} is needed; make the piece smaller or choose another slab",
                show(left),
                show(needs)
            ),
            Self::SheetTooSmall { sheet, part } => {
                format!("{part} can't be cut from a sheet of {sheet}; make the piece smaller")
            }
            Self::SheetThickness { sheet, part, needs, has } => {
                format!("{part} is {} thick and a sheet of {sheet} {}; choose another material", show(needs), show(has))
            }
            Self::Refused(finding) => finding.explain(unit),
            _ => return None,
        })
    }

    fn explain_destination(&self, unit: LengthUnit) -> String {
        match self {
            Self::PostalCode { written, example } => {
                format!("“{written}” is not a postal code there; write it as {example}")
            }
            Self::Country(written) => format!("“{written}” is not a country code; write two letters, as US"),
            Self::ModeNotOffered { mode, why } => {
                format!("{} is not possible here: {}; choose another way", mode.word(), why.explain(unit))
            }
            _ => String::new(),
        }
    }
}

/// The field and what to do, in inches: for a terminal.
impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.field(), self.explain(LengthUnit::Inch))
    }
}

impl std::error::Error for Problem {}

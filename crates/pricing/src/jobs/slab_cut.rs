//! The share that a job took of a slab, taken out of what is left of that slab: once for a job, and never more than there is.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::ShopBook;
use crate::book::job::Job;
use crate::book::stock::Slab;
use crate::book::values::{Key, Share};

/// A cut that can be taken out of a slab.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SlabCut {
    /// The slab.
    pub slab: Key,
    /// The share of its face.
    pub share: Share,
    /// What is left of it before.
    pub before: Decimal,
    /// What is left of it after.
    pub after: Decimal,
}

/// Why a cut can't be taken out of a slab.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotCut {
    /// The job says no share above nothing.
    NothingTaken,
    /// The book has no such slab any more.
    NoSlab,
    /// A share was taken out for this job before.
    Already(Share),
    /// More than is left.
    TooMuch {
        /// What the job takes.
        share: Share,
        /// What is left.
        left: Decimal,
    },
}

/// How a slab stands that a job takes of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SlabStands {
    /// The slab.
    pub slab: Key,
    /// The share of its face that the job takes.
    pub share: Share,
    /// What was taken out of the slab for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken_out: Option<Share>,
    /// What is left of the slab; nothing where the book has it no more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<Decimal>,
}

impl NotCut {
    /// In words for the maker.
    #[must_use]
    pub fn explain(&self) -> String {
        match self {
            Self::NothingTaken => "the job says no share of it yet; write how much of its face it took, as 0.60".into(),
            Self::NoSlab => "the book has this slab no more; add it to Slabs again".into(),
            Self::Already(share) => {
                let share = share.value().normalize();
                format!(
                    "a cut of {share} was taken out of it for this job before; undo that, or correct the slab's own cuts in Slabs"
                )
            }
            Self::TooMuch { share, left } => {
                let (share, left) = (share.value().normalize(), left.max(&Decimal::ZERO).normalize());
                format!(
                    "the job takes {share} of its face, and {left} of it is left; correct the share, or the slab's own cuts in Slabs"
                )
            }
        }
    }
}

/// What is left of a slab's face, shares sold before taken off; less than nothing where more was sold than there was.
#[must_use]
pub fn left_of(slab: &Slab) -> Decimal {
    Decimal::ONE - slab.sold()
}

/// The cut a job takes of a slab, when it can be taken out of it.
///
/// # Errors
/// Why it can't be.
pub fn slab_cut(shop: &ShopBook, job: &Job, slab: &Key) -> Result<SlabCut, NotCut> {
    if let Some(share) = job.cut_out.get(slab) {
        return Err(NotCut::Already(*share));
    }
    let share = job.slabs.get(slab).map(|taken| taken.share).filter(|share| share.value() > Decimal::ZERO);
    let share = share.ok_or(NotCut::NothingTaken)?;
    let own = shop.slabs.iter().find(|known| known.key == *slab).ok_or(NotCut::NoSlab)?;
    let left = left_of(own);
    if share.value() > left {
        return Err(NotCut::TooMuch { share, left });
    }
    Ok(SlabCut { slab: slab.clone(), share, before: left, after: left - share.value() })
}

/// How each slab stands that a job takes of.
#[must_use]
pub fn slabs_of(shop: &ShopBook, job: &Job) -> Vec<SlabStands> {
    let stands = |(key, share): (&Key, Share)| SlabStands {
        slab: key.clone(),
        share,
        taken_out: job.cut_out.get(key).copied(),
        left: shop.slabs.iter().find(|slab| slab.key == *key).map(left_of),
    };
    job.slabs.iter().map(|(key, taken)| stands((key, taken.share))).collect()
}

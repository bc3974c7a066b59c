//! The proof of one design, a step at a time: who edits it meanwhile is never kept waiting.
//!
//! The same rules as the check of a whole book, in the same order; only what is held between the steps is here.

use super::broken::Broken;
use super::proof::{Proof, corners};
use super::{designs, overlaps, packs};
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::design::{Design, Dimensions, PlacedBox};

/// How far the proof of a design has come.
#[derive(Debug, Clone, Default)]
pub struct DesignProof {
    /// The step that is next: what is written, each part, the packs, each part beside the others.
    next: usize,
    corners: Vec<Dimensions>,
    boxes: Vec<Vec<Vec<PlacedBox>>>,
    done: bool,
    /// What is written wrong in it, with its place as in a book whose first design it is: nothing is proved of such a design.
    pub written: Vec<DocumentError>,
    /// What can't be at some size.
    pub broken: Vec<Broken>,
}

impl DesignProof {
    /// How many steps were taken for a design, and how many there are.
    #[must_use]
    pub fn far(&self, design: &Design) -> (usize, usize) {
        let parts = design.all_parts().count();
        // What is written, the packs, and each part twice.
        let all = parts.saturating_mul(2).saturating_add(2);
        (self.next.min(all), all)
    }

    /// Takes the next step for a design of a book, the same at every step; says whether there is another.
    pub fn step(&mut self, book: &PriceBook, design: &Design) -> bool {
        if self.done {
            return false;
        }
        let (parts, unit) = (design.all_parts().count(), book.shop.units.length_unit());
        match self.next {
            0 => {
                self.written = designs::written(book, design);
                self.corners = if self.written.is_empty() { corners(&design.dimensions) } else { Vec::new() };
                self.done = !self.written.is_empty();
            }
            part if part <= parts => self.part(book, design, part.saturating_sub(1)),
            pack if pack == parts.saturating_add(1) => {
                self.broken.extend(packs::broken(design, &self.corners, unit));
                let mut left = overlaps::MOST_PAIRS;
                let too_many = overlaps::too_many(design, &self.corners, &mut left);
                self.broken.extend(too_many.map(Broken::of_all));
                // Of parts that can't be, it would say little that they are in each other's way.
                self.done = !self.broken.is_empty();
            }
            beside => {
                let i = beside.saturating_sub(parts).saturating_sub(2);
                let placed = overlaps::placed(design, &self.boxes);
                self.broken.extend(overlaps::of_part(design, &placed, i, (&self.corners, unit)));
                self.done = i.saturating_add(1) >= parts;
            }
        }
        self.next = self.next.saturating_add(1);
        !self.done
    }

    fn part(&mut self, book: &PriceBook, design: &Design, i: usize) {
        if let Some(part) = design.all_parts().nth(i) {
            self.broken.extend(Proof::new(book).broken_part(design, part, &self.corners));
            self.boxes.push(overlaps::at_corners(part, &self.corners));
        }
    }

    /// Whether every size a buyer may choose was proved to be one that can be built.
    #[must_use]
    pub const fn holds(&self) -> bool {
        self.done && self.written.is_empty() && self.broken.is_empty()
    }

    /// Whether there is no step left.
    #[must_use]
    pub const fn is_done(&self) -> bool {
        self.done
    }

    /// At how many corners of the box of sizes it was proved.
    #[must_use]
    pub const fn corners(&self) -> usize {
        self.corners.len()
    }
}

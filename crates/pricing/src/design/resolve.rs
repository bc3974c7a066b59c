//! From a brief and a book to parts with sizes: every choice settled, every measure a length, every part in its place.

use super::part::Spread;
use super::{Copies, Design, Dimensions, Faces, HardwareUse, Joint, NamedWork, OptionChoice, Part, Shaped, envelope};
use crate::book::PriceBook;
use crate::book::document::nearest;
use crate::book::price_book::Stock;
use crate::book::stock::Finish;
use crate::book::values::Key;
use crate::brief::{Brief, MOST_PIECES};
use crate::measure::{Area, Axis, Length, Volume};
use crate::problem::Problem;

/// A brief with every choice settled.
#[derive(Debug, Clone)]
pub struct Resolved<'b> {
    /// The design.
    pub design: &'b Design,
    /// Its sizes.
    pub sizes: Dimensions,
    /// Its parts.
    pub parts: Vec<ResolvedPart<'b>>,
    /// The materials chosen, role by role.
    pub materials: Vec<Material<'b>>,
    /// The finish chosen.
    pub finish: &'b Finish,
    /// Hardware of the design and of the variants chosen.
    pub hardware: Vec<&'b HardwareUse>,
    /// Named work of the design and of the variants chosen.
    pub work: Vec<&'b NamedWork>,
    /// How many pieces.
    pub quantity: u32,
}

/// The material a role was given.
#[derive(Debug, Clone, Copy)]
pub struct Material<'b> {
    /// The role.
    pub role: &'b Key,
    /// The material's key.
    pub key: &'b Key,
    /// The material.
    pub stock: Stock<'b>,
}

/// A part with its sizes.
#[derive(Debug, Clone)]
pub struct ResolvedPart<'b> {
    /// The part as designed.
    pub part: &'b Part,
    /// Its material.
    pub material: Material<'b>,
    /// Finished length.
    pub length: Length,
    /// Finished width.
    pub width: Length,
    /// Finished thickness.
    pub thickness: Length,
    /// Where each copy stands.
    pub boxes: Vec<PlacedBox>,
}

/// The box a part fills: its corner nearest the origin and its extent along x, y and z.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlacedBox {
    /// The corner.
    pub at: [Length; 3],
    /// The extent.
    pub size: [Length; 3],
}

impl Resolved<'_> {
    /// The box the piece fills: its length, width and height.
    #[must_use]
    pub fn envelope(&self) -> [Length; 3] {
        envelope(&self.sizes)
    }
}

impl PlacedBox {
    /// Where it starts along the direction of this index.
    #[must_use]
    pub fn start(&self, axis: usize) -> Length {
        self.at.get(axis).copied().unwrap_or(Length::ZERO)
    }

    /// How far it reaches along the direction of this index.
    #[must_use]
    pub fn extent(&self, axis: usize) -> Length {
        self.size.get(axis).copied().unwrap_or(Length::ZERO)
    }
}

impl ResolvedPart<'_> {
    /// Its length, width and thickness.
    #[must_use]
    pub const fn sizes(&self) -> [Length; 3] {
        [self.length, self.width, self.thickness]
    }

    /// How many there are in one piece.
    #[must_use]
    pub fn count(&self) -> u32 {
        u32::try_from(self.boxes.len()).unwrap_or(u32::MAX)
    }

    /// Finished volume of one.
    #[must_use]
    pub fn volume(&self) -> Volume {
        Area::of(self.length, self.width).by(self.thickness)
    }

    /// The surface of one that is sanded and finished.
    #[must_use]
    pub fn finished_area(&self) -> Area {
        let Faces { faces, edges, ends } = self.part.finished;
        Area::of(self.length, self.width) * faces.count().into()
            + Area::of(self.length, self.thickness) * edges.count().into()
            + Area::of(self.width, self.thickness) * ends.count().into()
    }

    /// The length of edge of one that is shaped.
    #[must_use]
    pub fn shaped_length(&self) -> Length {
        let Shaped { edges, ends } = self.part.shaped;
        self.length.scaled(edges.count().into(), 1) + self.width.scaled(ends.count().into(), 1)
    }

    /// Its joints.
    #[must_use]
    pub fn joints(&self) -> &[Joint] {
        &self.part.joints
    }
}

/// Settles every choice of a brief.
///
/// # Errors
/// Everything the book can't fill, all at once.
pub fn resolve<'b>(book: &'b PriceBook, brief: &Brief) -> Result<Resolved<'b>, Vec<Problem>> {
    let Some(design) = book.design(&brief.design) else {
        let keys = book.designs.iter().map(|design| design.key.as_str());
        let nearest = nearest(brief.design.as_str(), keys).map(str::to_owned);
        return Err(vec![Problem::UnknownDesign { design: brief.design.clone(), nearest }]);
    };
    let mut problems = Vec::new();
    let sizes = sizes(design, brief, &mut problems);
    let materials = materials(book, design, brief, &mut problems);
    let choices = choices(design, brief, &mut problems);
    let finish = finish(book, brief, &mut problems);
    let quantity = brief.quantity.value();
    if !(1..=MOST_PIECES).contains(&quantity) {
        problems.push(Problem::QuantityOutOfRange(quantity));
    }
    let Some(finish) = finish.filter(|_| problems.is_empty()) else { return Err(problems) };
    let parts = chosen_parts(design, &choices).filter_map(|part| resolve_part(part, &materials, &sizes)).collect();
    Ok(Resolved {
        design,
        sizes,
        parts,
        materials,
        finish,
        hardware: design.hardware.iter().chain(choices.iter().flat_map(|choice| &choice.hardware)).collect(),
        work: design.work.iter().chain(choices.iter().flat_map(|choice| &choice.work)).collect(),
        quantity,
    })
}

fn sizes(design: &Design, brief: &Brief, problems: &mut Vec<Problem>) -> Dimensions {
    for key in brief.dimensions.keys() {
        if design.dimension(key.as_str()).is_none() {
            problems.push(Problem::UnknownDimension(key.clone()));
        }
    }
    let mut sizes = Dimensions::new();
    for dimension in &design.dimensions {
        let asked = brief.size(dimension);
        if asked < dimension.least || asked > dimension.most {
            problems.push(Problem::SizeOutOfRange {
                dimension: dimension.key.clone(),
                label: dimension.label.to_string(),
                asked,
                least: dimension.least,
                most: dimension.most,
                why: dimension.why.clone(),
            });
        }
        sizes.insert(dimension.key.clone(), asked);
    }
    sizes
}

fn materials<'b>(
    book: &'b PriceBook,
    design: &'b Design,
    brief: &Brief,
    problems: &mut Vec<Problem>,
) -> Vec<Material<'b>> {
    for role in brief.materials.keys() {
        if design.role(role).is_none() {
            problems.push(Problem::UnknownRole(role.clone()));
        }
    }
    let mut materials = Vec::new();
    for role in &design.roles {
        let asked = brief.materials.get(&role.key).or_else(|| role.materials.first());
        let chosen = asked.and_then(|asked| role.materials.iter().find(|offered| *offered == asked));
        let stock = chosen.and_then(|key| Some((key, book.stock(key)?)));
        match (stock, asked) {
            (Some((key, stock)), _) => materials.push(Material { role: &role.key, key, stock }),
            (None, Some(asked)) => problems.push(Problem::MaterialNotOffered {
                role: role.key.clone(),
                material: asked.clone(),
                offered: role.materials.iter().map(Key::to_string).collect(),
            }),
            (None, None) => {}
        }
    }
    materials
}

fn choices<'b>(design: &'b Design, brief: &Brief, problems: &mut Vec<Problem>) -> Vec<&'b OptionChoice> {
    for option in brief.options.keys() {
        if design.options.iter().all(|group| group.key != *option) {
            problems.push(Problem::UnknownOption(option.clone()));
        }
    }
    let mut chosen = Vec::new();
    for group in &design.options {
        let Some(asked) = brief.options.get(&group.key) else {
            chosen.extend(group.choices.first());
            continue;
        };
        match group.choices.iter().find(|choice| choice.key == *asked) {
            Some(choice) => chosen.push(choice),
            None => problems.push(Problem::UnknownChoice {
                option: group.key.clone(),
                choice: asked.clone(),
                offered: group.choices.iter().map(|choice| choice.key.to_string()).collect(),
            }),
        }
    }
    chosen
}

fn finish<'b>(book: &'b PriceBook, brief: &Brief, problems: &mut Vec<Problem>) -> Option<&'b Finish> {
    let found = match &brief.finish {
        Some(key) => book.finish(key),
        None => book.finishes.first(),
    };
    if let (None, Some(finish)) = (found, &brief.finish) {
        let offered = book.finishes.iter().map(|finish| finish.key.to_string()).collect();
        problems.push(Problem::UnknownFinish { finish: finish.clone(), offered });
    }
    found
}

/// The design's parts but for those a choice takes out, then those the choices put in.
fn chosen_parts<'b>(design: &'b Design, choices: &[&'b OptionChoice]) -> impl Iterator<Item = &'b Part> {
    let removed: Vec<&Key> = choices.iter().flat_map(|choice| &choice.remove).collect();
    let added: Vec<&Part> = choices.iter().flat_map(|choice| &choice.add).collect();
    design.parts.iter().filter(move |part| !removed.contains(&&part.key)).chain(added)
}

/// A part at these sizes, of the material its role was given; nothing when that is not among them.
pub(crate) fn resolve_part<'b>(
    part: &'b Part,
    materials: &[Material<'b>],
    sizes: &Dimensions,
) -> Option<ResolvedPart<'b>> {
    let material = *materials.iter().find(|material| *material.role == part.role)?;
    let (length, width, thickness) = (part.length.at(sizes), part.width.at(sizes), part.thickness.at(sizes));
    let boxes = place(part, &part.copies, sizes);
    Some(ResolvedPart { part, material, length, width, thickness, boxes })
}

/// Every place a part with such copies stands in. The book check bounds how many there can be.
pub(crate) fn place(part: &Part, copies: &Copies, sizes: &Dimensions) -> Vec<PlacedBox> {
    let measures = [part.length.at(sizes), part.width.at(sizes), part.thickness.at(sizes)];
    let first = PlacedBox {
        at: part.at.each_ref().map(|at| at.at(sizes)),
        size: Axis::ALL.map(|axis| part.lies.along(axis, measures)),
    };
    let mirrored = |placed: PlacedBox, axis: Axis| {
        let mut other = placed;
        let i = axis.index();
        if let (Some(at), Some(size), Some(whole)) = (other.at.get_mut(i), placed.size.get(i), envelope(sizes).get(i)) {
            *at = *whole - *at - *size;
        }
        other
    };
    match copies {
        Copies::One => vec![first],
        Copies::MirrorX => vec![first, mirrored(first, Axis::X)],
        Copies::MirrorY => vec![first, mirrored(first, Axis::Y)],
        Copies::MirrorXy => {
            let right = mirrored(first, Axis::X);
            vec![first, right, mirrored(first, Axis::Y), mirrored(right, Axis::Y)]
        }
        Copies::Spread(spread) => spread_out(spread, first, sizes),
    }
}

/// The most copies one part may have.
pub(crate) const MOST_COPIES: u32 = 200;

fn spread_out(spread: &Spread, first: PlacedBox, sizes: &Dimensions) -> Vec<PlacedBox> {
    let axis = spread.along.index();
    let start = first.at.get(axis).copied().unwrap_or(Length::ZERO);
    let span = spread.to.at(sizes) - start;
    let gaps = span.covered_by(spread.every).clamp(1, MOST_COPIES);
    (0..=gaps)
        .map(|i| {
            let mut placed = first;
            if let Some(at) = placed.at.get_mut(axis) {
                *at = start + span.scaled(i.into(), gaps.into());
            }
            placed
        })
        .collect()
}

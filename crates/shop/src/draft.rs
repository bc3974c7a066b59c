//! A design as it is edited: drawn at any size, priced and proved from the few rows it names, whether the rest of the book is right or not.

use scantling_drawing::{Drawing, Paper, Scale, Seen, View, described, draw, measured, svg};
use scantling_pricing::book::check::{Broken, DesignProof};
use scantling_pricing::book::document::Node;
use scantling_pricing::book::work::PastJobs;
use scantling_pricing::book::{DocumentError, Key, PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, Dimensions, Resolved, resolve};
use scantling_pricing::estimate::{Estimate, estimate};
use scantling_pricing::measure::{DecimalMark, LengthUnit, read_length};
use scantling_pricing::publish::draft;

use crate::basket::why_not;
use crate::comma::plain;
use crate::sheet::Path;
use crate::slim::Slim;

/// The colour of a part that can't be.
const MARKED: &str = "#c8321e";

/// A design with what it takes to draw, price and prove it.
#[derive(Debug, Clone)]
pub struct Draft {
    prices: PriceBook,
    slim: Slim,
}

/// A drawing written down, with the sides of its sheet: by them a browser keeps room for it before it has come, so that what stands below, and
/// may have the focus, does not move.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The drawing as SVG.
    pub svg: String,
    /// How wide its sheet is.
    pub wide: i64,
    /// How high its sheet is.
    pub high: i64,
}

impl Picture {
    /// Writes a drawing, with a title and a description for readers who don't see it.
    #[must_use]
    pub fn new(drawing: &Drawing, title: &str, told: &str) -> Self {
        let [.., wide, high] = drawing.sheet;
        Self { svg: svg::write(drawing, title, told), wide, high }
    }
}

/// What was said of something, by its key.
pub type Said = (String, String);

/// What the views of a drawing show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// Plan, front and side at one scale, with their sizes.
    Measured,
    /// One view alone.
    One(View),
}

impl Shown {
    const fn seen(self) -> Seen {
        match self {
            Self::Measured => Seen::Measured,
            Self::One(_) => Seen::Alone,
        }
    }
}

impl Draft {
    /// The design at this index of a book, with what its past jobs teach.
    ///
    /// # Errors
    /// The first place of the book that can't be read, and why.
    pub fn of(root: &Node, index: usize, past_jobs: Option<PastJobs>) -> Result<Self, (Path, String)> {
        let missing = || (Path::whole().key("designs"), "there is no such design".to_owned());
        let slim = Slim::of(root, index, None).ok_or_else(missing)?;
        let told = |error: &DocumentError| (slim.in_whole(&Path::read(&error.path)), error.fault.to_string());
        let shop: ShopBook = slim.root.read_as().map_err(|error| told(&error))?;
        let mut prices = draft(&shop).map_err(|error| told(&error))?;
        prices.past_jobs = past_jobs;
        if prices.designs.is_empty() {
            return Err(missing());
        }
        Ok(Self { prices, slim })
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> Option<&Design> {
        self.prices.designs.first()
    }

    /// The unit the shop works in.
    #[must_use]
    pub const fn unit(&self) -> LengthUnit {
        self.prices.shop.units.length_unit()
    }

    /// The brief of a size as it was typed, by dimension, and of what was chosen, by option; what is not said is as it starts. With what
    /// can't be read, by dimension.
    #[must_use]
    pub fn brief(&self, typed: &[Said], chosen: &[Said]) -> (Option<Brief>, Vec<Said>) {
        let Some(design) = self.design() else { return (None, Vec::new()) };
        let mut brief = Brief::new(design.key.clone());
        let mut wrong = Vec::new();
        for dimension in &design.dimensions {
            let key = dimension.key.as_str();
            let Some((_, text)) = typed.iter().find(|(known, text)| known == key && !text.trim().is_empty()) else {
                continue;
            };
            match read_length(&plain(text), self.unit(), DecimalMark::Point) {
                Ok(size) => drop(brief.dimensions.insert(dimension.key.clone(), size)),
                Err(why) => wrong.push((key.to_owned(), why.to_string())),
            }
        }
        for group in &design.options {
            let said = chosen.iter().find(|(key, _)| key == group.key.as_str());
            let choice = said.and_then(|(_, choice)| group.choices.iter().find(|one| one.key.as_str() == choice));
            if let Some(choice) = choice {
                brief.options.insert(group.key.clone(), choice.key.clone());
            }
        }
        (Some(brief), wrong)
    }

    /// The piece a brief asks for.
    ///
    /// # Errors
    /// Why there is none, in the shop's unit.
    pub fn resolved(&self, brief: &Brief) -> Result<Resolved<'_>, String> {
        resolve(&self.prices, brief).map_err(|problems| why_not(&problems, self.unit()))
    }

    /// What it comes to at the workshop.
    ///
    /// # Errors
    /// Why it can't be priced, in the shop's unit.
    pub fn estimate(&self, brief: &Brief) -> Result<Estimate, String> {
        estimate(&self.prices, brief).map_err(|problems| why_not(&problems, self.unit()))
    }

    /// Draws a brief, so many pixels wide.
    ///
    /// # Errors
    /// As [`Draft::resolved`].
    pub fn drawing(&self, brief: &Brief, shown: Shown, wide: i64) -> Result<Picture, String> {
        let mut resolved = self.resolved(brief)?;
        // A part that comes to nothing or less can't be drawn: the proof names it.
        resolved.parts.retain(|part| part.sizes().iter().all(|size| size.is_positive()));
        let (name, unit) = (resolved.design.name.as_str(), self.unit());
        let names = ["Front", "Right-hand end", "From above"];
        let drawn = match shown {
            Shown::Measured => {
                let paper = Paper { wide, tall: wide, lettering: 13, names, words: &[], scale: Scale::ThisPiece };
                measured(&resolved, unit, &paper).drawing
            }
            Shown::One(view) => draw(&resolved, view, unit),
        };
        Ok(Picture::new(&drawn, name, &described(&resolved, unit, shown.seen())))
    }

    /// The drawing in words, for a maker who doesn't see it.
    ///
    /// # Errors
    /// As [`Draft::resolved`].
    pub fn described(&self, brief: &Brief, shown: Shown) -> Result<String, String> {
        Ok(described(&self.resolved(brief)?, self.unit(), shown.seen()))
    }

    /// The same with some parts in a colour that stands out.
    #[must_use]
    pub fn marked(&self, parts: &[&Key]) -> Self {
        let mut marked = self.clone();
        // A part takes its colour from its material: a role of their own gives these a material of their own.
        let mark = Key::new("marked-part").ok().zip(Node::Text(MARKED.to_owned()).read_as().ok());
        let timber = self.prices.timbers.first().cloned();
        let (Some((key, swatch)), Some(mut timber)) = (mark, timber) else { return marked };
        timber.key = key.clone();
        timber.swatch = swatch;
        marked.prices.timbers.push(timber);
        if let Some(design) = marked.prices.designs.first_mut()
            && let Some(mut role) = design.roles.first().cloned()
        {
            role.key = key.clone();
            role.materials = vec![key.clone()];
            design.roles.push(role);
            let added =
                design.options.iter_mut().flat_map(|group| &mut group.choices).flat_map(|choice| &mut choice.add);
            for part in design.parts.iter_mut().chain(added).filter(|part| parts.contains(&&part.key)) {
                part.role = key.clone();
            }
        }
        marked
    }

    /// The brief of what breaks: the size, and the choice that puts the part in; nothing where no size was found.
    #[must_use]
    pub fn where_it_breaks(&self, broken: &Broken) -> Option<Brief> {
        let design = self.design()?;
        let mut brief = Brief::new(design.key.clone());
        brief.dimensions = broken.sizes.clone()?;
        let named = |key: &Key| broken.part.as_ref() == Some(key) || broken.other.as_ref() == Some(key);
        for group in &design.options {
            let puts_in = group.choices.iter().find(|choice| choice.add.iter().any(|part| named(&part.key)));
            if let Some(choice) = puts_in {
                brief.options.insert(group.key.clone(), choice.key.clone());
            }
        }
        Some(brief)
    }

    /// Takes the next step of its proof; says how many were taken and how many there are, where there is another.
    pub fn prove(&self, proof: &mut DesignProof) -> Option<(usize, usize)> {
        let design = self.design()?;
        proof.step(&self.prices, design).then(|| proof.far(design))
    }

    /// Where something written wrong stands in the whole book.
    #[must_use]
    pub fn place(&self, path: &str) -> Path {
        self.slim.in_whole(&Path::read(path))
    }
}

/// A size in words: `Length 60 in, Width 32 in`.
#[must_use]
pub fn size_in_words(design: &Design, sizes: &Dimensions, unit: LengthUnit) -> String {
    let each = design.dimensions.iter().filter_map(|dimension| {
        let size = sizes.get(&dimension.key)?;
        Some(format!("{} {}", dimension.label, size.show(unit)))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// What breaks, in a sentence that names the part and the size.
#[must_use]
pub fn broken_in_words(design: &Design, broken: &Broken, unit: LengthUnit) -> String {
    let name = |key: &Key| {
        let part = design.all_parts().find(|part| part.key == *key);
        part.map_or_else(|| key.to_string(), |part| part.name.to_string())
    };
    let what = match (&broken.part, broken.pack) {
        (Some(key), _) => format!("{}: ", name(key)),
        (None, Some(pack)) => format!("Pack {}: ", pack.saturating_add(1)),
        (None, None) => String::new(),
    };
    let at = broken.sizes.as_ref().map(|sizes| format!(" That is at {}.", size_in_words(design, sizes, unit)));
    format!("{what}{}.{}", broken.why, at.unwrap_or_default())
}

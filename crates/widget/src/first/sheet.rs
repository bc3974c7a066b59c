//! The sheet as it stands on the page: its elements, and the drawings on them.

use std::cell::{Cell, RefCell};

use scantling_drawing::View;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::LengthUnit;
use web_sys::Element;

use super::laid::Laid;
use crate::base::Base;
use crate::nodes::{Maker, Row, say, set};
use crate::wording;

/// How wide the measured views are taken to be until the page has laid them out, in pixels.
const AT_FIRST: i32 = 560;

/// One sheet: the piece seen whole, its three measured views, and its title.
pub(crate) struct Sheet {
    pub(crate) base: Base,
    pub(crate) maker: Maker,
    pub(crate) section: Element,
    /// The place of the measured views, and of the field that a figure turns into.
    pub(crate) place: Element,
    /// Under them, room for what is said about pulling and typing.
    pub(crate) told: Element,
    pub(crate) plot: Picture,
    whole: Picture,
    title: Element,
    pub(crate) laid: RefCell<Option<Laid>>,
    /// How wide the measured views are shown, in pixels.
    pub(crate) wide: Cell<i32>,
}

/// An SVG with its alternative in text.
pub(crate) struct Picture {
    pub(crate) svg: Element,
    title: Element,
    described: Element,
    lines: Element,
    words: Element,
}

impl Sheet {
    /// Builds the sheet at the end of an element of the page.
    pub(crate) fn new(base: &Base, maker: &Maker, widget: &Element) -> Option<Self> {
        let section = maker.html(widget, "section", "sheet")?;
        set(&section, "part", "drawing");
        set(&section, "aria-label", &base.say(wording::DRAWING));
        let figure = maker.html(&section, "figure", "view")?;
        let whole = Picture::new(maker, base, (&figure, "whole"), "img")?;
        say(&maker.html(&figure, "figcaption", "")?, &base.say(wording::view(View::Solid)));
        let place = maker.html(&section, "div", "plot")?;
        let plot = Picture::new(maker, base, (&place, "plot"), "group")?;
        let told = maker.html(&section, "p", "told")?;
        let title = maker.html(&section, "div", "title")?;
        Some(Self {
            base: base.clone(),
            maker: maker.clone(),
            section,
            place,
            told,
            plot,
            whole,
            title,
            laid: RefCell::default(),
            wide: Cell::new(AT_FIRST),
        })
    }

    /// Measures the width it is shown in, and says whether it is another; a sheet that is hidden keeps the last. It is done before
    /// the sheet is first shown, so that it is laid out once.
    pub(crate) fn measure(&self) -> bool {
        let now = self.place.client_width();
        now > 0 && self.wide.replace(now) != now
    }

    /// Lays a brief on the sheet, unless it lies there already as it is: most of what is typed changes no drawing.
    pub(crate) fn lay(&self, brief: &Brief, unit: LengthUnit) {
        let wide = self.wide.get();
        let lies = |there: &Laid| there.brief == *brief && there.unit == unit && there.wide == wide;
        if self.laid.borrow().as_ref().is_some_and(lies) {
            return;
        }
        if let Ok(resolved) = resolve(&self.base.book, brief) {
            let laid = Laid::of(&resolved, (brief, unit, wide), &self.base.words);
            self.paint(&laid);
            self.laid.replace(Some(laid));
        }
    }

    fn paint(&self, laid: &Laid) {
        let Self { whole, plot, title, .. } = self;
        for (picture, drawing, name) in [
            (whole, &laid.whole, wording::seen_whole(&self.base.words, &laid.name)),
            (plot, &laid.plot.drawing, wording::measured(&self.base.words, &laid.name)),
        ] {
            let [left, top, width, height] = drawing.sheet;
            set(&picture.svg, "viewBox", &format!("{left} {top} {width} {height}"));
            set(&picture.svg, "font-size", &drawing.lettering.to_string());
            say(&picture.title, &name);
            say(&picture.described, &laid.described);
            self.maker.paint(drawing, &picture.lines, &picture.words);
        }
        let mut row = Row::of(title);
        for line in &laid.title {
            if let Some(cell) = row.next(|title| self.maker.html(title, "span", "")) {
                say(&cell, line);
            }
        }
        row.end();
    }
}

impl Picture {
    fn new(maker: &Maker, base: &Base, (parent, name): (&Element, &str), role: &str) -> Option<Self> {
        let svg = maker.svg(parent, "svg", "")?;
        let (title, described) = (maker.svg(&svg, "title", "")?, maker.svg(&svg, "desc", "")?);
        let (title_id, described_id) = (base.id(&format!("{name}-title")), base.id(&format!("{name}-described")));
        set(&title, "id", &title_id);
        set(&described, "id", &described_id);
        set(&svg, "role", role);
        set(&svg, "aria-labelledby", &title_id);
        set(&svg, "aria-describedby", &described_id);
        let (lines, words) = (maker.svg(&svg, "g", "")?, maker.svg(&svg, "g", "")?);
        set(&lines, "aria-hidden", "true");
        // Its figures are said by the sliders and in the description.
        set(&words, "aria-hidden", "true");
        Some(Self { svg, title, described, lines, words })
    }
}

//! The sheet as it stands on the page: its elements, and how they are brought up to date.

use std::cell::{Cell, RefCell};

use leptos::prelude::*;
use scantling_drawing::{Along, Grip, Limit, Pulled, View};
use scantling_pricing::book::Key;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, Dimension, resolve};
use scantling_pricing::measure::{Length, LengthUnit};
use web_sys::{Element, HtmlInputElement};

use super::laid::Laid;
use super::nodes::{Maker, Row, say, set, style};
use crate::form::{Form, Size};
use crate::ui::Ui;
use crate::wording;

/// How wide the measured views are taken to be until the page has laid them out, in pixels.
const AT_FIRST: i32 = 560;
/// Half the side of the square a pointer may hit, in pixels: 28 across, where WCAG 2.2 asks for 24.
const REACH: i64 = 14;
/// Half the width of a knob, in pixels.
const KNOB: i64 = 5;

/// One sheet. What the form does not know of it stands in cells of their own, since an event may come while it is shown.
pub(super) struct Sheet {
    pub(super) ui: Ui,
    pub(super) nodes: Nodes,
    maker: Maker,
    pub(super) laid: RefCell<Option<Laid>>,
    /// How wide the measured views are shown, in pixels.
    pub(super) wide: Cell<i32>,
    pub(super) pull: RefCell<Option<Pull>>,
    pub(super) typing: RefCell<Option<Typing>>,
    /// The limit the last handle that was moved has reached.
    reached: RefCell<Option<(Key, Length, Limit)>>,
    /// Counts what changed on the sheet alone, so that it is shown anew.
    changed: ArcRwSignal<u32>,
}

/// A size that is being typed on the sheet.
#[derive(Debug, Clone)]
pub(super) struct Typing {
    pub(super) dimension: Key,
    /// What the form held before.
    pub(super) before: Size,
}

/// A handle that is being pulled.
#[derive(Debug, Clone)]
pub(super) struct Pull {
    pub(super) dimension: Key,
    pub(super) pointer: i32,
    pub(super) from: (i32, i32),
    pub(super) start: Length,
    /// Millimetres of the sheet, and the pixels they were shown in.
    pub(super) scale: (i64, i32),
}

/// The elements that are brought up to date.
pub(super) struct Nodes {
    /// The place of the measured views, and of the field that a figure turns into.
    pub(super) place: Element,
    pub(super) input: HtmlInputElement,
    whole: Picture,
    plot: Picture,
    handles: Element,
    told: Element,
    title: Element,
}

/// An SVG with its alternative in text.
pub(super) struct Picture {
    pub(super) svg: Element,
    pub(super) title: Element,
    pub(super) described: Element,
    pub(super) lines: Element,
    pub(super) words: Element,
}

impl Sheet {
    /// Builds the sheet inside an element of the page.
    pub(super) fn new(ui: Ui, section: &Element) -> Option<Self> {
        let maker = Maker(section.owner_document()?);
        let nodes = Nodes::new(&maker, &ui, section)?;
        Some(Self {
            ui,
            nodes,
            maker,
            laid: RefCell::default(),
            wide: Cell::new(AT_FIRST),
            pull: RefCell::default(),
            typing: RefCell::default(),
            reached: RefCell::default(),
            changed: ArcRwSignal::new(0),
        })
    }

    /// Has the sheet shown anew.
    pub(super) fn change(&self) {
        self.changed.update(|count| *count = count.wrapping_add(1));
    }

    /// Shows the estimate on display, and whatever else it reads, whenever that changes.
    pub(super) fn show(&self) {
        self.changed.track();
        self.ui.form.with(|form| {
            self.ui.shown.with(|shown| {
                let Some(brief) = shown.as_ref().map(|shown| &shown.brief) else { return };
                self.lay(brief, form.unit);
                // A design that can't be priced yet is not the one that is drawn.
                let design = self.ui.book.design(&brief.design).filter(|design| design.key == form.design);
                let typing = self.typing.borrow().as_ref().map(|typing| typing.dimension.clone());
                if let Some(laid) = self.laid.borrow().as_ref() {
                    self.handles(laid, form, design);
                    self.field(laid, form, design.zip(typing.as_ref()));
                }
                let pulls = self.laid.borrow().as_ref().is_some_and(|laid| !laid.plot.grips.is_empty());
                self.tell(form, typing.as_ref(), pulls);
            });
        });
    }

    /// Lays a brief on the sheet, unless it lies there already as it is: most of what is typed changes no drawing.
    fn lay(&self, brief: &Brief, unit: LengthUnit) {
        let wide = self.wide.get();
        let lies = |there: &Laid| there.brief == *brief && there.unit == unit && there.wide == wide;
        if self.laid.borrow().as_ref().is_some_and(lies) {
            return;
        }
        if let Ok(resolved) = resolve(&self.ui.book, brief) {
            let laid = Laid::of(&resolved, (brief, unit, wide), &self.ui.words);
            self.paint(&laid);
            self.laid.replace(Some(laid));
        }
    }

    fn paint(&self, laid: &Laid) {
        let Nodes { whole, plot, title, .. } = &self.nodes;
        for (picture, drawing, name) in [
            (whole, &laid.whole, wording::seen_whole(&self.ui.words, &laid.name)),
            (plot, &laid.plot.drawing, wording::measured(&self.ui.words, &laid.name)),
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

    /// A slider at the end of every dimension line, and a place to click on its figure. The slider and the form do for keys
    /// what the click does.
    fn handles(&self, laid: &Laid, form: &Form, design: Option<&Design>) {
        let mut row = Row::of(&self.nodes.handles);
        let pixels = |pixels: i64| (laid.size().0 * pixels).div_euclid(i64::from(self.wide.get().max(1)));
        for grip in &laid.plot.grips {
            let Some(known) = design.and_then(|design| design.dimension(grip.dimension.as_str())) else { continue };
            let made = row.next(|handles| self.maker.svg(handles, "path", "ask"));
            if let Some(ask) = made {
                set(&ask, "data-size", known.key.as_str());
                set(&ask, "d", &over_the_figure(grip, pixels));
            }
            let made = row.next(|handles| {
                let slider = self.maker.svg(handles, "g", "")?;
                self.maker.svg(&slider, "path", "reach")?;
                self.maker.svg(&slider, "path", "knob")?;
                set(&slider, "role", "slider");
                set(&slider, "tabindex", "0");
                Some(slider)
            });
            if let Some(slider) = made {
                self.slider(&slider, grip, known, form);
                let (reach, knob) = (pixels(REACH), pixels(KNOB));
                let mut parts = Row::of(&slider);
                let shapes = [
                    format!("M-{reach} -{reach}h{0}v{0}h-{0}Z", 2 * reach),
                    format!("M-{knob} 0L0 -{knob}L{knob} 0L0 {knob}Z"),
                ];
                for shape in shapes {
                    if let Some(part) = parts.next(|_| None) {
                        set(&part, "d", &shape);
                    }
                }
            }
        }
        row.end();
    }

    fn slider(&self, slider: &Element, grip: &Grip, known: &Dimension, form: &Form) {
        let size = form.size(known);
        let text = self.ui.words.length(size, form.unit);
        let text =
            limit_at(known, size).map_or(text.clone(), |limit| wording::limit_reached(&self.ui.words, &text, limit));
        let (class, orientation) = match grip.along {
            Along::Right => ("handle", "horizontal"),
            Along::Up => ("handle upward", "vertical"),
        };
        for (name, value) in [
            ("class", class),
            ("aria-orientation", orientation),
            ("data-size", known.key.as_str()),
            ("aria-label", &wording::handle(&self.ui.words, known.label.as_str())),
            ("aria-valuemin", &number(known.least, form.unit)),
            ("aria-valuemax", &number(known.most, form.unit)),
            ("aria-valuenow", &number(size, form.unit)),
            ("aria-valuetext", &text),
            ("transform", &format!("translate({} {})", grip.knob.0, grip.knob.1)),
        ] {
            set(slider, name, value);
        }
    }

    /// The field a figure has turned into, over the figure but never past the sheet's edges.
    fn field(&self, laid: &Laid, form: &Form, typing: Option<(&Design, &Key)>) {
        let input = &self.nodes.input;
        let typed = typing.and_then(|(design, key)| {
            Some((laid.grip(key.as_str())?.figure, laid.size(), design.dimension(key.as_str())?))
        });
        input.set_hidden(typed.is_none());
        let Some(((x, y), (wide, high), known)) = typed else { return };
        style(input, "left", &format!("clamp(0px, calc(100% * {x} / {wide} - 4em), calc(100% - 8em))"));
        style(input, "top", &format!("calc(100% * {y} / {high})"));
        set(input, "aria-label", known.label.as_str());
        let fault = self.fault(&known.key).is_some();
        set(input, "aria-invalid", if fault { "true" } else { "false" });
        let text = form.size_text(&known.key, known.default);
        // Setting what is there already would move the caret.
        if input.value() != text {
            input.set_value(&text);
        }
    }

    /// What is wrong with a size that is typed here, the limit a handle has reached, or how sizes are changed here.
    fn tell(&self, form: &Form, typing: Option<&Key>, pulls: bool) {
        let fault = typing.and_then(|key| self.fault(key));
        let reached = self.reached.borrow();
        let limit = reached.as_ref().filter(|(key, size, _)| {
            // Only while the size still stands there: it may have been typed over, or be another design's.
            form.sizes.get(key).is_some_and(|now| now.read == Ok(*size))
        });
        let words = &self.ui.words;
        let limit =
            limit.map(|(_, size, limit)| wording::limit_reached(words, &words.length(*size, form.unit), *limit));
        set(&self.nodes.told, "class", if fault.is_some() { "told fault" } else { "told" });
        // A piece whose sizes are all fixed has nothing to pull.
        let hint = || if pulls { words.say(wording::PULL_OR_CLICK) } else { String::new() };
        say(&self.nodes.told, &fault.or(limit).unwrap_or_else(hint));
    }

    fn fault(&self, dimension: &Key) -> Option<String> {
        self.ui.fault(&format!("dimensions.{dimension}"))
    }

    /// Makes a size this long by a handle, and says so where it has reached a limit.
    pub(super) fn set(&self, known: &Dimension, pulled: Pulled) {
        self.reached.replace(pulled.limit.map(|limit| (known.key.clone(), pulled.size, limit)));
        let same = self.ui.form.with_untracked(|form| {
            form.sizes.get(&known.key).map_or(known.default == pulled.size, |size| size.read == Ok(pulled.size))
        });
        // A pull that ends on the same step is no change: the price need not be reckoned again.
        if same {
            self.change();
        } else {
            self.ui.edit(|form| form.set_size(known, pulled.size));
        }
    }
}

impl Nodes {
    fn new(maker: &Maker, ui: &Ui, section: &Element) -> Option<Self> {
        let figure = maker.html(section, "figure", "view")?;
        let whole = Picture::new(maker, ui, (&figure, "whole"), "img")?;
        say(&maker.html(&figure, "figcaption", "")?, &ui.say(wording::view(View::Solid)));
        let place = maker.html(section, "div", "plot")?;
        let plot = Picture::new(maker, ui, (&place, "plot"), "group")?;
        let handles = maker.svg(&plot.svg, "g", "")?;
        let input: HtmlInputElement = wasm_bindgen::JsCast::dyn_into(maker.html(&place, "input", "typed")?).ok()?;
        input.set_hidden(true);
        let told = maker.html(section, "p", "told")?;
        set(&told, "id", &ui.id("told"));
        for (name, value) in
            [("type", "text"), ("autocomplete", "off"), ("spellcheck", "false"), ("aria-describedby", &ui.id("told"))]
        {
            set(&input, name, value);
        }
        let title = maker.html(section, "div", "title")?;
        Some(Self { place, input, whole, plot, handles, told, title })
    }
}

impl Picture {
    fn new(maker: &Maker, ui: &Ui, (parent, name): (&Element, &str), role: &str) -> Option<Self> {
        let svg = maker.svg(parent, "svg", "")?;
        let (title, described) = (maker.svg(&svg, "title", "")?, maker.svg(&svg, "desc", "")?);
        let (title_id, described_id) = (ui.id(&format!("{name}-title")), ui.id(&format!("{name}-described")));
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

/// The area of a figure that takes a click.
fn over_the_figure(grip: &Grip, pixels: impl Fn(i64) -> i64) -> String {
    let (x, y) = grip.figure;
    let (half, above, below) = (pixels(30), pixels(18), pixels(8));
    let (left, top, wide, high) = match grip.along {
        Along::Up => (x - above, y - half, above + below, 2 * half),
        Along::Right => (x - half, y - above, 2 * half, above + below),
    };
    format!("M{left} {top}h{wide}v{high}h-{wide}Z")
}

/// A size as a number, in the unit on display.
fn number(size: Length, unit: LengthUnit) -> String {
    let number = match unit {
        LengthUnit::Inch => size.in_inches(),
        LengthUnit::Millimetre => size.in_millimetres(),
    };
    number.normalize().to_string()
}

/// The limit a size stands at.
pub(super) fn limit_at(known: &Dimension, size: Length) -> Option<Limit> {
    if size >= known.most {
        Some(Limit::Most)
    } else if size <= known.least {
        Some(Limit::Least)
    } else {
        None
    }
}

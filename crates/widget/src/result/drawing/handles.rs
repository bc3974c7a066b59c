//! What stands on the sheet for the buyer's hands: handles, the field a figure turns into, and what is said about them.

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;
use scantling_drawing::{Along, Grip, Limit, Pulled};
use scantling_pricing::book::Key;
use scantling_pricing::design::{Design, Dimension};
use scantling_pricing::measure::{Length, LengthUnit};
use web_sys::{Element, HtmlInputElement};

use crate::first::{Laid, Sheet};
use crate::form::{Form, Size};
use crate::nodes::{Row, say, set, style};
use crate::ui::Ui;
use crate::wording;

/// Half the side of the square a pointer may hit, in pixels: 28 across, where WCAG 2.2 asks for 24.
const REACH: i64 = 14;
/// Half the width of a knob, in pixels.
const KNOB: i64 = 5;

/// A sheet that can be changed. What the form does not know of it stands in cells of their own, since an event may come while it is
/// shown.
pub(super) struct Handles {
    pub(super) ui: Ui,
    pub(super) sheet: Rc<Sheet>,
    pub(super) input: HtmlInputElement,
    handles: Element,
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

impl Handles {
    /// Puts them on a sheet.
    pub(super) fn new(ui: Ui, sheet: Rc<Sheet>) -> Option<Self> {
        let (maker, told) = (&sheet.maker, ui.id("told"));
        let handles = maker.svg(&sheet.plot.svg, "g", "")?;
        let input: HtmlInputElement =
            wasm_bindgen::JsCast::dyn_into(maker.html(&sheet.place, "input", "typed")?).ok()?;
        input.set_hidden(true);
        for (name, value) in
            [("type", "text"), ("autocomplete", "off"), ("spellcheck", "false"), ("aria-describedby", &told)]
        {
            set(&input, name, value);
        }
        set(&sheet.told, "id", &told);
        Some(Self {
            ui,
            sheet,
            input,
            handles,
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
        self.ui.shown.track();
        self.ui.form.with_untracked(|form| {
            self.ui.shown.with_untracked(|shown| {
                let Some(brief) = shown.as_ref().map(|shown| &shown.brief) else { return };
                self.sheet.lay(brief, form.unit);
                // A design that can't be priced yet is not the one that is drawn.
                let design = self.ui.book.design(&brief.design).filter(|design| design.key == form.design);
                let typing = self.typing.borrow().as_ref().map(|typing| typing.dimension.clone());
                if let Some(laid) = self.sheet.laid.borrow().as_ref() {
                    self.handles(laid, form, design);
                    self.field(laid, form, design.zip(typing.as_ref()));
                }
                let pulls = self.sheet.laid.borrow().as_ref().is_some_and(|laid| !laid.plot.grips.is_empty());
                self.tell(form, typing.as_ref(), pulls);
            });
        });
    }

    /// A slider at the end of every dimension line, and a place to click on its figure. The slider and the form do for keys
    /// what the click does.
    fn handles(&self, laid: &Laid, form: &Form, design: Option<&Design>) {
        let mut row = Row::of(&self.handles);
        let pixels = |pixels: i64| (laid.size().0 * pixels).div_euclid(i64::from(self.sheet.wide.get().max(1)));
        for grip in &laid.plot.grips {
            let Some(known) = design.and_then(|design| design.dimension(grip.dimension.as_str())) else { continue };
            let made = row.next(|handles| self.sheet.maker.svg(handles, "path", "ask"));
            if let Some(ask) = made {
                set(&ask, "data-size", known.key.as_str());
                set(&ask, "d", &over_the_figure(grip, pixels));
            }
            let made = row.next(|handles| {
                let slider = self.sheet.maker.svg(handles, "g", "")?;
                self.sheet.maker.svg(&slider, "path", "reach")?;
                self.sheet.maker.svg(&slider, "path", "knob")?;
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
        let text = limit_at(known, size).map_or(text.clone(), |limit| self.limit_told(known, &text, limit));
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
        let input = &self.input;
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
        let design = self.ui.book.design(&form.design);
        let limit = limit.and_then(|(key, size, limit)| {
            let known = design?.dimension(key.as_str())?;
            Some(self.limit_told(known, &words.length(*size, form.unit), *limit))
        });
        set(&self.sheet.told, "class", if fault.is_some() { "told fault" } else { "told" });
        // A piece whose sizes are all fixed has nothing to pull.
        let hint = || if pulls { words.say(wording::PULL_OR_CLICK) } else { String::new() };
        say(&self.sheet.told, &fault.or(limit).unwrap_or_else(hint));
    }

    /// A size that stands at a limit, and why that is one.
    fn limit_told(&self, known: &Dimension, size: &str, limit: Limit) -> String {
        wording::with_why(wording::limit_reached(&self.ui.words, size, limit), known.why.as_ref())
    }

    fn fault(&self, dimension: &Key) -> Option<String> {
        untrack(|| self.ui.fault(&format!("dimensions.{dimension}")))
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

//! A drawing as a file of its own: on paper by day, on darker paper by night, in black when it is printed.
//!
//! Every colour is an attribute first and a style second. Where a page's policy refuses the style, the daylight colours stay.

use std::fmt::Write;

use crate::{Drawing, Light, Point, Shape};

/// The paper a drawing lies on.
const PAPER: &str = "#fbf6ea";
/// The ink of outlines and grain.
const INK: &str = "#3b3028";
/// The ink of dimension lines and figures.
const MARK: &str = "#7d3510";

/// Ink lines and dark timber would be lost on a dark ground, so paper stays paper by night, in less light. Lines are as thin
/// as the screen or the printer draws them, at any size.
const STYLE: &str = "svg{--paper:#fbf6ea;--ink:#3b3028;--mark:#7d3510}\n\
    @media (prefers-color-scheme:dark){svg{--paper:#d9ccb4;--mark:#6f2d0b}}\n\
    @media print{svg{--paper:#fff;--ink:#000;--mark:#000}}\n\
    path{vector-effect:non-scaling-stroke}\n\
    .paper{fill:var(--paper)}.part,.grain,.cue{stroke:var(--ink)}.ruler{stroke:var(--mark)}.figure{fill:var(--mark)}.caption{fill:var(--ink)}";

/// Writes a drawing as SVG, with a title and a description for readers who don't see it.
#[must_use]
pub fn write(drawing: &Drawing, title: &str, description: &str) -> String {
    let [left, top, width, height] = drawing.sheet;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{left} {top} {width} {height}\" role=\"img\" fill=\"none\" \
         stroke=\"{INK}\" stroke-linejoin=\"round\" stroke-linecap=\"round\" \
         font-family=\"Georgia, serif\" font-size=\"{}\" text-anchor=\"middle\">\n\
         <title>{}</title>\n<desc>{}</desc>\n<style>{STYLE}</style>\n\
         <rect class=\"paper\" x=\"{left}\" y=\"{top}\" width=\"{width}\" height=\"{height}\" fill=\"{PAPER}\" stroke=\"none\"/>\n",
        drawing.lettering,
        escaped(title),
        escaped(description)
    );
    for shape in &drawing.shapes {
        out.push_str(&element(shape));
    }
    out.push_str("</svg>\n");
    out
}

/// A shape that is drawn in lines: how it is dressed, its path, and the colour it is filled with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ink {
    /// `part`, `grain`, `sheen`, `cue` or `ruler`.
    pub class: &'static str,
    /// The data of its path.
    pub path: String,
    /// The colour of a face.
    pub fill: Option<String>,
}

/// Words on the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words<'s> {
    /// `figure` or `caption`.
    pub class: &'static str,
    /// The middle of their foot.
    pub at: Point,
    /// Whether they are turned to read upwards.
    pub upright: bool,
    /// What they say.
    pub text: &'s str,
}

/// A shape as the lines or the words it is drawn as.
///
/// # Errors
/// The words, for a shape that is words.
pub fn ink(shape: &Shape) -> Result<Ink, Words<'_>> {
    let lines = |class, strokes: &[Vec<Point>], closed| {
        let path = strokes.iter().map(|stroke| line(stroke, closed)).collect();
        Ok(Ink { class, path, fill: None })
    };
    match shape {
        Shape::Face { corners, swatch, light } => {
            Ok(Ink { class: "part", path: line(corners, true), fill: Some(lit(swatch, *light)) })
        }
        Shape::Grain(strokes) => lines("grain", strokes, false),
        Shape::Sheen(strokes) => lines("sheen", strokes, false),
        Shape::Cue(outlines) => lines("cue", outlines, true),
        Shape::Ruler(strokes) => {
            Ok(Ink { class: "ruler", path: strokes.iter().map(|stroke| line(stroke, false)).collect(), fill: None })
        }
        Shape::Figure { at, upright, text } => Err(Words { class: "figure", at: *at, upright: *upright, text }),
        Shape::Caption { at, text } => Err(Words { class: "caption", at: *at, upright: false, text }),
    }
}

/// One shape on a line of its own.
fn element(shape: &Shape) -> String {
    match ink(shape) {
        Ok(Ink { class, path, fill }) => {
            let fill = fill.map_or(String::new(), |fill| format!(" fill=\"{}\"", escaped(&fill)));
            let dress = match class {
                "grain" => " stroke-opacity=\"0.22\"".to_owned(),
                "sheen" => " stroke=\"#ffffff\" stroke-opacity=\"0.6\"".to_owned(),
                "cue" => " stroke-opacity=\"0.45\"".to_owned(),
                "ruler" => format!(" stroke=\"{MARK}\""),
                _ => String::new(),
            };
            format!("<path class=\"{class}\" d=\"{path}\"{fill}{dress}/>\n")
        }
        Err(Words { class, at: (x, y), upright, text }) => {
            let turn = if upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
            let colour = if class == "figure" { MARK } else { INK };
            let text = escaped(text);
            format!(
                "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" fill=\"{colour}\" stroke=\"none\"{turn}>{text}</text>\n"
            )
        }
    }
}

/// Points as the data of a path.
fn line(points: &[Point], closed: bool) -> String {
    let mut out = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let _ = write!(out, "{}{x} {y}", if i == 0 { 'M' } else { 'L' });
    }
    if closed {
        out.push('Z');
    }
    out
}

/// A material's colour in this light: paler above, darker aside. What is not `#rrggbb` is left alone.
#[must_use]
pub fn lit(swatch: &str, light: Light) -> String {
    let channel = |range: std::ops::Range<usize>| u32::from_str_radix(swatch.get(range)?, 16).ok();
    let (Some(red), Some(green), Some(blue)) = (channel(1..3), channel(3..5), channel(5..7)) else {
        return swatch.to_owned();
    };
    // Towards the warm white of a lamp: towards pure white, dark timber would turn grey.
    let shade = |value: u32, lamp: u32| match light {
        Light::Full => (value * 78 + lamp * 22) / 100,
        Light::Half => value,
        Light::End => value * 88 / 100,
        Light::Low => value * 78 / 100,
    };
    format!("#{:02x}{:02x}{:02x}", shade(red, 255), shade(green, 236), shade(blue, 205))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_changes_the_tone_and_leaves_odd_words_alone() {
        assert_eq!(lit("#808080", Light::Half), "#808080");
        assert_eq!(lit("#808080", Light::Full), "#9b9790");
        assert_eq!(lit("#808080", Light::End), "#707070");
        assert_eq!(lit("#808080", Light::Low), "#636363");
        assert_eq!(lit("walnut", Light::Low), "walnut");
    }

    #[test]
    fn words_can_t_break_out_of_the_file() {
        let hostile = "</text><script>\"&";
        let figure = Shape::Figure { at: (1, 1), upright: false, text: hostile.into() };
        let face = Shape::Face { corners: vec![(0, 0)], swatch: hostile.into(), light: Light::Half };
        let drawing = Drawing { sheet: [0, 0, 10, 10], lettering: 2, shapes: vec![figure, face] };
        let written = write(&drawing, hostile, hostile);
        assert_eq!(written.matches("&lt;/text&gt;&lt;script&gt;&quot;&amp;").count(), 4, "{written}");
        assert!(!written.contains("<script"), "{written}");
    }

    #[test]
    fn a_small_drawing_is_written_like_this() {
        let face = Shape::Face {
            corners: vec![(0, 0), (80, 0), (80, 20), (0, 20)],
            swatch: "#a9623f".into(),
            light: Light::Half,
        };
        let grain = Shape::Grain(vec![vec![(10, 8), (40, 9), (70, 8)], vec![(12, 14), (60, 14)]]);
        let [line, figure] = crate::ruler::level(0, 80, 20, 10, "3 1/8 in");
        let drawing = Drawing { sheet: [-10, -10, 100, 70], lettering: 10, shapes: vec![face, grain, line, figure] };
        let written = write(&drawing, "A board", "Cherry.");
        let body = written.split_once("</style>\n").unwrap().1;
        assert_eq!(
            body,
            concat!(
                "<rect class=\"paper\" x=\"-10\" y=\"-10\" width=\"100\" height=\"70\" fill=\"#fbf6ea\" stroke=\"none\"/>\n",
                "<path class=\"part\" d=\"M0 0L80 0L80 20L0 20Z\" fill=\"#a9623f\"/>\n",
                "<path class=\"grain\" d=\"M10 8L40 9L70 8M12 14L60 14\" stroke-opacity=\"0.22\"/>\n",
                // The dimension line, two extension lines that stand 3 off the board and reach 5 past it, two ticks.
                "<path class=\"ruler\" d=\"M0 41L80 41M0 23L0 46M80 23L80 46M-3 44L3 38M77 44L83 38\" stroke=\"#7d3510\"/>\n",
                "<text class=\"figure\" x=\"40\" y=\"37\" fill=\"#7d3510\" stroke=\"none\">3 1/8 in</text>\n",
                "</svg>\n"
            )
        );
    }
}

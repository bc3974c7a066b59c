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

/// Ink lines and dark timber would be lost on a dark ground, so paper stays paper by night, in less light.
const STYLE: &str = "svg{--paper:#fbf6ea;--ink:#3b3028;--mark:#7d3510}\n\
    @media (prefers-color-scheme:dark){svg{--paper:#d9ccb4;--mark:#6f2d0b}}\n\
    @media print{svg{--paper:#fff;--ink:#000;--mark:#000}}\n\
    .paper{fill:var(--paper)}.part,.grain{stroke:var(--ink)}.ruler{stroke:var(--mark)}.figure{fill:var(--mark)}";

/// Writes a drawing as SVG, with a title and a description for readers who don't see it.
#[must_use]
pub fn write(drawing: &Drawing, title: &str, description: &str) -> String {
    let [left, top, width, height] = drawing.sheet;
    let line = (width.max(height) / 340).max(1);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{left} {top} {width} {height}\" role=\"img\" fill=\"none\" \
         stroke=\"{INK}\" stroke-width=\"{line}\" stroke-linejoin=\"round\" stroke-linecap=\"round\" \
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

/// One shape on a line of its own.
fn element(shape: &Shape) -> String {
    match shape {
        Shape::Face { corners, swatch, light } => {
            format!(
                "<polygon class=\"part\" points=\"{}\" fill=\"{}\"/>\n",
                points(corners),
                escaped(&lit(swatch, *light))
            )
        }
        Shape::Grain(stroke) => {
            format!("<polyline class=\"grain\" points=\"{}\" stroke-opacity=\"0.22\"/>\n", points(stroke))
        }
        Shape::Ruler(strokes) => format!("<path class=\"ruler\" d=\"{}\" stroke=\"{MARK}\"/>\n", path(strokes)),
        Shape::Figure { at: (x, y), upright, text } => {
            let turn = if *upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
            let text = escaped(text);
            format!("<text class=\"figure\" x=\"{x}\" y=\"{y}\" fill=\"{MARK}\" stroke=\"none\"{turn}>{text}</text>\n")
        }
    }
}

/// Separate strokes as the data of one path.
#[must_use]
pub fn path(strokes: &[[Point; 2]]) -> String {
    strokes.iter().map(|[(x1, y1), (x2, y2)]| format!("M{x1} {y1}L{x2} {y2}")).collect()
}

/// Points as SVG writes them.
#[must_use]
pub fn points(points: &[Point]) -> String {
    let mut out = String::new();
    for (x, y) in points {
        if !out.is_empty() {
            out.push(' ');
        }
        let _ = write!(out, "{x},{y}");
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
        let grain = Shape::Grain(vec![(10, 8), (40, 9), (70, 8)]);
        let [line, figure] = crate::ruler::level(0, 80, 35, 10, "3 1/8 in");
        let drawing = Drawing { sheet: [-10, -10, 100, 70], lettering: 10, shapes: vec![face, grain, line, figure] };
        let written = write(&drawing, "A board", "Cherry.");
        let body = written.split_once("</style>\n").unwrap().1;
        assert_eq!(
            body,
            concat!(
                "<rect class=\"paper\" x=\"-10\" y=\"-10\" width=\"100\" height=\"70\" fill=\"#fbf6ea\" stroke=\"none\"/>\n",
                "<polygon class=\"part\" points=\"0,0 80,0 80,20 0,20\" fill=\"#a9623f\"/>\n",
                "<polyline class=\"grain\" points=\"10,8 40,9 70,8\" stroke-opacity=\"0.22\"/>\n",
                "<path class=\"ruler\" d=\"M0 35L80 35M-3 38L3 32M77 38L83 32\" stroke=\"#7d3510\"/>\n",
                "<text class=\"figure\" x=\"40\" y=\"47\" fill=\"#7d3510\" stroke=\"none\">3 1/8 in</text>\n",
                "</svg>\n"
            )
        );
    }
}

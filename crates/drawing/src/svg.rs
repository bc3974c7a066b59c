//! A drawing as a file of its own. Colours are attributes, not styles, so that it shows under any page's policy.

use std::fmt::Write;

use crate::{Drawing, Light, Point, Shape};

/// The ink of outlines, grain and figures.
const INK: &str = "#3b3028";

/// Writes a drawing as SVG, with a title and a description for readers who don't see it.
#[must_use]
pub fn write(drawing: &Drawing, title: &str, description: &str) -> String {
    let [left, top, width, height] = drawing.sheet;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{left} {top} {width} {height}\" role=\"img\" \
         stroke-linejoin=\"round\" stroke-linecap=\"round\" font-family=\"Georgia, serif\" font-size=\"{}\">\n\
         <title>{}</title>\n<desc>{}</desc>\n",
        drawing.lettering,
        escaped(title),
        escaped(description)
    );
    let line = (width.max(height) / 380).max(1);
    for shape in &drawing.shapes {
        // Writing to a String can't fail.
        let _ = match shape {
            Shape::Face { corners, swatch, light } => writeln!(
                out,
                "<polygon points=\"{}\" fill=\"{}\" stroke=\"{INK}\" stroke-width=\"{line}\"/>",
                points(corners),
                lit(swatch, *light)
            ),
            Shape::Grain(stroke) => writeln!(
                out,
                "<polyline points=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-opacity=\"0.22\" stroke-width=\"{line}\"/>",
                points(stroke)
            ),
            Shape::Ruler(strokes) => {
                let path: String = strokes.iter().map(|[(x1, y1), (x2, y2)]| format!("M{x1} {y1}L{x2} {y2}")).collect();
                writeln!(out, "<path d=\"{path}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"{line}\"/>")
            }
            Shape::Figure { at: (x, y), upright, text } => {
                let turn = if *upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
                writeln!(
                    out,
                    "<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\" fill=\"{INK}\"{turn}>{}</text>",
                    escaped(text)
                )
            }
        };
    }
    out.push_str("</svg>\n");
    out
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
    let shade = |value: u32| match light {
        Light::Full => value + (255 - value) * 22 / 100,
        Light::Half => value,
        Light::Low => value * 78 / 100,
    };
    format!("#{:02x}{:02x}{:02x}", shade(red), shade(green), shade(blue))
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
        assert_eq!(lit("#808080", Light::Full), "#9b9b9b");
        assert_eq!(lit("#808080", Light::Low), "#636363");
        assert_eq!(lit("walnut", Light::Low), "walnut");
    }

    #[test]
    fn words_can_t_break_out_of_the_file() {
        let drawing = Drawing { sheet: [0, 0, 10, 10], lettering: 2, shapes: Vec::new() };
        let written = write(&drawing, "<script>\"&", "");
        assert!(written.contains("<title>&lt;script&gt;&quot;&amp;</title>"), "{written}");
    }
}

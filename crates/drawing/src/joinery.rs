//! Tenons and tongues are cut on a part's length but hidden in the part they enter: drawn parts end at the shoulder.

use crate::Solid;

/// Cuts every part back to the shoulder where the end of its length enters another part.
pub(crate) fn hide_tenons(boxes: &mut [Solid<'_>]) {
    let whole: Vec<Solid<'_>> = boxes.to_vec();
    for solid in boxes.iter_mut() {
        for other in &whole {
            if let Some((axis, depth)) =
                entered(solid, other).filter(|(axis, _)| solid.grain == Some(*axis) && other.grain != Some(*axis))
            {
                shorten(solid, other, axis, depth);
            }
        }
    }
}

/// The axis along which two boxes overlap least, and by how much; nothing when they don't overlap.
fn entered(a: &Solid<'_>, b: &Solid<'_>) -> Option<(usize, i64)> {
    let overlap =
        |((a_low, a_high), (b_low, b_high)): ((&i64, &i64), (&i64, &i64))| (a_high - b_low).min(b_high - a_low);
    let spans = a.low.iter().zip(&a.high).zip(b.low.iter().zip(&b.high));
    let overlaps: Vec<i64> = spans.map(overlap).collect();
    if overlaps.iter().any(|depth| *depth <= 0) {
        return None;
    }
    overlaps.into_iter().enumerate().min_by_key(|(_, depth)| *depth)
}

fn shorten(solid: &mut Solid<'_>, other: &Solid<'_>, axis: usize, depth: i64) {
    let (Some(low), Some(high), Some(end)) = (solid.low.get_mut(axis), solid.high.get_mut(axis), other.high.get(axis))
    else {
        return;
    };
    // A part no longer than its own tenons is left alone.
    if *high - *low <= 2 * depth {
        return;
    }
    if *end - *low == depth { *low += depth } else { *high -= depth }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rail_ends_at_the_shoulders_of_both_its_tenons() {
        let leg = |x| Solid { low: [x, 0, 0], high: [x + 40, 40, 700], grain: Some(2), swatch: "", live: None };
        let rail = Solid { low: [10, 10, 600], high: [830, 30, 660], grain: Some(0), swatch: "", live: None };
        let mut boxes = [leg(0), leg(800), rail];
        hide_tenons(&mut boxes);
        assert_eq!((boxes[2].low[0], boxes[2].high[0]), (40, 800));
        assert_eq!(boxes[0], leg(0), "the leg is entered, not cut");
    }
}

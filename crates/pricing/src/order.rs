//! Putting a few things in order.
//!
//! The standard library's sorts are quick for a million rows, and each kind of row adds up to six kilobytes to what a buyer's browser
//! fetches. Here it is three sides of a box, or six ways of delivery.

/// Puts a short list in order; what is alike stays in the order it stood in. `before` says whether one stands before another.
pub fn put_in_order<T>(list: &mut [T], before: impl Fn(&T, &T) -> bool) {
    for end in 1..list.len() {
        let mut place = end;
        while let Some(earlier) = place.checked_sub(1)
            && let (Some(one), Some(other)) = (list.get(place), list.get(earlier))
            && before(one, other)
        {
            list.swap(place, earlier);
            place = earlier;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::put_in_order;

    proptest! {
        /// Held against the standard library's stable sort.
        #[test]
        fn it_comes_out_as_a_stable_sort_has_it(list in prop::collection::vec((0..9_u8, any::<u8>()), 0..30)) {
            let (mut ours, mut theirs) = (list.clone(), list);
            put_in_order(&mut ours, |one, other| one.0 < other.0);
            theirs.sort_by_key(|one| one.0);
            prop_assert_eq!(ours, theirs);
        }
    }
}

//! What was taken with one press, to be undone with another, whatever was typed and chosen in between.

use scantling_pricing::alternatives::Change;

use crate::form::Form;

/// Changes that were taken with one press.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    changes: Vec<Change>,
    /// The form before the press.
    before: Form,
}

impl Taken {
    /// Changes about to be taken in a form.
    #[must_use]
    pub fn new(changes: &[Change], before: &Form) -> Self {
        Self { changes: changes.to_vec(), before: before.clone() }
    }

    /// The changes that still stand in a form. One that was changed again since is nobody's to undo, nor is one of another design.
    pub fn standing<'t>(&'t self, form: &'t Form) -> impl Iterator<Item = &'t Change> {
        self.changes.iter().filter(move |change| form.design == self.before.design && form.stands(change))
    }

    /// Puts back what stood where these changes are, and nothing else.
    pub fn undo(&self, form: &mut Form) {
        let standing: Vec<Change> = self.standing(form).cloned().collect();
        for change in standing {
            form.put_back(&change, &self.before);
        }
    }
}

impl Form {
    /// Whether a change stands as it was taken.
    fn stands(&self, change: &Change) -> bool {
        match change {
            Change::Material { role, to } => self.materials.get(role) == Some(to),
            Change::Finish { to } => self.finish.as_ref() == Some(to),
            Change::Choice { option, to } => self.options.get(option) == Some(to),
            Change::Size { dimension, to } => self.sizes.get(dimension).is_some_and(|size| size.read == Ok(*to)),
            Change::Delivery { to } => self.delivery == Some(*to),
        }
    }

    /// Puts back what stood in an earlier form where a change is.
    fn put_back(&mut self, change: &Change, before: &Self) {
        match change {
            Change::Material { role, .. } => {
                self.materials.remove(role);
                self.materials.extend(before.materials.get(role).map(|material| (role.clone(), material.clone())));
            }
            Change::Finish { .. } => self.finish.clone_from(&before.finish),
            Change::Choice { option, .. } => {
                self.options.remove(option);
                self.options.extend(before.options.get(option).map(|choice| (option.clone(), choice.clone())));
            }
            Change::Size { dimension, .. } => {
                self.sizes.remove(dimension);
                if let Some(mut size) = before.sizes.get(dimension).cloned() {
                    // As it was typed, unless another unit is on display by now.
                    if let (Ok(length), true) = (&size.read, self.unit != before.unit) {
                        size.text = self.show(*length);
                    }
                    self.sizes.insert(dimension.clone(), size);
                }
            }
            Change::Delivery { .. } => self.delivery = before.delivery,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scantling_pricing::book::{Key, PriceBook};
    use scantling_pricing::delivery::Mode;
    use scantling_pricing::measure::{DecimalMark, Length, LengthUnit};

    fn book() -> PriceBook {
        PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
    }

    fn key(text: &str) -> Key {
        Key::new(text).unwrap()
    }

    /// One of each kind.
    fn changes() -> [Change; 5] {
        [
            Change::Material { role: key("top"), to: key("northern-red-oak") },
            Change::Finish { to: key("oil-varnish") },
            Change::Choice { option: key("ends"), to: key("breadboard") },
            Change::Size { dimension: key("length"), to: Length::inches(60) },
            Change::Delivery { to: Mode::Freight },
        ]
    }

    fn form() -> Form {
        let mut form = Form::new(&book(), "trestle-table", DecimalMark::Point).unwrap();
        form.type_size(&key("length"), "7 ft");
        form.materials.insert(key("top"), key("black-cherry"));
        form
    }

    fn take(form: &mut Form, changes: &[Change]) -> Taken {
        let taken = Taken::new(changes, form);
        changes.iter().for_each(|change| form.take(change));
        taken
    }

    #[test]
    fn what_was_done_by_hand_since_stays() {
        for change in changes() {
            let mut form = form();
            let taken = take(&mut form, std::slice::from_ref(&change));
            form.postal_code = "98101".into();
            form.type_size(&key("width"), "38 in");
            form.quantity = "2".into();
            form.inside = true;
            let mut expected = self::form();
            expected.postal_code = "98101".into();
            expected.type_size(&key("width"), "38 in");
            expected.quantity = "2".into();
            expected.inside = true;
            taken.undo(&mut form);
            assert_eq!(form, expected, "{change:?}");
        }
    }

    #[test]
    fn what_was_chosen_again_by_hand_is_not_undone() {
        let mut form = form();
        let taken = take(&mut form, &changes());
        assert_eq!(taken.standing(&form).count(), 5);
        form.materials.insert(key("top"), key("hard-maple"));
        form.type_size(&key("length"), "61");
        form.delivery = Some(Mode::Collect);
        assert_eq!(taken.standing(&form).cloned().collect::<Vec<_>>(), &changes()[1..3]);
        taken.undo(&mut form);
        assert_eq!(form.materials.get(&key("top")), Some(&key("hard-maple")));
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "61");
        assert_eq!((form.delivery, form.finish.as_ref()), (Some(Mode::Collect), None));
        assert_eq!(form.options.get(&key("ends")), None);
    }

    #[test]
    fn another_design_leaves_nothing_to_undo() {
        let (book, mut form) = (book(), form());
        let taken = take(&mut form, &changes());
        form.choose_design(&book, &key("hall-bench"));
        let before = form.clone();
        assert_eq!(taken.standing(&form).count(), 0);
        taken.undo(&mut form);
        assert_eq!(form, before);
    }

    #[test]
    fn two_presses_are_undone_one_after_the_other() {
        let mut form = form();
        let first = take(&mut form, &[Change::Material { role: key("top"), to: key("white-ash") }]);
        let second = take(&mut form, &[Change::Material { role: key("top"), to: key("white-oak") }]);
        assert_eq!((first.standing(&form).count(), second.standing(&form).count()), (0, 1));
        second.undo(&mut form);
        assert_eq!((first.standing(&form).count(), second.standing(&form).count()), (1, 0));
        first.undo(&mut form);
        assert_eq!(form.materials.get(&key("top")), Some(&key("black-cherry")));
    }

    #[test]
    fn a_size_comes_back_in_the_unit_that_is_shown_by_then() {
        let mut form = form();
        let taken = take(&mut form, &[Change::Size { dimension: key("length"), to: Length::inches(60) }]);
        form.switch_unit(LengthUnit::Millimetre);
        taken.undo(&mut form);
        assert_eq!(form.size_text(&key("length"), Length::ZERO), "2133.6 mm");
    }
}

//! The three directions of a piece, and how a part lies along them.

use serde::Serialize;

use crate::book::read::reads_word;

/// A direction of the piece as it stands: length, depth, height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Axis {
    /// Along the length of the piece, left to right.
    X,
    /// Across its depth, front to back.
    Y,
    /// Upwards.
    Z,
}

/// How a part lies in the piece: the directions its length, width and thickness run along.
///
/// Written as three letters, length first: a top is `xyz`, a leg that shows its width to the front is `zxy`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lie {
    /// Where the part's length runs.
    pub length: Axis,
    /// Where its width runs.
    pub width: Axis,
    /// Where its thickness runs.
    pub thickness: Axis,
}

reads_word!(Axis { "x" => Self::X, "y" => Self::Y, "z" => Self::Z });

impl Axis {
    /// All of them, in the order of coordinates.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// Its place among coordinates: 0, 1 or 2.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }

    fn letter(self) -> char {
        match self {
            Self::X => 'x',
            Self::Y => 'y',
            Self::Z => 'z',
        }
    }

    fn from_letter(letter: char) -> Option<Self> {
        Self::ALL.into_iter().find(|axis| axis.letter() == letter)
    }
}

impl Lie {
    /// Reads three letters such as `xyz`; nothing when they are not x, y and z once each.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut letters = text.chars().map(Axis::from_letter);
        let (length, width, thickness) = (letters.next()??, letters.next()??, letters.next()??);
        let distinct = length != width && width != thickness && length != thickness;
        (distinct && letters.next().is_none()).then_some(Self { length, width, thickness })
    }

    /// Which of a part's length, width and thickness runs along an axis.
    #[must_use]
    pub fn along<T>(self, axis: Axis, [length, width, thickness]: [T; 3]) -> T {
        if self.length == axis {
            length
        } else if self.width == axis {
            width
        } else {
            thickness
        }
    }

    /// The three letters, as [`Lie::read`] takes them.
    #[must_use]
    pub fn letters(self) -> String {
        [self.length, self.width, self.thickness].into_iter().map(Axis::letter).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_six_lies_read_back_and_nothing_else_does() {
        for text in ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] {
            assert_eq!(Lie::read(text).map(Lie::letters).as_deref(), Some(text));
        }
        for text in ["", "xy", "xxy", "xyzx", "abc", "XYZ"] {
            assert_eq!(Lie::read(text), None, "{text}");
        }
    }
}

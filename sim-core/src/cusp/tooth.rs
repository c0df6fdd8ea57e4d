//! Tooth numbers.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use crate::facts::whole_number;
use crate::frame::Side;

/// A tooth of the permanent dentition by its two-digit number (ISO 3950, from memory): quadrants 1
/// upper right, 2 upper left, 3 lower left, 4 lower right; then 1 to 8 from the midline back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Tooth(u8);

/// The arch that a tooth stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Arch {
    /// Quadrants 1 and 2.
    Upper,
    /// Quadrants 3 and 4.
    Lower,
}

impl Arch {
    /// The arch that it bites against.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Upper => Self::Lower,
            Self::Lower => Self::Upper,
        }
    }
}

/// A number that no permanent tooth has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("tooth is {given}; allowed are the numbers of ISO 3950: 11 to 18, 21 to 28, 31 to 38, 41 to 48")]
pub struct NoSuchTooth {
    /// The number given.
    pub given: i64,
}

impl Tooth {
    /// The tooth of that number.
    ///
    /// # Errors
    /// [`NoSuchTooth`] unless the number is 11–18, 21–28, 31–38 or 41–48.
    pub const fn new(number: i64) -> Result<Self, NoSuchTooth> {
        match number {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // at most 48
            11..=18 | 21..=28 | 31..=38 | 41..=48 => Ok(Self(number as u8)),
            given => Err(NoSuchTooth { given }),
        }
    }

    /// The two-digit number.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// 1 (central incisor) to 8 (third molar).
    #[must_use]
    pub const fn position(self) -> u8 {
        self.0 % 10
    }

    /// The patient's side that it stands on.
    #[must_use]
    pub const fn side(self) -> Side {
        match self.0 / 10 {
            1 | 4 => Side::Right,
            _ => Side::Left,
        }
    }

    /// The same tooth on the other side of the same arch: 36 for 46.
    #[must_use]
    pub const fn across(self) -> Self {
        match self.0 / 10 {
            1 | 3 => Self(self.0 + 10),
            _ => Self(self.0 - 10),
        }
    }

    /// The arch that it stands in.
    #[must_use]
    pub const fn arch(self) -> Arch {
        if self.0 < 30 { Arch::Upper } else { Arch::Lower }
    }
}

impl fmt::Display for Tooth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

impl<'de> Deserialize<'de> for Tooth {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::new(whole_number(deserializer)?).map_err(de::Error::custom)
    }
}

impl Serialize for Tooth {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::Tooth;

    #[test]
    fn across_the_midline_stands_the_same_tooth_of_the_same_arch_and_across_again_the_tooth_itself() {
        let teeth = (11..=48).filter_map(|number| Tooth::new(number).ok());
        let mut count = 0;
        for tooth in teeth {
            let other = tooth.across();
            assert_eq!(Tooth::new(i64::from(other.number())), Ok(other));
            assert_eq!((other.arch(), other.position()), (tooth.arch(), tooth.position()));
            assert_eq!(other.side(), tooth.side().opposite());
            assert_eq!(other.across(), tooth);
            count += 1;
        }
        assert_eq!(count, 32);
    }
}

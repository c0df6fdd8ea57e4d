//! Angles and lengths that name their unit where they are made and where they are read.
//!
//! ```
//! use sim_core::units::{Angle, Length};
//!
//! // A condyle that goes 3 mm forward and 4 mm down.
//! let (advance, drop) = (Length::from_mm(3.0), Length::from_mm(4.0));
//! let path = Angle::from_radians((drop / advance).atan());
//! assert!((path.degrees() - 53.130_102_354_156).abs() < 1e-12);
//! assert_eq!([advance, drop, advance - drop].into_iter().sum::<Length>(), Length::from_mm(6.0));
//! assert_eq!((advance - drop).abs().min(drop), Length::from_mm(1.0));
//! ```

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// An angle, made from degrees or radians by name.
///
/// Degrees are what is stored, so that a setting read from a file is written back as it was given.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Angle {
    degrees: f64,
}

impl Angle {
    /// The angle of zero.
    pub const ZERO: Self = Self::from_degrees(0.0);

    /// An angle from its value in degrees.
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Self {
        Self { degrees }
    }

    /// An angle from its value in radians.
    #[must_use]
    pub fn from_radians(radians: f64) -> Self {
        Self::from_degrees(radians.to_degrees())
    }

    /// The value in degrees.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.degrees
    }

    /// The value in radians.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.degrees.to_radians()
    }

    /// Tangent of the angle; exactly 0 at 0.
    #[must_use]
    pub fn tan(self) -> f64 {
        self.radians().tan()
    }

    /// Sine and cosine of the angle.
    #[must_use]
    pub fn sin_cos(self) -> (f64, f64) {
        self.radians().sin_cos()
    }
}

/// The tangent of an angle, kept with it: taking one takes longer than ten products.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tangent {
    of: Angle,
    tan: f64,
}

/// Sine and cosine of an angle, kept with it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SinCos {
    of: Angle,
    sin: f64,
    cos: f64,
}

macro_rules! kept_with_its_angle {
    ($($kept:ident),*) => {$(
        impl $kept {
            /// Taken anew where the angle is another.
            #[inline]
            pub(crate) fn renew(&mut self, angle: Angle) {
                if !self.is_of(angle) {
                    *self = Self::of(angle);
                }
            }

            /// Taken over from another one where that is of this angle.
            #[inline]
            pub(crate) fn take_if(&mut self, known: &Self, angle: Angle) {
                if known.is_of(angle) {
                    *self = *known;
                }
            }

            /// To the last bit, so that nothing depends on what was taken before.
            #[inline]
            const fn is_of(&self, angle: Angle) -> bool {
                self.of.degrees.to_bits() == angle.degrees.to_bits()
            }
        }
    )*};
}

kept_with_its_angle!(Tangent, SinCos);

impl Tangent {
    pub(crate) fn of(angle: Angle) -> Self {
        Self { of: angle, tan: angle.tan() }
    }

    pub(crate) const fn tan(&self) -> f64 {
        self.tan
    }
}

impl SinCos {
    pub(crate) fn of(angle: Angle) -> Self {
        let (sin, cos) = angle.sin_cos();
        Self { of: angle, sin, cos }
    }

    pub(crate) const fn sin(&self) -> f64 {
        self.sin
    }

    pub(crate) const fn cos(&self) -> f64 {
        self.cos
    }
}

/// A length, made from millimetres by name.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// The length of zero.
    pub const ZERO: Self = Self::from_mm(0.0);

    /// A length from its value in millimetres.
    #[must_use]
    pub const fn from_mm(mm: f64) -> Self {
        Self { mm }
    }

    /// The value in millimetres.
    #[must_use]
    pub const fn mm(self) -> f64 {
        self.mm
    }
}

macro_rules! arithmetic {
    ($($quantity:ident . $field:ident),*) => {$(
        impl $quantity {
            /// The same without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self { $field: self.$field.abs() }
            }

            /// The lesser of the two; where one is not a number, the other.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self { $field: self.$field.min(other.$field) }
            }

            /// The greater of the two; where one is not a number, the other.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self { $field: self.$field.max(other.$field) }
            }

            /// The order of the two, by which lists are sorted.
            #[must_use]
            pub fn total_cmp(&self, other: &Self) -> Ordering {
                self.$field.total_cmp(&other.$field)
            }
        }
        impl Add for $quantity {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self { $field: self.$field + other.$field }
            }
        }
        impl Sub for $quantity {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self { $field: self.$field - other.$field }
            }
        }
        impl Neg for $quantity {
            type Output = Self;
            fn neg(self) -> Self {
                Self { $field: -self.$field }
            }
        }
        impl Mul<f64> for $quantity {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self { $field: self.$field * factor }
            }
        }
        impl Div<f64> for $quantity {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self { $field: self.$field / divisor }
            }
        }
        /// How many times the other goes into this one.
        impl Div for $quantity {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.$field / other.$field
            }
        }
        impl Sum for $quantity {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, Add::add)
            }
        }
    )*};
}
arithmetic!(Angle.degrees, Length.mm);

/// What a number on a setting or in a table is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Degrees of arc.
    Degree,
    /// Millimetres.
    Millimetre,
}

impl Unit {
    /// The sign written behind a number: `°` or ` mm`.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Degree => "°",
            Self::Millimetre => " mm",
        }
    }

    /// The unit's name in words, as error texts use it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Degree => "degrees",
            Self::Millimetre => "mm",
        }
    }
}

/// A quantity that files and sliders hold as a bare number in its own unit.
pub trait Quantity: Copy {
    /// The unit of that number.
    const UNIT: Unit;
    /// The quantity from the number.
    fn from_number(number: f64) -> Self;
    /// The number from the quantity; `from_number(q.number()) == q` to the last bit.
    fn number(self) -> f64;
}

impl Quantity for Angle {
    const UNIT: Unit = Unit::Degree;
    fn from_number(number: f64) -> Self {
        Self::from_degrees(number)
    }
    fn number(self) -> f64 {
        self.degrees
    }
}

impl Quantity for Length {
    const UNIT: Unit = Unit::Millimetre;
    fn from_number(number: f64) -> Self {
        Self::from_mm(number)
    }
    fn number(self) -> f64 {
        self.mm
    }
}

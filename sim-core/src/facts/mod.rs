//! What is known of one number that a person can set, and the macro by which a struct of such
//! numbers is written once.
//!
//! ```
//! use sim_core::guide::CondylarGuide;
//!
//! let facts = &CondylarGuide::HORIZONTAL_INCLINATION.facts;
//! assert_eq!((facts.label, facts.symbol), ("horizontal condylar inclination", Some("H")));
//! assert_eq!(facts.check(40.0), Ok(40.0));
//! // A number out of range is refused in words that say what would be accepted.
//! let refused = facts.check(90.0).unwrap_err();
//! assert_eq!(refused.to_string(), "horizontal_inclination_deg is 90; allowed are -30 to 85 degrees");
//! ```

pub(crate) mod former;
#[macro_use]
mod settings_struct;

use std::fmt;

use serde::Deserialize;
use serde::de::{self, DeserializeSeed, Deserializer, Visitor};

use crate::units::{Quantity, Unit};

/// Name, unit, range and meaning of one setting: the source of the scene reader's checks, the
/// shell overrides, the sliders and the error texts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// Field name in a scene file, unit included.
    pub key: &'static str,
    /// What the trade calls it.
    pub label: &'static str,
    /// The letter that the trade writes for it, where it has one: H, L.
    pub symbol: Option<&'static str>,
    /// Unit of the number.
    pub unit: Unit,
    /// Least value allowed.
    pub min: f64,
    /// Greatest value allowed.
    pub max: f64,
    /// A step that a person would make on the bench.
    pub step: f64,
    /// Value in the example of a baseline; `None` where zeroing says nothing of it.
    pub zeroed: Option<f64>,
    /// What it does, in a sentence.
    pub doc: &'static str,
}

impl Facts {
    /// The number itself if it is a number within the range.
    ///
    /// # Errors
    /// [`OutOfRange`], which names the setting, the number and what is allowed; NaN and infinities
    /// are out of every range.
    #[inline]
    pub fn check(&'static self, number: f64) -> Result<f64, OutOfRange> {
        if number >= self.min && number <= self.max {
            Ok(number)
        } else {
            Err(OutOfRange { facts: self, given: number })
        }
    }
}

/// A number outside what its setting allows.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub struct OutOfRange {
    /// The setting.
    pub facts: &'static Facts,
    /// What was given.
    pub given: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Facts { key, min, max, unit, .. } = *self.facts;
        let given = self.given;
        let note = if given.is_finite() { "" } else { ", which is not a finite number" };
        write!(f, "{key} is {given}{note}; allowed are {min} to {max} {}", unit.words())
    }
}

/// One setting of the struct `T`: its facts and how to reach it there.
#[derive(Clone, Copy, Debug)]
pub struct Entry<T: 'static> {
    /// Name, unit, range and meaning.
    pub facts: Facts,
    pub(crate) get: fn(&T) -> f64,
    pub(crate) set: fn(&mut T, f64),
}

impl<T> Entry<T> {
    /// The setting's number, in its unit.
    #[must_use]
    pub fn value(&self, of: &T) -> f64 {
        (self.get)(of)
    }
}

/// Reads a quantity and checks it on the way in, so that the reader can say where it stands.
pub(crate) struct Checked<Q> {
    facts: &'static Facts,
    quantity: std::marker::PhantomData<Q>,
}

impl<Q> Checked<Q> {
    pub(crate) const fn new(facts: &'static Facts) -> Self {
        Self { facts, quantity: std::marker::PhantomData }
    }
}

impl<'de, Q: Quantity> DeserializeSeed<'de> for Checked<Q> {
    type Value = Q;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Q, D::Error> {
        CheckedNumber(self.facts).deserialize(deserializer).map(Q::from_number)
    }
}

/// As [`Checked`], for the number alone.
pub(crate) struct CheckedNumber(pub(crate) &'static Facts);

impl<'de> DeserializeSeed<'de> for CheckedNumber {
    type Value = f64;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<f64, D::Error> {
        let number = f64::deserialize(deserializer).map_err(|error| {
            let Facts { key, min, max, unit, .. } = self.0;
            de::Error::custom(format!("{key} takes a number from {min} to {max} {}: {error}", unit.words()))
        })?;
        self.0.check(number).map_err(de::Error::custom)
    }
}

/// Refuses a field that is none of `fields`, with what it is called now if it once had that name.
pub(crate) fn unknown_field<E: de::Error>(name: &str, fields: &'static [&'static str]) -> E {
    match former::name_now(name) {
        Some(now) if fields.contains(&now) => E::custom(format_args!("{name} is now {now}")),
        _ => E::unknown_field(name, fields),
    }
}

/// A field name as it stands in the input.
pub(crate) struct FieldName(pub(crate) String);

impl<'de> Deserialize<'de> for FieldName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Name;
        impl Visitor<'_> for Name {
            type Value = FieldName;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a field name")
            }
            fn visit_str<E: de::Error>(self, name: &str) -> Result<FieldName, E> {
                Ok(FieldName(name.to_owned()))
            }
        }
        deserializer.deserialize_identifier(Name)
    }
}

/// A whole number; `1.5` is refused as such rather than read as 1 and a rest.
pub(crate) fn whole_number<'de, D: Deserializer<'de>>(deserializer: D) -> Result<i64, D::Error> {
    let number = f64::deserialize(deserializer)?;
    // Every count and tooth number is far below 2^53, up to which f64 holds whole numbers exactly.
    if number.fract() == 0.0 && number.abs() < 9e15 {
        #[allow(clippy::cast_possible_truncation)]
        Ok(number as i64)
    } else if number.fract() == 0.0 {
        Err(de::Error::custom(format!("{number} is given, which is far too large")))
    } else {
        Err(de::Error::custom(format!("{number} is given where a whole number is needed")))
    }
}

/// A whole number from `least` to `most`, to the last digit; anything else is refused with what is allowed.
pub(crate) fn whole_number_within<'de, D: Deserializer<'de>>(
    deserializer: D,
    (least, most): (u64, u64),
) -> Result<u64, D::Error> {
    struct Within(u64, u64);
    impl Within {
        fn refused<E: de::Error>(&self, given: impl fmt::Display) -> E {
            E::custom(format!("{given} is given; allowed are whole numbers from {} to {}", self.0, self.1))
        }
    }
    impl Visitor<'_> for Within {
        type Value = u64;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            write!(f, "a whole number from {} to {}", self.0, self.1)
        }
        fn visit_u64<E: de::Error>(self, given: u64) -> Result<u64, E> {
            if (self.0..=self.1).contains(&given) { Ok(given) } else { Err(self.refused(given)) }
        }
        fn visit_i64<E: de::Error>(self, given: i64) -> Result<u64, E> {
            u64::try_from(given).map_err(|_| self.refused(given)).and_then(|given| self.visit_u64(given))
        }
        fn visit_u128<E: de::Error>(self, given: u128) -> Result<u64, E> {
            u64::try_from(given).map_err(|_| self.refused(given)).and_then(|given| self.visit_u64(given))
        }
        fn visit_i128<E: de::Error>(self, given: i128) -> Result<u64, E> {
            u64::try_from(given).map_err(|_| self.refused(given)).and_then(|given| self.visit_u64(given))
        }
        fn visit_f64<E: de::Error>(self, given: f64) -> Result<u64, E> {
            // As 1e6; f64 holds whole numbers exactly up to 2^53.
            const EXACT: f64 = 9_007_199_254_740_992.0;
            if given.fract() == 0.0 && (0.0..=EXACT).contains(&given) {
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // whole and in range
                return self.visit_u64(given as u64);
            }
            Err(self.refused(given))
        }
    }
    deserializer.deserialize_any(Within(least, most))
}

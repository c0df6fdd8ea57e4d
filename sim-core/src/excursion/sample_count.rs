//! How many samples an excursion is cut into.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use crate::facts::whole_number;

/// Samples of an excursion, both ends included: 2 or more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SampleCount(u64);

/// A number of samples that is not allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("samples is {given}; allowed are 2 to {MOST} (both ends are included)")]
pub struct NoSuchCount {
    /// The number given.
    pub given: i64,
}

/// More than a disk holds as JSON; what is past it is a slip of the key.
const MOST: i64 = 1_000_000_000;

impl SampleCount {
    /// That many samples.
    ///
    /// # Errors
    /// [`NoSuchCount`] unless 2 to 1,000,000,000.
    pub fn new(given: i64) -> Result<Self, NoSuchCount> {
        u64::try_from(given)
            .ok()
            .filter(|_| (2..=MOST).contains(&given))
            .map(Self)
            .ok_or(NoSuchCount { given })
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> u64 {
        self.0
    }
}

impl<'de> Deserialize<'de> for SampleCount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::new(whole_number(deserializer)?).map_err(de::Error::custom)
    }
}

impl Serialize for SampleCount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.get().serialize(serializer)
    }
}

//! The values that a factor takes, as a study file gives them.

use serde::{Deserialize, Deserializer, Serialize, de};

use super::distribution::Distribution;
use super::published::{PUBLISHED, Published};
use crate::setting::Near;

/// Most steps of a range; what is past it is a slip of the key.
const MOST_STEPS: u64 = 1_000_000;

/// The values of one factor.
///
/// A list, a range and a column have levels: a grid takes each of them, a random plan each of them
/// alike often. The others are distributions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Values {
    /// These values, in this order.
    List(Vec<f64>),
    /// From one value to a greater one in equal steps, both ends included: `steps` + 1 values.
    Range {
        /// First value.
        from: f64,
        /// Last value.
        to: f64,
        /// Number of steps between them, 1 or more.
        #[serde(deserialize_with = "steps")]
        steps: u64,
    },
    /// Every value between two alike.
    Uniform {
        /// Least value.
        min: f64,
        /// Greatest value.
        max: f64,
    },
    /// Normally distributed.
    Normal {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        sd: f64,
    },
    /// Normally distributed, values beyond two ends left out. Mean and deviation are those of the
    /// whole normal distribution.
    TruncatedNormal {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        sd: f64,
        /// Least value.
        min: f64,
        /// Greatest value.
        max: f64,
    },
    /// Density rising in a straight line to the mode and falling in one from there.
    Triangular {
        /// Least value.
        min: f64,
        /// Most frequent value; may be one of the ends.
        mode: f64,
        /// Greatest value.
        max: f64,
    },
    /// A published distribution by its name, one of [`PUBLISHED`].
    Published(String),
    /// The numbers in a column of a CSV file that whoever runs the study reads.
    Column {
        /// The file's name.
        file: String,
        /// The column's name in its first line.
        column: String,
    },
}

/// Why something is no set of values.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ValuesError {
    /// Not a number, or infinite.
    #[error("{field} is {given}, which is not a finite number")]
    NotFinite {
        /// The field.
        field: &'static str,
        /// The number.
        given: f64,
    },
    /// Nothing in the list.
    #[error("the list is empty; give at least one value")]
    Empty,
    /// Two ends in the wrong order.
    #[error("{low_field} is {low} and {high_field} is {high}; {low_field} must be less")]
    Ends {
        /// Name of the lower end.
        low_field: &'static str,
        /// The lower end given.
        low: f64,
        /// Name of the upper end.
        high_field: &'static str,
        /// The upper end given.
        high: f64,
    },
    /// Steps out of bounds.
    #[error("steps is {given}; allowed are 1 to {MOST_STEPS} (a range has one value more than steps)")]
    Steps {
        /// The number given.
        given: u64,
    },
    /// No spread.
    #[error("sd is {given}; a standard deviation is greater than 0 (for a fixed value leave the factor out)")]
    Deviation {
        /// The number given.
        given: f64,
    },
    /// A mode outside the ends.
    #[error("mode is {mode}; allowed are {min} to {max}, its own min and max")]
    Mode {
        /// The mode given.
        mode: f64,
        /// Least value.
        min: f64,
        /// Greatest value.
        max: f64,
    },
    /// Ends so far out that nothing of the distribution lies between them.
    #[error("nothing of a normal distribution of mean {mean} and sd {sd} lies between {min} and {max}")]
    NothingLeft {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        sd: f64,
        /// Least value.
        min: f64,
        /// Greatest value.
        max: f64,
    },
    /// No published distribution of that name.
    #[error("no published distribution is called `{name}`; {near}")]
    Unpublished {
        /// The name given.
        name: String,
        /// What is called nearly so.
        near: Near,
    },
}

impl Values {
    /// `List`, `Range`, …: the word that a study file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::List(_) => "List",
            Self::Range { .. } => "Range",
            Self::Uniform { .. } => "Uniform",
            Self::Normal { .. } => "Normal",
            Self::TruncatedNormal { .. } => "TruncatedNormal",
            Self::Triangular { .. } => "Triangular",
            Self::Published(_) => "Published",
            Self::Column { .. } => "Column",
        }
    }

    /// Checks the numbers.
    ///
    /// # Errors
    /// [`ValuesError`] with what was given and what is allowed.
    pub fn check(&self) -> Result<(), ValuesError> {
        match self {
            Self::List(list) => {
                if list.is_empty() {
                    return Err(ValuesError::Empty);
                }
                list.iter().try_for_each(|value| finite("a value of the list", *value))
            }
            Self::Range { from, to, steps } => {
                ends(("from", *from), ("to", *to))?;
                let allowed = (1..=MOST_STEPS).contains(steps);
                if allowed { Ok(()) } else { Err(ValuesError::Steps { given: *steps }) }
            }
            Self::Uniform { min, max } => ends(("min", *min), ("max", *max)),
            Self::Normal { mean, sd } => normal(*mean, *sd),
            Self::TruncatedNormal { mean, sd, min, max } => {
                normal(*mean, *sd)?;
                ends(("min", *min), ("max", *max))?;
                let left = Distribution::truncated_normal(*mean, *sd, *min, *max).is_some();
                let (mean, sd, min, max) = (*mean, *sd, *min, *max);
                if left { Ok(()) } else { Err(ValuesError::NothingLeft { mean, sd, min, max }) }
            }
            Self::Triangular { min, mode, max } => {
                ends(("min", *min), ("max", *max))?;
                let within = (*min..=*max).contains(mode);
                let (min, mode, max) = (*min, *mode, *max);
                if within { Ok(()) } else { Err(ValuesError::Mode { mode, min, max }) }
            }
            Self::Published(name) => match Published::named(name) {
                Some(_) => Ok(()),
                None => {
                    let known = PUBLISHED.iter().map(|published| published.name.to_owned());
                    Err(ValuesError::Unpublished { name: name.clone(), near: Near::to(name, known) })
                }
            },
            Self::Column { .. } => Ok(()),
        }
    }
}

fn steps<'de, D: Deserializer<'de>>(deserializer: D) -> Result<u64, D::Error> {
    crate::facts::whole_number_within(deserializer, (1, MOST_STEPS))
}

fn finite(field: &'static str, given: f64) -> Result<(), ValuesError> {
    if given.is_finite() { Ok(()) } else { Err(ValuesError::NotFinite { field, given }) }
}

fn ends(
    (low_field, low): (&'static str, f64),
    (high_field, high): (&'static str, f64),
) -> Result<(), ValuesError> {
    finite(low_field, low)?;
    finite(high_field, high)?;
    if low < high { Ok(()) } else { Err(ValuesError::Ends { low_field, low, high_field, high }) }
}

fn normal(mean: f64, sd: f64) -> Result<(), ValuesError> {
    finite("mean", mean)?;
    finite("sd", sd)?;
    if sd > 0.0 { Ok(()) } else { Err(ValuesError::Deviation { given: sd }) }
}

/// Reads values and checks them, so that the reader can say where they stand.
pub(super) fn checked<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Values, D::Error> {
    let values = Values::deserialize(deserializer)?;
    values.check().map_err(de::Error::custom)?;
    Ok(values)
}

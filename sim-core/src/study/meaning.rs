//! What a factor's values mean: a published range a distribution, values the numbers drawn from them.

use super::distribution::{Distribution, Kind};
use super::published::{Figures, Published};
use super::values::Values;
use crate::record::mounting::DEVIATIONS_IN_RANGE;

impl Published {
    /// The distribution that the figures are taken for.
    #[must_use]
    pub fn values(&self) -> Values {
        match self.figures {
            Figures::Deviation { mean, sd, range: None } => Values::Normal { mean, sd },
            Figures::Deviation { mean, sd, range: Some((min, max)) } => {
                Values::TruncatedNormal { mean, sd, min, max }
            }
            Figures::MeanAndRange { mean, range: (min, max) } => {
                Values::TruncatedNormal { mean, sd: (max - min) / DEVIATIONS_IN_RANGE, min, max }
            }
            Figures::Range(min, max) => Values::Uniform { min, max },
        }
    }
}

impl Distribution {
    /// The distribution of checked values; `None` for a column, which has numbers only where it was
    /// read, and for what [`Values::check`] refuses.
    #[must_use]
    pub fn of(values: &Values) -> Option<Self> {
        values.check().ok()?;
        let kind = match values {
            Values::List(list) => Kind::Levels(list.clone()),
            Values::Range { from, to, steps } => Kind::Levels(range(*from, *to, *steps)),
            Values::Uniform { min, max } => Kind::Uniform { min: *min, max: *max },
            Values::Normal { mean, sd } => Kind::Normal { mean: *mean, sd: *sd },
            Values::TruncatedNormal { mean, sd, min, max } => {
                return Self::truncated_normal(*mean, *sd, *min, *max);
            }
            Values::Triangular { min, mode, max } => Kind::Triangular { min: *min, mode: *mode, max: *max },
            Values::Published(name) => return Self::of(&Published::named(name)?.values()),
            Values::Column { .. } => return None,
        };
        Some(Self(kind))
    }
}

/// The values of a range. Each is reckoned from both ends, so that round numbers stay round and the
/// last is the end itself.
#[allow(clippy::cast_precision_loss)] // steps are far below 2^53
fn range(from: f64, to: f64, steps: u64) -> Vec<f64> {
    let steps_number = steps as f64;
    (0..=steps).map(|step| (from * (steps - step) as f64 + to * step as f64) / steps_number).collect()
}

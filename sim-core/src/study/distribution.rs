//! A factor's values made ready to be drawn: each from one number between 0 and 1.

use super::normal::{normal_probability, normal_quantile};

/// The values of a factor, ready to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Distribution(pub(super) Kind);

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Kind {
    /// Each alike often.
    Levels(Vec<f64>),
    Uniform {
        min: f64,
        max: f64,
    },
    Normal {
        mean: f64,
        sd: f64,
    },
    Truncated(Truncated),
    Triangular {
        min: f64,
        mode: f64,
        max: f64,
    },
}

/// A normal distribution between two ends, counted from its nearer tail so that no digits are lost
/// in the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Truncated {
    mean: f64,
    sd: f64,
    min: f64,
    max: f64,
    /// Whether it is counted from the upper tail.
    from_above: bool,
    /// Probability in the tail that is cut off on the side counted from.
    cut_off: f64,
    /// Probability between the ends.
    between: f64,
}

impl Distribution {
    pub(super) fn truncated_normal(mean: f64, sd: f64, min: f64, max: f64) -> Option<Self> {
        let (a, b) = ((min - mean) / sd, (max - mean) / sd);
        let from_above = a > 0.0;
        let (near, far) = if from_above { (-b, -a) } else { (a, b) };
        let (cut_off, end) = (normal_probability(near), normal_probability(far));
        let between = end - cut_off;
        (between > 0.0).then_some(Self(Kind::Truncated(Truncated {
            mean,
            sd,
            min,
            max,
            from_above,
            cut_off,
            between,
        })))
    }

    /// The levels, for values that have them.
    #[must_use]
    pub fn levels(&self) -> Option<&[f64]> {
        match &self.0 {
            Kind::Levels(levels) => Some(levels),
            _ => None,
        }
    }

    /// The value below which this part (between 0 and 1) of the distribution lies. Of levels, the
    /// one that holds this part when each has an equal share.
    #[must_use]
    #[inline]
    pub fn quantile(&self, part: f64) -> f64 {
        match &self.0 {
            Kind::Levels(levels) => level(levels, part),
            Kind::Uniform { min, max } => (min + part * (max - min)).clamp(*min, *max),
            Kind::Normal { mean, sd } => mean + sd * normal_quantile(part),
            Kind::Truncated(truncated) => truncated.quantile(part),
            Kind::Triangular { min, mode, max } => {
                let (width, rise) = (max - min, mode - min);
                let value = if part * width < rise {
                    min + (part * width * rise).sqrt()
                } else {
                    max - ((1.0 - part) * width * (max - mode)).sqrt()
                };
                value.clamp(*min, *max)
            }
        }
    }

    /// Least and greatest value that can come of it; infinite for a normal distribution.
    #[must_use]
    pub fn ends(&self) -> (f64, f64) {
        match &self.0 {
            Kind::Levels(levels) => {
                levels.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), level| {
                    (least.min(*level), most.max(*level))
                })
            }
            Kind::Uniform { min, max } | Kind::Triangular { min, max, .. } => (*min, *max),
            Kind::Truncated(truncated) => (truncated.min, truncated.max),
            Kind::Normal { .. } => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }
}

impl Truncated {
    #[inline]
    fn quantile(&self, part: f64) -> f64 {
        let value = if self.from_above {
            self.mean - self.sd * normal_quantile(self.cut_off + (1.0 - part) * self.between)
        } else {
            self.mean + self.sd * normal_quantile(self.cut_off + part * self.between)
        };
        value.clamp(self.min, self.max)
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // 0 to the length
fn level(levels: &[f64], part: f64) -> f64 {
    let place = ((part * levels.len() as f64) as usize).min(levels.len().saturating_sub(1));
    levels.get(place).copied().unwrap_or(f64::NAN)
}

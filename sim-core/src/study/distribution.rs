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

    /// Levels, each alike often.
    pub(super) const fn of_levels(levels: Vec<f64>) -> Self {
        Self(Kind::Levels(levels))
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
            Kind::Uniform { min, max } => uniform(*min, *max, part),
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

    /// [`Self::quantile`] of each.
    #[inline]
    pub(super) fn quantiles(&self, parts: &mut [f64]) {
        if let Kind::Uniform { min, max } = &self.0 {
            // The choice made once, what is left is done for several at a time.
            parts.iter_mut().for_each(|part| *part = uniform(*min, *max, *part));
        } else {
            parts.iter_mut().for_each(|part| *part = self.quantile(*part));
        }
    }

    /// Part of it (between 0 and 1) that lies below `least` or above `most`; all of it where `least` is the
    /// greater. Both tails keep their digits: of a normal distribution 40 deviations out there is still a number.
    #[must_use]
    pub fn part_outside(&self, least: f64, most: f64) -> f64 {
        if least > most {
            return 1.0;
        }
        match &self.0 {
            Kind::Levels(levels) => {
                let outside = levels.iter().filter(|level| **level < least || **level > most).count();
                #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
                let part = outside as f64 / levels.len().max(1) as f64;
                part
            }
            Kind::Uniform { min, max } => {
                let inside = (most.min(*max) - least.max(*min)).max(0.0);
                1.0 - inside / (max - min)
            }
            Kind::Normal { mean, sd } => {
                normal_probability((least - mean) / sd) + normal_probability((mean - most) / sd)
            }
            Kind::Truncated(truncated) => truncated.part_outside(least, most),
            Kind::Triangular { min, mode, max } => {
                // What lies above is what lies below in the mirror.
                triangle_below((*min, *mode, *max), least) + triangle_below((-max, -mode, -min), -most)
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

#[inline]
const fn uniform(min: f64, max: f64, part: f64) -> f64 {
    (min + part * (max - min)).clamp(min, max)
}

/// Part of a triangular distribution (least value, mode, greatest value) below a value.
fn triangle_below((min, mode, max): (f64, f64, f64), value: f64) -> f64 {
    let width = max - min;
    match value {
        value if value <= min => 0.0,
        value if value < mode => (value - min).powi(2) / (width * (mode - min)),
        value if value < max => 1.0 - (max - value).powi(2) / (width * (max - mode)),
        _ => 1.0,
    }
}

impl Truncated {
    fn part_outside(&self, least: f64, most: f64) -> f64 {
        let score = |value: f64| (value.clamp(self.min, self.max) - self.mean) / self.sd;
        let between = |from: f64, to: f64| {
            if from > 0.0 {
                normal_probability(-from) - normal_probability(-to)
            } else {
                normal_probability(to) - normal_probability(from)
            }
        };
        let (low, high) = (between(score(self.min), score(least)), between(score(most), score(self.max)));
        (low + high) / self.between
    }

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

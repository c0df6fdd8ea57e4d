//! Ranges that were published, as distributions that a study names.
//!
//! How a published range becomes a distribution:
//!
//! - Mean and range of many people: a normal distribution of that mean, cut off at the ends of the
//!   range. The range of 120 normal values spans some 5.1 standard deviations (expected range of a
//!   normal sample, from memory), which gives the deviation. Cutting off where the mean is not in the
//!   middle of the range moves the mean by less than a tenth of the deviation.
//! - A range alone: every value within it alike.
//!
//! Sources that state a mean alone, as most do for the condylar inclination, give no distribution
//! and are not here.

use crate::record::mounting::{ARM_MM, BALKWILL_DEG};
use crate::units::Unit;

/// A published range that a study can name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Published {
    /// The name, as in `Published("bonwill_base")`.
    pub name: &'static str,
    /// What was measured, on whom, and where it stands.
    pub source: &'static str,
    /// Unit of the numbers.
    pub unit: Unit,
    /// Mean, where one was published.
    pub mean: Option<f64>,
    /// Least and greatest value.
    pub range: (f64, f64),
}

const TOMOGRAPHY: &str =
    "120 adults by cone-beam tomography; a three-dimensional morphometric study (PubMed 26734666), abstract";

/// Every range that can be named.
pub const PUBLISHED: [Published; 5] = [
    Published {
        name: "bonwill_base",
        source: TOMOGRAPHY,
        unit: Unit::Millimetre,
        mean: Some(99.6),
        range: (85.2, 112.6),
    },
    Published {
        name: "bonwill_arm",
        source: TOMOGRAPHY,
        unit: Unit::Millimetre,
        mean: Some(103.3),
        range: ARM_MM,
    },
    Published {
        name: "bonwill_height",
        source: TOMOGRAPHY,
        unit: Unit::Millimetre,
        mean: Some(34.3),
        range: (21.0, 47.2),
    },
    Published {
        name: "balkwill_angle",
        source: TOMOGRAPHY,
        unit: Unit::Degree,
        mean: Some(20.4),
        range: BALKWILL_DEG,
    },
    Published {
        name: "lateral_angle_by_rule",
        source: "L by the H/8 + 12 rule, 20 edentulous patients; Bhawsar SV et al. 2015, abstract",
        unit: Unit::Degree,
        mean: None,
        range: (14.0, 17.0),
    },
];

impl Published {
    /// The range of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Self> {
        PUBLISHED.iter().find(|published| published.name == name)
    }
}

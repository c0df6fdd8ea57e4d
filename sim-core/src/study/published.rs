//! Distributions from the literature, which a study names.
//!
//! How published figures become a distribution:
//!
//! - Mean and deviation: a normal distribution, cut off at the ends of the range where one was stated too.
//! - Mean and range of many people: a normal distribution of that mean, cut off at the ends of the
//!   range. The range of 120 normal values spans some 5.1 standard deviations (expected range of a
//!   normal sample, from memory), which gives the deviation. Cutting off where the mean is not in the
//!   middle of the range moves the mean by less than a tenth of the deviation.
//! - A range alone: every value within it alike.
//!
//! A mean alone gives no distribution; [`MEANS_ALONE`] has those.
//!
//! A unit does not make a quantity: a Balkwill angle is in degrees and no condylar inclination. Each entry therefore
//! says which settings it may stand for, and a study may use it for no other.

use super::published_means::PublishedMean;
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;
use crate::record::mounting::{ARM_MM, BALKWILL_DEG};
use crate::setting::{Setting, SettingName};
use crate::units::Unit;

/// A distribution that a study can name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Published {
    /// The name, as in `Published("bonwill_base")`.
    pub name: &'static str,
    /// What was measured.
    pub what: &'static str,
    /// On whom, where it stands, and what of it was read.
    pub source: &'static str,
    /// Number of people.
    pub people: u32,
    /// Unit of the numbers.
    pub unit: Unit,
    /// The figures.
    pub figures: Figures,
    /// The settings that it may stand for; none for what the program asks for elsewhere.
    pub stands_for: &'static [Setting],
}

/// What a source states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figures {
    /// A mean and a standard deviation; least and greatest value where they are stated.
    Deviation {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        sd: f64,
        /// Least and greatest value.
        range: Option<(f64, f64)>,
    },
    /// A mean, and the least and the greatest value.
    MeanAndRange {
        /// Mean.
        mean: f64,
        /// Least and greatest value.
        range: (f64, f64),
    },
    /// Least and greatest value alone.
    Range(f64, f64),
}

const TOMOGRAPHY: &str =
    "120 adults by cone-beam tomography; a three-dimensional morphometric study (PubMed 26734666), abstract";

const H: Setting = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
const L: Setting = Setting::Guide(&CondylarGuide::LATERAL_ANGLE);
const I: Setting = Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION);
const WIDTH: Setting = Setting::Instrument(&Instrument::INTERCONDYLAR_DISTANCE);

/// Every distribution that can be named.
pub const PUBLISHED: [Published; 9] = [
    Published {
        name: "condylar_inclination_axiography",
        what: "sagittal condylar inclination, mean of both sides, by an electronic axiograph",
        source: "32 dental students without pain; Sagittal condylar angle and gender differences, J Prosthodont 2013, \
                 issue 7, 561–565, abstract (which names no plane of reference)",
        people: 32,
        unit: Unit::Degree,
        figures: Figures::Deviation { mean: 41.9, sd: 7.8, range: Some((26.1, 61.8)) },
        stands_for: &[H],
    },
    Published {
        name: "condylar_inclination_protrusive_record",
        what: "condylar guidance of the right side by a protrusive record in a semi-adjustable articulator",
        source: "22 patients; Keerthi GK et al., Int J Prosthodont Restor Dent 2020;10:158–162, abstract",
        people: 22,
        unit: Unit::Degree,
        figures: Figures::Deviation { mean: 17.04, sd: 6.61, range: None },
        stands_for: &[H],
    },
    Published {
        name: "lateral_angle_by_rule",
        what: "lateral condylar angle as the rule H/8 + 12 gives it",
        source: "20 edentulous patients; Bhawsar SV et al. 2015, abstract",
        people: 20,
        unit: Unit::Degree,
        figures: Figures::Range(14.0, 17.0),
        stands_for: &[L],
    },
    Published {
        name: "immediate_translation_reported",
        what: "immediate lateral translation, from none to the most that any study of a review reports: a range to try, \
               no population",
        source: "914 people in 23 studies; Taylor TD et al., systematic review of 2016 (PubMed 26723093), abstract",
        people: 914,
        unit: Unit::Millimetre,
        figures: Figures::Range(0.0, 3.0),
        stands_for: &[I],
    },
    Published {
        name: "occlusal_plane_inclination",
        what: "angle of the occlusal plane to the eye-ear (Frankfort) plane, on photographs; a plane through the hinge axis \
               stands off it by a few degrees",
        source: "150 dentate adults of 18 to 40 years, orthognathic profile; Kumar S, Garg S, Gupta S, J Adv Prosthodont \
                 2013;5:9–15, abstract",
        people: 150,
        unit: Unit::Degree,
        figures: Figures::Deviation { mean: 11.96, sd: 4.36, range: None },
        stands_for: &[Setting::OcclusalPlane],
    },
    Published {
        name: "bonwill_base",
        what: "base of Bonwill’s triangle, from condyle to condyle",
        source: TOMOGRAPHY,
        people: 120,
        unit: Unit::Millimetre,
        figures: Figures::MeanAndRange { mean: 99.6, range: (85.2, 112.6) },
        stands_for: &[WIDTH],
    },
    Published {
        name: "bonwill_arm",
        what: "arm of Bonwill’s triangle, from a condyle to the lower incisal point",
        source: TOMOGRAPHY,
        people: 120,
        unit: Unit::Millimetre,
        figures: Figures::MeanAndRange { mean: 103.3, range: ARM_MM },
        stands_for: &[],
    },
    Published {
        name: "bonwill_height",
        what: "height of Bonwill’s triangle over the occlusal plane",
        source: TOMOGRAPHY,
        people: 120,
        unit: Unit::Millimetre,
        figures: Figures::MeanAndRange { mean: 34.3, range: (21.0, 47.2) },
        stands_for: &[],
    },
    Published {
        name: "balkwill_angle",
        what: "Balkwill angle, between Bonwill’s triangle and the occlusal plane",
        source: TOMOGRAPHY,
        people: 120,
        unit: Unit::Degree,
        figures: Figures::MeanAndRange { mean: 20.4, range: BALKWILL_DEG },
        stands_for: &[],
    },
];

/// Means that were published without a spread: for a distribution of one's own about them.
pub const MEANS_ALONE: [PublishedMean; 6] = [
    PublishedMean {
        stands_for: H,
        means: &[("left", 32.0), ("right", 31.5)],
        source: "103 dentate subjects by a mandibular facebow; Johnson A, Winstanley RB, J Oral Rehabil 1997, abstract",
    },
    PublishedMean {
        stands_for: H,
        means: &[("both sides", 41.66)],
        source: "50 healthy subjects by an electronic axiograph; Ghodsi S, Rasaeipour S, Dent Hypotheses 2018;9:84–89, \
                 abstract",
    },
    PublishedMean {
        stands_for: L,
        means: &[("both sides", 10.1)],
        source: "50 healthy subjects by an electronic axiograph; Ghodsi S, Rasaeipour S, Dent Hypotheses 2018;9:84–89, \
                 abstract",
    },
    PublishedMean {
        stands_for: L,
        means: &[("both sides", 7.7)],
        source: "98 participants of all Angle classes by ultrasound; J Prosthet Dent 2016;115:729–735, abstract",
    },
    PublishedMean {
        stands_for: I,
        means: &[("women", 0.8), ("men", 1.68)],
        source: "50 patients before a full-mouth rehabilitation, stereographic; Zakaria MR, J Bagh Coll Dent, abstract",
    },
    PublishedMean {
        stands_for: WIDTH,
        means: &[("men", 106.72), ("women", 102.59)],
        source: "80 adults by cone-beam tomography; Evaluation of Bonwill’s triangle parameters for gender \
                 determination, abstract",
    },
];

impl Published {
    /// The distribution of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Self> {
        PUBLISHED.iter().find(|published| published.name == name)
    }

    /// Whether a setting, of whichever side, may take it.
    #[must_use]
    pub fn may_stand_for(&self, name: &SettingName) -> bool {
        self.stands_for.iter().any(|setting| name.is(*setting))
    }
}

impl Figures {
    /// The mean, where one is stated.
    #[must_use]
    pub const fn mean(&self) -> Option<f64> {
        match self {
            Self::Deviation { mean, .. } | Self::MeanAndRange { mean, .. } => Some(*mean),
            Self::Range(..) => None,
        }
    }

    /// The standard deviation, where one is stated.
    #[must_use]
    pub const fn sd(&self) -> Option<f64> {
        match self {
            Self::Deviation { sd, .. } => Some(*sd),
            Self::MeanAndRange { .. } | Self::Range(..) => None,
        }
    }

    /// Least and greatest value, where they are stated.
    #[must_use]
    pub const fn range(&self) -> Option<(f64, f64)> {
        match self {
            Self::Deviation { range, .. } => *range,
            Self::MeanAndRange { range, .. } => Some(*range),
            Self::Range(least, greatest) => Some((*least, *greatest)),
        }
    }
}

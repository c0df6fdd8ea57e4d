//! What to doubt in a programmed instrument, in numbers.
//!
//! ```
//! use sim_core::practice::{Fault, Level, deal};
//! use sim_core::record::warning::{SHORT_PROTRUSION_MM, Warning};
//!
//! // An invented patient whose protrusive record does not go far enough.
//! let case = deal(1, Level::First, &[Fault::ShortProtrusion])?.case;
//! let warnings = case.program()?.warnings;
//! let distance = warnings.iter().find_map(|warning| match warning {
//!     Warning::ShortProtrusion { distance, .. } => Some(distance.mm()),
//!     _ => None,
//! });
//! assert!(distance.expect("it is warned of") < SHORT_PROTRUSION_MM);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use super::kind::RecordKind;
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::units::{Angle, Length};

/// Protrusion at which a record is taken, along the tracing (common practice, no source).
pub const USUAL_PROTRUSION_MM: f64 = 6.0;
/// A protrusion of less, along the tracing, is short (common practice, no source).
pub const SHORT_PROTRUSION_MM: f64 = 5.0;
/// Sides that advance so unlike are no straight protrusion (common practice, no source).
pub(crate) const UNEQUAL_ADVANCE_MM: f64 = 0.5;
/// Inclinations that instruments and studies commonly span (common practice, no source; the means of
/// 103 subjects are 31.5° and 32°, Recording sagittal condylar angles using a mandibular facebow).
pub(crate) const USUAL_INCLINATION_DEG: (f64, f64) = (15.0, 60.0);
/// Lateral angles commonly set (common practice, no source; the rule H/8 + 12 gave 14–17° in 20
/// edentulous patients, Bhawsar SV et al. 2015, abstract).
pub(crate) const USUAL_LATERAL_DEG: (f64, f64) = (0.0, 30.0);

/// One thing to doubt.
#[derive(Clone, Debug, PartialEq)]
pub enum Warning {
    /// No repeat of the centric record.
    Unconfirmed,
    /// The casts were mounted by averages.
    AverageMounting {
        /// Standard deviation of a Bonwill arm between people.
        arm: Length,
        /// Standard deviation of the Balkwill angle between people.
        balkwill: Angle,
    },
    /// A protrusion shorter than usual.
    ShortProtrusion {
        /// Its place in the list of records, from 0.
        record: usize,
        /// How far it goes along the occlusal plane, as a tracing shows it.
        distance: Length,
        /// Advance of the right condyle.
        right: Length,
        /// Advance of the left condyle.
        left: Length,
    },
    /// A protrusion to one side.
    UnequalAdvance {
        /// Its place in the list of records, from 0.
        record: usize,
        /// Advance of the right condyle.
        right: Length,
        /// Advance of the left condyle.
        left: Length,
    },
    /// A landmark that does not fit the others.
    BadLandmark {
        /// Place of the record in the list of records, from 0.
        record: usize,
        /// Its place in the list of landmarks, from 0.
        landmark: usize,
        /// Its misfit.
        misfit: Length,
        /// What the stated noise would leave.
        expected: Length,
    },
    /// The bearing point has not gone through a record: it may not have been where the tracing was made.
    NotPerforated {
        /// Its place in the list of records, from 0.
        record: usize,
        /// What was recorded.
        kind: RecordKind,
    },
    /// A scale read once: how well the closing repeats is not known.
    ReadOnce {
        /// Place of the record in the list of records, from 0.
        record: usize,
        /// The guide.
        side: Side,
    },
    /// Gaps that no angle of the guides closes.
    GapsUnlike {
        /// Place of the record in the list of records, from 0.
        record: usize,
        /// Root mean square of what is left.
        left: Length,
        /// What the caliper's noise would leave.
        expected: Length,
    },
    /// Fewer grooves than the usual six.
    FewGrooves {
        /// Their number.
        given: usize,
    },
    /// The rods of the face-bow read unlike: the bow is not in the middle, or the face is not even.
    UnequalRods {
        /// What the right one reads.
        right: Length,
        /// What the left one reads.
        left: Length,
    },
    /// An axis by rule, in a case without coordinates: what it adds to the error is not known.
    AxisByRule,
    /// An angle that few people have.
    Unusual {
        /// The guide.
        side: Side,
        /// Which of its angles.
        setting: GuideAngle,
        /// The angle.
        angle: Angle,
        /// The usual range in degrees.
        usual_deg: (f64, f64),
    },
    /// A lateral angle by rule.
    ByRule {
        /// The guide.
        side: Side,
    },
    /// No incisal point is given: the scene takes the foremost landmark.
    IncisalPointAssumed {
        /// The landmark's place in its list, from 0.
        landmark: usize,
    },
    /// No incisal point is given, and no landmark could stand for it: the scene takes the example's.
    IncisalPointOfTheExample,
    /// No occlusal plane is given for the cusps to be measured from.
    OcclusalPlaneAssumed {
        /// The inclination taken.
        inclination: Angle,
    },
    /// The occlusal plane is not level from side to side, as a scene's is.
    OcclusalPlaneTilted {
        /// Its tilt, the left side up.
        tilt: Angle,
    },
    /// A record in which the condyle that should stay has moved most, as when sides are swapped.
    WrongCondyle {
        /// Its place in the list of records, from 0.
        record: usize,
        /// What it is given as.
        kind: RecordKind,
        /// Advance of the condyle that should orbit.
        orbiting: Length,
        /// Advance of the condyle that should stay.
        working: Length,
    },
    /// No anterior guide is given: the scene takes a level table.
    AnteriorGuideAssumed,
}

/// An angle that a guide is programmed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GuideAngle {
    /// The horizontal condylar inclination.
    HorizontalInclination,
    /// The lateral condylar angle.
    LateralAngle,
}

impl GuideAngle {
    /// Name, unit, range and meaning of the setting.
    #[must_use]
    pub const fn facts(self) -> &'static Facts {
        match self {
            Self::HorizontalInclination => &CondylarGuide::HORIZONTAL_INCLINATION.facts,
            Self::LateralAngle => &CondylarGuide::LATERAL_ANGLE.facts,
        }
    }
}

//! What to doubt in a programmed instrument, in numbers.
//!
//! ```
//! use sim_core::practice::{Fault, Level, deal};
//! use sim_core::record::warning::{USUAL_PROTRUSION_MM, Warning};
//!
//! // An invented patient whose protrusive record does not go far enough.
//! let case = deal(1, Level::First, &[Fault::ShortProtrusion])?.case;
//! let warnings = case.program()?.warnings;
//! let advance = warnings.iter().find_map(|warning| match warning {
//!     Warning::ShortProtrusion { advance, .. } => Some(advance.mm()),
//!     _ => None,
//! });
//! assert!(advance.expect("it is warned of") < USUAL_PROTRUSION_MM);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use super::case::{Case, MountingFields, NamedAxis, RecordFields, SIX_GROOVES};
use super::from_gaps::GapFit;
use super::kind::RecordKind;
use super::mounting;
use super::read_record::ReadRecord;
use super::settings::{SideSettings, Source};
use super::split_cast::SplitCast;
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::units::{Angle, Length};

/// Protrusion at which a record is taken (common practice, no source).
pub const USUAL_PROTRUSION_MM: f64 = 6.0;
/// Sides that advance so unlike are no straight protrusion (common practice, no source).
pub(crate) const UNEQUAL_ADVANCE_MM: f64 = 0.5;
/// Rods that read so unlike are not those of a bow in the middle (common practice, no source).
const UNEQUAL_RODS_MM: f64 = 3.0;
/// A landmark is said to fit badly past so many standard deviations of its misfit: one in some
/// fifteen thousand does by chance.
const BAD_FIT_DEVIATIONS: f64 = 4.0;
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
        /// Mean advance of the condyles.
        advance: Length,
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

/// Everything to doubt in a case, records first.
pub(super) fn warnings(
    case: &Case,
    records: &[ReadRecord],
    centric: Option<&SplitCast>,
    gaps: Option<&GapFit>,
    settings: Option<&[SideSettings; 2]>,
) -> Vec<Warning> {
    let mut found = Vec::new();
    if centric.is_none() {
        found.push(Warning::Unconfirmed);
    }
    if matches!(case.mounting, MountingFields::Average { .. }) {
        found.push(Warning::AverageMounting {
            arm: mounting::arm_deviation(),
            balkwill: mounting::balkwill_deviation(),
        });
    }
    of_the_bow(&case.mounting, &mut found);
    if case.has_grooves() && case.groove_places().is_some_and(|places| places.len() < SIX_GROOVES.len()) {
        found.push(Warning::FewGrooves { given: case.groove_places().map_or(0, <[_]>::len) });
    }
    for (index, (record, given)) in records.iter().zip(&case.records).enumerate() {
        of_record(index, record, &mut found);
        if let Some(landmarks) = &case.lower_landmarks {
            bad_landmarks(index, record, landmarks.sd_mm.length(), &mut found);
        }
        of_the_bench(index, given, gaps, &mut found);
    }
    for (side, own) in Side::BOTH.into_iter().zip(settings.into_iter().flatten()) {
        let usual = [
            (GuideAngle::HorizontalInclination, &own.horizontal_inclination, USUAL_INCLINATION_DEG),
            (GuideAngle::LateralAngle, &own.lateral_angle, USUAL_LATERAL_DEG),
        ];
        for (setting, read, usual_deg) in usual {
            let angle = read.angle.value;
            if angle.degrees() < usual_deg.0 || angle.degrees() > usual_deg.1 {
                found.push(Warning::Unusual { side, setting, angle, usual_deg });
            }
        }
        if own.lateral_angle.from == Source::Rule {
            found.push(Warning::ByRule { side });
        }
    }
    found
}

fn of_the_bow(mounting: &MountingFields, found: &mut Vec<Warning>) {
    let MountingFields::Named { axis, rods_mm, .. } = mounting else { return };
    if matches!(axis, NamedAxis::Arbitrary(_)) {
        found.push(Warning::AxisByRule);
    }
    if let Some(rods) = rods_mm {
        let (right, left) = (rods.of(Side::Right), rods.of(Side::Left));
        if (right - left).mm().abs() > UNEQUAL_RODS_MM {
            found.push(Warning::UnequalRods { right, left });
        }
    }
}

fn of_the_bench(record: usize, given: &RecordFields, gaps: Option<&GapFit>, found: &mut Vec<Warning>) {
    if given.perforated() == Some(false) {
        found.push(Warning::NotPerforated { record, kind: given.kind() });
    }
    if let RecordFields::ScaleReadings(readings) = given {
        let once = Side::BOTH.into_iter().filter(|side| readings.of(*side).len() == 1);
        found.extend(once.map(|side| Warning::ReadOnce { record, side }));
    }
    let of_this = |fit: &GapFit| fit.records.iter().find(|fitted| fitted.record == record).cloned();
    if let Some(fitted) = gaps.and_then(of_this) {
        // Three of the numbers are spent on the two angles and the turn.
        let free = fitted.residuals.len().saturating_sub(3) as f64;
        let expected = Length::from_mm(fitted.sd.mm() * (free / fitted.residuals.len().max(1) as f64).sqrt());
        // The root mean square of n normal numbers is off by 1/√(2n) of itself.
        if free > 0.0 && fitted.rms().mm() > expected.mm() * (1.0 + BAD_FIT_DEVIATIONS / (2.0 * free).sqrt())
        {
            found.push(Warning::GapsUnlike { record, left: fitted.rms(), expected });
        }
    }
}

fn of_record(record: usize, read: &ReadRecord, found: &mut Vec<Warning>) {
    let Some(reading) = &read.reading else { return };
    let (right, left) = (reading.right.advance, reading.left.advance);
    let orbiting = match read.kind {
        RecordKind::Centric => return,
        RecordKind::Protrusive => {
            let advance = (right + left) * 0.5;
            // What rounding takes from six is not a short record.
            if advance.mm() < USUAL_PROTRUSION_MM - 0.005 {
                found.push(Warning::ShortProtrusion { record, advance });
            }
            if (right - left).mm().abs() > UNEQUAL_ADVANCE_MM {
                found.push(Warning::UnequalAdvance { record, right, left });
            }
            return;
        }
        RecordKind::RightLateral => Side::Left,
        RecordKind::LeftLateral => Side::Right,
    };
    let (orbiting, working) =
        (reading.condyle(orbiting).advance, reading.condyle(orbiting.opposite()).advance);
    if working > orbiting {
        found.push(Warning::WrongCondyle { record, kind: read.kind, orbiting, working });
    }
}

/// A misfit is that of two measured points less what the fit takes up of it: with n landmarks six of
/// 3n numbers are spent, so its mean square is 3·2σ²·(1 − 2/n).
fn bad_landmarks(record: usize, read: &ReadRecord, sd: Length, found: &mut Vec<Warning>) {
    let count = read.residuals.len() as f64;
    let expected = sd.mm() * (6.0 * (1.0 - 2.0 / count)).max(0.0).sqrt();
    let limit = sd.mm() * (BAD_FIT_DEVIATIONS * std::f64::consts::SQRT_2);
    for (landmark, misfit) in read.residuals.iter().enumerate() {
        if misfit.mm() > limit.max(1e-6) {
            found.push(Warning::BadLandmark {
                record,
                landmark,
                misfit: *misfit,
                expected: Length::from_mm(expected),
            });
        }
    }
}

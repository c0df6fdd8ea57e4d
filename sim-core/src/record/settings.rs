//! Settings read off records, each with its standard error.

use nalgebra::{Matrix2, Vector2};

use super::kind::RecordKind;
use super::reading::RecordReading;
use crate::frame::Side;
use crate::units::{Angle, Length};

/// An angle read off records.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadAngle {
    /// The angle; for a curved path the chord from the seat to the record, not the tangent.
    pub value: Angle,
    /// Its standard error from the noise of the landmarks, and for a mounting by averages also from
    /// the spread between people; `None` where nothing says how noisy the records are, and for an angle
    /// by rule, whose error nobody knows.
    pub standard_error: Option<Angle>,
    /// The share of it that is the spread of a mounting by averages; `None` for a face-bow.
    pub mounting_error: Option<Angle>,
    /// Standard deviation between repeats of the record; `None` for a single record.
    pub scatter: Option<Angle>,
    /// Number of records pooled.
    pub records: usize,
}

/// The settings of one guide.
#[derive(Clone, Debug, PartialEq)]
pub struct SideSettings {
    /// Horizontal condylar inclination.
    pub horizontal_inclination: ProgrammedAngle,
    /// Lateral condylar angle.
    pub lateral_angle: ProgrammedAngle,
}

/// One setting with where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct ProgrammedAngle {
    /// The angle and how sure it is.
    pub angle: ReadAngle,
    /// Where it comes from.
    pub from: Source,
}

/// Where a setting comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A record.
    Record(RecordKind),
    /// The rule L = H/8 + 12, for want of a lateral record.
    Rule,
}

/// Why an angle cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum UnreadableAngle {
    /// No record to read.
    #[error("no record shows it")]
    NoRecord,
    /// The condyle has not moved forward.
    #[error(
        "the {side} condyle has advanced {advance_mm:.2} mm; at least {LEAST_ADVANCE_MM} mm are needed to read an angle"
    )]
    NoAdvance {
        /// The side.
        side: Side,
        /// Advance found, in millimetres.
        advance_mm: f64,
    },
    /// An open guide that is not surely on its sphere.
    #[error(
        "the open guide of the {side} side may stand off its sphere at {:.1}°: the split closes, and the inclination is at least that; set it steeper until the gap opens, or turn it until it touches and read the scale",
        at_least.degrees()
    )]
    StandsOff {
        /// The side.
        side: Side,
        /// What it is set to.
        at_least: Angle,
    },
}

/// Shorter advances show noise, not an angle.
pub(crate) const LEAST_ADVANCE_MM: f64 = 0.5;

/// Horizontal condylar inclination H = atan2(v, a) of one side from repeats of one record, pooled.
///
/// The standard error is that of the covariance of landmarks propagated to the angle; repeats are
/// averaged, each weighing alike, and share the centric landmarks, so that their errors are taken as
/// correlated by half (each record's error is half its own noise and half the centric's).
///
/// # Errors
/// [`UnreadableAngle`] without a record, or where the condyle has hardly advanced.
pub(crate) fn horizontal_inclination(
    side: Side,
    records: &[&RecordReading],
) -> Result<ReadAngle, UnreadableAngle> {
    pooled(side, records, |record| {
        let condyle = record.condyle(side);
        let (a, v) = (condyle.advance.mm(), condyle.drop.mm());
        (a, v, record.sagittal_covariance(side))
    })
}

/// Lateral condylar angle L = atan2(m − i, a) of the orbiting side from repeats of one lateral
/// record, with the immediate translation i subtracted. Pooled as [`horizontal_inclination`].
///
/// # Errors
/// [`UnreadableAngle`] without a record, or where the condyle has hardly advanced.
pub(crate) fn lateral_angle(
    orbiting: Side,
    immediate_translation: Length,
    records: &[&RecordReading],
) -> Result<ReadAngle, UnreadableAngle> {
    pooled(orbiting, records, |record| {
        let condyle = record.condyle(orbiting);
        let m = condyle.medial.mm() - immediate_translation.mm();
        let covariance = record.covariance(orbiting).map(|whole| whole.fixed_view::<2, 2>(0, 0).into());
        (condyle.advance.mm(), m, covariance)
    })
}

/// The lateral angle by the rule L = H/8 + 12 degrees: a fallback, to be labelled as one, when no
/// lateral record exists (common practice, no source).
#[must_use]
pub fn lateral_angle_by_rule(horizontal_inclination: Angle) -> Angle {
    Angle::from_degrees(horizontal_inclination.degrees() / 8.0 + 12.0)
}

/// Averages atan2(across, ahead) over records.
fn pooled(
    side: Side,
    records: &[&RecordReading],
    read: impl Fn(&RecordReading) -> (f64, f64, Option<Matrix2<f64>>),
) -> Result<ReadAngle, UnreadableAngle> {
    if records.is_empty() {
        return Err(UnreadableAngle::NoRecord);
    }
    let mut angles = Vec::with_capacity(records.len());
    let mut variances = Vec::with_capacity(records.len());
    for record in records {
        let (ahead, across, covariance) = read(record);
        if ahead < LEAST_ADVANCE_MM {
            return Err(UnreadableAngle::NoAdvance { side, advance_mm: ahead });
        }
        angles.push(across.atan2(ahead));
        // d atan2 = (ahead·d across − across·d ahead) / (ahead² + across²)
        let slope = Vector2::new(-across, ahead) / (ahead * ahead + across * across);
        variances.push(covariance.map(|whole| (slope.transpose() * whole * slope)[(0, 0)]));
    }
    let count = angles.len() as f64;
    let mean = angles.iter().sum::<f64>() / count;
    let scatter = (angles.len() > 1).then(|| {
        let squares: f64 = angles.iter().map(|angle| (angle - mean).powi(2)).sum();
        Angle::from_radians((squares / (count - 1.0)).sqrt())
    });
    let known: Option<Vec<f64>> = variances.into_iter().collect();
    let standard_error = match (known, scatter) {
        (Some(variances), _) => {
            let single = variances.iter().sum::<f64>() / count;
            Some(Angle::from_radians((single * (0.5 + 0.5 / count)).sqrt()))
        }
        (None, Some(scatter)) => Some(Angle::from_radians(scatter.radians() / count.sqrt())),
        (None, None) => None,
    };
    Ok(ReadAngle {
        value: Angle::from_radians(mean),
        standard_error,
        mounting_error: None,
        scatter,
        records: records.len(),
    })
}

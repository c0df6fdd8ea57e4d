//! From gaps at the grooves to the angles that close them, over both guides and all records at once.
//!
//! Least squares of the model of [`super::trial`]: the gaps it has between a record of a jaw with the
//! wanted inclinations and guides at the trial's, each weighed by the caliper's standard deviation. The
//! turn about the axis is found with the rest, one a record, not taken from the groove that touches:
//! where two grooves nearly touch, which one does is within the caliper's noise, and the gaps would be
//! no smooth function of the angles. It costs little (the standard error of H is some fifth larger for
//! the six usual grooves) and leaves standard errors that are true.
//!
//! A sideways step of the orbiting guide carries the whole secondary base along the axis and opens no
//! gap at all: without `aside_mm` a lateral record by gaps shows the inclination of the orbiting guide
//! only.

use nalgebra::{DMatrix, DVector};

use super::bench_record::{GrooveGaps, GuideHold};
use super::kind::RecordKind;
use super::settings::{LEAST_ADVANCE_MM, ReadAngle, UnreadableAngle};
use super::trial::{SeatedRecord, Shift, TrialError};
use crate::frame::{PerSide, Side, UpperPoint};
use crate::instrument::Design;
use crate::units::{Angle, Length};

/// Step of the central differences, in radians: its error is some 1e-9 of a slope.
const STEP: f64 = 1e-6;
/// A step below this, in radians, ends the search.
const SETTLED: f64 = 1e-14;
/// What only rounding still moves has settled too: to 1e-10 rad.
const NEARLY_SETTLED: f64 = 1e-10;
/// Gauss and Newton's steps settle in some six; a fit that has not by then does not.
const MOST_STEPS: usize = 40;
/// Directions that change the gaps less than this part of the strongest are not determined.
const WEAK: f64 = 1e-7;
/// An open guide is surely too steep from so many standard errors on.
const SURE_DEVIATIONS: f64 = 3.0;
/// No trial leads farther than this, in radians: past it the tangents run away.
const STEEPEST: f64 = 1.5;

/// One gap record with what the case knows of it.
pub(super) struct GapRecord<'c> {
    /// Its place in the list of records, from 0.
    pub(super) index: usize,
    pub(super) given: &'c GrooveGaps,
    /// Advance of the right and left sphere.
    pub(super) advance: [Length; 2],
    /// Immediate translation of the right and left guide.
    pub(super) immediate: [Length; 2],
}

/// What the gaps of a case say.
#[derive(Clone, Debug, PartialEq)]
pub struct GapFit {
    /// Horizontal inclination of each guide; `None` for one that no record guides.
    pub horizontal_inclination: PerSide<Option<ReadAngle>>,
    /// Lateral angle of each guide; `None` for one that no step aside shows.
    pub lateral_angle: PerSide<Option<ReadAngle>>,
    /// Each record as it is understood, with what the caliper measured beyond it.
    pub records: Vec<FittedGaps>,
}

/// One record of gaps, understood.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedGaps {
    /// Its place in the list of records, from 0.
    pub record: usize,
    /// The record as the fitted angles have it.
    pub seated: SeatedRecord,
    /// Measured gaps less the model's, in the order of the grooves.
    pub residuals: Vec<Length>,
    /// Standard deviation of the caliper.
    pub sd: Length,
}

impl FittedGaps {
    /// Root mean square of the residuals.
    #[must_use]
    pub fn rms(&self) -> Length {
        let square: f64 = self.residuals.iter().map(|gap| gap.mm() * gap.mm()).sum();
        Length::from_mm((square / self.residuals.len().max(1) as f64).sqrt())
    }
}

/// Why gaps give no angles.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum GapFitError {
    /// The split cannot be brought together.
    #[error("{0}")]
    Trial(#[from] TrialError),
    /// An angle that cannot be read.
    #[error("{0}")]
    Unreadable(#[from] UnreadableAngle),
    /// A pattern that does not settle, or grooves in one line.
    #[error(
        "the gaps at these grooves do not determine the angles; at least three grooves, not in one line, are needed"
    )]
    Undetermined,
}

/// The places of the unknowns: H right and left, L right and left, then one turn a record.
struct Unknowns {
    inclination: [Option<usize>; 2],
    lateral: [Option<usize>; 2],
    first_turn: usize,
    count: usize,
}

/// Fits all gap records of a case; centric ones are left out.
///
/// # Errors
/// [`GapFitError`] where a sphere has not advanced, an open guide may stand off, or the grooves do not
/// determine the angles.
pub(super) fn fit(
    records: &[GapRecord<'_>],
    grooves: &[UpperPoint],
    design: Design,
    distance: Length,
    hold: GuideHold,
) -> Result<GapFit, GapFitError> {
    let records: Vec<&GapRecord<'_>> =
        records.iter().filter(|record| record.given.record != RecordKind::Centric).collect();
    let model = Model { records: &records, grooves, design, distance_mm: distance.mm() };
    let unknowns = model.unknowns()?;
    let mut at = model.start(&unknowns);
    let mut settled = false;
    for _ in 0..MOST_STEPS {
        let residuals = model.residuals(&unknowns, &at)?;
        let slopes = model.slopes(&unknowns, &at)?;
        let step = solve(&slopes, &residuals)?;
        at = (at + &step).map(|angle| angle.clamp(-STEEPEST, STEEPEST));
        if step.amax() <= SETTLED {
            settled = true;
            break;
        }
    }
    let last = solve(&model.slopes(&unknowns, &at)?, &model.residuals(&unknowns, &at)?)?;
    if !settled && (last.amax().is_nan() || last.amax() > NEARLY_SETTLED) {
        return Err(GapFitError::Undetermined);
    }
    let slopes = model.slopes(&unknowns, &at)?;
    let covariance = (slopes.transpose() * &slopes).try_inverse().ok_or(GapFitError::Undetermined)?;
    let read = |column: Option<usize>, count: usize| {
        column.map(|column| ReadAngle {
            value: Angle::from_radians(at[column]),
            standard_error: Some(Angle::from_radians(covariance[(column, column)].max(0.0).sqrt())),
            mounting_error: None,
            scatter: None,
            records: count,
        })
    };
    let guided = |side: Side| records.iter().filter(|record| record.given.record.is_guided(side)).count();
    let stepped = |side: Side| records.iter().filter(|record| shows_lateral(record.given, side)).count();
    let horizontal_inclination = PerSide::of(|side| read(unknowns.inclination[side as usize], guided(side)));
    if hold == GuideHold::Open {
        surely_held(&records, &horizontal_inclination)?;
    }
    let understood = records.iter().enumerate().map(|(number, record)| {
        let residuals = model.of_record(number, &unknowns, &at)?;
        Ok(FittedGaps {
            record: record.index,
            seated: model.seated(number, &unknowns, &at),
            residuals: residuals
                .iter()
                .take(grooves.len())
                .map(|part| Length::from_mm(part * record.given.sd_mm.length().mm()))
                .collect(),
            sd: record.given.sd_mm.length(),
        })
    });
    Ok(GapFit {
        lateral_angle: PerSide::of(|side| read(unknowns.lateral[side as usize], stepped(side))),
        records: understood.collect::<Result<_, GapFitError>>()?,
        horizontal_inclination,
    })
}

fn shows_lateral(given: &GrooveGaps, side: Side) -> bool {
    given.record != RecordKind::Protrusive && given.record.is_guided(side) && given.aside_mm.is_some()
}

/// An open guide closes the split whether it touches its sphere or stands off: only one that is surely
/// too steep says where the sphere is.
fn surely_held(
    records: &[&GapRecord<'_>],
    inclination: &PerSide<Option<ReadAngle>>,
) -> Result<(), GapFitError> {
    for side in Side::BOTH {
        let Some(read) = &inclination[side] else { continue };
        let error = read.standard_error.unwrap_or(Angle::ZERO) * SURE_DEVIATIONS;
        for record in records.iter().filter(|record| record.given.record.is_guided(side)) {
            let at_least = Angle::from_degrees(record.given.set_at.inclination_deg(side));
            if read.value + error > at_least {
                return Err(UnreadableAngle::StandsOff { side, at_least }.into());
            }
        }
    }
    Ok(())
}

struct Model<'r> {
    records: &'r [&'r GapRecord<'r>],
    grooves: &'r [UpperPoint],
    design: Design,
    distance_mm: f64,
}

impl Model<'_> {
    fn unknowns(&self) -> Result<Unknowns, GapFitError> {
        let mut unknowns = Unknowns { inclination: [None; 2], lateral: [None; 2], first_turn: 0, count: 0 };
        for side in Side::BOTH {
            let of_side = || self.records.iter().filter(move |record| record.given.record.is_guided(side));
            for record in of_side() {
                let advance_mm = record.advance[side as usize].mm();
                if advance_mm < LEAST_ADVANCE_MM {
                    return Err(UnreadableAngle::NoAdvance { side, advance_mm }.into());
                }
            }
            if of_side().next().is_some() {
                unknowns.inclination[side as usize] = Some(unknowns.count);
                unknowns.count += 1;
            }
            if of_side().any(|record| shows_lateral(record.given, side)) {
                unknowns.lateral[side as usize] = Some(unknowns.count);
                unknowns.count += 1;
            }
        }
        unknowns.first_turn = unknowns.count;
        unknowns.count += self.records.len();
        Ok(unknowns)
    }

    /// The trial's own angles, without a turn.
    fn start(&self, unknowns: &Unknowns) -> DVector<f64> {
        let mut at = DVector::zeros(unknowns.count);
        for record in self.records {
            for side in Side::BOTH {
                let set = &record.given.set_at;
                if let Some(column) = unknowns.inclination[side as usize] {
                    at[column] = set.inclination_deg(side).to_radians();
                }
                if let (Some(column), Some(lateral)) =
                    (unknowns.lateral[side as usize], set.lateral_deg(side))
                {
                    at[column] = lateral.to_radians();
                }
            }
        }
        at
    }

    /// The record as a jaw with these angles would make it.
    fn seated(&self, number: usize, unknowns: &Unknowns, at: &DVector<f64>) -> SeatedRecord {
        let record = self.records[number];
        let kind = record.given.record;
        let mut asked = Side::BOTH.map(|side| {
            let advance = record.advance[side as usize].mm();
            let inclination = unknowns.inclination[side as usize].map_or(0.0, |column| at[column]);
            let drop = if kind.is_guided(side) { advance * inclination.tan() } else { 0.0 };
            Shift { advance, medial: 0.0, drop }
        });
        let sense = match self.design {
            Design::Arcon => 1.0,
            Design::NonArcon => -1.0,
        };
        let apart = [asked[1].advance - asked[0].advance, asked[1].drop - asked[0].drop];
        let across = self.distance_mm * self.distance_mm - apart[0] * apart[0] - apart[1] * apart[1];
        let together = sense * (self.distance_mm - across.max(0.0).sqrt());
        match kind.orbiting() {
            None => asked.iter_mut().for_each(|shift| shift.medial = together / 2.0),
            Some(side) => {
                let medial = self.medial_mm(number, side, unknowns, at);
                asked[side as usize].medial = medial;
                asked[side.opposite() as usize].medial = together - medial;
            }
        }
        let opening = Angle::from_degrees(record.given.opening_deg);
        SeatedRecord::of_spheres(kind, asked, opening, self.design, self.distance_mm)
    }

    /// Medial shift of the orbiting sphere by the fitted lateral angle; by the trial's where none is.
    fn medial_mm(&self, number: usize, side: Side, unknowns: &Unknowns, at: &DVector<f64>) -> f64 {
        let fitted = unknowns.lateral[side as usize].map(|column| at[column]);
        self.medial_at(number, side, fitted)
    }

    fn medial_at(&self, number: usize, side: Side, lateral: Option<f64>) -> f64 {
        let record = self.records[number];
        let set = record.given.set_at.lateral_deg(side).unwrap_or(0.0).to_radians();
        let advance = record.advance[side as usize].mm();
        record.immediate[side as usize].mm() + advance * lateral.unwrap_or(set).tan()
    }

    /// Measured less modelled, in standard deviations: the gaps, then the steps aside.
    fn of_record(
        &self,
        number: usize,
        unknowns: &Unknowns,
        at: &DVector<f64>,
    ) -> Result<Vec<f64>, GapFitError> {
        let record = self.records[number];
        let kind = record.given.record;
        let seated = self.seated(number, unknowns, at);
        let drop = Side::BOTH.map(|side| {
            let set = record.given.set_at.inclination_deg(side).to_radians();
            if kind.is_guided(side) { record.advance[side as usize].mm() * set.tan() } else { 0.0 }
        });
        let medial = Side::BOTH.map(|side| self.medial_at(number, side, None));
        let displaced = seated.displaced(drop, medial)?;
        let turn = at[unknowns.first_turn + number];
        let sd = record.given.sd_mm.length().mm();
        let moved = || self.grooves.iter().map(|groove| displaced.at(turn, groove));
        let gaps = record.given.gaps_mm.iter().zip(moved()).map(|(gap, moved)| (gap - moved.z) / sd);
        let aside = record.given.aside_mm.iter().flatten().zip(moved());
        let aside = aside.map(|(step, moved)| (step - moved.y) / sd);
        // A step aside is a measure of the orbiting side's medial wall only.
        let counts = kind.orbiting().is_some();
        Ok(gaps.chain(aside.filter(|_| counts)).collect())
    }

    fn residuals(&self, unknowns: &Unknowns, at: &DVector<f64>) -> Result<DVector<f64>, GapFitError> {
        let mut all = Vec::new();
        for number in 0..self.records.len() {
            all.extend(self.of_record(number, unknowns, at)?);
        }
        Ok(DVector::from_vec(all))
    }

    /// How the modelled numbers grow with each unknown.
    fn slopes(&self, unknowns: &Unknowns, at: &DVector<f64>) -> Result<DMatrix<f64>, GapFitError> {
        let mut columns = Vec::with_capacity(unknowns.count);
        for column in 0..unknowns.count {
            let (mut more, mut less) = (at.clone(), at.clone());
            more[column] += STEP;
            less[column] -= STEP;
            let apart = self.residuals(unknowns, &less)? - self.residuals(unknowns, &more)?;
            columns.push(apart / (2.0 * STEP));
        }
        Ok(DMatrix::from_columns(&columns))
    }
}

fn solve(slopes: &DMatrix<f64>, residuals: &DVector<f64>) -> Result<DVector<f64>, GapFitError> {
    let svd = slopes.clone().svd(true, true);
    let (least, most) = (svd.singular_values.min(), svd.singular_values.max());
    if slopes.nrows() < slopes.ncols() || least.is_nan() || least <= most * WEAK {
        return Err(GapFitError::Undetermined);
    }
    svd.solve(residuals, 0.0).map_err(|_| GapFitError::Undetermined)
}

//! Clearance wanted at chosen cusps, and the guidance that gives it.

use super::answer::Answer;
use super::error::PlanError;
use super::factor::{FactorChange, changes};
use super::goal::{Clearances, Meeting};
use super::passage::Role;
use super::question::{Allowance, Question};
use super::sensitivity::{Sensitivity, of as sensitivity_of};
use crate::cusp::{Cusp, Tooth};
use crate::frame::OcclusalPlane;
use crate::instrument::Instrument;
use crate::units::Length;

/// A clearance comes to what is wanted where it is nearer than this, in millimetres; an answer leans
/// on such a cusp.
const LEANS_MM: f64 = 1e-7;

/// What is reached at one cusp of those wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Reached {
    /// Place of the cusp in the scene.
    pub cusp: usize,
    /// The tooth.
    pub tooth: Tooth,
    /// The cusp's name.
    pub name: String,
    /// What the excursion is to it.
    pub role: Role,
    /// Condylar advance at which it is read.
    pub advance: Length,
    /// Clearance wanted.
    pub wanted: Length,
    /// Clearance as it stood.
    pub before: Length,
    /// Clearance as planned.
    pub reached: Length,
    /// Least and greatest clearance that the free factors can give, found at the corners of their
    /// bounds: a steeper guide never lessens a clearance, nor does a flatter cusp.
    pub reach: (Length, Length),
    /// Whether the answer leans on this cusp: its clearance is just what is wanted, and something else
    /// would have been done without it.
    pub holds: bool,
}

impl Reached {
    /// How much is lacking; none or less where it is reached.
    #[must_use]
    pub fn lacking(&self) -> Length {
        self.wanted - self.reached
    }
}

/// A guidance planned for disclusion.
#[derive(Clone, Debug, PartialEq)]
pub struct Disclosed {
    /// The instrument as planned.
    pub instrument: Instrument,
    /// The cusps as planned: with other opposing inclines if cusp inclination is free.
    pub cusps: Vec<Cusp>,
    /// What changes.
    pub changes: Vec<FactorChange>,
    /// Whether every clearance wanted is reached.
    pub met: bool,
    /// What is reached, cusp by cusp.
    pub reached: Vec<Reached>,
    /// The cusp that stands in the way: the one that lacks most; none where all is reached.
    pub in_the_way: Option<usize>,
    /// The steepest opposing incline that each cusp can bear.
    pub allowances: Vec<Allowance>,
    /// What a wrong setting does to the answer.
    pub sensitivities: Vec<Sensitivity>,
}

/// Finds the guidance that gives the clearances wanted.
///
/// Of all guidance that gives at least what is wanted, the one that changes least; where none does, or
/// least squares are asked for, the one whose misses have the least sum of squares. Clearances are
/// read from where the pin stops the closing.
///
/// # Errors
/// [`PlanError`] for goals that do not make sense, or an instrument without a pose.
pub fn disclude(
    instrument: &Instrument,
    plane: OcclusalPlane,
    cusps: &[Cusp],
    goal: &Clearances,
) -> Result<Disclosed, PlanError> {
    goal.check(instrument, cusps)?;
    let question = Question::new(instrument, plane, cusps, goal);
    let before = question.clearances(&question.home)?;
    let found = question.answer(&question.home)?;
    let planned = question.with(&question.home, &found.at);
    let after = question.clearances(&planned)?;
    let reaches = question.reaches()?;
    let mut reached = Vec::with_capacity(question.readings.len());
    for (index, reading) in question.readings.iter().enumerate() {
        let off = after[index] - reading.wanted_mm;
        reached.push(Reached {
            cusp: reading.cusp,
            tooth: cusps[reading.cusp].tooth(),
            name: cusps[reading.cusp].name().to_owned(),
            role: reading.role,
            advance: reading.advance,
            wanted: Length::from_mm(reading.wanted_mm),
            before: Length::from_mm(before[index]),
            reached: Length::from_mm(after[index]),
            reach: reaches[index],
            holds: off.abs() < LEANS_MM,
        });
    }
    let in_the_way = if found.met {
        None
    } else {
        let miss = |own: &Reached| match goal.by {
            Meeting::AtLeast => own.lacking().mm(),
            Meeting::LeastSquares => own.lacking().mm().abs(),
        };
        (0..reached.len()).max_by(|one, other| miss(&reached[*one]).total_cmp(&miss(&reached[*other])))
    };
    Ok(Disclosed {
        changes: changes(&question.home, &planned, &question.factors),
        met: found.met,
        in_the_way,
        allowances: question.allowances(&planned)?,
        sensitivities: sensitivity_of(&question, &planned)?,
        cusps: question.cusps_of(&planned),
        instrument: planned.instrument,
        reached,
    })
}

/// The goal's answer, in short.
pub(super) fn disclude_only(
    instrument: &Instrument,
    plane: OcclusalPlane,
    cusps: &[Cusp],
    goal: &Clearances,
) -> Result<Answer, PlanError> {
    goal.check(instrument, cusps)?;
    let question = Question::new(instrument, plane, cusps, goal);
    let found = question.answer(&question.home)?;
    let planned = question.with(&question.home, &found.at);
    let lacking = found.measures.iter().map(|miss| match goal.by {
        Meeting::AtLeast => (-miss).max(0.0),
        Meeting::LeastSquares => miss.abs(),
    });
    Ok(Answer {
        changes: changes(&question.home, &planned, &question.factors),
        met: found.met,
        greatest: Length::from_mm(lacking.fold(0.0, f64::max)),
    })
}

//! Marking an answer: each setting against the truth and against what the records allow, what its
//! error would do at each cusp, each fault found or missed, and a score whose parts are explained.

use super::judge::{Given, share};
use super::outcome::{POINTS_PER_SETTING, POINTS_PER_VERDICT, SettingOutcome, VerdictOutcome};
use super::{Answer, Check, Deal, DealError, DealNumber, Direction, Fault, Key, SideAnswer, Verdict};
use crate::cusp::{Gauges, Tooth};
use crate::doubt::DISCLUSION_ADVANCE_MM;
use crate::excursion::{Mechanism, Movement, Station};
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A marked answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The deal.
    pub deal: DealNumber,
    /// Points in all, of 100.
    pub points: f64,
    /// H right, L right, H left, L left.
    pub settings: Vec<SettingMark>,
    /// In the order of [`Check::ALL`].
    pub verdicts: Vec<VerdictMark>,
    /// Where the tentative centric record holds the jaw; `None` where it is sound.
    pub centric_off: Option<Direction>,
    /// What the answer's settings do at each cusp; empty unless all four are given.
    pub disclusion: Vec<DisclusionError>,
}

/// A marked setting.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingMark {
    /// The guide.
    pub side: Side,
    /// The setting: horizontal condylar inclination or lateral angle.
    pub setting: &'static Facts,
    /// What the answer gives.
    pub answer: Option<Angle>,
    /// What the patient's jaw has.
    pub truth: Angle,
    /// What the records give, rightly labelled; `None` where they must be taken again.
    pub read: Option<Angle>,
    /// Its standard error.
    pub standard_error: Option<Angle>,
    /// How that was judged.
    pub outcome: SettingOutcome,
    /// Points, of [`POINTS_PER_SETTING`].
    pub points: f64,
}

/// A marked verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictMark {
    /// What it is on.
    pub check: Check,
    /// What is wrong with that; empty where it is sound.
    pub faults: Vec<Fault>,
    /// What the answer says.
    pub verdict: Verdict,
    /// How that was judged.
    pub outcome: VerdictOutcome,
    /// Points, of [`POINTS_PER_VERDICT`].
    pub points: f64,
}

/// The disclusion at a cusp with the true settings and with the answer's, at an advance of
/// [`DISCLUSION_ADVANCE_MM`].
#[derive(Clone, Debug, PartialEq)]
pub struct DisclusionError {
    /// The excursion.
    pub movement: Movement,
    /// The tooth.
    pub tooth: Tooth,
    /// The cusp's name on it.
    pub name: String,
    /// With the patient's own angles.
    pub truth: Length,
    /// With the answer's.
    pub answer: Length,
}

/// Why an answer cannot be marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MarkError {
    /// The key does not open.
    #[error(transparent)]
    Key(#[from] DealError),
    /// The answer is to another deal.
    #[error("the answer is to deal {answer}, the key is of deal {key}")]
    OtherDeal {
        /// Of the answer.
        answer: DealNumber,
        /// Of the key.
        key: DealNumber,
    },
    /// The dealt case cannot be worked through.
    #[error("deal {deal} gives no settings to mark against")]
    NoSettings {
        /// The deal.
        deal: DealNumber,
    },
}

/// Marks an answer with the key of its deal.
///
/// A setting has its 15 points when it is within half a graduation of what the records give, or as
/// near the truth as the records allow (two of its standard errors, at least half a graduation); each
/// degree farther costs three points. What a record sets that must be rejected is not to be set before the
/// record is taken again: the points are then for rejecting it and leaving the setting open. Tracing and
/// centric record stand behind all four settings, the protrusive record behind both horizontal
/// inclinations, a lateral record behind the lateral angle of the other side, a lock behind the inclination
/// of its guide. Landmarks of lateral records that are labelled with the wrong sides serve once relabelled,
/// or are taken again: both are right. At the bench the guide that a wrong label names closes nothing, and
/// they are taken again. A verdict has its 5 points when it is right; of a centric record that is off, half
/// of them are for the direction.
///
/// # Errors
/// [`MarkError`] for an answer to another deal, or a key that another version of the program made.
pub fn mark(answer: &Answer, key: &Key) -> Result<Mark, MarkError> {
    if answer.deal != key.deal {
        return Err(MarkError::OtherDeal { answer: answer.deal, key: key.deal });
    }
    key.open()?.mark(answer)
}

impl Deal {
    /// Marks an answer as [`mark()`] does, with the deal at hand.
    ///
    /// # Errors
    /// [`MarkError`] for an answer to another deal.
    pub fn mark(&self, answer: &Answer) -> Result<Mark, MarkError> {
        if answer.deal != self.number {
            return Err(MarkError::OtherDeal { answer: answer.deal, key: self.number });
        }
        let (verdicts, settings) = (verdicts(answer, self), settings(answer, self)?);
        let points = settings.iter().map(|one| one.points).sum::<f64>()
            + verdicts.iter().map(|one| one.points).sum::<f64>();
        let disclusion = answered_jaw(answer, self).map_or_else(Vec::new, |jaw| disclusion(self, &jaw));
        let centric_off = self.centric_off();
        Ok(Mark { deal: self.number, points, settings, verdicts, centric_off, disclusion })
    }
}

fn side(answer: &Answer, side: Side) -> &SideAnswer {
    match side {
        Side::Right => &answer.right,
        Side::Left => &answer.left,
    }
}

fn settings(answer: &Answer, deal: &Deal) -> Result<Vec<SettingMark>, MarkError> {
    let no_settings = MarkError::NoSettings { deal: deal.number };
    let records = Given::of(deal).map_err(|_| no_settings)?;
    if records.has_settings() == deal.key.faults.contains(&Fault::WrongCentric) {
        return Err(no_settings);
    }
    let mut marks = Vec::with_capacity(4);
    for which in Side::BOTH {
        let (own, truth) = (side(answer, which), deal.jaw().guide(which));
        for (entry, given, truth) in [
            (
                &CondylarGuide::HORIZONTAL_INCLINATION,
                own.horizontal_inclination_deg,
                truth.horizontal_inclination,
            ),
            (&CondylarGuide::LATERAL_ANGLE, own.lateral_angle_deg, truth.lateral_angle),
        ] {
            let (setting, given) = (&entry.facts, given.map(Angle::from_degrees));
            let read = records.read(which, setting);
            let outcome = records.judged(which, setting, (given, truth), answer);
            marks.push(SettingMark {
                side: which,
                setting,
                answer: given,
                truth,
                read: read.map(|read| read.value),
                standard_error: read.and_then(|read| read.standard_error),
                outcome,
                points: POINTS_PER_SETTING * share(outcome),
            });
        }
    }
    Ok(marks)
}

fn verdicts(answer: &Answer, deal: &Deal) -> Vec<VerdictMark> {
    let judged = |check: Check| {
        let faults: Vec<Fault> =
            deal.key.faults.iter().copied().filter(|fault| fault.check() == check).collect();
        let verdict = answer.verdicts.on(check);
        let outcome = match VerdictOutcome::of(!faults.is_empty(), verdict) {
            VerdictOutcome::Found
                if check == Check::CentricRecord && answer.verdicts.centric_off != deal.centric_off() =>
            {
                VerdictOutcome::FoundOtherWay
            }
            other => other,
        };
        VerdictMark { check, faults, verdict, outcome, points: POINTS_PER_VERDICT * outcome.share() }
    };
    Check::ALL.into_iter().map(judged).collect()
}

/// The patient's jaw with the answer's angles; `None` unless all are given.
fn answered_jaw(answer: &Answer, deal: &Deal) -> Option<Instrument> {
    let mut jaw = deal.jaw().clone();
    for which in Side::BOTH {
        let given = side(answer, which);
        let guide = jaw.guide_mut(which);
        guide.horizontal_inclination = Angle::from_degrees(given.horizontal_inclination_deg?);
        guide.lateral_angle = Angle::from_degrees(given.lateral_angle_deg?);
    }
    Some(jaw)
}

/// Cusps in each excursion; one that has no pose with the answer's settings is left out.
fn disclusion(deal: &Deal, answered: &Instrument) -> Vec<DisclusionError> {
    let cusps = &deal.truth.cusps;
    let gauges = Gauges::new(deal.truth.plane, cusps);
    let (truth, answer) = (Mechanism::new(deal.jaw()), Mechanism::new(answered));
    let station = Station::advanced(Length::from_mm(DISCLUSION_ADVANCE_MM));
    let lateral = |working| Movement::Lateral { working };
    let mut errors = Vec::with_capacity(3 * cusps.len());
    for movement in [Movement::Protrusive, lateral(Side::Right), lateral(Side::Left)] {
        let (Ok(truth), Ok(answer)) = (truth.at(movement, station), answer.at(movement, station)) else {
            continue;
        };
        for ((cusp, truth), answer) in cusps.iter().zip(gauges.read(&truth.jaw)).zip(gauges.read(&answer.jaw))
        {
            errors.push(DisclusionError {
                movement,
                tooth: cusp.tooth(),
                name: cusp.name().to_owned(),
                truth: truth.clearance,
                answer: answer.clearance,
            });
        }
    }
    errors
}

//! Marking an answer: each setting against the truth and against what the records allow, what its
//! error would do at each cusp, each fault found or missed, and a score whose parts are explained.

use super::deal::swapped;
use super::{Answer, Deal, DealError, DealNumber, Fault, Key, SideAnswer, Verdict};
use crate::cusp::{Gauges, Tooth};
use crate::doubt::DISCLUSION_ADVANCE_MM;
use crate::excursion::{Mechanism, Movement, Station};
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;
use crate::record::program::ProgrammedAngle;
use crate::units::{Angle, Length};

/// Points for each of the four settings.
pub const POINTS_PER_SETTING: f64 = 15.0;
/// Points for each of the four verdicts.
pub const POINTS_PER_VERDICT: f64 = 10.0;
/// Half a graduation of a scale in single degrees: as near as a setting can be read or set (common
/// practice, no source).
pub(crate) const HALF_GRADUATION_DEG: f64 = 0.5;
/// Beyond the band, so many degrees lose all of a setting's points.
const LOST_OVER_DEG: f64 = 5.0;
/// The records allow what is within so many standard errors of the truth.
const BAND_ERRORS: f64 = 2.0;

/// A marked answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The deal.
    pub deal: DealNumber,
    /// Points in all, of 100.
    pub points: f64,
    /// H right, L right, H left, L left.
    pub settings: Vec<SettingMark>,
    /// In the order of [`Fault::ALL`].
    pub verdicts: Vec<VerdictMark>,
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

/// How a setting was judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SettingOutcome {
    /// Within half a graduation of what the records give.
    AsRead,
    /// Farther, but as near the truth as the records' errors allow.
    WithinBand,
    /// Off by so much beyond the nearer of the two.
    Off {
        /// Beyond what is allowed.
        beyond: Angle,
    },
    /// Not given although the records give it.
    NotGiven,
    /// Rightly not given: what it is set from is rejected, and taken again first.
    Withheld,
    /// Given from what must be rejected.
    FromFaulty,
    /// Not given, and what it is set from, which is at fault, not rejected.
    NotSaid,
}

/// A marked verdict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VerdictMark {
    /// The fault that it is about.
    pub fault: Fault,
    /// What the answer says.
    pub verdict: Verdict,
    /// How that was judged.
    pub outcome: VerdictOutcome,
    /// Points, of [`POINTS_PER_VERDICT`].
    pub points: f64,
}

/// How a verdict was judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VerdictOutcome {
    /// The fault is there and was found.
    Found,
    /// The fault is there and was passed.
    Missed,
    /// The fault was claimed and is not there.
    WronglyClaimed,
    /// Nothing is at fault and nothing was claimed.
    RightlyAccepted,
    /// Nothing was said of a fault that is there.
    OpenAtFault,
    /// Nothing was said of what is sound.
    OpenSound,
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

impl SettingOutcome {
    /// `as_read`, `within_band`, `off`, `not_given`, `withheld`, `from_faulty` or `not_said`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AsRead => "as_read",
            Self::WithinBand => "within_band",
            Self::Off { .. } => "off",
            Self::NotGiven => "not_given",
            Self::Withheld => "withheld",
            Self::FromFaulty => "from_faulty",
            Self::NotSaid => "not_said",
        }
    }
}

impl VerdictOutcome {
    /// `found`, `missed`, `wrongly_claimed`, `rightly_accepted`, `open_at_fault` or `open_sound`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Missed => "missed",
            Self::WronglyClaimed => "wrongly_claimed",
            Self::RightlyAccepted => "rightly_accepted",
            Self::OpenAtFault => "open_at_fault",
            Self::OpenSound => "open_sound",
        }
    }

    const fn of(present: bool, verdict: Verdict) -> Self {
        match (present, verdict) {
            (true, Verdict::Rejected) => Self::Found,
            (true, Verdict::Accepted) => Self::Missed,
            (true, Verdict::Open) => Self::OpenAtFault,
            (false, Verdict::Rejected) => Self::WronglyClaimed,
            (false, Verdict::Accepted) => Self::RightlyAccepted,
            (false, Verdict::Open) => Self::OpenSound,
        }
    }
}

/// Marks an answer with the key of its deal.
///
/// A setting has its 15 points when it is within half a graduation of what the records give, or as
/// near the truth as the records allow (two of its standard errors, at least half a graduation); each
/// degree farther costs three points. What a record sets that must be rejected is not to be set before the
/// record is taken again: the points are then for rejecting it and leaving the setting open. The centric
/// record stands behind all four settings, the protrusive record behind both horizontal inclinations.
/// Lateral records that are labelled with the wrong sides serve once relabelled, or are taken again: both
/// are right. A verdict has its 10 points when it is right.
///
/// # Errors
/// [`MarkError`] for an answer to another deal, or a key that another version of the program made.
pub fn mark(answer: &Answer, key: &Key) -> Result<Mark, MarkError> {
    if answer.deal != key.deal {
        return Err(MarkError::OtherDeal { answer: answer.deal, key: key.deal });
    }
    let deal = key.open()?;
    let verdicts: Vec<VerdictMark> = Fault::ALL
        .into_iter()
        .map(|fault| {
            let verdict = answer.verdicts.on(fault);
            let outcome = VerdictOutcome::of(key.faults.contains(&fault), verdict);
            let right = matches!(outcome, VerdictOutcome::Found | VerdictOutcome::RightlyAccepted);
            VerdictMark { fault, verdict, outcome, points: if right { POINTS_PER_VERDICT } else { 0.0 } }
        })
        .collect();
    let settings = settings(answer, &deal)?;
    let points = settings.iter().map(|one| one.points).sum::<f64>()
        + verdicts.iter().map(|one| one.points).sum::<f64>();
    let disclusion = answered_jaw(answer, &deal).map_or_else(Vec::new, |jaw| disclusion(&deal, &jaw));
    Ok(Mark { deal: deal.number, points, settings, verdicts, disclusion })
}

fn side(answer: &Answer, side: Side) -> &SideAnswer {
    match side {
        Side::Right => &answer.right,
        Side::Left => &answer.left,
    }
}

fn settings(answer: &Answer, deal: &Deal) -> Result<Vec<SettingMark>, MarkError> {
    let no_settings = MarkError::NoSettings { deal: deal.number };
    let faulty = |fault| deal.key.faults.contains(&fault);
    let wrong_centric = faulty(Fault::WrongCentric);
    let sound = if faulty(Fault::SwappedSides) { swapped(&deal.case) } else { deal.case.clone() };
    let done = sound.program().map_err(|_| no_settings)?;
    if done.settings.is_none() != wrong_centric {
        return Err(no_settings);
    }
    let mut marks = Vec::with_capacity(4);
    for which in Side::BOTH {
        let (given, truth, read) = (side(answer, which), deal.jaw().guide(which), done.side(which));
        let one = |setting: &'static Facts, given: Option<f64>, truth, read: Option<&ProgrammedAngle>| {
            let given = given.map(Angle::from_degrees);
            let behind: Vec<(Fault, Behind)> =
                deal.key.faults.iter().filter_map(|fault| Some((*fault, behind(*fault, setting)?))).collect();
            let bars = behind.iter().any(|(_, how)| *how == Behind::Bars);
            let rejected = behind.iter().any(|(fault, _)| answer.verdicts.on(*fault) == Verdict::Rejected);
            let outcome = match given {
                Some(_) if bars => SettingOutcome::FromFaulty,
                None if rejected => SettingOutcome::Withheld,
                None if bars => SettingOutcome::NotSaid,
                _ => judged(given, truth, read),
            };
            SettingMark {
                side: which,
                setting,
                answer: given,
                truth,
                read: read.map(|read| read.angle.value),
                standard_error: read.and_then(|read| read.angle.standard_error),
                outcome,
                points: POINTS_PER_SETTING * share(outcome),
            }
        };
        let inclination = &CondylarGuide::HORIZONTAL_INCLINATION.facts;
        let lateral = &CondylarGuide::LATERAL_ANGLE.facts;
        let (h, l) = (read.map(|own| &own.horizontal_inclination), read.map(|own| &own.lateral_angle));
        marks.push(one(inclination, given.horizontal_inclination_deg, truth.horizontal_inclination, h));
        marks.push(one(lateral, given.lateral_angle_deg, truth.lateral_angle, l));
    }
    Ok(marks)
}

/// How a fault stands behind a setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Behind {
    /// The setting must not be made before the record is taken again.
    Bars,
    /// The record serves once it is put right; whoever would rather take it again is right too.
    Mendable,
}

/// How a fault stands behind a setting; `None` where the setting does not rest on what is at fault.
fn behind(fault: Fault, setting: &'static Facts) -> Option<Behind> {
    let is = |entry: &'static Facts| setting.key == entry.key;
    match fault {
        Fault::WrongCentric => Some(Behind::Bars),
        Fault::ShortProtrusion => is(&CondylarGuide::HORIZONTAL_INCLINATION.facts).then_some(Behind::Bars),
        Fault::SwappedSides => is(&CondylarGuide::LATERAL_ANGLE.facts).then_some(Behind::Mendable),
        Fault::UnzeroedInstrument => None,
    }
}

fn judged(given: Option<Angle>, truth: Angle, read: Option<&ProgrammedAngle>) -> SettingOutcome {
    let (Some(given), Some(read)) = (given, read) else { return SettingOutcome::NotGiven };
    let off_read = (given - read.angle.value).degrees().abs() - HALF_GRADUATION_DEG;
    let error = read.angle.standard_error.map_or(0.0, |error| error.degrees());
    let off_truth = (given - truth).degrees().abs() - (BAND_ERRORS * error).max(HALF_GRADUATION_DEG);
    // What rounding adds to half a graduation is none.
    if off_read <= 1e-9 {
        SettingOutcome::AsRead
    } else if off_truth <= 1e-9 {
        SettingOutcome::WithinBand
    } else {
        SettingOutcome::Off { beyond: Angle::from_degrees(off_read.min(off_truth)) }
    }
}

/// The part of a setting's points that an outcome is worth.
fn share(outcome: SettingOutcome) -> f64 {
    match outcome {
        SettingOutcome::AsRead | SettingOutcome::WithinBand | SettingOutcome::Withheld => 1.0,
        SettingOutcome::Off { beyond } => (1.0 - beyond.degrees() / LOST_OVER_DEG).max(0.0),
        SettingOutcome::NotGiven | SettingOutcome::FromFaulty | SettingOutcome::NotSaid => 0.0,
    }
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

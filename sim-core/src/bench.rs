//! The bench in the order of hands: zeroed, split sound, centric closed, each record closed by turning the
//! guides, the lateral angles, the anterior guide; and at each step what the case says to it.
//!
//! ```
//! use sim_core::bench::{Bench, Closing, Step, Trial};
//! use sim_core::practice::{Level, deal};
//! use sim_core::units::Angle;
//!
//! // An invented patient, on an instrument whose guides start at 30°.
//! let case = deal(1, Level::First, &[])?.case;
//! let programmed = case.program()?;
//! let bench = Bench::of(&case, &programmed);
//! let steps = bench.walk(&Trial::level(Angle::from_degrees(30.0)));
//! let protrusive = steps.iter().find_map(|step| match step {
//!     Step::Record(record) => Some(record),
//!     _ => None,
//! });
//! let protrusive = protrusive.expect("the patient has a protrusive record");
//! assert!(matches!(protrusive.closing, Closing::Gaps { .. }));
//! // Turned by what the step says, it closes.
//! let set = Trial::level(Angle::from_degrees(30.0)).turned(&protrusive.turns);
//! let closed = bench.gaps(protrusive.record, &set).expect("it is seated")?;
//! assert!(closed.greatest().mm() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::frame::{PerSide, Side, UpperPoint};
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;
use crate::record::program::{Programmed, ProgrammedAngle};
use crate::record::trial::{SeatedRecord, TrialError, TrialGaps};
use crate::record::{Case, GuideHold, RecordFields, RecordKind};
use crate::units::{Angle, Length};

/// Grooves of the usual key (common practice, no source).
pub const WANTED_GROOVES: usize = 6;
/// A sphere that stands off its stop by more does not rest on it (a caliper's reading, common practice, no
/// source), in millimetres.
pub const ON_ITS_STOP_MM: f64 = 0.1;

/// The angles that the guides are set to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial {
    /// Horizontal inclination of each guide.
    pub inclination: PerSide<Angle>,
    /// Lateral angle of each guide.
    pub lateral: PerSide<Angle>,
}

impl Trial {
    /// Both guides at one inclination, the lateral angles as in the example of a baseline.
    #[must_use]
    pub fn level(inclination: Angle) -> Self {
        let zeroed = Instrument::zeroed();
        Self {
            inclination: PerSide::of(|_| inclination),
            lateral: PerSide::of(|side| zeroed.guide(side).lateral_angle),
        }
    }

    /// The example of a baseline: where an instrument of one kind starts.
    #[must_use]
    pub fn example() -> Self {
        Self::level(Instrument::zeroed().right_guide.horizontal_inclination)
    }
}

/// A case on the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    records: Vec<Option<SeatedRecord>>,
    kinds: Vec<RecordKind>,
    /// Which of them show the lateral angle of the side that orbits.
    shows_lateral: Vec<bool>,
    grooves: Vec<UpperPoint>,
    hold: GuideHold,
    immediate: PerSide<Length>,
    tolerance: Length,
    centric: Option<Centric>,
    lateral: Option<PerSide<ProgrammedAngle>>,
    anterior_guide: bool,
    has_grooves: bool,
}

/// The centric record against its repeat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centric {
    /// Whether every gap is within the tolerance.
    pub confirmed: bool,
    /// The greatest gap.
    pub greatest: Length,
    /// The tolerance.
    pub tolerance: Length,
    /// How far each sphere stands off its stop in the repeat; `None` where gaps alone are known.
    pub off_stop: Option<PerSide<Length>>,
}

/// One step of the work.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// The instrument is zeroed: no case can tell.
    Zeroed,
    /// The split closes by itself, without a record.
    Split {
        /// Grooves at which the case reads it; 0 where it reads it at landmarks.
        grooves: usize,
    },
    /// The centric record closes the split, with the spheres on their stops; `None` without a repeat.
    Centric(Option<Centric>),
    /// A record is closed by turning the guides.
    Record(RecordStep),
    /// The lateral angle of one guide; `None` where the settings are withheld.
    Lateral {
        /// The guide.
        side: Side,
        /// What it is set to, and where that comes from.
        angle: Option<ProgrammedAngle>,
    },
    /// The anterior guide.
    Anterior {
        /// Whether the case says what sets it.
        given: bool,
    },
}

/// Closing the split on one record.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordStep {
    /// Its place in the list of records, from 0.
    pub record: usize,
    /// What was recorded.
    pub kind: RecordKind,
    /// The split at the trial's angles.
    pub closing: Closing,
    /// How each guide that this record sets is to be turned; empty where nothing is known of it.
    pub turns: Vec<Turn>,
    /// How the lateral angle of the orbiting side is to be turned; `None` for a record that shows none.
    pub lateral: Option<LateralTurn>,
}

/// The split on a record at trial angles.
#[derive(Clone, Debug, PartialEq)]
pub enum Closing {
    /// It stands so.
    Gaps {
        /// The gaps, and the guides against their spheres.
        at: TrialGaps,
        /// Whether every gap is within the tolerance.
        closed: bool,
        /// Where it stands open most.
        opens: Opens,
    },
    /// It cannot be brought together.
    Not(TrialError),
    /// The record was closed at the bench and read on the scale: there is nothing left to close here.
    ReadOnTheScale,
}

/// Where a split stands open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Opens {
    /// Nowhere to speak of.
    Nowhere,
    /// More behind than in front: a guide is too steep.
    Behind,
    /// More in front than behind: a guide is too shallow.
    InFront,
    /// On one side: the two guides are off unlike.
    OnOneSide(Side),
}

/// How a medial wall is to be turned until its sphere touches it on a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LateralTurn {
    /// The guide.
    pub side: Side,
    /// What it is set to.
    pub set: Angle,
    /// What the record asks for.
    pub touches_at: Angle,
    /// How far the wall would carry its sphere toward the middle beyond the record; below zero it stands
    /// off.
    pub beyond: Length,
}

/// How one guide is to be turned for the split to close.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The guide.
    pub side: Side,
    /// What it is set to.
    pub set: Angle,
    /// What closes the split on this record.
    pub closes_at: Angle,
}

impl Trial {
    /// The trial with its guides turned so that the split closes.
    #[must_use]
    pub fn turned(mut self, turns: &[Turn]) -> Self {
        for turn in turns {
            self.inclination[turn.side] = turn.closes_at;
        }
        self
    }
}

impl Turn {
    /// By how much it is to be set steeper (shallower below zero).
    #[must_use]
    pub fn by(&self) -> Angle {
        self.closes_at - self.set
    }
}

impl Bench {
    /// A case worked through, on the bench.
    #[must_use]
    pub fn of(case: &Case, programmed: &Programmed) -> Self {
        let seated = |index: usize| {
            let read = &programmed.records[index];
            let of_pose =
                |jaw| SeatedRecord::of_pose(read.kind, jaw, case.design, programmed.intercondylar_distance);
            let by_pose = read.reading.as_ref().map(|reading| of_pose(&reading.jaw));
            let by_gaps = || {
                let fitted = programmed.gaps.iter().flat_map(|fit| &fit.records);
                fitted.clone().find(|fitted| fitted.record == index).map(|fitted| fitted.seated)
            };
            by_pose.or_else(by_gaps)
        };
        let off_stop = |record: &SeatedRecord| {
            PerSide::of(|side| {
                let at = record.condyle(side);
                Length::from_mm(at.advance.mm().hypot(at.drop.mm()))
            })
        };
        let records: Vec<Option<SeatedRecord>> = (0..programmed.records.len()).map(seated).collect();
        let repeat = records.iter().flatten().find(|record| record.kind() == RecordKind::Centric);
        let tolerance = case.split_cast_tolerance_mm.length();
        Self {
            centric: programmed.centric.as_ref().map(|check| Centric {
                confirmed: check.confirmed,
                greatest: check.largest_gap,
                tolerance,
                off_stop: repeat.map(off_stop),
            }),
            kinds: case.records.iter().map(RecordFields::kind).collect(),
            shows_lateral: case.records.iter().map(shows_lateral).collect(),
            grooves: case.grooves(&programmed.mounting),
            hold: case.guide_hold.unwrap_or(GuideHold::Track),
            immediate: PerSide::of(|side| case.immediate_translation_mm.of(side)),
            tolerance,
            lateral: programmed
                .settings
                .as_ref()
                .map(|settings| PerSide::of(|side| settings[side as usize].lateral_angle.clone())),
            anterior_guide: case.anterior_guide.is_some() || case.incisal_guidance.is_some(),
            has_grooves: case.has_grooves(),
            records,
        }
    }

    /// Where the gaps are read, in the upper frame.
    #[must_use]
    pub fn grooves(&self) -> &[UpperPoint] {
        &self.grooves
    }

    /// How the guides hold their spheres.
    #[must_use]
    pub const fn hold(&self) -> GuideHold {
        self.hold
    }

    /// The gaps of one record at trial angles, in some microseconds; `None` for a record whose spheres'
    /// places nobody knows.
    #[must_use]
    pub fn gaps(&self, record: usize, trial: &Trial) -> Option<Result<TrialGaps, TrialError>> {
        let seated = self.records.get(record)?.as_ref()?;
        let guide = |side: Side| {
            let mut guide = CondylarGuide::straight(trial.inclination[side], trial.lateral[side]);
            guide.immediate_translation = self.immediate[side];
            guide
        };
        let (right, left) = (guide(Side::Right), guide(Side::Left));
        Some(seated.gaps([&right, &left], &self.grooves, self.hold))
    }

    /// The work in its order, with the guides at trial angles. It ends at the centric record where that is
    /// not confirmed: nothing is set from it.
    #[must_use]
    pub fn walk(&self, trial: &Trial) -> Vec<Step> {
        let grooves = if self.has_grooves { self.grooves.len() } else { 0 };
        let mut steps = vec![Step::Zeroed, Step::Split { grooves }, Step::Centric(self.centric)];
        if self.centric.is_some_and(|centric| !centric.confirmed) {
            return steps;
        }
        let closings = self.order().into_iter().filter_map(|index| self.on_record(index, trial));
        steps.extend(closings.map(Step::Record));
        steps.extend(
            Side::BOTH.into_iter().map(|side| Step::Lateral {
                side,
                angle: self.lateral.as_ref().map(|both| both[side].clone()),
            }),
        );
        steps.push(Step::Anterior { given: self.anterior_guide });
        steps
    }

    /// The records that guides are turned for, by their places in the list and in the order of the work: the
    /// protrusive ones first, then the lateral ones.
    #[must_use]
    pub fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> =
            (0..self.kinds.len()).filter(|index| self.kinds[*index] != RecordKind::Centric).collect();
        order.sort_by_key(|index| self.kinds[*index]);
        // Gaps read at several angles are one record, and closed once.
        let mut seen: Vec<SeatedRecord> = Vec::new();
        order.retain(|index| match self.records[*index] {
            Some(seated) if seen.contains(&seated) => false,
            Some(seated) => {
                seen.push(seated);
                true
            }
            None => true,
        });
        order
    }

    /// What the repeat of the centric record says; `None` without one.
    #[must_use]
    pub const fn centric(&self) -> Option<Centric> {
        self.centric
    }

    /// The largest gap of a split that counts as closed.
    #[must_use]
    pub const fn tolerance(&self) -> Length {
        self.tolerance
    }

    /// A record between the casts; `None` where nobody knows where it has the spheres.
    #[must_use]
    pub fn seated(&self, record: usize) -> Option<&SeatedRecord> {
        self.records.get(record)?.as_ref()
    }

    /// Closing the split on one record, at trial angles; `None` where the case has no such record.
    #[must_use]
    pub fn on_record(&self, record: usize, trial: &Trial) -> Option<RecordStep> {
        let kind = *self.kinds.get(record)?;
        let closing = match self.gaps(record, trial) {
            None => Closing::ReadOnTheScale,
            Some(Err(why)) => Closing::Not(why),
            Some(Ok(at)) => {
                let closed = at.greatest() <= self.tolerance;
                let opens = if closed { Opens::Nowhere } else { self.opens(&at) };
                Closing::Gaps { at, closed, opens }
            }
        };
        let seated = self.seated(record);
        let turns = seated.map(|seated| {
            let sides = Side::BOTH.into_iter().filter(|side| kind.is_guided(*side));
            let turn = |side| Turn {
                side,
                set: trial.inclination[side],
                closes_at: seated.closing_inclination(side),
            };
            sides.map(turn).collect()
        });
        let orbiting = kind.orbiting().filter(|_| self.shows_lateral.get(record) == Some(&true));
        let lateral = seated.zip(orbiting).map(|(seated, side)| {
            let at = seated.condyle(side);
            let (ahead, across) = (at.advance.mm(), at.medial.mm() - self.immediate[side].mm());
            LateralTurn {
                side,
                set: trial.lateral[side],
                touches_at: Angle::from_radians(across.atan2(ahead)),
                beyond: Length::from_mm(ahead * trial.lateral[side].tan() - across),
            }
        });
        Some(RecordStep { record, kind, closing, turns: turns.unwrap_or_default(), lateral })
    }

    /// Where the split stands open most: by the plane that fits the gaps best, how much its gap grows over
    /// the key from front to back and from side to side.
    fn opens(&self, at: &TrialGaps) -> Opens {
        let count = self.grooves.len() as f64;
        let middle =
            self.grooves.iter().map(|groove| *groove.coords()).sum::<nalgebra::Vector3<f64>>() / count;
        let along = |axis: usize| {
            let mean = at.gaps.iter().map(|gap| gap.mm()).sum::<f64>() / count;
            let pairs = self.grooves.iter().zip(&at.gaps);
            let product: f64 =
                pairs.map(|(groove, gap)| (groove.coords()[axis] - middle[axis]) * (gap.mm() - mean)).sum();
            let spread: f64 =
                self.grooves.iter().map(|groove| (groove.coords()[axis] - middle[axis]).powi(2)).sum();
            // Over two standard deviations of the grooves' places: comparable for both directions.
            if spread > 0.0 { product / spread * (spread / count).sqrt() } else { 0.0 }
        };
        let (ahead, left) = (along(0), along(1));
        match () {
            () if left.abs() > ahead.abs() => {
                Opens::OnOneSide(if left > 0.0 { Side::Left } else { Side::Right })
            }
            () if ahead > 0.0 => Opens::InFront,
            () => Opens::Behind,
        }
    }
}

/// Whether a record shows how far to the middle the orbiting sphere is: a pose does, gaps do by a step aside.
fn shows_lateral(record: &RecordFields) -> bool {
    match record {
        RecordFields::GrooveGaps(gaps) => gaps.aside_mm.is_some(),
        RecordFields::ScaleReadings(_) => false,
        RecordFields::Centric(_)
        | RecordFields::Protrusive(_)
        | RecordFields::RightLateral(_)
        | RecordFields::LeftLateral(_) => true,
    }
}

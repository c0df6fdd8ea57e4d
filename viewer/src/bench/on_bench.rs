//! The case on the bench, and how everything stands.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use nalgebra::Vector3;
use report::case::WorkedCase;
use sim_core::bench::{Bench, Trial};
use sim_core::frame::{PerSide, Side};
use sim_core::practice::Deal;
use sim_core::record::program::{ProgramError, Source};
use sim_core::record::{RecordFields, RecordKind, ScaleReadings};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

use super::dial::Dial;
use super::drawn::{self, set_guides};
use super::patient::Patient;
use super::split::{Laid, Split};
use crate::geometry::extent;

/// Which screws of a guide are tight.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Locks {
    /// That of the inclination.
    pub inclination: bool,
    /// That of the lateral angle.
    pub lateral: bool,
}

/// What the scale of a guide read when the split closed on a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The record, by its place in the list.
    pub record: usize,
    /// What was read.
    pub dial: Dial,
    /// What it was set to.
    pub angle: Angle,
    /// The greatest gap of the split at that moment; `None` where it was read at the bench before.
    pub greatest: Option<Length>,
}

/// Where a lateral angle comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LateralFrom {
    /// A lateral record.
    Record,
    /// The rule L = H/8 + 12.
    Rule,
}

/// How the split is looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Magnified {
    /// The whole instrument, gaps in their own size.
    #[default]
    Whole,
    /// The split alone, gaps so many times as large.
    Split(u8),
}

impl Magnified {
    /// All, in their order.
    pub const ALL: [Self; 4] = [Self::Whole, Self::Split(1), Self::Split(5), Self::Split(20)];

    /// How many times as large gaps are drawn.
    #[must_use]
    pub fn times(self) -> f64 {
        match self {
            Self::Whole => 1.0,
            Self::Split(times) => f64::from(times),
        }
    }

    /// In words, for its button.
    #[must_use]
    pub fn label(self) -> String {
        match self {
            Self::Whole => "whole instrument, true to scale".to_owned(),
            Self::Split(1) => "split alone, true to scale".to_owned(),
            Self::Split(times) => format!("split alone, gaps ×{times}"),
        }
    }

    /// Its name in the report, and for tests.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Whole => "whole".to_owned(),
            Self::Split(times) => format!("split{times}"),
        }
    }
}

/// What has been done.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Done {
    pub(super) zeroed: bool,
    pub(super) split: bool,
    /// What was found of the centric record.
    pub(super) centric: Option<bool>,
    /// Records on which scales were read, with the greatest gap at that moment.
    pub(super) read: BTreeMap<usize, Option<Length>>,
    pub(super) lateral: PerSide<Option<LateralFrom>>,
    pub(super) anterior: bool,
}

/// A case on the bench.
#[derive(Clone, Debug)]
pub struct OnBench {
    /// The case, worked through.
    pub worked: Arc<WorkedCase>,
    /// The file it was read from; none for a dealt patient.
    pub file: Option<PathBuf>,
    /// The patient, where one was dealt.
    pub patient: Option<Patient>,
    /// The sums of the bench.
    pub bench: Bench,
    /// What the guides are set to.
    pub trial: Trial,
    /// The record between the casts, by its place in the list; nothing lies between them when none.
    pub between: Option<usize>,
    /// Which screws are tight.
    pub locked: PerSide<Locks>,
    /// Whether both guides are turned together.
    pub tied: bool,
    /// Whether it is told how far a guide is to be turned.
    pub hints: bool,
    /// How the split is looked at.
    pub magnified: Magnified,
    /// What scales have read, in the order of reading.
    pub readings: Vec<Reading>,
    /// How everything stands, as it is drawn.
    pub split: Split,
    /// The instrument that is drawn, at these angles.
    pub drawn: Scene,
    /// Rises with every change, so that the drawing knows when to build anew.
    pub revision: u64,
    pub(super) done: Done,
}

impl OnBench {
    /// A case as it comes to the bench: nothing done, nothing between the casts.
    #[must_use]
    pub fn of_case(worked: WorkedCase, file: Option<PathBuf>) -> Self {
        let worked = Arc::new(worked);
        let bench = Bench::of(&worked.case, &worked.programmed);
        let trial = Trial::example();
        let drawn = drawn::scene(&worked, &trial);
        let mut on = Self {
            bench,
            file,
            patient: None,
            trial,
            between: None,
            locked: PerSide::default(),
            tied: false,
            hints: false,
            magnified: Magnified::default(),
            readings: Vec::new(),
            split: Split::closed(),
            drawn,
            revision: 0,
            done: Done::default(),
            worked,
        };
        on.settle();
        on
    }

    /// A dealt patient as it comes to the bench; the guides stand as the instrument was found.
    ///
    /// # Errors
    /// [`ProgramError`] where the records give nothing, which no deal's do.
    pub fn of_deal(deal: Deal) -> Result<Self, ProgramError> {
        let name = format!("practice patient {}", deal.number);
        let worked = WorkedCase::of(deal.case.clone(), name, deal.case.to_ron())?;
        let found = &deal.instrument.instrument;
        let trial = Trial {
            inclination: PerSide::of(|side| found.guide(side).horizontal_inclination),
            lateral: PerSide::of(|side| found.guide(side).lateral_angle),
        };
        let mut on = Self { trial, ..Self::of_case(worked, None) };
        on.patient = Some(Patient::new(deal));
        on.settle();
        Ok(on)
    }

    /// Brings up to date what follows from how things stand.
    pub(super) fn settle(&mut self) {
        self.drawn = drawn::scene(&self.worked, &self.trial);
        let step = self.patient.as_ref().and_then(|patient| patient.deal.observed.centric_step);
        self.split = Laid {
            worked: &self.worked,
            bench: &self.bench,
            trial: &self.trial,
            between: self.between,
            step,
            drawn: &self.drawn,
        }
        .split();
        self.revision += 1;
    }

    /// What is to be in the picture.
    #[must_use]
    pub fn bounds(&self) -> (Vector3<f64>, Vector3<f64>) {
        if self.magnified == Magnified::Whole {
            /// How far a record carries the upper member, back or to a side.
            const CARRIED_MM: f64 = 8.0;
            let (low, high) = extent::bounds(&self.drawn, None);
            let carried = Vector3::new(CARRIED_MM, CARRIED_MM, 0.0);
            return (low - carried, high + carried);
        }
        /// Room about the grooves, and above them for what stands open.
        const ROOM_MM: f64 = 14.0;
        let primary = self.split.primary();
        let places = self.split.drawn_at.iter().map(|place| primary.place(place));
        let (mut low, mut high) = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
        for place in places {
            low = low.inf(&place);
            high = high.sup(&place);
        }
        if low.x > high.x {
            return extent::bounds(&self.drawn, None);
        }
        (low - Vector3::repeat(ROOM_MM), high + Vector3::repeat(ROOM_MM))
    }

    /// What a dial is set to.
    #[must_use]
    pub fn set_to(&self, dial: Dial) -> Angle {
        match dial {
            Dial::Inclination(side) => self.trial.inclination[side],
            Dial::Lateral(side) => self.trial.lateral[side],
        }
    }

    /// Whether the screw of a dial is tight.
    #[must_use]
    pub fn is_locked(&self, dial: Dial) -> bool {
        match dial {
            Dial::Inclination(side) => self.locked[side].inclination,
            Dial::Lateral(side) => self.locked[side].lateral,
        }
    }

    /// Whether nothing may be told that a student is to find.
    #[must_use]
    pub fn is_asked(&self) -> bool {
        self.patient.as_ref().is_some_and(Patient::is_asked)
    }

    /// Whether it is told how far a guide is to be turned.
    #[must_use]
    pub fn tells_turns(&self) -> bool {
        self.hints && !self.is_asked()
    }

    /// What a record is of.
    #[must_use]
    pub fn kind(&self, record: usize) -> Option<RecordKind> {
        self.worked.case.records.get(record).map(RecordFields::kind)
    }

    /// The records that can be laid between the casts, in the order of the work: centric repeats first.
    #[must_use]
    pub fn records(&self) -> Vec<usize> {
        let of_centric = |index: &usize| self.kind(*index) == Some(RecordKind::Centric);
        let mut records: Vec<usize> = (0..self.worked.case.records.len()).filter(of_centric).collect();
        records.extend(self.bench.order());
        records
    }

    /// What the scales of a guide read at the bench, before: for the inclination the protrusive records, for
    /// the lateral angle the lateral records in which the side orbits.
    #[must_use]
    pub fn read_before(&self, dial: Dial) -> Vec<f64> {
        let readings = self.worked.case.records.iter().filter_map(|record| match record {
            RecordFields::ScaleReadings(readings) if sets(readings, dial) => Some(readings),
            _ => None,
        });
        readings.flat_map(|readings| readings.of(dial.side()).iter().copied()).collect()
    }

    /// Where a lateral angle comes from; none where it has not been set.
    #[must_use]
    pub fn lateral_from(&self, side: Side) -> Option<LateralFrom> {
        self.done.lateral[side]
    }

    /// Whether the anterior guide is set.
    #[must_use]
    pub const fn is_anterior_set(&self) -> bool {
        self.done.anterior
    }

    /// What was found of the centric record: that it is confirmed, or not.
    #[must_use]
    pub const fn centric_found(&self) -> Option<bool> {
        self.done.centric
    }

    /// The lateral angle that a record shows for a side: where the medial wall touches, or the mean of what the
    /// scale read; none without such a record.
    #[must_use]
    pub fn lateral_by_record(&self, side: Side) -> Option<Angle> {
        let programmed = self.worked.programmed.side(side).map(|own| &own.lateral_angle);
        programmed.filter(|angle| angle.from != Source::Rule).map(|angle| angle.angle.value)
    }

    /// The programmed set-up; none where the settings are withheld, or still to be found.
    #[must_use]
    pub fn programmed_scene(&self) -> Option<&Scene> {
        self.worked.scene.as_ref().filter(|_| !self.is_asked())
    }

    /// The set-up with the guides as they are set here.
    #[must_use]
    pub fn scene_as_set(&self) -> Option<Scene> {
        let mut scene = self.worked.scene.clone()?;
        set_guides(&mut scene.instrument, &self.trial);
        Some(scene)
    }
}

/// Whether such readings belong to a dial.
fn sets(readings: &ScaleReadings, dial: Dial) -> bool {
    match dial {
        Dial::Inclination(_) => readings.record == RecordKind::Protrusive,
        Dial::Lateral(side) => readings.record.orbiting() == Some(side),
    }
}

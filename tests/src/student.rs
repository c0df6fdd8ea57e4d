//! A student who works a practice deal through with the files that are handed out, and without the program:
//! a deal of landmarks as [`crate::by_hand`] does, one of the bench by reasoning. Whatever else is at fault is
//! seen on the instrument, on the tracing plotted on paper, and in what the observer wrote.

use nalgebra::{DMatrix, DVector, Matrix2, Vector2};
use sim_core::anterior::AnteriorGuide;
use sim_core::frame::Side;
use sim_core::instrument::Instrument;
use sim_core::practice::{Answer, Check, Deal, Direction, Fault, Form, SideAnswer, Verdict, Verdicts};
use sim_core::record::{Case, GrooveGaps, RecordFields, RecordKind, ScaleReadings};
use sim_core::tracing::{Leg, PlatePoint};

use crate::by_hand::{Bench, most_off};

/// Closings of one record lie within this, and so do the means of two records, in degrees.
const WITHIN_DEG: f64 = 3.0;
/// A tracing plate stands to the occlusal plane within this, in degrees.
const LEVEL_DEG: f64 = 5.0;
/// A protrusive record goes at least so far on the tracing.
const LEAST_PROTRUSION_MM: f64 = 5.0;
/// One line drawn by hand is no wider to either side, in millimetres.
const LINE_MM: f64 = 0.12;

/// What a student finds.
pub struct Found {
    /// What is at fault.
    pub faults: Vec<Fault>,
    /// Which way the centric record is off.
    pub centric_off: Option<Direction>,
    /// The settings as the records give them, right or left first, whatever is at fault.
    pub read: [SideAnswer; 2],
    /// Whose guide drifts.
    drifting: Option<Side>,
    /// Side whose lateral angle rests on an unperforated record.
    unperforated: Option<Side>,
    form: Form,
}

/// Works a deal through.
#[must_use]
pub fn works_through(dealt: &Deal) -> Found {
    let case = &dealt.case;
    let (mut faults, centric_off, read, goes_to): (_, _, _, Box<dyn Fn(Side) -> Side>) = match dealt.key.form
    {
        Form::Coordinates => {
            let bench = Bench::new(case);
            let (faults, off) = bench.faults();
            let read = Side::BOTH.map(|side| bench.settings(side));
            (faults, off, read, Box::new(move |label| bench.goes_to(label)))
        }
        Form::Bench => {
            let (faults, off) = at_the_bench(dealt);
            let swapped = faults.contains(&Fault::SwappedSides);
            let read = Side::BOTH.map(|side| read_off(case, side));
            (faults, off, read, Box::new(move |label| if swapped { label.opposite() } else { label }))
        }
    };
    let unperforated = |record: &RecordFields| record.perforated() == Some(false);
    let mut lateral = None;
    for record in case.records.iter().filter(|record| unperforated(record)) {
        let label = match record.kind() {
            RecordKind::Centric => panic!("the repeat of the centric record is sound"),
            RecordKind::Protrusive => {
                faults.push(Fault::UnperforatedProtrusion);
                continue;
            }
            RecordKind::RightLateral => Side::Right,
            RecordKind::LeftLateral => Side::Left,
        };
        faults.push(Fault::UnperforatedLateral);
        lateral = Some(goes_to(label).opposite());
    }
    let drifting = Side::BOTH.into_iter().find(|side| {
        scales(case, RecordKind::Protrusive).any(|record| spread(record.of(*side)) > WITHIN_DEG)
    });
    let gives_way = Side::BOTH.into_iter().any(|side| {
        let means: Vec<f64> =
            scales(case, RecordKind::Protrusive).map(|record| mean(record.of(side))).collect();
        spread(&means) > WITHIN_DEG
    });
    let seen = [
        (Fault::UnlockedGuide, drifting.is_some()),
        (Fault::ResilientTissue, gives_way),
        (Fault::TippedPlate, dealt.observed.plate_tilt.degrees() > LEVEL_DEG),
        (Fault::DoubleTracing, Leg::ALL.into_iter().any(|leg| is_double(dealt.tracing.leg(leg)))),
    ];
    faults.extend(seen.into_iter().filter_map(|(fault, shows)| shows.then_some(fault)));
    faults.extend(on_the_instrument(&dealt.instrument.instrument));
    faults.sort_unstable();
    faults.dedup();
    Found { faults, centric_off, read, drifting, unperforated: lateral, form: dealt.key.form }
}

impl Found {
    /// Verdicts as they are due.
    #[must_use]
    pub fn verdicts(&self) -> Verdicts {
        let verdicts = Check::ALL.into_iter().fold(Verdicts::default(), |verdicts, check| {
            let at_fault = self.faults.iter().any(|fault| fault.check() == check);
            verdicts.with(check, if at_fault { Verdict::Rejected } else { Verdict::Accepted })
        });
        Verdicts { centric_off: self.centric_off, ..verdicts }
    }

    /// The answer with these settings, but for those that rest on what must be made again first.
    #[must_use]
    pub fn answer(&self, dealt: &Deal, settings: impl Fn(Side) -> SideAnswer) -> Answer {
        let has = |fault| self.faults.contains(&fault);
        let nothing = has(Fault::DoubleTracing) || has(Fault::TippedPlate) || has(Fault::WrongCentric);
        let no_h =
            has(Fault::ShortProtrusion) || has(Fault::UnperforatedProtrusion) || has(Fault::ResilientTissue);
        let no_l = has(Fault::SwappedSides) && self.form == Form::Bench;
        let set = |side| {
            let mut set = settings(side);
            if nothing || no_h || self.drifting == Some(side) {
                set.horizontal_inclination_deg = None;
            }
            if nothing || no_l || self.unperforated == Some(side) {
                set.lateral_angle_deg = None;
            }
            set
        };
        Answer {
            deal: dealt.number,
            right: set(Side::Right),
            left: set(Side::Left),
            verdicts: self.verdicts(),
        }
    }
}

fn scales(case: &Case, kind: RecordKind) -> impl Iterator<Item = &ScaleReadings> {
    case.records.iter().filter_map(move |record| match record {
        RecordFields::ScaleReadings(readings) if readings.record == kind => Some(readings),
        _ => None,
    })
}

fn gaps(case: &Case) -> impl Iterator<Item = &GrooveGaps> {
    case.records.iter().filter_map(|record| match record {
        RecordFields::GrooveGaps(gaps) => Some(gaps),
        _ => None,
    })
}

/// The means of what the scales of a side read, as set: in half degrees.
fn read_off(case: &Case, side: Side) -> SideAnswer {
    let orbiting = if side == Side::Right { RecordKind::LeftLateral } else { RecordKind::RightLateral };
    let read = |kind| {
        let all: Vec<f64> = scales(case, kind).flat_map(|record| record.of(side).to_vec()).collect();
        (!all.is_empty()).then(|| (mean(&all) * 2.0).round() / 2.0)
    };
    SideAnswer { horizontal_inclination_deg: read(RecordKind::Protrusive), lateral_angle_deg: read(orbiting) }
}

fn at_the_bench(dealt: &Deal) -> (Vec<Fault>, Option<Direction>) {
    let case = &dealt.case;
    let tolerance = case.split_cast_tolerance_mm.length().mm();
    let repeat = gaps(case).find(|gaps| gaps.record == RecordKind::Centric).expect("a repeat");
    let is_off = repeat.gaps_mm.iter().any(|gap| *gap > tolerance);
    let step = dealt.observed.centric_step.expect("a step is told, if it is none");
    let way = dealt.observed.protrusive_on_tracing.expect("the way on the tracing is told");
    let is_exchanged = |record: &GrooveGaps| {
        let advance = record.advance_mm.expect("an advance");
        match record.record {
            RecordKind::RightLateral => advance.right.length() > advance.left.length(),
            RecordKind::LeftLateral => advance.left.length() > advance.right.length(),
            RecordKind::Centric | RecordKind::Protrusive => false,
        }
    };
    let mut lateral = gaps(case).filter(|gaps| gaps.record.orbiting().is_some());
    let faults = [
        (Fault::WrongCentric, is_off),
        (Fault::ShortProtrusion, way.mm() < LEAST_PROTRUSION_MM),
        (Fault::SwappedSides, lateral.any(is_exchanged)),
    ];
    let faults = faults.into_iter().filter_map(|(fault, shows)| shows.then_some(fault)).collect();
    // The secondary base stands behind where the tentative record held the jaw too far forward.
    (faults, is_off.then(|| most_off(-step.ahead.mm(), -step.left.mm())))
}

fn on_the_instrument(instrument: &Instrument) -> Vec<Fault> {
    let is_left = |side| {
        let guide = instrument.guide(side);
        let set = [
            guide.horizontal_inclination.degrees() - 30.0,
            guide.lateral_angle.degrees() - 30.0,
            guide.immediate_translation.mm(),
        ];
        set.iter().any(|off| off.abs() > 1e-9)
    };
    let AnteriorGuide::Table(table) = &instrument.anterior_guide else { panic!("a table is on it") };
    let wings = [table.right_wing, table.left_wing, table.sagittal_inclination];
    [
        (Fault::UnzeroedGuide, Side::BOTH.into_iter().any(is_left)),
        (Fault::PinNotFlush, instrument.pin_extension.mm() != 0.0),
        (Fault::WingNotZeroed, wings.iter().any(|wing| wing.degrees() != 0.0)),
    ]
    .into_iter()
    .filter_map(|(fault, shows)| shows.then_some(fault))
    .collect()
}

/// Whether a leg is too wide for one line: what a parabola along its longer axis leaves.
fn is_double(points: &[PlatePoint]) -> bool {
    let at: Vec<Vector2<f64>> =
        points.iter().map(|point| Vector2::new(point.forward.mm(), point.left.mm())).collect();
    let middle = at.iter().sum::<Vector2<f64>>() / at.len() as f64;
    let spread: Matrix2<f64> = at.iter().map(|at| (at - middle) * (at - middle).transpose()).sum();
    let axes = spread.symmetric_eigen();
    let along = axes.eigenvectors.column(axes.eigenvalues.imax()).into_owned();
    let places = at.iter().map(|at| (along.dot(&(at - middle)), along.perp(&(at - middle))));
    let (x, y): (Vec<f64>, Vec<f64>) = places.unzip();
    let powers = DMatrix::from_fn(x.len(), 3, |row, power| x[row].powi(power as i32));
    let y = DVector::from_vec(y);
    let fitted = powers.clone().svd(true, true).solve(&y, 0.0).expect("three columns");
    (y - powers * fitted).norm() / (x.len() as f64).sqrt() > LINE_MM
}

fn mean(numbers: &[f64]) -> f64 {
    numbers.iter().sum::<f64>() / numbers.len() as f64
}

fn spread(numbers: &[f64]) -> f64 {
    let most = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = numbers.iter().copied().fold(f64::INFINITY, f64::min);
    if numbers.is_empty() { 0.0 } else { most - least }
}

//! How much it matters: a case's whole chain, from landmarks to disclusion, redrawn many times from
//! stated uncertainties.
//!
//! Each draw disturbs what was measured, mounts and programs the instrument anew, sets it as exactly
//! as its scale can be read, and reads the disclusion at every cusp. The spread of the draws is how far
//! to trust each number; the same draws with one source of error alone tell which source it comes from.
//!
//! The draws are made around the case as measured, so that they show spread, not the error that the
//! case already has. The centric check is not redrawn; the case's own says how it stands.
//!
//! ```
//! use sim_core::doubt::{Uncertainties, redraw};
//! use sim_core::practice::{Level, deal};
//!
//! // An invented patient, measured as is common on the bench.
//! let case = deal(1, Level::First, &[])?.case;
//! let usual = redraw(&case, &Uncertainties::usual(&case), 50, 7)?;
//! assert!(usual.settings.iter().all(|setting| setting.spread.sd > 0.1), "a tenth of a degree and more");
//! // Exact measurements leave nothing to doubt.
//! let exact = redraw(&case, &Uncertainties::NONE, 50, 7)?;
//! assert!(exact.settings.iter().all(|setting| setting.spread.sd == 0.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod axis;
mod correlations;
mod redraw;
mod source;
mod spread;
mod study;

pub use axis::{AxisError, ClosedFormRow, PUBLISHED_ERROR_MM, PopulationRow, hinge_error, misplaced};
pub use source::{DoubtSource, OutOfBounds, Uncertainties};
pub use spread::{QUANTILES, Spread};
pub use study::NoStudy;

use rand_chacha::ChaCha8Rng;

use crate::cusp::{Gauges, Tooth};
use crate::excursion::{Mechanism, Movement, Station};
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::programmed::AnteriorSource;
use crate::record::Case;
use crate::record::program::{ProgramError, Programmed, Source};
use crate::units::{Angle, Length};

use crate::study::statistics::Moments;
use redraw::Redraw;

/// Condylar advance at which the disclusion is read: that of the published figures of Hobo S,
/// Takayama H (from memory).
pub const DISCLUSION_ADVANCE_MM: f64 = 3.0;
/// Draws that are allowed: fewer show no spread, more show no more of it.
pub const DRAWS: std::ops::RangeInclusive<u32> = 2..=100_000;
/// Draws where none are asked: a standard deviation is then sure to some 1.6 %.
pub const USUAL_DRAWS: u32 = 2_000;

/// Distribution of everything that a case's records set.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// What was disturbed, and by how much.
    pub uncertainties: Uncertainties,
    /// Number of draws.
    pub draws: u32,
    /// Draws from which no instrument could be set; they are left out of the rest.
    pub failed: u32,
    /// The four settings: H right, L right, H left, L left.
    pub settings: Vec<SettingDoubt>,
    /// How the four go together over the draws, in the same order; 0 with one that does not vary.
    pub correlations: Vec<Vec<f64>>,
    /// Whether the case says what guides in front; without it no disclusion is read.
    pub has_anterior_guide: bool,
    /// The disclusion at every cusp of the case in every excursion.
    pub cusps: Vec<CuspDoubt>,
    /// What a misplaced axis does at the second molar.
    pub axis: AxisError,
}

/// Distribution of one setting, in degrees.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingDoubt {
    /// The guide.
    pub side: Side,
    /// The setting: horizontal condylar inclination or lateral angle.
    pub setting: &'static Facts,
    /// Where it comes from: what a rule makes of the inclination's spread is not how sure the rule is.
    pub from: Source,
    /// Standard error that the records state for it, from the landmarks alone.
    pub standard_error: Option<Angle>,
    /// Its distribution.
    pub spread: Spread,
}

/// Distribution of the disclusion (the clearance) at one cusp, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct CuspDoubt {
    /// The excursion, [`DISCLUSION_ADVANCE_MM`] far.
    pub movement: Movement,
    /// The tooth.
    pub tooth: Tooth,
    /// The cusp's name on it.
    pub name: String,
    /// Its distribution.
    pub spread: Spread,
}

/// Why nothing can be said.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DoubtError {
    /// The case itself cannot be worked through.
    #[error(transparent)]
    Program(#[from] ProgramError),
    /// No settings to doubt.
    #[error(
        "the centric record is not confirmed (greatest gap {gap_mm:.2} mm); it is taken again before anything is set"
    )]
    Unconfirmed {
        /// The greatest gap, in millimetres.
        gap_mm: f64,
    },
    /// Too few or too many draws.
    #[error("draws is {given}; allowed are {} to {}", DRAWS.start(), DRAWS.end())]
    Draws {
        /// What was given.
        given: u32,
    },
    /// An uncertainty that is none.
    #[error(transparent)]
    OutOfBounds(#[from] OutOfBounds),
    /// Hardly a draw gives an instrument.
    #[error("{failed} of {draws} draws give no instrument; with errors so large the records say nothing")]
    MostFailed {
        /// Draws that failed.
        failed: u32,
        /// Draws in all.
        draws: u32,
    },
    /// The undisturbed case has no pose.
    #[error(transparent)]
    NoPose(#[from] crate::excursion::NoPose),
}

/// The excursions in which disclusion is read, in order.
const MOVEMENTS: [Movement; 3] = [
    Movement::Protrusive,
    Movement::Lateral { working: Side::Right },
    Movement::Lateral { working: Side::Left },
];
/// The two settings of a side that are redrawn.
const REDRAWN: [&Facts; 2] =
    [&CondylarGuide::HORIZONTAL_INCLINATION.facts, &CondylarGuide::LATERAL_ANGLE.facts];

/// Redraws a case's whole chain.
///
/// The same seed gives the same draws. Each source of error has numbers of its own, which are the
/// same whether it is disturbed alone or with the others.
///
/// # Errors
/// [`DoubtError`] where the case itself gives no settings, for uncertainties or draws out of range,
/// or where half the draws fail.
pub fn redraw(
    case: &Case,
    uncertainties: &Uncertainties,
    draws: u32,
    seed: u64,
) -> Result<Doubt, DoubtError> {
    if !DRAWS.contains(&draws) {
        return Err(DoubtError::Draws { given: draws });
    }
    uncertainties.check()?;
    let done = case.program()?;
    let Some(settings) = &done.settings else {
        let gap_mm = done.centric.as_ref().map_or(0.0, |check| check.largest_gap.mm());
        return Err(DoubtError::Unconfirmed { gap_mm });
    };
    let chain = Chain::new(case, &done);
    let undisturbed = chain.read(&chain.case, done.clone(), [0.0; 4]).map_err(ChainError::of_the_case)?;

    // All sources at once, kept draw by draw.
    let mut columns = vec![Vec::with_capacity(draws as usize); undisturbed.len()];
    let mut failed = 0;
    let mut all = Redraw::new(uncertainties, &DoubtSource::ALL, seed);
    for _ in 0..draws {
        match chain.draw(&mut all) {
            Some(read) => {
                columns.iter_mut().zip(read).for_each(|(column, number)| column.push(number));
            }
            None => failed += 1,
        }
    }
    if failed * 2 >= draws {
        return Err(DoubtError::MostFailed { failed, draws });
    }
    // Each source alone: only its variance is kept.
    let mut alone = vec![[0.0; DoubtSource::ALL.len()]; undisturbed.len()];
    for (number, source) in DoubtSource::ALL.into_iter().enumerate() {
        let mut running = vec![Moments::default(); undisturbed.len()];
        let mut only = Redraw::new(uncertainties, &[source], seed);
        for _ in 0..draws {
            if let Some(read) = chain.draw(&mut only) {
                running.iter_mut().zip(read).for_each(|(running, number)| running.push(number));
            }
        }
        for (variances, running) in alone.iter_mut().zip(&running) {
            variances[number] = running.variance();
        }
    }
    let correlations = correlations::correlations(columns.get(..4).unwrap_or_default());
    let mut spreads = undisturbed
        .into_iter()
        .zip(columns)
        .zip(alone)
        .map(|((value, column), alone)| Spread::of(value, column, alone));

    let mut settings_found = Vec::with_capacity(4);
    for side in Side::BOTH {
        let own = &settings[side as usize];
        for (setting, read) in REDRAWN.into_iter().zip([&own.horizontal_inclination, &own.lateral_angle]) {
            let standard_error = read.angle.standard_error;
            if let Some(spread) = spreads.next() {
                settings_found.push(SettingDoubt { side, setting, from: read.from, standard_error, spread });
            }
        }
    }
    let mut cusps = Vec::new();
    for movement in MOVEMENTS {
        for cusp in &case.cusps {
            if let Some(spread) = spreads.next() {
                cusps.push(CuspDoubt { movement, tooth: cusp.tooth, name: cusp.name.clone(), spread });
            }
        }
    }
    drop(spreads);
    let axis = AxisError::of(case, &done, uncertainties, draws, seed);
    let has_anterior_guide = case.has_anterior_guide();
    Ok(Doubt {
        uncertainties: *uncertainties,
        draws,
        failed,
        settings: settings_found,
        correlations,
        has_anterior_guide,
        cusps,
        axis,
    })
}

/// The chain from a disturbed case to numbers: the four settings, then the cusps excursion by
/// excursion.
struct Chain {
    /// The case without its centric repeats, which set nothing.
    case: Case,
    undisturbed: Programmed,
}

/// Why a draw gives nothing.
enum ChainError {
    Program(ProgramError),
    NoPose(crate::excursion::NoPose),
    Withheld,
}

impl ChainError {
    fn of_the_case(self) -> DoubtError {
        match self {
            Self::Program(why) => DoubtError::Program(why),
            Self::NoPose(why) => DoubtError::NoPose(why),
            Self::Withheld => DoubtError::Unconfirmed { gap_mm: 0.0 },
        }
    }
}

impl Chain {
    fn new(case: &Case, done: &Programmed) -> Self {
        let mut case = case.clone();
        case.records.retain(|record| record.kind() != crate::record::RecordKind::Centric);
        Self { case, undisturbed: done.clone() }
    }

    fn draw(&self, redraw: &mut Redraw<ChaCha8Rng>) -> Option<Vec<f64>> {
        let disturbed = redraw.disturb(&self.case, &self.undisturbed.mounting);
        // Drawn before anything can fail, so that the draws after a failure stay the same.
        let set_off = redraw.set_off();
        let disturbed = disturbed?;
        let done = disturbed.program().ok()?;
        self.read(&disturbed, done, set_off).ok()
    }

    fn read(&self, case: &Case, mut done: Programmed, set_off: [f64; 4]) -> Result<Vec<f64>, ChainError> {
        let settings = done.settings.as_mut().ok_or(ChainError::Withheld)?;
        let mut set_off = set_off.into_iter();
        let mut numbers = Vec::with_capacity(4 + MOVEMENTS.len() * case.cusps.len());
        for own in settings.iter_mut() {
            for setting in [&mut own.horizontal_inclination, &mut own.lateral_angle] {
                let set = setting.angle.value + Angle::from_degrees(set_off.next().unwrap_or(0.0));
                setting.angle.value = set;
                numbers.push(set.degrees());
            }
        }
        let made = case.scene(&done).map_err(ChainError::Program)?.ok_or(ChainError::Withheld)?;
        if made.anterior == AnteriorSource::Assumed {
            return Ok(numbers);
        }
        let mechanism = Mechanism::new(&made.scene.instrument);
        let gauges = Gauges::new(made.scene.occlusal_plane, &made.scene.cusps);
        let station = Station::advanced(Length::from_mm(DISCLUSION_ADVANCE_MM));
        for movement in MOVEMENTS {
            let placed = mechanism.at(movement, station).map_err(ChainError::NoPose)?;
            numbers.extend(gauges.read(&placed.jaw).map(|reading| reading.clearance.mm()));
        }
        Ok(numbers)
    }
}

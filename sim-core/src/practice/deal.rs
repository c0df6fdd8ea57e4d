//! Dealing a patient.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;

use super::detect::shown;
use super::dice::Dice;
use super::patient::Patient;
use super::{DealNumber, Direction, Fault, Form, Key, Level, Observed};
use crate::cusp::Cusp;
use crate::frame::{OcclusalPlane, Side};
use crate::instrument::Instrument;
use crate::record::Case;
use crate::scene::Scene;
use crate::tracing::{Leg, Recorded};

/// Attempts at a patient whose records show its faults and nothing else; one in two does.
const MOST_ATTEMPTS: u64 = 200;
/// Stream of the random numbers that faults are drawn from, away from the attempts'.
const FAULT_STREAM: u64 = 1 << 32;
/// Most faults that are drawn.
const MOST_DRAWN: usize = 3;

/// A patient dealt.
#[derive(Clone, Debug)]
pub struct Deal {
    /// Number by which an answer finds its key.
    pub number: DealNumber,
    /// For the student: the case.
    pub case: Case,
    /// For the student: the instrument as it stands before anything is set.
    pub instrument: Scene,
    /// For the student: the tracing at which the records were made.
    pub tracing: Recorded,
    /// For the student: what an observer saw.
    pub observed: Observed,
    /// For the teacher: the key.
    pub key: Key,
    pub(super) truth: Truth,
}

/// The patient's jaw as it is.
#[derive(Clone, Debug)]
pub(super) struct Truth {
    pub(super) jaw: Instrument,
    pub(super) plane: OcclusalPlane,
    pub(super) cusps: Vec<Cusp>,
    pub(super) centric_off: Option<Direction>,
    pub(super) unlocked: Option<Side>,
}

impl Deal {
    /// The jaw as it is, as an instrument that moves like it: what the records were taken of.
    #[must_use]
    pub const fn jaw(&self) -> &Instrument {
        &self.truth.jaw
    }

    /// Where the tentative centric record holds the jaw; `None` where it is sound.
    #[must_use]
    pub const fn centric_off(&self) -> Option<Direction> {
        self.truth.centric_off
    }

    /// The side whose guide is not locked; `None` where both are.
    #[must_use]
    pub const fn unlocked(&self) -> Option<Side> {
        self.truth.unlocked
    }
}

/// Why nothing was dealt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DealError {
    /// No attempt succeeded.
    #[error("seed {seed} deals no patient whose records show what they should; take another")]
    NoPatient {
        /// The seed.
        seed: u64,
    },
    /// A fault that a deal of that form cannot show.
    #[error("{fault:?} shows only where readings are repeated: deal it in the bench's form")]
    NotShown {
        /// The fault.
        fault: Fault,
    },
    /// The key was made by another version of the program.
    #[error(
        "the key is of deal {key}, but its seed deals {dealt} here: it was made by another version of the program, or changed"
    )]
    OtherVersion {
        /// What the key says.
        key: DealNumber,
        /// What is dealt.
        dealt: DealNumber,
    },
}

/// Deals an invented patient as coordinates of landmarks: the same one for the same seed, level and
/// faults.
///
/// Attempts are made until the records show the faults asked for and no other, so that what can be
/// found can be found, by [`Case::program`] or with the eye, and what is sound is not warned of.
///
/// # Errors
/// [`DealError::NoPatient`] when no attempt succeeds, which is not to be expected;
/// [`DealError::NotShown`] for a fault of the bench's form alone.
pub fn deal(seed: u64, level: Level, faults: &[Fault]) -> Result<Deal, DealError> {
    deal_as(Form::Coordinates, seed, level, faults)
}

/// Deals an invented patient as [`deal`] does, in a form.
///
/// # Errors
/// As [`deal`].
pub fn deal_as(form: Form, seed: u64, level: Level, faults: &[Fault]) -> Result<Deal, DealError> {
    let mut faults = faults.to_vec();
    faults.sort_unstable();
    faults.dedup();
    if let Some(fault) = faults.iter().copied().find(|fault| !fault.is_of(form)) {
        return Err(DealError::NotShown { fault });
    }
    for attempt in 0..MOST_ATTEMPTS {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        random.set_stream(attempt);
        let Ok(patient) = Patient::invented(random, form, level, &faults) else { continue };
        if shown(&patient, form).as_ref() != Some(&faults) {
            continue;
        }
        let Patient { jaw, plane, cusps, mut case, mut instrument, tracing, observed, centric_off, unlocked } =
            patient;
        let marks = Leg::ALL.map(|leg| format!("{:?}", tracing.leg(leg))).concat();
        let number =
            DealNumber::of(&[&case.to_ron(), &instrument.to_ron(), &marks, &format!("{observed:?}")]);
        case.title = format!("Practice patient {number} (invented)");
        instrument.title = format!("Instrument of practice patient {number} (invented)");
        let key = Key { deal: number, seed, level, form, faults };
        let truth = Truth { jaw, plane, cusps, centric_off, unlocked };
        return Ok(Deal { number, case, instrument, tracing, observed, key, truth });
    }
    Err(DealError::NoPatient { seed })
}

impl Key {
    /// Deals again what the key is of.
    ///
    /// # Errors
    /// [`DealError`] where the seed does not deal that deal.
    pub fn open(&self) -> Result<Deal, DealError> {
        let dealt = deal_as(self.form, self.seed, self.level, &self.faults)?;
        if dealt.number == self.deal {
            Ok(dealt)
        } else {
            Err(DealError::OtherVersion { key: self.deal, dealt: dealt.number })
        }
    }
}

/// Faults drawn for a seed and a form: none to three, each number as likely as the others.
#[must_use]
pub fn drawn_faults(seed: u64, form: Form) -> Vec<Fault> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    random.set_stream(FAULT_STREAM);
    let mut dice = Dice(random);
    let mut left: Vec<Fault> = Fault::ALL.into_iter().filter(|fault| fault.is_of(form)).collect();
    let mut drawn: Vec<Fault> =
        (0..dice.index(MOST_DRAWN + 1)).map(|_| left.swap_remove(dice.index(left.len()))).collect();
    drawn.sort_unstable();
    drawn
}

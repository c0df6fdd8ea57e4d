//! Dealing a patient, and what its records show of the faults.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::patient::Patient;
use super::{DealNumber, Fault, Key, Level};
use crate::cusp::Cusp;
use crate::frame::OcclusalPlane;
use crate::instrument::{Baseline, Instrument};
use crate::record::program::ProgramError;
use crate::record::settings::UnreadableAngle;
use crate::record::warning::Warning;
use crate::record::{Case, RecordFields};
use crate::scene::Scene;
use crate::setting::check_zeroed;

/// Attempts at a patient whose records show its faults and nothing else; one in two does.
const MOST_ATTEMPTS: u64 = 200;
/// Stream of the random numbers that faults are drawn from, away from the attempts'.
const FAULT_STREAM: u64 = 1 << 32;

/// A patient dealt.
#[derive(Clone, Debug)]
pub struct Deal {
    /// Number by which an answer finds its key.
    pub number: DealNumber,
    /// For the student: the case.
    pub case: Case,
    /// For the student: the instrument as it stands before anything is set.
    pub instrument: Scene,
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
}

impl Deal {
    /// The jaw as it is, as an instrument that moves like it: what the records were taken of.
    #[must_use]
    pub const fn jaw(&self) -> &Instrument {
        &self.truth.jaw
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

/// Deals an invented patient: the same one for the same seed, level and faults.
///
/// Attempts are made until the records show the faults asked for and no other, so that what can be
/// found can be found by [`Case::program`], and what is sound is not warned of.
///
/// # Errors
/// [`DealError::NoPatient`] when no attempt succeeds, which is not to be expected.
pub fn deal(seed: u64, level: Level, faults: &[Fault]) -> Result<Deal, DealError> {
    let mut faults = faults.to_vec();
    faults.sort_unstable();
    faults.dedup();
    for attempt in 0..MOST_ATTEMPTS {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        random.set_stream(attempt);
        let Ok(patient) = Patient::invented(random, level, &faults) else { continue };
        if shown(&patient.case, &patient.instrument.instrument).as_ref() != Some(&faults) {
            continue;
        }
        let Patient { jaw, plane, cusps, mut case, mut instrument } = patient;
        let number = DealNumber::of([&case.to_ron(), &instrument.to_ron()]);
        case.title = format!("Practice patient {number} (invented)");
        instrument.title = format!("Instrument of practice patient {number} (invented)");
        let key = Key { deal: number, seed, level, faults };
        return Ok(Deal { number, case, instrument, key, truth: Truth { jaw, plane, cusps } });
    }
    Err(DealError::NoPatient { seed })
}

impl Key {
    /// Deals again what the key is of.
    ///
    /// # Errors
    /// [`DealError`] where the seed does not deal that deal.
    pub fn open(&self) -> Result<Deal, DealError> {
        let dealt = deal(self.seed, self.level, &self.faults)?;
        if dealt.number == self.deal {
            Ok(dealt)
        } else {
            Err(DealError::OtherVersion { key: self.deal, dealt: dealt.number })
        }
    }
}

/// Faults drawn for a seed, each as likely as not; there may be none.
#[must_use]
pub fn drawn_faults(seed: u64) -> Vec<Fault> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    random.set_stream(FAULT_STREAM);
    let bits = random.next_u32();
    Fault::ALL
        .into_iter()
        .enumerate()
        .filter(|(bit, _)| bits >> bit & 1 == 1)
        .map(|(_, fault)| fault)
        .collect()
}

/// The faults that a case's records and an instrument show to whoever programs it: a centric record
/// not confirmed, a warning of a short protrusion, a condyle that should orbit and does not, a setting
/// that departs from the example of a baseline. `None` where the case cannot be worked through, and where
/// anything else is warned of: what is dealt has the faults asked for and nothing else to stumble over.
fn shown(case: &Case, instrument: &Instrument) -> Option<Vec<Fault>> {
    work_through(case, instrument).filter(|(_, others)| *others == 0).map(|(faults, _)| faults)
}

/// Faults, and the number of warnings that are of none.
fn work_through(case: &Case, instrument: &Instrument) -> Option<(Vec<Fault>, usize)> {
    let mut faults = Vec::new();
    let done = match case.program() {
        Ok(done) => done,
        // With the sides swapped the condyle that is read has stayed where it was.
        Err(ProgramError::Unreadable { why: UnreadableAngle::NoAdvance { .. }, .. }) => {
            faults.push(Fault::SwappedSides);
            swapped(case).program().ok()?
        }
        Err(_) => return None,
    };
    if done.centric.as_ref().is_some_and(|check| !check.confirmed) {
        faults.push(Fault::WrongCentric);
    }
    let mut others = 0;
    for warning in &done.warnings {
        match warning {
            Warning::ShortProtrusion { .. } => faults.push(Fault::ShortProtrusion),
            Warning::WrongCondyle { .. } => faults.push(Fault::SwappedSides),
            // One landmark in some thousands is that far off by chance; it is part of the noise.
            Warning::BadLandmark { .. } => {}
            _ => others += 1,
        }
    }
    if !check_zeroed(instrument, &Baseline::example()).is_empty() {
        faults.push(Fault::UnzeroedInstrument);
    }
    faults.sort_unstable();
    faults.dedup();
    Some((faults, others))
}

/// The case with its lateral records labelled the other way round.
pub(super) fn swapped(case: &Case) -> Case {
    let mut swapped = case.clone();
    for record in &mut swapped.records {
        *record = match record.clone() {
            RecordFields::RightLateral(pose) => RecordFields::LeftLateral(pose),
            RecordFields::LeftLateral(pose) => RecordFields::RightLateral(pose),
            other => other,
        };
    }
    swapped
}

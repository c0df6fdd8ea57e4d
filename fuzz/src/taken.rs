//! What is done with an input: it is read as what it was and, where it can be read, solved.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::{Duration, Instant};

use files::address::Address;
use files::{Given, from_text};
use sim_core::cusp::Arch;
use sim_core::excursion::{Mechanism, SampleCount};
use sim_core::lesson::LessonFile;
use sim_core::record::Case;
use sim_core::remount::Remount;
use sim_core::scene::Scene;
use words::quoted::{message, steers};

use crate::corpus::{Kind, Seed};

/// No input takes longer, some 100 times what the slowest sound one does on a busy machine without optimisation.
pub const LONGEST: Duration = Duration::from_secs(20);
/// No input takes more memory at a time: a thousand times what the largest has bytes.
pub const MOST_BYTES: u64 = 500_000_000;
/// Poses that are solved of an excursion.
const POSES: i64 = 16;
/// Most excursions that are solved of a scene.
const EXCURSIONS: usize = 4;
/// Most letters of a message.
const LONGEST_MESSAGE: usize = 4000;

/// What is wrong with how an input was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Failure {
    /// A panic.
    Panic,
    /// Longer than [`LONGEST`].
    Slow(Duration),
    /// More than [`MOST_BYTES`].
    Memory(u64),
    /// A message that steers a terminal or is not cut.
    Message(String),
}

/// Takes an input; what came of it: whether it was read.
///
/// # Errors
/// [`Failure`] where it was not taken as it should.
pub fn take(seed: &Seed, bytes: &[u8], others: &Given) -> Result<bool, Failure> {
    let start = Instant::now();
    let mut said = None;
    let mut panicked = false;
    let about =
        allocation_counter::measure(|| match catch_unwind(AssertUnwindSafe(|| read(seed, bytes, others))) {
            Ok(read) => said = read.err(),
            Err(_) => panicked = true,
        });
    let took = start.elapsed();
    if panicked {
        return Err(Failure::Panic);
    }
    if took > LONGEST {
        return Err(Failure::Slow(took));
    }
    if about.bytes_max > MOST_BYTES {
        return Err(Failure::Memory(about.bytes_max));
    }
    let Some(said) = said else { return Ok(true) };
    let said = message(&said);
    if said.is_empty() || said.chars().any(steers) || said.chars().count() > LONGEST_MESSAGE {
        return Err(Failure::Message(said));
    }
    Ok(false)
}

/// Reads and solves it; what is said where it cannot be read.
fn read(seed: &Seed, bytes: &[u8], others: &Given) -> Result<(), String> {
    let name = seed.name.as_str();
    let text = String::from_utf8_lossy(bytes);
    match seed.kind {
        Kind::Scene => solve(&from_text::<Scene>(&text, name).map_err(|error| error.to_string())?),
        Kind::Case => {
            let case = from_text::<Case>(&text, name).map_err(|error| error.to_string())?;
            case.program().map_err(|error| error.to_string())?;
        }
        Kind::Study => {
            let loaded = files::study_from_text(&text, name, others).map_err(|error| error.to_string())?;
            let mut row = loaded.prepared.row_buffer();
            for number in 0..loaded.prepared.row_count().min(4) {
                loaded.prepared.compute(number, &mut row).map_err(|error| error.to_string())?;
            }
        }
        Kind::Lesson => drop(from_text::<LessonFile>(&text, name).map_err(|error| error.to_string())?),
        Kind::Remount => drop(from_text::<Remount>(&text, name).map_err(|error| error.to_string())?),
        Kind::Tracing => drop(files::tracing::from_points(bytes, name).map_err(|error| error.to_string())?),
        Kind::Cast => {
            drop(files::cast::read_bytes(name, bytes, Arch::Upper, None).map_err(|error| error.to_string())?);
        }
        Kind::Link => drop(Address::read(&text)),
    }
    Ok(())
}

/// Some poses of some of a scene's excursions; every number of a pose is one.
#[allow(clippy::panic)] // it is what is looked for
fn solve(scene: &Scene) {
    let mechanism = Mechanism::new(&scene.instrument);
    let Ok(count) = SampleCount::new(POSES) else { return };
    for excursion in scene.excursions.iter().take(EXCURSIONS) {
        for sample in mechanism.samples(excursion, count).flatten() {
            let jaw = &sample.jaw;
            let numbers = jaw.translation().iter().chain(jaw.rotation());
            assert!(numbers.copied().all(f64::is_finite), "a pose that is none");
        }
    }
}

/// The scenes that studies name.
#[must_use]
pub fn scenes(corpus: &[Seed]) -> Given {
    let mut given = Given::default();
    for seed in corpus.iter().filter(|seed| seed.kind == Kind::Scene) {
        given.take(Path::new(&seed.name), seed.bytes.clone());
    }
    given
}

//! `eminentia practice`: deals an invented patient, and marks the answer.

use std::fs;
use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::io;
use std::path::{Path, PathBuf};

use files::Source;
use sim_core::frame::Side;
use sim_core::practice::{self, Answer, Fault, Key};

use super::args::{Deal, Mark, Practice};
use super::failure::PracticeFailure;
use super::report::DealReport;
use crate::failure::Outcome;
use crate::output::{Format, NO_INPUTS, Output, OutputError, write_report};

/// Deals or marks.
pub(crate) fn perform(args: &Practice) -> Outcome {
    match args {
        Practice::Deal(args) => deal(args),
        Practice::Mark(args) => mark(args),
    }
}

/// Writes the files of a deal; nothing that is already there is written over.
fn deal(args: &Deal) -> Outcome {
    let [patient, instrument, answer] =
        ["patient.ron", "instrument.ron", "answer.ron"].map(|name| args.folder.join(name));
    for path in [&patient, &instrument, &answer, &args.key] {
        match fs::symlink_metadata(path) {
            Ok(_) => return Err(PracticeFailure::AlreadyThere { name: path.display().to_string() }.into()),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => {
                return Err(OutputError::Unopenable { name: path.display().to_string(), error }.into());
            }
        }
    }
    let seed = args.seed.unwrap_or_else(drawn_seed);
    let faults: Vec<Fault> = if args.draw_faults {
        practice::drawn_faults(seed)
    } else {
        args.fault.iter().map(|name| (*name).into()).collect()
    };
    let dealt = practice::deal(seed, args.level.into(), &faults)?;
    fs::create_dir_all(&args.folder)
        .map_err(|error| OutputError::Unopenable { name: args.folder.display().to_string(), error })?;
    if is_within(&args.key, &args.folder) {
        return Err(PracticeFailure::KeyHandedOut { name: args.key.display().to_string() }.into());
    }
    let number = dealt.number;
    let case = format!(
        "// Practice deal {number}. An invented patient: no person has these records.\n\
         // `eminentia program` works it through; fill in what you find in answer.ron.\n{}\n",
        dealt.case.to_ron()
    );
    let unset = format!(
        "// Practice deal {number}: the instrument as it stands before anything is set. Invented.\n\
         // `eminentia baseline` tells what departs from the zeroed instrument.\n{}\n",
        dealt.instrument.to_ron()
    );
    write(&args.key, "--key", &key_text(&dealt))?;
    write(&patient, "FOLDER", &case)?;
    write(&instrument, "FOLDER", &unset)?;
    write(&answer, "FOLDER", &Answer::form(number))?;
    let report = DealReport {
        number,
        handed_out: vec![patient, instrument, answer],
        key: args.key.clone(),
        seed_given: args.seed.is_some(),
    };
    write_report(&report, Format::Table, Output::Standard)?;
    Ok(())
}

/// The key with the truth beside it, for the teacher to read.
fn key_text(dealt: &practice::Deal) -> String {
    let mut text = format!(
        "// Key of practice deal {}: for the teacher. It holds the truth; do not hand it out.\n",
        dealt.number
    );
    for side in Side::BOTH {
        let guide = dealt.jaw().guide(side);
        text += &format!(
            "// {side} guide: H {:.2} degrees, L {:.2} degrees\n",
            guide.horizontal_inclination.degrees(),
            guide.lateral_angle.degrees()
        );
    }
    for fault in &dealt.key.faults {
        text += &format!("// {}\n", words::verdict::mark::fault(*fault));
    }
    text + &dealt.key.to_ron() + "\n"
}

fn write(path: &Path, option: &str, text: &str) -> Outcome {
    Output::open_for(option, path, NO_INPUTS)?.write(false, |out| out.write_all(text.as_bytes()))?;
    Ok(())
}

/// Whether a file to be written lies in a folder, links followed.
fn is_within(file: &Path, folder: &Path) -> bool {
    let parent = file.parent().filter(|parent| !parent.as_os_str().is_empty());
    let parent: PathBuf = parent.unwrap_or(Path::new(".")).into();
    match (fs::canonicalize(parent), fs::canonicalize(folder)) {
        (Ok(parent), Ok(folder)) => parent.starts_with(folder),
        _ => false,
    }
}

/// A seed that nobody can guess: the standard library keys its hashes from the system's randomness.
fn drawn_seed() -> u64 {
    RandomState::new().build_hasher().finish()
}

/// Marks an answer. A poor one is no failure.
fn mark(args: &Mark) -> Outcome {
    let (answer_source, key_source) = (Source::named(&args.answer), Source::named(&args.key));
    let answer: Answer = answer_source.read()?;
    let key: Key = key_source.read()?;
    let sources = [(&answer_source, "answer"), (&key_source, "key")];
    let inputs: Vec<(&Path, &str)> =
        sources.iter().filter_map(|(source, what)| Some((source.path()?, *what))).collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let mark = practice::mark(&answer, &key)
        .map_err(|error| PracticeFailure::Unmarked { name: answer_source.name(), error })?;
    write_report(&mark, args.report.format, output)?;
    Ok(())
}

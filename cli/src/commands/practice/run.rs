//! `eminentia practice`: deals an invented patient, and marks the answer.

use std::fs;
use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::io;
use std::path::{Path, PathBuf};

use files::Source;
use sim_core::practice::{self, Answer, Fault, Key};

use super::args::{Deal, Mark, Practice};
use super::failure::PracticeFailure;
use super::report::DealReport;
use super::texts::{case_text, instrument_text, key_text, observed_text, tracing_text};
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
    let handed_out = ["patient.ron", "tracing.csv", "observed.txt", "instrument.ron", "answer.ron"]
        .map(|name| args.folder.join(name));
    for path in handed_out.iter().chain([&args.key]) {
        match fs::symlink_metadata(path) {
            Ok(_) => return Err(PracticeFailure::AlreadyThere { name: words::quoted::path(path) }.into()),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => {
                return Err(OutputError::Unopenable { name: words::quoted::path(path), error }.into());
            }
        }
    }
    let seed = args.seed.unwrap_or_else(drawn_seed);
    let faults: Vec<Fault> = if args.draw_faults {
        practice::drawn_faults(seed, args.form.into())
    } else {
        args.fault.iter().map(|name| (*name).into()).collect()
    };
    let dealt = practice::deal_as(args.form.into(), seed, args.level.into(), &faults)?;
    fs::create_dir_all(&args.folder)
        .map_err(|error| OutputError::Unopenable { name: words::quoted::path(&args.folder), error })?;
    if is_within(&args.key, &args.folder) {
        return Err(PracticeFailure::KeyHandedOut { name: words::quoted::path(&args.key) }.into());
    }
    let number = dealt.number;
    write(&args.key, "--key", &key_text(&dealt))?;
    let texts = [
        case_text(&dealt),
        tracing_text(&dealt),
        observed_text(&dealt),
        instrument_text(&dealt),
        Answer::form(number),
    ];
    for (path, text) in handed_out.iter().zip(&texts) {
        write(path, "FOLDER", text)?;
    }
    let report = DealReport {
        number,
        handed_out: handed_out.into(),
        key: args.key.clone(),
        seed_given: args.seed.is_some(),
    };
    write_report(&report, Format::Table, Output::Standard)?;
    Ok(())
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

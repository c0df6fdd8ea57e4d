//! `eminentia study run`: every row of a study into a table.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use signal_hook::consts::{SIGINT, SIGTERM};
use study_run::{Destination, Existing, Finished, FreeSpace, Options, Origin, UnderWay};

use super::args::StudyRun;
use super::failure::StudyRunFailure;
use super::progress::RowProgress;
use crate::commands::study::loaded::loaded;
use crate::failure::Outcome;
use crate::say;
use words::number::{bytes, whole};

/// Exit status of a run that is stopped a second time, as shells give it for Ctrl-C.
const STOPPED_AT_ONCE: i32 = 130;

/// Runs it. Rows without a pose are no failure; a run that was stopped is one.
pub(crate) fn perform(args: &StudyRun) -> Outcome {
    let loaded = loaded(&args.study)?;
    let options = Options {
        destination: destination(args)?,
        existing: match (args.resume, args.overwrite) {
            (true, _) => Existing::Resumed,
            (_, true) => Existing::Replaced,
            _ => Existing::Refused,
        },
        part: args.part,
        threads: args.threads.map_or(0, usize::from),
        under_way: UnderWay::Written,
        free_space: if args.ignore_free_space { FreeSpace::Ignored } else { FreeSpace::Asked },
    };
    let stop = stopped_by_signals();
    let mut progress = RowProgress::new();
    let finished = study_run::run(&loaded, &options, &mut progress, &stop)?;
    drop(progress);
    say_of(&finished);
    leave_origin(&Origin::of(&loaded, options.threads), &finished);
    match &finished.path {
        _ if finished.is_whole() => Ok(()),
        Some(path) => Err(StudyRunFailure::Stopped {
            name: words::quoted::path(path),
            rows: whole(finished.rows),
            of: whole(finished.of),
        }
        .into()),
        None => Err(StudyRunFailure::Cut { rows: whole(finished.rows), of: whole(finished.of) }.into()),
    }
}

fn destination(args: &StudyRun) -> Outcome<Destination> {
    match &args.out {
        Some(path) if path.as_os_str() == "-" || path == Path::new("/dev/stdout") => {
            Ok(Destination::Standard)
        }
        Some(path) => Ok(Destination::File(path.clone())),
        None if args.study.as_os_str() == "-" => Err(StudyRunFailure::NoTableNamed.into()),
        None => Ok(Destination::File(beside(&args.study))),
    }
}

fn beside(study: &Path) -> PathBuf {
    study.with_extension("parquet")
}

/// True once the run is told to end; told so again, the program ends at once. What was saved stays.
fn stopped_by_signals() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    for signal in [SIGINT, SIGTERM] {
        // In this order: the first signal finds the flag down, and raises it. A system that takes no
        // handler ends the program at the first, which loses no more than a power cut.
        let _ = signal_hook::flag::register_conditional_shutdown(signal, STOPPED_AT_ONCE, Arc::clone(&stop));
        let _ = signal_hook::flag::register(signal, Arc::clone(&stop));
    }
    stop
}

/// Leaves beside a table that was made now where it comes from. The table is whole without it.
fn leave_origin(origin: &Origin, finished: &Finished) {
    let Some(path) = finished.path.as_ref().filter(|_| finished.is_whole()) else { return };
    if finished.there == finished.of && finished.of > 0 {
        return;
    }
    if let Err(error) = origin.write(path) {
        let name = Origin::beside(path);
        say::warning(&format_args!(
            "{}: cannot be written: {error}; the table is whole",
            words::quoted::path(&name)
        ));
    }
}

/// Says what is there now.
fn say_of(finished: &Finished) {
    if finished.there == finished.of && finished.there > 0 {
        say::hint(&"All rows were there already; nothing was computed.");
    }
    if let Some(with_reason @ 1..) = finished.with_reason {
        let (these, of) = (whole(with_reason), whole(finished.rows));
        say::hint(&format_args!(
            "{these} of {of} rows are not whole, for example where there is no pose; their column `reason` says why"
        ));
    }
    if let (Some(path), Some(size)) = (&finished.path, finished.bytes) {
        say::hint(&format_args!(
            "{}: {} rows, {}",
            words::quoted::path(path),
            whole(finished.rows),
            bytes(size as f64)
        ));
    }
}

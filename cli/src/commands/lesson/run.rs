//! `eminentia lesson`: lessons listed, and looked into before a class.

use std::path::Path;

use files::Source;
use files::built_in::{LESSONS, lesson_named};

use super::args::{Check, Lesson, List};
use super::checked::{CheckReport, Checked, ListReport};
use super::failure::Faulty;
use crate::failure::{Outcome, Unexpected};
use crate::output::{NO_INPUTS, Output, write_report};

/// Looks into lessons, or lists those that come with the program.
pub(crate) fn perform(args: &Lesson) -> Outcome {
    match args {
        Lesson::Check(args) => check(args),
        Lesson::List(args) => list(args),
    }
}

/// Every lesson is looked into, whatever is wrong with those before it.
fn check(args: &Check) -> Outcome {
    let sources: Vec<Source> = args.files.iter().map(|file| source(file)).collect();
    let inputs: Vec<(&Path, &str)> =
        sources.iter().filter_map(|source| Some((source.path()?, "lesson"))).collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let lessons: Vec<Checked> =
        sources.iter().map(|source| Checked { name: source.name(), found: files::lesson(source) }).collect();
    let faulty = lessons.iter().filter(|lesson| lesson.found.is_err()).map(|lesson| lesson.name.clone());
    let faulty: Vec<String> = faulty.collect();
    let report = CheckReport { lessons, answers: args.answers };
    write_report(&report, args.report.format, output)?;
    if faulty.is_empty() { Ok(()) } else { Err(Faulty { faulty, lessons: report.lessons.len() }.into()) }
}

/// A file; where there is none of that name, a lesson that comes with the program.
fn source(file: &Path) -> Source {
    let built_in = || file.to_str().filter(|_| !file.exists()).and_then(lesson_named);
    match built_in() {
        Some(lesson) => Source::CompiledIn { name: lesson.name, text: lesson.text },
        None => Source::named(file),
    }
}

fn list(args: &List) -> Outcome {
    let output = Output::open(args.report.out.as_deref(), NO_INPUTS)?;
    let mut lessons = Vec::new();
    for own in LESSONS {
        let read = files::lesson(&Source::CompiledIn { name: own.name, text: own.text });
        lessons.push((own.name, read.map_err(|error| Unexpected(error.to_string()))?));
    }
    write_report(&ListReport { lessons }, args.report.format, output)?;
    Ok(())
}

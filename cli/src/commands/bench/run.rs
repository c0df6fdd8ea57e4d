//! `eminentia bench`: the bench in the order of hands.

use std::path::Path;

use files::Source;
use report::bench_walk::BenchWalk;

use super::args::Bench;
use super::set_at::trial;
use crate::case;
use crate::failure::Outcome;
use crate::output::{Output, write_report};

/// Walks the bench. A case whose centric record is not confirmed is walked as far as that, then fails.
pub(crate) fn perform(args: &Bench) -> Outcome {
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let report = BenchWalk::of(&worked, trial(&args.set));
    write_report(&report, args.report.format, output)?;
    Ok(case::confirmed(&worked)?)
}

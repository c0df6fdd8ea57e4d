//! `eminentia bench`: the bench in the order of hands.

use std::path::Path;

use files::Source;
use sim_core::bench;

use super::args::Bench;
use super::set_at::trial;
use super::walked::BenchReport;
use crate::case;
use crate::failure::Outcome;
use crate::output::{Output, write_report};

/// Walks the bench. A case whose centric record is not confirmed is walked as far as that, then fails.
pub(crate) fn perform(args: &Bench) -> Outcome {
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let bench = bench::Bench::of(&worked.case, &worked.programmed);
    let trial = trial(&args.set);
    let report = BenchReport { steps: bench.walk(&trial), trial, worked: &worked };
    write_report(&report, args.report.format, output)?;
    Ok(case::confirmed(&worked)?)
}

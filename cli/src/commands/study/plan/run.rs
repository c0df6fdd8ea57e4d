//! `eminentia study plan`: what a run will take.

use super::args::StudyPlan;
use super::report::PlanReport;
use crate::commands::study::loaded::loaded;
use crate::failure::Outcome;
use crate::output::{Output, write_report};

/// Computes a second's worth of rows and tells of all.
pub(crate) fn perform(args: &StudyPlan) -> Outcome {
    let study = loaded(&args.study)?;
    let inputs: Vec<_> = study.files.iter().map(|file| (file, "study or of its files")).collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let threads = args.threads.map_or(0, usize::from);
    let estimate = study_run::estimate(&study, args.part, threads)?;
    let free = study_run::free_bytes(&args.study);
    write_report(&PlanReport { study: &study, estimate: &estimate, free }, args.report.format, output)?;
    Ok(())
}

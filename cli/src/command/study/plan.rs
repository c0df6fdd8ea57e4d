//! `eminentia study plan`: what a run will take.

use crate::command_line::{ProgramFormat, StudyPlan};
use crate::failure::Failure;
use crate::format::{json, table};
use crate::output::Output;

/// Computes a second's worth of rows and tells of all.
pub(super) fn perform(asked: &StudyPlan) -> Result<(), Failure> {
    let loaded = super::loaded(&asked.study)?;
    let inputs: Vec<_> = loaded.files.iter().map(|file| (file, "study or of its files")).collect();
    let output = Output::open(asked.out.as_deref(), &inputs)?;
    let threads = asked.threads.map_or(0, usize::from);
    let estimate = study_run::estimate(&loaded, asked.part, threads)?;
    match asked.format {
        ProgramFormat::Table => output.write(true, |out| table::study_plan(&loaded, &estimate, out))?,
        ProgramFormat::Json => output.write(false, |out| json::study_plan(&loaded, &estimate, out))?,
    }
    Ok(())
}

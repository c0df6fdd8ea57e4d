//! `eminentia viva`: questions drawn at random, with their key.

use super::args;
use super::drawn::VivaReport;
use crate::failure::Outcome;
use crate::output::{NO_INPUTS, Output, write_report};

/// Draws the questions.
pub(crate) fn perform(args: &args::Viva) -> Outcome {
    let output = Output::open(args.report.out.as_deref(), NO_INPUTS)?;
    let viva = sim_core::viva::Viva { seed: args.seed, level: args.level.into() };
    let questions = (0..u64::from(args.count)).map(|number| viva.question(number)).collect();
    write_report(&VivaReport { viva, questions }, args.report.format, output)?;
    Ok(())
}

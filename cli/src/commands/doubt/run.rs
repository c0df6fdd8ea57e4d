//! `eminentia doubt`: how far to trust a case's settings, and what that does to the teeth.

use std::path::Path;

use files::Source;
use sim_core::doubt;

use super::args::Doubt;
use super::failure::DoubtFailure;
use super::report::DoubtReport;
use crate::case;
use crate::failure::Outcome;
use crate::output::{Output, write_report};

/// Redraws the case. One whose centric record is not confirmed has no settings to doubt, and fails.
pub(crate) fn perform(args: &Doubt) -> Outcome {
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    case::confirmed(&worked)?;
    let uncertainties = args.uncertainties(&worked.case);
    let doubt = doubt::redraw(&worked.case, &uncertainties, args.draws, args.seed)
        .map_err(|error| DoubtFailure::Undrawn { name: source.name(), error })?;
    let report = DoubtReport { title: worked.case.title, doubt, seed: args.seed };
    write_report(&report, args.report.format, output)?;
    Ok(())
}

//! `eminentia baseline`: what departs from the zeroed instrument.

use sim_core::setting::check_zeroed;

use super::args::Baseline;
use super::report::BaselineReport;
use crate::casts;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, write_report};

/// Lists every departure from the zeroed baseline. A departure is no failure.
pub(crate) fn perform(args: &Baseline) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let scene = args.changes.made_in(source.read()?)?;
    let output = Output::open(args.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let departures = check_zeroed(&scene.instrument);
    let report = BaselineReport { title: scene.title, departures };
    write_report(&report, args.report.format, output)?;
    Ok(())
}

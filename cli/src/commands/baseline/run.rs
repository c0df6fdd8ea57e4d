//! `eminentia baseline`: the examiner's checklist, and what departs from the baseline.

use sim_core::setting::{baseline_checklist, check_zeroed};

use super::args::Baseline;
use super::checked::BaselineReport;
use crate::casts;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, write_report};

/// Goes through the checklist and lists every departure. A departure is no failure.
pub(crate) fn perform(args: &Baseline) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let scene = args.changes.made_in(source.read()?)?;
    let output = Output::open(args.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let baseline = scene.baseline_or_example();
    let report = BaselineReport {
        departures: check_zeroed(&scene.instrument, &baseline),
        checklist: baseline_checklist(&scene.instrument, &baseline),
        is_example: scene.baseline.is_none(),
        title: scene.title,
        baseline,
    };
    write_report(&report, args.report.format, output)?;
    Ok(())
}

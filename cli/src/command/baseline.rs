//! `eminentia baseline`: what departs from the zeroed instrument.

use crate::casts;
use crate::command_line::Baseline;
use crate::failure::Failure;
use crate::input::Source;
use crate::output::Output;
use sim_core::setting::check_zeroed;

/// Lists every departure from the zeroed baseline. A departure is no failure.
pub(super) fn perform(asked: &Baseline) -> Result<(), Failure> {
    let source = Source::new(asked.scene.path.as_deref());
    let scene = asked.changes.made_in(source.read()?)?;
    let output = Output::open(asked.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let departures = check_zeroed(&scene.instrument);
    let format = asked.report.format;
    output.write(format.is_coloured(), |out| format.format().baseline(&scene.title, &departures, out))?;
    Ok(())
}

//! `eminentia baseline`: what departs from the zeroed instrument.

use sim_core::instrument::check_zeroed;

use crate::command_line::Baseline;
use crate::failure::Failure;
use crate::input::Source;
use crate::output::Output;

/// Lists every departure from the zeroed baseline. A departure is no failure.
pub(super) fn perform(asked: &Baseline) -> Result<(), Failure> {
    let source = Source::new(asked.scene.path.as_deref());
    let scene = asked.changes.made_in(source.read()?)?;
    let scenes: Vec<_> = source.path().into_iter().collect();
    let output = Output::open(asked.report.out.as_deref(), &scenes)?;
    let departures = check_zeroed(&scene.instrument);
    let format = asked.report.format;
    output.write(format.is_coloured(), |out| format.format().baseline(&scene.title, &departures, out))?;
    Ok(())
}

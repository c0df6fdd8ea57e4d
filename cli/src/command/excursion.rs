//! `eminentia excursion`: what the settings do to the teeth.

use crate::casts;
use crate::command_line::Excursion;
use crate::failure::{Failure, Stop};
use crate::input::Source;
use crate::output::Output;
use crate::progress::Progress;
use report::walk::SceneWalk;

/// Makes the scene's excursions. One that stops short is written up to there, then reported.
pub(super) fn perform(asked: &Excursion) -> Result<(), Failure> {
    let source = Source::new(asked.scene.path.as_deref());
    let mut scene = asked.changes.made_in(source.read()?)?;
    let format = asked.report.format;
    let output = Output::open(asked.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let casts = casts::of_scene(&mut scene, &source)?;
    let progress = Progress::of(&scene, &output, format);
    let run = SceneWalk::new(&scene, casts).watched(move || progress.tick());
    output.write(format.is_coloured(), |out| format.format().excursions(&run, out))?;
    Stop::none(&source.name(), run.stops())
}

//! `eminentia excursion`: what the settings do to the teeth.

use super::args::Excursion;
use crate::casts;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, write_report};
use crate::progress::Progress;
use crate::stopped::Stopped;
use report::walk::SceneWalk;

/// Makes the scene's excursions. One that stops short is written up to there, then reported.
pub(crate) fn perform(args: &Excursion) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let mut scene = args.changes.made_in(source.read()?)?;
    let format = args.report.format;
    let output = Output::open(args.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let casts = casts::of_scene(&mut scene, &source)?;
    let progress = Progress::of(&scene, &output, format);
    let run = SceneWalk::new(&scene, casts).watched(move || progress.tick());
    write_report(&run, format, output)?;
    // Solved while it was written: only now is known whether it came to its end.
    Ok(Stopped::any(&source.name(), run.stops())?)
}

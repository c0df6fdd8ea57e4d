//! `eminentia remount`: reads the remount and the scene that it names, works both through, writes.

use files::Source;
use report::remount::RemountReport;
use sim_core::scene::Scene;

use super::args::Remount as Args;
use super::failure::{RemountFailure, UnreadScene};
use crate::casts;
use crate::failure::Outcome;
use crate::output::{Output, write_report};

/// Reports all of it.
pub(crate) fn perform(args: &Args) -> Outcome {
    let source = Source::named(&args.file);
    let remount: sim_core::remount::Remount = source.read()?;
    let of_scene = Source::named(&source.folder().join(&remount.scene));
    let mut scene: Scene = of_scene.read().map_err(|error| UnreadScene { remount: source.name(), error })?;
    let mut inputs = casts::inputs(&scene, &of_scene);
    inputs.extend(source.path().map(|path| (path.to_owned(), "remount")));
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let casts = casts::of_scene(&mut scene, &of_scene)?;
    let report = RemountReport::of(&remount, &scene, casts.as_ref())
        .map_err(|fault| RemountFailure { name: source.name(), fault })?;
    Ok(write_report(&report, args.report.format, output)?)
}

//! `eminentia excursion`: what the settings do to the teeth.

use std::sync::Arc;

use super::args::Excursion;
use crate::casts;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, distinct, write_report};
use crate::plot::Plot;
use crate::progress::Progress;
use crate::stopped::Stopped;
use report::curves;
use report::figures::{ExcursionFigure, excursion_figure};
use report::walk::SceneWalk;

/// Makes the scene's excursions. One that stops short is written and drawn up to there, then reported.
pub(crate) fn perform(args: &Excursion) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let mut scene = args.changes.made_in(source.read()?)?;
    let format = args.report.format;
    distinct(&[("--out", args.report.out.as_ref()), ("--plot", args.plot.plot.as_ref())])?;
    let inputs = casts::inputs(&scene, &source);
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let plot = args.plot.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    let casts = casts::of_scene(&mut scene, &source)?;
    let progress = Progress::of(&scene, &output, format);
    let run = SceneWalk::new(&scene, casts.as_ref().map(Arc::clone)).watched(move || progress.tick());
    write_report(&run, format, output)?;
    if let Some(plot) = plot {
        // The report is written while it is solved and nothing of it is kept: the curves are solved for themselves.
        let panels = curves::of_scene(&SceneWalk::new(&scene, casts));
        let changes: Vec<String> = args.changes.with.iter().map(ToString::to_string).collect();
        let under =
            if changes.is_empty() { String::new() } else { format!("Changed: {}.", changes.join(", ")) };
        let print = args.plot.print.print();
        let figure = ExcursionFigure {
            title: &scene.title,
            under: &under,
            panels: &panels,
            range_mm: args.plot.plot_range,
            print,
        };
        plot.figure(&excursion_figure(&figure), &print)?;
    }
    // Solved while it was written: only now is known whether it came to its end.
    Ok(Stopped::any(&source.name(), run.stops())?)
}

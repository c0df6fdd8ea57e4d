//! `eminentia compare`: two scenes, or a scene and changes of its settings, cusp by cusp.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::Source;
use sim_core::cast::Casts;
use sim_core::scene::Scene;

use super::args::Compare;
use super::failure::CompareFailure;
use crate::casts::{self, same_casts};
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, distinct, write_report};
use crate::plot::Plot;
use crate::stopped::Stopped;
use report::comparison::{Comparison, Titled, WalkedScene};
use report::curves;
use report::excursion_summary::ExcursionSummary;
use report::figures::{ExcursionFigure, Figure, Print, excursion_figure};
use report::walk::SceneWalk;

/// Compares; an excursion that stops short in either scene is compared at its last pose, then
/// reported.
pub(crate) fn perform(args: &Compare) -> Outcome {
    let [first, second] = scenes(args)?;
    let inputs = [&first.inputs[..], &second.inputs].concat();
    distinct(&[("--out", args.report.out.as_ref()), ("--plot", args.plot.plot.as_ref())])?;
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let plot = args.plot.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    let (first_walked, first_end) = walked(&first);
    let (second_walked, second_end) = walked(&second);
    let titles = [first.titled.clone(), second.titled.clone()];
    let comparison = Comparison::of(titles, &first_walked, &second_walked);
    write_report(&comparison, args.report.format, output)?;
    if let Some(plot) = plot {
        let print = args.plot.print.print();
        plot.figure(&drawn(&first, &second, args.plot.plot_range, print), &print)?;
    }
    match (first_end, second_end) {
        (Err(Stopped(mut stops)), Err(Stopped(more))) => {
            stops.extend(more);
            Err(Stopped(stops).into())
        }
        (first, second) => Ok(first.and(second)?),
    }
}

/// The curves of both, on the same axes.
fn drawn(first: &Named, second: &Named, range_mm: Option<(f64, f64)>, print: Print) -> Figure {
    let named = |letter: char, titled: &Titled| format!("{letter}: {} ({}).", titled.title, titled.from);
    excursion_figure(&ExcursionFigure {
        title: "Two set-ups compared",
        under: &format!("{} {}", named('A', &first.titled), named('B', &second.titled)),
        panels: &curves::of_both(
            &SceneWalk::new(&first.scene, first.casts.clone()),
            &SceneWalk::new(&second.scene, second.casts.clone()),
        ),
        range_mm,
        print,
    })
}

/// One side of the comparison.
struct Named {
    titled: Titled,
    scene: Scene,
    casts: Option<Arc<Casts>>,
    inputs: Vec<(PathBuf, &'static str)>,
}

fn scenes(args: &Compare) -> Outcome<[Named; 2]> {
    let named = |source: &Source, scene: Scene, casts: Option<Arc<Casts>>| Named {
        titled: Titled { title: scene.title.clone(), from: source.name() },
        inputs: casts::inputs(&scene, source),
        scene,
        casts,
    };
    let changed = !args.changes.with.is_empty();
    match args.scenes.as_slice() {
        [first, second] => {
            if changed {
                return Err(CompareFailure::TooMuchToCompare.into());
            }
            let one = |path: &Path| -> Outcome<Named> {
                let source = Source::named(path);
                let mut scene = args.changes.made_in(source.read()?)?;
                let casts = casts::of_scene(&mut scene, &source)?;
                Ok(named(&source, scene, casts))
            };
            Ok([one(first)?, one(second)?])
        }
        one_or_none => {
            if !changed {
                return Err(CompareFailure::NothingToCompare.into());
            }
            let source = input::scene_source(one_or_none.first().map(AsRef::as_ref));
            let mut scene: Scene = source.read()?;
            scene.samples = args.changes.samples.unwrap_or(scene.samples);
            let casts = casts::of_scene(&mut scene, &source)?;
            let first = named(&source, scene.clone(), casts.clone());
            let mut scene = args.changes.made_in(scene)?;
            let casts =
                if same_casts(&first.scene, &scene) { casts } else { casts::of_scene(&mut scene, &source)? };
            let mut second = named(&source, scene, casts);
            let changes: Vec<String> = args.changes.with.iter().map(ToString::to_string).collect();
            second.titled.from = format!("with {}", changes.join(", "));
            Ok([first, second])
        }
    }
}

/// A scene gone through, and what stopped short in it.
fn walked(named: &Named) -> (WalkedScene<'_>, Result<(), Stopped>) {
    let walk = SceneWalk::new(&named.scene, named.casts.clone());
    let summaries = walk.excursions().map(|excursion| ExcursionSummary::of(&excursion)).collect();
    (WalkedScene { scene: &named.scene, summaries }, Stopped::any(&named.titled.from, walk.stops()))
}

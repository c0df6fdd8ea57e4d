//! `eminentia compare`: two scenes, or a scene and changes of its settings, cusp by cusp.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use sim_core::cast::Casts;
use sim_core::scene::Scene;

use crate::casts::{self, same_casts};
use crate::command_line::Compare;
use crate::failure::{Failure, Stop};
use crate::input::Source;
use crate::output::Output;
use report::comparison::{Comparison, Titled, WalkedScene};
use report::excursion_summary::ExcursionSummary;
use report::walk::SceneWalk;

/// Compares; an excursion that stops short in either scene is compared at its last pose, then
/// reported.
pub(super) fn perform(asked: &Compare) -> Result<(), Failure> {
    let [first, second] = scenes(asked)?;
    let inputs = [&first.inputs[..], &second.inputs].concat();
    let output = Output::open(asked.report.out.as_deref(), &inputs)?;
    let format = asked.report.format;
    let (first_gone, first_end) = gone_through(&first);
    let (second_gone, second_end) = gone_through(&second);
    let titles = [first.titled.clone(), second.titled.clone()];
    let comparison = Comparison::of(titles, &first_gone, &second_gone);
    output.write(format.is_coloured(), |out| format.format().comparison(&comparison, out))?;
    match (first_end, second_end) {
        (Err(Failure::Stopped(mut stops)), Err(Failure::Stopped(more))) => {
            stops.extend(more);
            Err(Failure::Stopped(stops))
        }
        (first, second) => first.and(second),
    }
}

/// One side of the comparison.
struct Named {
    titled: Titled,
    scene: Scene,
    casts: Option<Arc<Casts>>,
    inputs: Vec<(PathBuf, &'static str)>,
}

fn scenes(asked: &Compare) -> Result<[Named; 2], Failure> {
    let named = |source: &Source, scene: Scene, casts: Option<Arc<Casts>>| Named {
        titled: Titled { title: scene.title.clone(), from: source.name() },
        inputs: casts::inputs(&scene, source),
        scene,
        casts,
    };
    let changed = !asked.changes.with.is_empty();
    match asked.scenes.as_slice() {
        [first, second] => {
            if changed {
                return Err(Failure::TooMuchToCompare);
            }
            let one = |path: &Path| -> Result<Named, Failure> {
                let source = Source::new(Some(path));
                let mut scene = asked.changes.made_in(source.read()?)?;
                let casts = casts::of_scene(&mut scene, &source)?;
                Ok(named(&source, scene, casts))
            };
            Ok([one(first)?, one(second)?])
        }
        one_or_none => {
            if !changed {
                return Err(Failure::NothingToCompare);
            }
            let source = Source::new(one_or_none.first().map(AsRef::as_ref));
            let mut scene = source.read()?;
            scene.samples = asked.changes.samples.unwrap_or(scene.samples);
            let found = casts::of_scene(&mut scene, &source)?;
            let first = named(&source, scene.clone(), found.clone());
            let mut scene = asked.changes.made_in(scene)?;
            let found =
                if same_casts(&first.scene, &scene) { found } else { casts::of_scene(&mut scene, &source)? };
            let mut second = named(&source, scene, found);
            let changes: Vec<String> = asked.changes.with.iter().map(ToString::to_string).collect();
            second.titled.from = format!("with {}", changes.join(", "));
            Ok([first, second])
        }
    }
}

fn gone_through(named: &Named) -> (WalkedScene<'_>, Result<(), Failure>) {
    let run = SceneWalk::new(&named.scene, named.casts.clone());
    let summaries = run.excursions().map(|solving| ExcursionSummary::of(&solving)).collect();
    (WalkedScene { scene: &named.scene, summaries }, Stop::none(&named.titled.from, run.stops()))
}

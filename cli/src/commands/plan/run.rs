//! `eminentia plan`: which inclines, factors or guidance give the occlusion wanted.

use std::path::Path;

use files::{MadeFrom, scene_with_head};

use super::args::Plan;
use super::failure::PlanFailure;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, distinct, write_report};
use crate::plot::Plot;
use report::figures::inclines_figure;
use report::planned::Planned;

/// Works the plan out. A goal that cannot be reached is reported with the nearest that can, then
/// fails.
pub(crate) fn perform(args: &Plan) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let scene = args.changes.made_in(source.read()?)?;
    let name = source.name();
    let plan = args.plan(scene.plan.as_ref()).ok_or(PlanFailure::FreeForNothing)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "scene")).into_iter().collect();
    distinct(&[("--out", args.report.out.as_ref()), ("--scene-out", args.scene_out.as_ref())])?;
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let scene_output = args.scene_out.as_deref();
    let scene_output = scene_output.map(|path| Output::open_for("--scene-out", path, &inputs)).transpose()?;
    let plot = args.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    let planned =
        Planned::of(&scene, &plan).map_err(|error| PlanFailure::Unplanned { name: name.clone(), error })?;
    if let Some(scene_output) = scene_output {
        let notes = planned.notes();
        let made = MadeFrom {
            what: "scene",
            title: &scene.title,
            sha256: None,
            by: "plan",
            day: &files::day::today(),
            notes: &notes,
        };
        let text = scene_with_head(&planned.planned_scene(), &made);
        scene_output.write(false, |out| out.write_all(text.as_bytes()))?;
    }
    write_report(&planned, args.report.format, output)?;
    if let Some(plot) = plot {
        plot.figure(&inclines_figure(&planned), &args.print.print())?;
    }
    if planned.is_reached() { Ok(()) } else { Err(PlanFailure::NotReached { name }.into()) }
}

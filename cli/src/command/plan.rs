//! `eminentia plan`: which inclines, factors or guidance give the occlusion wanted.

use std::path::Path;

use crate::command_line::Plan;
use crate::failure::Failure;
use crate::format::json;
use crate::format::{FormatName, csv, table};
use crate::input::Source;
use crate::output::{Output, distinct};
use crate::plot::Plot;
use report::figures::inclines_figure;
use report::planned::Planned;

/// Works the plan out. A goal that cannot be reached is reported with the nearest that can, then
/// fails.
pub(super) fn perform(asked: &Plan) -> Result<(), Failure> {
    let source = Source::new(asked.scene.path.as_deref());
    let scene = asked.changes.made_in(source.read()?)?;
    let name = source.name();
    let plan = asked.plan(scene.plan.as_ref()).map_err(|_| Failure::FreeForNothing)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "scene")).into_iter().collect();
    distinct(&[("--out", asked.report.out.as_ref()), ("--scene-out", asked.scene_out.as_ref())])?;
    let open = |option, path: Option<&Path>| match path {
        Some(path) => Output::open_for(option, path, &inputs),
        None => Ok(Output::Standard),
    };
    let output = open("--out", asked.report.out.as_deref())?;
    let scene_output = asked.scene_out.as_deref().map(|path| open("--scene-out", Some(path))).transpose()?;
    let plot = asked.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    let planned = Planned::of(&scene, &plan).map_err(|error| Failure::Plan { name: name.clone(), error })?;
    if let Some(scene_output) = scene_output {
        scene_output.write(false, |out| out.write_all(planned.planned_scene().to_ron().as_bytes()))?;
    }
    match asked.report.format {
        FormatName::Table => output.write(true, |out| table::planned(&planned, out))?,
        FormatName::Csv => output.write(false, |out| csv::planned(&planned, out))?,
        FormatName::Json => output.write(false, |out| json::planned(&planned, out))?,
    }
    if let Some(plot) = plot {
        plot.figure(&inclines_figure(&planned))?;
    }
    if planned.is_reached() { Ok(()) } else { Err(Failure::NotReached { name }) }
}

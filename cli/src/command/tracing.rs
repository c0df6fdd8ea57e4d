//! `eminentia tracing`: what a digitised tracing shows.

use std::path::Path;

use sim_core::excursion::{Mechanism, SampleCount};
use sim_core::frame::UpperPoint;
use sim_core::tracing::{Findings, PlatePoint, TracingError, draw, examine, lay_over};
use sim_core::units::Length;

use crate::command_line::{Changes, Tracing};
use crate::failure::{Failure, Stop};
use crate::input::Source;
use crate::output::Output;
use crate::plot::Plot;
use crate::tracing_file::{self, Given};
use report::figures::tracing_figure;
use report::tracing::{Over, TracingReport};

/// How far ahead of the incisal point the stylus of an extraoral tracing stands, clear of the lips
/// (common practice, no source).
const STYLUS_AHEAD_MM: f64 = 20.0;
/// Points of a drawn leg: its steps are then far below what can be seen on a plate.
const DRAWN_POINTS: i64 = 241;
/// A drawn leg goes on this far beyond the longest recorded one.
const DRAWN_BEYOND_MM: f64 = 1.0;
/// Most that a condyle can be asked to advance.
const FARTHEST_ADVANCE_MM: f64 = 30.0;

/// Examines a tracing; one that has to be repeated is reported in full, then fails.
pub(super) fn perform(asked: &Tracing) -> Result<(), Failure> {
    let Given { recorded, photo } = tracing_file::read(&asked.file, &asked.photo)?;
    let name = tracing_file::name(&asked.file);
    let findings = examine(&recorded, Length::from_mm(asked.radius))
        .map_err(|error| Failure::NoTracing { name: name.clone(), error })?;
    let over = asked.over.as_deref().map(|scene| laid_over(asked, scene, &findings)).transpose()?;
    let report = TracingReport { name, recorded, photo, findings, over };
    let scene = asked.over.as_deref().map(|path| (path, "scene"));
    let inputs: Vec<_> = std::iter::once((asked.file.as_path(), "tracing")).chain(scene).collect();
    let output = match &asked.report.out {
        Some(path) => Output::open_for("--out", path, &inputs)?,
        None => Output::Standard,
    };
    let plot = asked.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    let format = asked.report.format;
    output.write(format.is_coloured(), |out| format.format().tracing(&report, out))?;
    if let Some(plot) = plot {
        plot.figure(&tracing_figure(&report))?;
    }
    if report.findings.objections().is_empty() { Ok(()) } else { Err(Failure::Repeat(report.verdict())) }
}

/// Draws the instrument's tracing as far as the recorded one goes, and lays it over.
fn laid_over(asked: &Tracing, scene: &Path, findings: &Findings) -> Result<Over, Failure> {
    let source = Source::new(Some(scene));
    let changes = Changes { with: asked.with.clone(), samples: None };
    let scene = changes.made_in(source.read()?)?;
    let incisal = scene.instrument.incisal_point.coords();
    let stylus = asked.stylus.unwrap_or_else(|| UpperPoint::mm(incisal.x + STYLUS_AHEAD_MM, 0.0, incisal.z));
    let from_apex = |point: &PlatePoint| point.distance(&findings.apex.at).mm();
    let longest = findings.legs.iter().flat_map(|leg| &leg.line).map(from_apex).fold(0.0, f64::max);
    let reach = Length::from_mm((longest + DRAWN_BEYOND_MM).min(FARTHEST_ADVANCE_MM));
    let samples = SampleCount::new(DRAWN_POINTS).map_err(|error| Failure::Unexpected(error.to_string()))?;
    let drawn =
        draw(&Mechanism::new(&scene.instrument), &stylus, reach, samples).map_err(|error| match error {
            TracingError::NoPose(no_pose) => Failure::Stopped(vec![Stop { scene: source.name(), no_pose }]),
            TracingError::Reach(error) => Failure::Unexpected(error.to_string()),
        })?;
    let overlay = lay_over(&drawn, findings);
    Ok(Over { title: scene.title, stylus, drawn, overlay })
}

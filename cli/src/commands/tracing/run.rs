//! `eminentia tracing`: what a digitised tracing shows.

use std::path::Path;

use files::Source;
use sim_core::excursion::Mechanism;
use sim_core::excursion::SampleCount;
use sim_core::frame::UpperPoint;
use sim_core::tracing::{Findings, PlatePoint, TracingError, draw, lay_over};
use sim_core::units::Length;

use super::args::{Step, Tracing};
use super::{setup, template};
use crate::args::Changes;
use crate::examined::{accepted, examined};
use crate::failure::{Outcome, Unexpected};
use crate::output::{Output, write_report};
use crate::plot::Plot;
use crate::stopped::Stopped;
use report::figures::tracing_figure;
use report::tracing::Over;

/// How far ahead of the incisal point the stylus of an extraoral tracing stands, clear of the lips
/// (common practice, no source).
const STYLUS_AHEAD_MM: f64 = 20.0;
/// Points of a drawn leg: its steps are then far below what can be seen on a plate.
const DRAWN_POINTS: i64 = 241;
/// A drawn leg goes on this far beyond the longest recorded one.
const DRAWN_BEYOND_MM: f64 = 1.0;
/// Most that a condyle can be asked to advance.
const FARTHEST_ADVANCE_MM: f64 = 30.0;

/// Does the step that is asked for; without one, a tracing is examined.
pub(crate) fn perform(args: &Tracing) -> Outcome {
    match (&args.step, &args.file) {
        (Some(Step::Setup(args)), _) => setup::perform(args),
        (Some(Step::Template(args)), _) => template::perform(args),
        (None, Some(file)) => examine(args, file),
        (None, None) => Err(Unexpected("no tracing is given".to_owned()).into()),
    }
}

/// Examines a tracing; one that has to be repeated is reported in full, then fails.
fn examine(args: &Tracing, file: &Path) -> Outcome {
    let mut report = examined(file, &args.photo, ("--radius", Length::from_mm(args.radius)))?;
    report.over = args.over.as_deref().map(|scene| laid_over(args, scene, &report.findings)).transpose()?;
    let scene = args.over.as_deref().map(|path| (path, "scene"));
    let inputs: Vec<_> = std::iter::once((file, "tracing")).chain(scene).collect();
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let plot = args.plot.as_deref().map(|path| Plot::open(path, &inputs)).transpose()?;
    write_report(&report, args.report.format, output)?;
    if let Some(plot) = plot {
        let print = args.print.print();
        plot.figure(&tracing_figure(&report, print.titled), &print)?;
    }
    Ok(accepted(&report)?)
}

/// Draws the instrument's tracing as far as the recorded one goes, and lays it over.
fn laid_over(args: &Tracing, scene: &Path, findings: &Findings) -> Outcome<Over> {
    let source = Source::named(scene);
    let changes = Changes { with: args.with.clone(), samples: None };
    let scene = changes.made_in(source.read()?)?;
    let incisal = scene.instrument.incisal_point.coords();
    let stylus = args.stylus.unwrap_or_else(|| UpperPoint::mm(incisal.x + STYLUS_AHEAD_MM, 0.0, incisal.z));
    let from_apex = |point: &PlatePoint| point.distance(&findings.apex.at).mm();
    let longest = findings.legs.iter().flat_map(|leg| &leg.line).map(from_apex).fold(0.0, f64::max);
    let reach = Length::from_mm((longest + DRAWN_BEYOND_MM).min(FARTHEST_ADVANCE_MM));
    let samples = SampleCount::new(DRAWN_POINTS).map_err(|error| Unexpected(error.to_string()))?;
    let drawn = match draw(&Mechanism::new(&scene.instrument), &stylus, reach, samples) {
        Ok(drawn) => drawn,
        Err(TracingError::NoPose(no_pose)) => return Err(Stopped::one(&source.name(), no_pose).into()),
        Err(TracingError::Reach(error)) => return Err(Unexpected(error.to_string()).into()),
    };
    let overlay = lay_over(&drawn, findings);
    Ok(Over { title: scene.title, stylus, drawn, overlay })
}

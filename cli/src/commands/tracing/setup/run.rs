//! `eminentia tracing setup`: a tracer between its rims, judged before it is used.

use sim_core::scene::Scene;
use sim_core::tracing::{SetupError, TracingSetup, set_up};
use sim_core::units::Length;

use super::args::Setup;
use super::judged::SetupReport;
use crate::casts;
use crate::failure::{Failure, Outcome, Status};
use crate::input;
use crate::output::{Output, write_report};

/// Why a set-up cannot be judged.
#[derive(Debug, thiserror::Error)]
#[error("{name}: {error}")]
pub(crate) struct SetupFailure {
    name: String,
    error: SetupError,
}

impl Failure for SetupFailure {
    fn status(&self) -> Status {
        Status::Failed
    }
}

/// Judges the tracer of a scene. What is to be doubted is no failure: it is what was asked.
pub(crate) fn perform(args: &Setup) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let scene = args.changes.made_in(source.read()?)?;
    let output = Output::open(args.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let setup = worked(&scene, &source.name(), args.distance, args.reach)?;
    write_report(&SetupReport { title: scene.title, setup }, args.report.format, output)?;
    Ok(())
}

/// The tracer of a scene set up.
pub(crate) fn worked(
    scene: &Scene,
    name: &str,
    distance_mm: f64,
    reach_mm: f64,
) -> Result<TracingSetup, SetupFailure> {
    let (distance, reach) = (Length::from_mm(distance_mm), Length::from_mm(reach_mm));
    set_up(&scene.instrument, scene.occlusal_plane, &scene.completed_tracer(), distance, reach)
        .map_err(|error| SetupFailure { name: name.to_owned(), error })
}

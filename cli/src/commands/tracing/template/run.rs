//! `eminentia tracing template`: the holes of the records in their own size, to print.

use std::path::Path;

use files::Source;
use report::template::{Template as Drawn, TemplateError};
use sim_core::units::Length;

use super::super::setup::worked;
use super::args::Template;
use crate::examined::{accepted, examined};
use crate::failure::{Failure, Outcome, Status, Unexpected};
use crate::left_out::LeftOut;
use crate::output::Output;

/// How far beyond the holes the legs of a scene's template go.
const BEYOND_MM: f64 = 2.0;

/// Why there is no template.
#[derive(Debug, thiserror::Error)]
enum TemplateFailure {
    #[error("--out {name}: unknown file extension; use .pdf or .svg")]
    Kind { name: String },
    #[error("{name}: {error}")]
    Template { name: String, error: TemplateError },
}

impl Failure for TemplateFailure {
    fn status(&self) -> Status {
        match self {
            Self::Kind { .. } => Status::Wrong,
            Self::Template { .. } => Status::Failed,
        }
    }
}

/// Writes the template. Of a tracing that has to be repeated there is none: records would be made at
/// the wrong places.
pub(crate) fn perform(args: &Template) -> Outcome {
    let ending = args.out.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let is_pdf = match ending.as_deref() {
        Some("pdf") => true,
        Some("svg") => false,
        _ => return Err(TemplateFailure::Kind { name: words::quoted::path(&args.out) }.into()),
    };
    if is_pdf {
        LeftOut::unless_drawn("--out", &args.out, "PDF")?;
    }
    let (drawn, input) = match (&args.scene, &args.file) {
        (Some(scene), _) => (of_scene(scene, args.distance)?, (scene.as_path(), "scene")),
        (None, Some(file)) => (of_tracing(args, file)?, (file.as_path(), "tracing")),
        (None, None) => return Err(Unexpected("neither a tracing nor a scene is given".to_owned()).into()),
    };
    let output = Output::open_for("--out", &args.out, &[input])?;
    let paper = args.paper.into();
    let bytes = if is_pdf {
        drawn.pdf(paper).map_err(|error| Unexpected(error.to_string()))?
    } else {
        drawn.svg(paper).into_bytes()
    };
    output.write(false, |out| out.write_all(&bytes))?;
    Ok(())
}

fn of_scene(path: &Path, distance_mm: f64) -> Outcome<Drawn> {
    let source = Source::named(path);
    let scene = source.read()?;
    let setup = worked(&scene, &source.name(), distance_mm, distance_mm + BEYOND_MM)?;
    Ok(Drawn::of_setup(&scene.title, &setup))
}

fn of_tracing(args: &Template, path: &Path) -> Outcome<Drawn> {
    let report = examined(path, &args.photo, ("--distance", Length::from_mm(args.distance)))?;
    accepted(&report)?;
    let failed = |error| TemplateFailure::Template { name: report.name.clone(), error };
    Ok(Drawn::of_tracing(&report).map_err(failed)?)
}

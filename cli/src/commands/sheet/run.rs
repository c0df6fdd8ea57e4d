//! `eminentia sheet`: one page to set an instrument from.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::{CaseOrScene, Source};
use report::sheet::{Beside, Graduation, Kind, Sheet, SheetOptions};
use sim_core::anterior::AnteriorGuide;
use sim_core::cast::Casts;
use sim_core::scene::Scene;
use sim_core::tracing::USUAL_RADIUS;
use sim_core::units::Angle;

use super::args::Sheet as Args;
use super::failure::SheetFailure;
use crate::case;
use crate::casts;
use crate::examined::{accepted, examined};
use crate::failure::{Outcome, Unexpected};
use crate::left_out::LeftOut;
use crate::output::Output;
use crate::say;

/// Writes the sheet. A centric record that is not confirmed, and a tracing that has to be repeated,
/// stand on it as such; then the command fails.
pub(crate) fn perform(args: &Args) -> Outcome {
    let kind =
        kind(&args.out).ok_or_else(|| SheetFailure::NoSuchSheet { name: words::quoted::path(&args.out) })?;
    if kind == Kind::Pdf {
        LeftOut::unless_drawn("--out", &args.out, "PDF")?;
    }
    let graduation = Graduation::new(Angle::from_degrees(args.graduation)).map_err(SheetFailure::from)?;
    let options = SheetOptions { graduation, day: files::day::today() };
    let source = Source::named(&args.input);
    let (text, read) = files::case_or_scene(&source)?;
    let what = match &read {
        CaseOrScene::Case(_) => "case",
        CaseOrScene::Scene(_) => "scene",
    };
    let tracing = args
        .tracing
        .as_deref()
        .map(|path| examined(path, &args.photo, ("--tracing", USUAL_RADIUS)))
        .transpose()?;
    let mut inputs: Vec<(PathBuf, &str)> =
        source.path().map(|path| (path.to_owned(), what)).into_iter().collect();
    inputs.extend(args.tracing.as_ref().map(|path| (path.clone(), "tracing")));
    let beside = |casts| Beside { tracing: tracing.as_ref(), casts };
    let (sheet, worked) = match read {
        CaseOrScene::Case(case) => {
            let mut worked = case::worked(*case, source.name(), &text)?;
            let casts = worked.scene.as_mut().map(|scene| casts_of(scene, &source)).transpose()?;
            (Sheet::of(&worked, &options, beside(casts.flatten())), Some(worked))
        }
        CaseOrScene::Scene(mut scene) => {
            inputs.extend(casts::inputs(&scene, &source));
            let casts = casts_of(&mut scene, &source)?;
            (Sheet::of_scene(&scene, &source.name(), &text, &options, beside(casts)), None)
        }
    };
    let output = Output::open_for("--out", &args.out, &inputs)?;
    let bytes = kind.bytes(&sheet, args.paper.into()).map_err(|error| Unexpected(error.to_string()))?;
    output.write(false, |out| out.write_all(&bytes))?;
    if let Some(lacking) = kind.without_shape(&sheet, args.paper.into()) {
        say::warning(&format_args!("--out {}: {lacking}", words::quoted::path(&args.out)));
    }
    worked.as_ref().map_or(Ok(()), case::confirmed)?;
    tracing.as_ref().map_or(Ok(()), accepted)?;
    Ok(())
}

/// The casts, where the disclusion hangs on them: teeth that guide, cusps that stand where invented ones are.
fn casts_of(scene: &mut Scene, source: &Source) -> Outcome<Option<Arc<Casts>>> {
    let guide = matches!(scene.instrument.anterior_guide, AnteriorGuide::Casts(_));
    if guide || scene.invented_casts.is_some() { Ok(casts::of_scene(scene, source)?) } else { Ok(None) }
}

/// The kind of sheet that a file's ending names.
fn kind(path: &Path) -> Option<Kind> {
    Kind::of_ending(&path.extension()?.to_string_lossy())
}

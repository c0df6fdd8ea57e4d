//! `eminentia casts`: writes an invented pair, with its cusps named.

use std::path::{Path, PathBuf};

use files::{MadeFrom, Source, scene_with_head};
use sim_core::cast::invented::InventedPair;
use sim_core::cast::{CastUnit, Surface};
use sim_core::scene::{CastFiles, Scene};

use super::args::{Casts as Args, PairKind};
use super::failure::CastsFailure;
use crate::cast_file;
use crate::casts::{self, named_from};
use crate::failure::Outcome;
use crate::input::{self, changed};
use crate::output::{Output, distinct, printable_line, write_report};
use report::invented_pair::{InventedPairReport, WrittenCast, settings_of};

/// Makes the pair and writes both casts. Every file is opened before anything is written.
pub(crate) fn perform(args: &Args) -> Outcome {
    let source = source(args);
    let mut scene = changed(source.read()?, &args.with)?;
    let forms = [cast_file::format("--upper", &args.upper)?, cast_file::format("--lower", &args.lower)?];
    let files = [
        ("--upper", Some(&args.upper)),
        ("--lower", Some(&args.lower)),
        ("--scene-out", args.scene_out.as_ref()),
        ("--out", args.report.out.as_ref()),
    ];
    distinct(&files)?;
    if let Some(path) = &args.scene_out {
        // Before anything is written: the scene is to name both.
        named_from(path, &args.upper)?;
        named_from(path, &args.lower)?;
    }
    let inputs = casts::inputs(&scene, &source);
    let open = |(option, path): (&str, Option<&PathBuf>)| {
        path.map(|path| Output::open_for(option, path, &inputs)).transpose()
    };
    let [upper, lower, scene_out, report_out] = files.map(open);
    let (upper, lower, scene_out) = (upper?, lower?, scene_out?);
    let report_out = report_out?.unwrap_or(Output::Standard);
    let invented =
        scene.invented_casts.clone().ok_or_else(|| CastsFailure::NoInventedCasts { name: source.name() })?;
    let pair = scene
        .invent_casts()
        .map_err(|error| CastsFailure::Casts { name: source.name(), error: Box::new(error.into()) })?
        .ok_or_else(|| CastsFailure::NoInventedCasts { name: source.name() })?;
    let comment = format!("Invented: nobody's teeth. {}", printable_line(&scene.title));
    for (output, form, surface) in [(upper, forms[0], &pair.upper), (lower, forms[1], &pair.lower)] {
        if let Some(output) = output {
            output.write(false, |out| form.write(surface, &comment, out))?;
        }
    }
    if let (Some(output), Some(path)) = (scene_out, &args.scene_out) {
        let scene = scene_of_files(scene.clone(), &pair, args, path)?;
        let made = MadeFrom {
            what: "scene",
            title: &scene.title,
            sha256: None,
            by: "casts",
            day: &files::day::today(),
            notes: &[],
        };
        output.write(false, |out| out.write_all(scene_with_head(&scene, &made).as_bytes()))?;
    }
    let written = |path: &Path, surface: &Surface| WrittenCast {
        file: words::quoted::path(path),
        vertices: surface.vertices().len(),
        triangles: surface.triangles().len(),
    };
    let report = InventedPairReport {
        settings: settings_of(&scene),
        title: scene.title,
        invented_casts: invented,
        upper: written(&args.upper, &pair.upper),
        lower: written(&args.lower, &pair.lower),
        cusps: pair.cusps,
    };
    write_report(&report, args.report.format, report_out)?;
    Ok(())
}

/// The scene with the written files as its casts, and all their cusps watched.
fn scene_of_files(mut scene: Scene, pair: &InventedPair, args: &Args, path: &Path) -> Outcome<Scene> {
    scene.invented_casts = None;
    scene.casts = Some(CastFiles {
        upper: named_from(path, &args.upper)?,
        lower: named_from(path, &args.lower)?,
        unit: Some(CastUnit::Millimetre),
        mounting: None,
    });
    scene.cusps.clone_from(&pair.cusps);
    Ok(scene)
}

fn source(args: &Args) -> Source {
    match (&args.scene, args.kind.unwrap_or_default()) {
        (Some(path), _) => Source::named(path),
        (None, PairKind::Dentate) => input::DENTATE,
        (None, PairKind::CompleteDenture) => input::COMPLETE_DENTURE,
    }
}

//! `eminentia custom-table`: the incisal table that makes the pin repeat what the teeth do.

use std::sync::Arc;

use files::{MadeFrom, scene_with_head};
use sim_core::occlusion::{FormedTable, Mounted};

use super::args::CustomTable as Args;
use super::failure::CustomTableFailure;
use crate::cast_file;
use crate::casts;
use crate::failure::Outcome;
use crate::input::{self, changed};
use crate::output::{Output, distinct, write_report};
use report::formed_table::{Formed, FormedTableReport};

/// Forms the table and writes it.
pub(crate) fn perform(args: &Args) -> Outcome {
    let source = input::casts_source(args.scene.as_deref());
    let mut scene = changed(source.read()?, &args.with)?;
    let files = [
        ("--print", args.print.as_ref()),
        ("--scene-out", args.scene_out.as_ref()),
        ("--out", args.report.out.as_ref()),
    ];
    distinct(&files)?;
    let inputs = casts::inputs(&scene, &source);
    let form = args.print.as_deref().map(|path| cast_file::format("--print", path)).transpose()?;
    let [print, scene_out, report_out] =
        files.map(|(option, path)| path.map(|path| Output::open_for(option, path, &inputs)).transpose());
    let (print, scene_out, report_out) = (print?, scene_out?, report_out?.unwrap_or(Output::Standard));
    let casts = casts::needed(&mut scene, &source)?;
    let failed = |error| CustomTableFailure::NoTable { name: source.name(), error };
    let mounted = Mounted::new(scene.instrument.clone(), Arc::clone(&casts), scene.occlusal_plane);
    let formed = mounted.form_table(&args.sweep()).map_err(failed)?;
    let printed = formed.printed().map_err(failed)?;
    if let (Some(print), Some(form)) = (print, form) {
        let solid = args.solid().solid(&printed).map_err(failed)?;
        let comment = format!(
            "Custom incisal table formed to the teeth of: {}. For a pin's tip of {} radius",
            words::quoted::escaped(&scene.title),
            words::number::length(formed.field().tip().radius, 2)
        );
        print.write(false, |out| form.write(&solid, &comment, out))?;
    }
    let rolled = formed.rolled(&printed).map_err(failed)?;
    let runs_off = formed.runs_off(&rolled);
    let with_table = FormedTable::mount_rolled(&scene.instrument, rolled);
    let report = FormedTableReport::of(
        &scene,
        &casts,
        Formed { formed, printed, runs_off, in_a_file: args.print.is_some() },
        &with_table,
    );
    if let (Some(output), Some(path)) = (scene_out, &args.scene_out) {
        let mut scene = scene;
        scene.instrument = with_table;
        casts::rename_for(&mut scene, source.folder(), path)?;
        let made = MadeFrom {
            what: "scene",
            title: &scene.title,
            sha256: None,
            by: "custom-table",
            day: &files::day::today(),
            notes: &[],
        };
        output.write(false, |out| out.write_all(scene_with_head(&scene, &made).as_bytes()))?;
    }
    write_report(&report, args.report.format, report_out)?;
    Ok(())
}

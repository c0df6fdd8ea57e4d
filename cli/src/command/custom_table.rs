//! `eminentia custom-table`: the incisal table that makes the pin repeat what the teeth do.

use std::sync::Arc;

use sim_core::occlusion::Mounted;

use crate::cast_file::CastForm;
use crate::casts;
use crate::command_line::CustomTable as Asked;
use crate::failure::Failure;
use crate::input::{Source, changed};
use crate::output::{Output, distinct};
use report::formed_table::FormedTableReport;

/// Forms the table and writes it.
pub(super) fn perform(asked: &Asked) -> Result<(), Failure> {
    let source = Source::of_casts(asked.scene.as_deref());
    let mut scene = changed(source.read()?, &asked.with)?;
    let files = [
        ("--print", asked.print.as_ref()),
        ("--scene-out", asked.scene_out.as_ref()),
        ("--out", asked.report.out.as_ref()),
    ];
    distinct(&files)?;
    let inputs = casts::inputs(&scene, &source);
    let form = asked.print.as_deref().map(|path| CastForm::of("--print", path)).transpose()?;
    let [print, scene_out, report_out] =
        files.map(|(option, path)| path.map(|path| Output::open_for(option, path, &inputs)).transpose());
    let (print, scene_out, report_out) = (print?, scene_out?, report_out?.unwrap_or(Output::Standard));
    let casts = casts::needed(&mut scene, &source)?;
    let failed = |error| Failure::CustomTable { name: source.name(), error };
    let mounted = Mounted::new(scene.instrument.clone(), Arc::clone(&casts), scene.occlusal_plane);
    let formed = mounted.form_table(&asked.sweep()).map_err(failed)?;
    if let (Some(print), Some(form)) = (print, form) {
        let solid = asked.solid().solid(formed.field()).map_err(failed)?;
        let comment = format!("Custom incisal table formed to the teeth of: {}", scene.title);
        print.write(false, |out| form.write(&solid, &comment, out))?;
    }
    let with_table = formed.mount(&scene.instrument);
    let report = FormedTableReport::of(&scene, &casts, &formed, &with_table);
    if let (Some(output), Some(path)) = (scene_out, &asked.scene_out) {
        let mut scene = scene;
        scene.instrument = with_table;
        casts::rename_for(&mut scene, source.folder(), path);
        output.write(false, |out| out.write_all(scene.to_ron().as_bytes()))?;
    }
    let format = asked.report.format;
    report_out.write(format.is_coloured(), |out| format.format().custom_table(&report, out))?;
    Ok(())
}

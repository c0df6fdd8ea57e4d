//! `eminentia program`: from records to settings.

use std::path::Path;

use crate::case;
use crate::command_line::{Program, ProgramFormat};
use crate::failure::Failure;
use crate::format::{json, table};
use crate::input::Source;
use crate::output::{Output, distinct};

/// Programs the instrument. A centric record that is not confirmed is reported in full, without
/// settings, then fails.
pub(super) fn perform(asked: &Program) -> Result<(), Failure> {
    let source = Source::new(Some(&asked.case));
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let open = |option, path: Option<&Path>| match path {
        Some(path) => Output::open_for(option, path, &inputs),
        None => Ok(Output::Standard),
    };
    distinct(&[("--out", asked.out.as_ref()), ("--scene-out", asked.scene_out.as_ref())])?;
    let output = open("--out", asked.out.as_deref())?;
    let scene_output = asked.scene_out.as_deref().map(|path| open("--scene-out", Some(path))).transpose()?;
    if let (Some(scene), Some(scene_output)) = (&worked.scene, scene_output) {
        scene_output.write(false, |out| out.write_all(scene.to_ron().as_bytes()))?;
    }
    match asked.format {
        ProgramFormat::Table => output.write(true, |out| table::programmed(&worked, out))?,
        ProgramFormat::Json => output.write(false, |out| json::programmed(&worked, out))?,
    }
    case::confirmed(&worked)
}

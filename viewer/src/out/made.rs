//! Files that are made of the state alone: what a page of a browser can hand over too.

use std::path::Path;

use report::excursion_rows;
use report::sheet::{Beside, Kind, Paper, Sheet, SheetOptions};
use report::template::Template;
use report::walk::SceneWalk;
use sim_core::scene::Scene;
use sim_core::tracing::TracingSetup;

use crate::bench::OnBench;
use crate::state::State;

/// How a file of a scene ends.
const SCENE: &str = "ron";

/// A file as it goes out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutFile {
    /// Its name, without a folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Every sample and cusp of every excursion of what is shown, as CSV.
///
/// # Errors
/// What cannot be written as a row, which is a fault of the program.
pub fn table(state: &State) -> Result<Vec<u8>, String> {
    let casts = state.shown.mounted.as_ref().map(|mounted| mounted.casts.clone());
    let mut bytes = Vec::new();
    excursion_rows::write_whole(&SceneWalk::new(&state.shown.scene, casts), &mut bytes)
        .map_err(|error| error.to_string())?;
    Ok(bytes)
}

/// The sheet of the case on the bench, as it is written on a day (`2026-11-27`).
///
/// # Errors
/// What kept it from being drawn, which is no fault of the case.
pub fn sheet(bench: &OnBench, kind: Kind, day: &str) -> Result<Vec<u8>, String> {
    let options = SheetOptions { day: day.to_owned(), ..SheetOptions::default() };
    let sheet = Sheet::of(&bench.worked, &options, Beside::default());
    kind.bytes(&sheet, Paper::A4).map_err(|error| error.to_string())
}

/// The template of a drawn tracing, in its own size, as a picture to print at 100 %.
#[must_use]
pub fn template_svg(setup: &TracingSetup, title: &str) -> String {
    Template::of_setup(title, setup).svg(Paper::A4)
}

/// The scene as a file of its own, as it is saved on a day.
#[must_use]
pub fn scene_text(state: &State, day: &str) -> String {
    headed(&state.scene, &state.as_read.title, day)
}

/// B as a file of its own, where there is one.
#[must_use]
pub fn beside_text(state: &State, day: &str) -> Option<String> {
    let scene = &state.kept.as_ref()?.set_up.scene;
    Some(headed(scene, &scene.title, day))
}

fn headed(scene: &Scene, made_from: &str, day: &str) -> String {
    let made =
        files::MadeFrom { what: "scene", title: made_from, sha256: None, by: "viewer", day, notes: &[] };
    files::scene_with_head(scene, &made)
}

/// The name of a file that is made of another one and stands beside it: `case-sheet.pdf`. A number above 1 is put into
/// it, for where there is such a file.
#[must_use]
pub fn name_beside(of: Option<&Path>, what: &str, number: u32, ending: &str) -> String {
    let stem = of.and_then(Path::file_stem).map_or_else(|| "eminentia".into(), |stem| stem.to_string_lossy());
    let numbered = if number > 1 { format!("-{number}") } else { String::new() };
    format!("{stem}-{what}{numbered}.{ending}")
}

/// The name of the file in which B is saved with the scene: `scene_b.ron`. A number above 1 is put into it.
#[must_use]
pub fn name_of_beside(scene: &Path, number: u32) -> String {
    let stem = scene.file_stem().unwrap_or_default().to_string_lossy();
    let numbered = if number > 1 { format!("_{number}") } else { String::new() };
    format!("{stem}_b{numbered}.{SCENE}")
}

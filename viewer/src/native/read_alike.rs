//! What is read from bytes that were given by name is what is read from the disk.

use std::path::{Path, PathBuf};

use files::Given;
use sim_core::record::Case;
use sim_core::scene::{CastFiles, Scene};

use super::files as native_files;
use crate::opened::Request;
use crate::reading::{self, Held};
use crate::state::State;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every file that comes with the program and that a person may drop on the window.
fn all() -> Vec<PathBuf> {
    let folders =
        ["scenes", "scenes/cases", "scenes/tracings", "scenes/remounts", "scenes/studies", "lessons"];
    let entries = folders.into_iter().flat_map(|folder| std::fs::read_dir(root().join(folder)).unwrap());
    let mut files: Vec<PathBuf> =
        entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_file()).collect();
    files.sort();
    assert!(files.len() > 30, "{files:?}");
    files
}

/// All of what was read, or the refusal.
fn told(read: Result<Held, reading::FileError>) -> String {
    read.map_or_else(|error| error.to_string(), |held| format!("{held:?}"))
}

#[test]
fn every_file_is_the_same_from_the_disk_and_from_its_bytes() {
    let mut kinds = [0; 5];
    for path in all() {
        let bytes = std::fs::read(&path).unwrap();
        let from_disk = native_files::read_any(&path);
        let kind = match &from_disk {
            Ok(Held::Scene(opened)) => {
                let text = String::from_utf8(bytes.clone()).unwrap();
                assert_eq!(opened.scene, Scene::from_ron(&text).unwrap(), "{}", path.display());
                0
            }
            Ok(Held::Case(worked)) => {
                let text = String::from_utf8(bytes.clone()).unwrap();
                let records = Case::from_ron(&text).unwrap().records.len();
                assert_eq!(worked.case.records.len(), records, "{}", path.display());
                1
            }
            Ok(Held::Tracing(_)) => 2,
            Ok(Held::Lesson(_)) => 3,
            Err(_) => 4,
        };
        kinds[kind] += 1;
        let from_disk = told(from_disk);
        // Under the same name, to the last letter.
        let mut given = Given::default();
        given.take(&path, bytes.clone());
        assert_eq!(told(reading::any(&given, &path)), from_disk, "{}", path.display());
        // Under its last name, as a page of a browser has it.
        let name = Path::new(path.file_name().unwrap());
        let mut given = Given::default();
        given.take(name, bytes);
        let read = told(reading::any(&given, name));
        assert_eq!(read, from_disk.replace(&path.display().to_string(), &name.display().to_string()));
    }
    assert!(kinds.iter().all(|count| *count >= 2), "{kinds:?}");
}

/// The same state, whoever answers.
#[test]
fn a_window_and_a_page_come_to_the_same_state() {
    for path in all() {
        let mut given = Given::default();
        given.take(&path, std::fs::read(&path).unwrap());
        let mut states = [0, 1].map(|_| State::open(Scene::thirty_degree()).unwrap());
        let [window, page] = &mut states;
        assert_eq!(native_files::answer(window, Request::Open(path.clone())), None);
        assert_eq!(reading::answer(page, Request::Open(path.clone()), &given), None);
        let [window, page] = states.map(|state| {
            let bench = state.bench.as_ref().map(|bench| format!("{:?}", bench.worked));
            let lesson = state.teaching.lesson().map(|given| format!("{:?}", given.opened));
            let place = (state.room, state.page, state.file.clone(), state.file_note.clone());
            (state.scene, state.as_read, place, state.plate.under, bench, lesson)
        });
        assert_eq!(window, page, "{}", path.display());
        // A file does something, or is refused in words.
        let unchanged = page.0 == Scene::thirty_degree();
        let (_, _, (.., file, note), under, bench, lesson) = page;
        let opened = file.is_some() || under.is_some() || bench.is_some() || lesson.is_some();
        assert!(opened != note.is_some() || !unchanged, "{}", path.display());
    }
}

/// A scene that names casts in a folder beside it, written with them into `folder`.
fn with_casts(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let dentate = std::fs::read_to_string(root().join("scenes/dentate_casts.ron")).unwrap();
    let mut scene = Scene::from_ron(&dentate).unwrap();
    let pair = scene.invent_casts().unwrap().unwrap();
    scene.invented_casts = None;
    let text = scene.to_ron();
    let names = ["scans/upper.stl", "scans/lower.stl"];
    let written = text.replacen(
        "(",
        &format!("(casts: (upper: \"{}\", lower: \"{}\", unit: Millimetre),", names[0], names[1]),
        1,
    );
    let mut files = vec![(folder.join("scene.ron"), written.into_bytes())];
    for (name, surface) in names.into_iter().zip([&pair.upper, &pair.lower]) {
        let mut bytes = Vec::new();
        files::cast::write_stl_binary(surface, "invented", &mut bytes).unwrap();
        files.push((folder.join(name), bytes));
    }
    std::fs::create_dir(folder.join("scans")).unwrap();
    for (path, bytes) in &files {
        std::fs::write(path, bytes).unwrap();
    }
    files
}

#[test]
fn a_scene_with_its_casts_from_three_named_bytes_is_that_of_the_folder() {
    let folder = tempfile::tempdir().unwrap();
    let files = with_casts(folder.path());
    let from_disk = native_files::read(&files[0].0).unwrap();
    let casts: &CastFiles = from_disk.scene.casts.as_ref().unwrap();
    assert_eq!(casts.upper, "scans/upper.stl");
    // A page knows last names only.
    let mut given = Given::default();
    for (path, bytes) in &files {
        given.take(path.file_name().unwrap(), bytes.clone());
    }
    let from_bytes = reading::scene(&given, Path::new("scene.ron")).unwrap();
    assert_eq!(from_bytes.scene, from_disk.scene);
    let (scans, on_disk) = (from_bytes.scans.clone().unwrap(), from_disk.scans.clone().unwrap());
    assert_eq!(scans.surfaces, on_disk.surfaces);
    assert_ne!(scans.surfaces[0], scans.surfaces[1]);
    assert_eq!(scans.names, ["upper.stl", "lower.stl"]);
    // And so is what is drawn of it.
    let drawn = [from_disk, from_bytes].map(|opened| State::open(opened).unwrap());
    let touch = |state: &State| format!("{:?}", state.sample());
    assert_eq!(touch(&drawn[0]), touch(&drawn[1]));
    assert!(drawn[1].shown.mounted.is_some());

    // Without one of them it is said which, and what to do.
    let mut short = Given::default();
    for (path, bytes) in &files[..2] {
        short.take(path.file_name().unwrap(), bytes.clone());
    }
    let said = reading::scene(&short, Path::new("scene.ron")).unwrap_err().to_string();
    assert!(said.contains("lower.stl") && said.contains("together"), "{said}");
}

#[test]
fn two_casts_that_a_page_cannot_tell_apart_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let files = with_casts(folder.path());
    let text = String::from_utf8(files[0].1.clone()).unwrap();
    let text = text.replace("scans/upper.stl", "upper/cast.stl").replace("scans/lower.stl", "lower/cast.stl");
    let mut given = Given::default();
    given.take("scene.ron", text.into_bytes());
    given.take("cast.stl", files[1].1.clone());
    let said = reading::scene(&given, Path::new("scene.ron")).unwrap_err().to_string();
    assert!(said.contains("cast.stl") && said.contains("both casts"), "{said}");
}

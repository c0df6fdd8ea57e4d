//! Scenes and studies from memory instead of a disk, with all that they name.

use std::cell::RefCell;
use std::collections::HashMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use files::{Folder, OpenError, study_from_text};
use sim_core::scene::Scene;

/// Files by their paths.
#[derive(Default)]
struct Memory(HashMap<PathBuf, Vec<u8>>);

impl Memory {
    fn with(mut self, path: &str, bytes: impl Into<Vec<u8>>) -> Self {
        self.0.insert(path.into(), bytes.into());
        self
    }
}

impl Folder for Memory {
    fn path(&self, name: &Path) -> PathBuf {
        name.to_owned()
    }

    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
        let missing = OpenError::Unreadable { kind: ErrorKind::NotFound, why: "not in memory".to_owned() };
        let bytes = self.0.get(name).ok_or(missing)?;
        let length = bytes.len() as u64;
        if length > most { Err(OpenError::TooLarge { bytes: length }) } else { Ok(bytes.clone()) }
    }
}

/// A block 40 mm wide as OBJ, its upper or lower end at a height.
fn block(bottom: f64, top: f64) -> String {
    let mut text = String::new();
    for z in [bottom, top] {
        for (x, y) in [(40, -20), (90, -20), (90, 20), (40, 20)] {
            text += &format!("v {x} {y} {z}\n");
        }
    }
    text + "f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n"
}

const STUDY: &str = r#"(
    title: "From memory (invented)",
    scene: "scenes/base.ron",
    factors: [
        (setting: "horizontal_inclination_deg", values: Column(file: "angles.csv", column: "h")),
    ],
    plan: FullGrid,
    record: (measures: [Guidance], advances_mm: [1.0]),
)"#;

/// A study with a scene in a folder of its own, casts beside that, and a column; every text has a mark.
fn study() -> Memory {
    let text = Scene::thirty_degree().to_ron();
    let end = text.rfind(')').unwrap_or(text.len());
    let text =
        format!("{}    casts: (upper: \"u.obj\", lower: \"l.obj\", unit: Millimetre),\n)", &text[..end]);
    Memory::default()
        .with("scenes/base.ron", format!("\u{feff}{text}"))
        .with("scenes/u.obj", block(-30.0, -10.0))
        .with("scenes/l.obj", block(-60.0, -40.0))
        .with("angles.csv", "\u{feff}h,other\n30,1\n40,2\n")
}

#[test]
fn a_study_and_all_that_it_names_come_from_memory_and_may_begin_with_a_mark() {
    let loaded = study_from_text(&format!("\u{feff}{STUDY}"), "mine", &study()).unwrap();
    assert_eq!(loaded.prepared.row_count(), 2);
    let names: Vec<_> = loaded.files.iter().map(|path| path.to_str().unwrap()).collect();
    assert_eq!(names, ["scenes/base.ron", "scenes/u.obj", "scenes/l.obj", "angles.csv"]);
}

#[test]
fn what_a_table_depends_on_is_in_its_fingerprint_and_a_mark_is_not() {
    let one = study_from_text(STUDY, "mine", &study()).unwrap();
    let marked = study_from_text(&format!("\u{feff}{STUDY}"), "other", &study()).unwrap();
    assert_eq!(one.sha256(), marked.sha256());
    let mut cast = study().0[Path::new("scenes/u.obj")].clone();
    cast.extend(b"# more\n");
    let longer = study_from_text(STUDY, "mine", &study().with("scenes/u.obj", cast)).unwrap();
    assert_ne!(one.sha256(), longer.sha256());
}

#[test]
fn what_is_missing_is_named_with_who_named_it() {
    let refusal = |memory: &Memory| study_from_text(STUDY, "mine", memory).unwrap_err().to_string();
    let mut memory = study();
    memory.0.remove(Path::new("angles.csv"));
    assert!(refusal(&memory).starts_with("mine:5:19: "), "{}", refusal(&memory));
    assert!(refusal(&memory).ends_with("angles.csv: no such file"), "{}", refusal(&memory));
    memory.0.remove(Path::new("scenes/l.obj"));
    assert_eq!(refusal(&memory), "scenes/base.ron: scenes/l.obj: cannot be read: not in memory");
    memory.0.remove(Path::new("scenes/base.ron"));
    assert!(refusal(&memory).starts_with("scenes/base.ron: no such file"), "{}", refusal(&memory));
    assert!(refusal(&memory).ends_with("(the base scene of mine)"), "{}", refusal(&memory));
}

#[cfg(unix)]
#[test]
fn a_device_that_a_text_names_is_no_file() {
    let text = STUDY.replace("scenes/base.ron", "/dev/zero");
    let refusal = study_from_text(&text, "mine", Path::new("")).unwrap_err().to_string();
    assert!(refusal.starts_with("/dev/zero: is no file; a scene is a file"), "{refusal}");
}

/// Counts how often each file is opened.
struct Counting(Memory, RefCell<HashMap<PathBuf, usize>>);

impl Folder for Counting {
    fn path(&self, name: &Path) -> PathBuf {
        self.0.path(name)
    }

    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
        *self.1.borrow_mut().entry(name.to_owned()).or_default() += 1;
        self.0.bytes(name, most)
    }
}

#[test]
fn each_file_is_opened_once_however_many_factors_take_a_column_of_it() {
    let factor = |setting: &str, column: &str| {
        format!("(setting: \"{setting}\", values: Column(file: \"angles.csv\", column: \"{column}\")),")
    };
    let own = factor("horizontal_inclination_deg", "h");
    let factors = [
        factor("right_guide.horizontal_inclination_deg", "h"),
        factor("left_guide.horizontal_inclination_deg", "h"),
        factor("lateral_angle_deg", "other"),
    ];
    let text = STUDY.replace(&own, &factors.concat()).replace("FullGrid", "Rows");
    let counting = Counting(study(), RefCell::default());
    let loaded = study_from_text(&text, "mine", &counting).unwrap();
    assert_eq!(loaded.prepared.row_count(), 2);
    assert_eq!(loaded.inputs.len(), 4, "scene, two casts, one file of columns");
    let opened = counting.1.borrow();
    assert_eq!(opened.len(), 4, "{opened:?}");
    assert!(opened.values().all(|times| *times == 1), "{opened:?}");
}

//! Running the program, and scenes to run it on.

use std::path::PathBuf;

use assert_cmd::Command;
use serde_json::Value;

/// The program, with nothing from the environment that changes what it prints.
pub(crate) fn eminentia() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_eminentia"));
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS", "TERM"] {
        command.env_remove(name);
    }
    command
}

/// What a run left behind.
pub(crate) struct Left {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the program.
pub(crate) fn run(args: &[&str]) -> Left {
    left(eminentia().args(args))
}

/// Runs a command to its end.
pub(crate) fn left(command: &mut Command) -> Left {
    let output = command.output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Left { status: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
}

/// Runs the program, which must succeed, and reads its JSON.
pub(crate) fn json(args: &[&str]) -> Value {
    let left = run(args);
    assert_eq!(left.status, 0, "{}", left.err);
    serde_json::from_str(&left.out).unwrap()
}

/// Runs the program, whose CSV must begin with the caution, and gives the lines that follow.
pub(crate) fn csv(args: &[&str]) -> String {
    let text = run(args).out;
    let rows = text.strip_prefix(&format!("# {}\n", words::CAUTION));
    rows.unwrap_or_else(|| panic!("no caution: {text}")).to_owned()
}

/// A number of an object.
pub(crate) fn number(object: &Value, name: &str) -> f64 {
    object[name].as_f64().unwrap_or_else(|| panic!("{name} in {object}"))
}

/// Three numbers of an array.
pub(crate) fn three(array: &Value) -> [f64; 3] {
    std::array::from_fn(|index| array[index].as_f64().unwrap_or_else(|| panic!("{array}")))
}

/// Apart by no more than `most`; NaN is apart.
pub(crate) fn assert_near(is: f64, should_be: f64, most: f64) {
    let apart = (is - should_be).abs();
    assert!(apart <= most, "{is} should be {should_be} within {most}");
}

/// A scene by its parts.
pub(crate) struct Parts {
    pub(crate) title: &'static str,
    pub(crate) design: &'static str,
    pub(crate) right_guide: &'static str,
    pub(crate) left_guide: &'static str,
    pub(crate) anterior_guide: &'static str,
    pub(crate) cusps: &'static str,
    pub(crate) excursions: &'static str,
    pub(crate) casts: &'static str,
    pub(crate) samples: &'static str,
}

pub(crate) const LEVEL_TABLE: &str = "Table(sagittal_inclination_deg: 0.0, right_wing_deg: 0.0, \
                                      left_wing_deg: 0.0, flat_half_width_mm: 0.0)";

/// Invented casts too coarse for anything but to be made quickly.
pub(crate) const COARSE_CASTS: &str = "invented_casts: (kind: Dentate, fineness_mm: 1.5),";

/// Teeth guide, or the pin on a level table.
pub(crate) const BY_TEETH: &str = "Casts(sagittal_inclination_deg: 0.0, right_wing_deg: 0.0, \
                                   left_wing_deg: 0.0, flat_half_width_mm: 0.0)";

pub(crate) const TWO_CUSPS: &str = "(tooth: 36, name: \"mesiobuccal\", at_mm: (58.0, 25.0, -38.0), opposing: \
    (protrusive_deg: 20.0, retrusive_deg: 21.0, working_deg: 22.0, nonworking_deg: 23.0)), \
    (tooth: 16, name: \"mesiopalatal\", at_mm: (57.0, -22.0, -37.0), opposing: \
    (protrusive_deg: 15.0, retrusive_deg: 16.0, working_deg: 17.0, nonworking_deg: 18.0))";

impl Default for Parts {
    fn default() -> Self {
        Self {
            title: "Written by a test",
            design: "Arcon",
            right_guide: "(horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0)",
            left_guide: "(horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0)",
            anterior_guide: LEVEL_TABLE,
            cusps: TWO_CUSPS,
            excursions: "Protrusive(advance_mm: 6.0), RightLateral(advance_mm: 5.0)",
            casts: "",
            samples: "7",
        }
    }
}

impl Parts {
    /// The scene as text, one part a line.
    pub(crate) fn text(&self) -> String {
        let Self {
            title,
            design,
            right_guide,
            left_guide,
            anterior_guide,
            cusps,
            excursions,
            casts,
            samples,
        } = self;
        format!(
            "(\ntitle: \"{title}\",\ninstrument: (\ndesign: {design},\nintercondylar_distance_mm: 110.0,\n\
             right_guide: {right_guide},\nleft_guide: {left_guide},\nanterior_guide: {anterior_guide},\n\
             incisal_point_mm: (98.0, 0.0, -42.0),\n),\nocclusal_plane_inclination_deg: 9.0,\n\
             cusps: [{cusps}],\nexcursions: [{excursions}],\nsamples: {samples},\n{casts}\n)\n"
        )
    }
}

/// Path of an invented case of those that people open.
pub(crate) fn case_path(name: &str) -> String {
    format!("{}/../scenes/cases/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// Text of an invented case.
pub(crate) fn case_text(name: &str) -> String {
    std::fs::read_to_string(case_path(name)).unwrap()
}

/// A folder that goes away with the test.
pub(crate) struct Folder(tempfile::TempDir);

impl Folder {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// A path as the shell takes it.
    pub(crate) fn shell(&self, name: &str) -> String {
        self.path(name).to_str().unwrap().to_owned()
    }

    /// Writes a file and gives its path.
    pub(crate) fn file(&self, name: &str, content: impl AsRef<[u8]>) -> String {
        std::fs::write(self.path(name), content).unwrap();
        self.shell(name)
    }

    /// Writes a scene and gives its path.
    pub(crate) fn scene(&self, parts: &Parts) -> String {
        self.file("scene.ron", parts.text())
    }

    /// Names of the files in it.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.0.path()).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// What was asked is refused as wrong input: status 2, nothing printed, no panic, and these words.
pub(crate) fn refused(left: &Left, words: &[&str]) {
    assert_eq!(left.status, 2, "{}{}", left.out, left.err);
    assert!(left.out.is_empty(), "{}", left.out);
    assert!(!left.err.contains("panicked"), "{}", left.err);
    for word in words {
        assert!(left.err.contains(word), "{word:?} not in: {}", left.err);
    }
}

//! Running the program on studies that the tests write.

use std::process::{Child, Command, Stdio};

pub(crate) use crate::helpers::Folder;

/// What a run left behind.
pub(crate) struct Left {
    pub(crate) status: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Left {
    fn of(output: std::process::Output) -> Self {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Self { status: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
    }

    /// Refused as wrong input, in these words.
    pub(crate) fn refused(&self, words: &[&str]) {
        self.ended(2, words);
        assert!(self.out.is_empty(), "{}", self.out);
    }

    pub(crate) fn ended(&self, status: i32, words: &[&str]) {
        assert_eq!(self.status, Some(status), "{}{}", self.out, self.err);
        assert!(!self.err.contains("panicked"), "{}", self.err);
        for word in words {
            assert!(self.err.contains(word), "{word:?} not in: {}", self.err);
        }
    }
}

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_eminentia"));
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS", "TERM"] {
        command.env_remove(name);
    }
    command
}

/// Runs the program to its end.
pub(crate) fn run(args: &[&str]) -> Left {
    Left::of(program().args(args).stdin(Stdio::null()).output().unwrap())
}

/// Runs a line of the shell to its end; the program is `$0`, the arguments are `$1` and on.
#[cfg(unix)]
pub(crate) fn shell(line: &str, args: &[&str]) -> Left {
    let mut command = Command::new("sh");
    command.args(["-c", line, env!("CARGO_BIN_EXE_eminentia")]).args(args);
    Left::of(command.stdin(Stdio::null()).output().unwrap())
}

/// Starts the program.
pub(crate) fn start(args: &[&str]) -> Child {
    program().args(args).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
}

/// Waits for its end.
pub(crate) fn end(child: Child) -> Left {
    Left::of(child.wait_with_output().unwrap())
}

pub(crate) const SCENE: &str = "(
title: \"Written by a test\",
instrument: (
design: Arcon,
intercondylar_distance_mm: 110.0,
right_guide: (horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0),
left_guide: (horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0),
anterior_guide: Table(sagittal_inclination_deg: 10.0, right_wing_deg: 0.0, left_wing_deg: 0.0, flat_half_width_mm: 0.0),
incisal_point_mm: (98.0, 0.0, -42.0),
),
occlusal_plane_inclination_deg: 9.0,
cusps: [
(tooth: 36, name: \"mesiobuccal\", at_mm: (58.0, 25.0, -38.0), opposing: (protrusive_deg: 20.0, retrusive_deg: 21.0, working_deg: 22.0, nonworking_deg: 23.0)),
],
excursions: [Protrusive(advance_mm: 6.0), RightLateral(advance_mm: 5.0)],
samples: 7,
CASTS)
";

/// A study of rows that come one by one; its scene has casts, which make groups of few rows.
pub(crate) fn study_with_casts(folder: &Folder, rows: u64) -> String {
    folder.file("scene.ron", SCENE.replace("CASTS", "invented_casts: (kind: Dentate, fineness_mm: 1.5),\n"));
    let measures = "Clearance, FirstInterference, Guidance";
    folder.file("study.ron", text(&format!("MonteCarlo(rows: {rows}, seed: 5)"), measures))
}

/// A study without casts.
pub(crate) fn study(folder: &Folder, plan: &str) -> String {
    folder.file("scene.ron", SCENE.replace("CASTS", ""));
    folder.file("study.ron", text(plan, "Clearance, Guidance"))
}

fn text(plan: &str, measures: &str) -> String {
    format!(
        "(
title: \"Written by a test\",
scene: \"scene.ron\",
factors: [
(setting: \"horizontal_inclination_deg\", values: List([20.0, 30.0, 40.0])),
(setting: \"anterior_guide.sagittal_inclination_deg\", values: List([0.0, 20.0])),
],
plan: {plan},
record: (measures: [{measures}], advances_mm: [2.0, 3.0]),
)
"
    )
}

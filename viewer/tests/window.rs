//! The viewer in a real window: a virtual screen of the test's own, keys and mouse from outside, the
//! report for what the viewer knows and the screen's memory for what it shows.
//!
//! Needs Xvfb, xdotool and a Vulkan driver, and fails without them. Waits for what should happen, not
//! for a time, since a software driver shows a few frames a second only.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]
#![cfg(target_os = "linux")]

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use serde_json::Value;
use sim_core::cast::invented::InventedCasts;
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::Change;
use tempfile::TempDir;

/// Longest time that one thing may take: a slow machine building for others at the same time.
const PATIENCE: Duration = Duration::from_secs(90);
const SCREEN: (usize, usize) = (1280, 800);

/// One desk at a time: a software driver has enough to do with one, and two screens that start at the
/// same moment may take the same number.
static ONE_DESK: Mutex<()> = Mutex::new(());

/// Ends the process when the test does, however it does.
struct Process(Child);

impl Drop for Process {
    fn drop(&mut self) {
        if matches!(self.0.try_wait(), Ok(Some(_))) {
            return;
        }
        // Asked first, so that the screen takes its lock file away.
        let asked = Command::new("kill").arg(self.0.id().to_string()).status();
        if !asked.is_ok_and(|status| status.success()) {
            let _ = self.0.kill();
        }
        let _ = self.0.wait();
    }
}

/// A screen, a viewer on it, and its report.
struct Desk {
    folder: TempDir,
    display: String,
    viewer: Process,
    _screen: Process,
    window: String,
    _alone: MutexGuard<'static, ()>,
}

impl Desk {
    fn open(scene: &Scene) -> Self {
        let alone = ONE_DESK.lock().unwrap_or_else(PoisonError::into_inner);
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("scene.ron"), scene.to_ron()).unwrap();
        let said = std::fs::File::create(folder.path().join("said.txt")).unwrap();
        let (screen, display) = start_screen(folder.path());
        let viewer = Command::new(env!("CARGO_BIN_EXE_viewer"))
            .arg(folder.path().join("scene.ron"))
            .arg("--report")
            .arg(folder.path().join("report.jsonl"))
            .env("DISPLAY", &display)
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET")
            .stderr(said)
            .spawn()
            .expect("the viewer starts");
        let mut desk = Self {
            folder,
            display,
            viewer: Process(viewer),
            _screen: screen,
            window: String::new(),
            _alone: alone,
        };
        desk.wait("the first frame", |line| line["title"] == scene.title.as_str());
        let id = desk.viewer.0.id().to_string();
        desk.window = desk.xdotool(&["search", "--sync", "--onlyvisible", "--pid", &id]);
        desk.xdotool(&["windowfocus", "--sync", &desk.window.clone()]);
        desk
    }

    fn xdotool(&self, arguments: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(arguments)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool runs (package xdotool)");
        assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8_lossy(&output.stdout).lines().last().unwrap_or_default().to_owned()
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The last whole line of the report.
    fn now(&self) -> Option<Value> {
        let text = std::fs::read_to_string(self.path("report.jsonl")).ok()?;
        let end = text.rfind('\n')?;
        serde_json::from_str(text[..end].lines().last()?).ok()
    }

    fn wait(&self, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
        let start = Instant::now();
        loop {
            let line = self.now();
            match line {
                Some(line) if is_so(&line) => return line,
                line if start.elapsed() > PATIENCE => {
                    let said = std::fs::read_to_string(self.path("said.txt")).unwrap_or_default();
                    panic!("{what} did not come about; the viewer said {said:?}; last was {line:?}")
                }
                _ => std::thread::sleep(Duration::from_millis(20)),
            }
        }
    }

    fn key(&self, key: &str) {
        self.xdotool(&["key", "--clearmodifiers", key]);
    }

    /// Where a control is: left, top, width, height.
    fn place(&self, name: &str) -> [f64; 4] {
        let line = self.now().expect("a report");
        let place = &line["places"][name];
        assert!(place.is_array(), "no control {name} in {}", line["places"]);
        [0, 1, 2, 3].map(|k| place[k].as_f64().expect("a number"))
    }

    /// Presses the left button on a part (0 to 1) of a control's width, at the middle of its height,
    /// and holds it until what should happen has happened.
    fn press(&self, name: &str, part: f64, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
        let [left, top, width, height] = self.place(name);
        let (x, y) = ((left + width * part).round(), (top + height / 2.0).round());
        self.xdotool(&["mousemove", "--sync", &x.to_string(), &y.to_string()]);
        self.xdotool(&["mousedown", "1"]);
        let line = self.wait(what, is_so);
        self.xdotool(&["mouseup", "1"]);
        line
    }

    /// Clicks at a place until what should happen has happened: a click in the frame in which the mouse
    /// leaves a panel still belongs to the panel.
    fn click_until(&self, x: f64, y: f64, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
        let start = Instant::now();
        while start.elapsed() < PATIENCE {
            self.click(x, y);
            let clicked = Instant::now();
            while clicked.elapsed() < Duration::from_secs(2) {
                if let Some(line) = self.now().filter(|line| is_so(line)) {
                    return line;
                }
                std::thread::sleep(Duration::from_millis(20));
            }
        }
        self.wait(what, is_so)
    }

    /// Pushes a button: it acts when the mouse lets go of it.
    fn push(&self, name: &str, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
        // A panel shown for the first time puts its controls in order over some frames.
        self.wait(&format!("{name} at its place"), |line| {
            line["settled"] == true && line["places"][name].is_array()
        });
        let [left, top, width, height] = self.place(name);
        self.click(left + width / 2.0, top + height / 2.0);
        self.wait(what, is_so)
    }

    /// Presses and lets go of the left button at a place.
    fn click(&self, x: f64, y: f64) {
        self.xdotool(&["mousemove", "--sync", &x.round().to_string(), &y.round().to_string()]);
        self.xdotool(&["mousedown", "1"]);
        self.xdotool(&["mouseup", "1"]);
    }

    /// The pixels of a control's place as the screen shows them.
    fn pixels(&self, name: &str) -> Vec<u8> {
        self.pixels_of(self.place(name))
    }

    /// The pixels of a part of the screen: left, top, width, height.
    fn pixels_of(&self, place: [f64; 4]) -> Vec<u8> {
        let [left, top, width, height] = place.map(|number| number as usize);
        let screen = screen_memory(&self.path("Xvfb_screen0"));
        (top..(top + height).min(SCREEN.1))
            .flat_map(|y| (left..(left + width).min(SCREEN.0)).map(move |x| (x, y)))
            .flat_map(|(x, y)| screen[(y * SCREEN.0 + x) * 4..][..3].to_vec())
            .collect()
    }

    fn wait_for_pixels(&self, name: &str, before: &[u8]) {
        self.wait_for_change(self.place(name), before);
    }

    fn wait_for_change(&self, place: [f64; 4], before: &[u8]) {
        let start = Instant::now();
        while self.pixels_of(place) == before {
            assert!(start.elapsed() < PATIENCE, "{place:?} looks as it did");
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

/// A virtual screen with a number that no other run of the tests takes: left to itself Xvfb looks for
/// the lowest free one, and two that look at the same moment may both find it.
fn start_screen(folder: &Path) -> (Process, String) {
    static STARTED: AtomicU32 = AtomicU32::new(0);
    for _ in 0..5 {
        let number = 100 + (std::process::id() * 7 + STARTED.fetch_add(1, Ordering::Relaxed)) % 50_000;
        let display = format!(":{number}");
        let mut screen = Command::new("Xvfb")
            .args([&display, "-displayfd", "1", "-noreset", "-nolisten", "tcp"])
            .args(["-screen", "0", "1280x800x24", "-fbdir"])
            .arg(folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts (package xvfb)");
        let answer = screen.stdout.take().expect("what Xvfb says");
        let screen = Process(screen);
        let mut said = String::new();
        // It says its number when it is ready, and nothing when the number is taken.
        if BufReader::new(answer).read_line(&mut said).is_ok() && !said.trim().is_empty() {
            return (screen, display);
        }
    }
    panic!("Xvfb finds no screen to open");
}

/// The picture in the file that Xvfb keeps of its screen (X window dump: a header whose first word
/// is its length, a table of colours of 12 bytes each, then four bytes a pixel).
fn screen_memory(path: &Path) -> Vec<u8> {
    let bytes = std::fs::read(path).expect("the screen's memory");
    let word = |number: usize| {
        let bytes = bytes[number * 4..][..4].try_into().expect("four bytes");
        u32::from_be_bytes(bytes) as usize
    };
    let (header, width, bits, colours) = (word(0), word(4), word(11), word(19));
    assert_eq!((width, bits), (SCREEN.0, 32));
    let start = header + colours * 12;
    bytes[start..start + SCREEN.0 * SCREEN.1 * 4].to_vec()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn setting(line: &Value, name: &str) -> f64 {
    number(&line["settings"][name])
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn sliders_keys_and_files_work_in_a_real_window() {
    let mut scene = Scene::thirty_degree();
    let desk = Desk::open(&scene);
    let first = desk.now().unwrap();
    assert!(first["note"].is_null() && first["file_note"].is_null());

    // The window is called what it shows.
    let name = desk.xdotool(&["getwindowname", &desk.window]);
    assert!(name.contains(&scene.title) && name.contains("protrusive at 0.00 mm"), "{name}");

    // Keys: to the end, another view, the other member, another excursion.
    desk.key("End");
    desk.wait("the end", |line| near(number(&line["at"]), 6.0));
    desk.key("f");
    desk.wait("the view from the front", |line| line["view"] == "front");
    desk.key("m");
    desk.wait("the upper member moving", |line| line["moving"] == "upper");
    desk.key("n");
    desk.wait("the next excursion", |line| line["excursion"] == "right_lateral");
    desk.key("b");
    let before = desk.wait("the one before", |line| line["excursion"] == "protrusive");

    // The mouse: a slider moved, one side alone; the curves and their plot change.
    let plot = desk.pixels("plot");
    let moved = desk.press("horizontal_inclination_deg.right", 0.45, "the slider moved", |line| {
        setting(line, "horizontal_inclination_deg.right") > 35.0
    });
    assert!(near(setting(&moved, "horizontal_inclination_deg.left"), 30.0));
    let separation = |line: &Value| number(&line["cusps"][4]["last_separation_mm"]);
    assert!(
        separation(&moved) > separation(&before) + 0.05,
        "{} {}",
        separation(&before),
        separation(&moved)
    );
    desk.wait_for_pixels("plot", &plot);

    // Both sides together.
    desk.key("t");
    desk.wait("sides tied", |line| line["tied"] == true);
    desk.press("horizontal_inclination_deg.left", 0.2, "both sides set", |line| {
        let [right, left] =
            ["right", "left"].map(|side| setting(line, &format!("horizontal_inclination_deg.{side}")));
        near(right, left) && right < 20.0
    });

    // Back to the file, and to the zeroed baseline.
    desk.key("u");
    desk.wait("the file's values", |line| line["settings"] == before["settings"]);
    desk.key("z");
    desk.wait("the zeroed baseline", |line| {
        near(setting(line, "lateral_angle_deg.right"), 30.0)
            && near(setting(line, "anterior_guide.sagittal_inclination_deg"), 0.0)
    });

    // The file changes and is read again.
    "lateral_angle_deg=21".parse::<Change>().unwrap().make(&mut scene).unwrap();
    scene.title = "Changed outside".to_owned();
    std::fs::write(desk.path("scene.ron"), scene.to_ron()).unwrap();
    desk.key("F5");
    desk.wait("the file read again", |line| {
        line["title"] == "Changed outside" && near(setting(line, "lateral_angle_deg.left"), 21.0)
    });

    // A bad file is refused, and the scene stays.
    std::fs::write(desk.path("scene.ron"), "(\n    title: \"half").unwrap();
    let picture = desk.pixels("scrub");
    desk.key("F5");
    let refused = desk.wait("the bad file refused", |line| line["file_note"].is_string());
    assert!(refused["file_note"].as_str().unwrap().contains("scene.ron:2:"), "{}", refused["file_note"]);
    assert_eq!(refused["title"], "Changed outside");
    assert!(near(setting(&refused, "lateral_angle_deg.left"), 21.0));
    assert_eq!(desk.pixels("scrub"), picture);
    desk.key("Escape");
    desk.wait("the note dismissed", |line| line["file_note"].is_null());

    // Play and pause.
    desk.key("Home");
    desk.wait("the start", |line| near(number(&line["at"]), 0.0));
    desk.key("p");
    desk.wait("playing", |line| line["playing"] == true && number(&line["at"]) > 0.2);
    desk.key("p");
    desk.wait("paused", |line| line["playing"] == false);

    // Help opens and closes; the last key closes the window, and the program ends well.
    desk.key("h");
    desk.wait("help", |line| line["help"] == true);
    desk.key("Escape");
    desk.wait("help closed", |line| line["help"] == false);
    let mut desk = desk;
    desk.key("F10");
    let start = Instant::now();
    let status = loop {
        if let Some(status) = desk.viewer.0.try_wait().unwrap() {
            break status;
        }
        assert!(start.elapsed() < PATIENCE, "the window does not close");
        std::thread::sleep(Duration::from_millis(20));
    };
    assert!(status.success(), "{status}");
}

#[test]
fn a_setting_without_a_pose_is_told_in_the_window() {
    let mut scene = Scene::thirty_degree();
    "path.radius_mm=20".parse::<Change>().unwrap().make(&mut scene).unwrap();
    let desk = Desk::open(&scene);
    desk.key("End");
    desk.wait("the end", |line| near(number(&line["at"]), 6.0));
    desk.key("t");
    desk.wait("sides tied", |line| line["tied"] == true);
    // The least radius is at the slider's left end.
    let line = desk.press("path.radius_mm.right", 0.02, "the note", |line| line["note"].is_string());
    assert!(line["note"].as_str().unwrap().contains("ends at"), "{}", line["note"]);
    assert!(number(&line["at"]) < 6.0 && number(&line["at"]) > 0.0);
    desk.key("u");
    desk.wait("the note gone", |line| line["note"].is_null());
}

#[test]
fn every_control_is_reached_and_turned_by_the_keyboard() {
    let desk = Desk::open(&Scene::thirty_degree());
    let controls: BTreeSet<String> = desk.now().unwrap()["places"]
        .as_object()
        .unwrap()
        .keys()
        // The plot only shows.
        .filter(|name| *name != "plot")
        .cloned()
        .collect();
    // There is a slider for every setting that the scene has, on each side that has it.
    let scene = Scene::thirty_degree();
    for setting in sim_core::setting::all() {
        for side in setting.sides() {
            if setting.get(&scene, side.unwrap_or(Side::Right)).is_some() {
                let name = side.map_or_else(|| setting.key(), |side| format!("{}.{side}", setting.key()));
                assert!(controls.contains(&name), "no slider for {name}");
            }
        }
    }
    let mut reached = BTreeSet::new();
    let mut turned = false;
    // Sliders and the numbers beside them are reached one after the other.
    for _ in 0..controls.len() * 3 {
        let before = desk.now().unwrap()["focus_id"].clone();
        desk.key("Tab");
        let line = desk.wait("the keyboard going on", |line| line["focus_id"] != before);
        let focus = &line["focus"];
        if let Some(name) = focus.as_str() {
            reached.insert(name.to_owned());
            if name == "lateral_angle_deg.right" && !turned {
                turned = true;
                desk.key("Right");
                desk.wait("the slider turned by a key", |line| near(setting(line, name), 16.0));
            }
        }
        if reached.is_superset(&controls) {
            break;
        }
    }
    let missing: Vec<_> = controls.difference(&reached).collect();
    assert!(missing.is_empty(), "not reached: {missing:?}");
    assert!(turned);
}

#[test]
fn casts_are_mapped_cut_and_picked_in_a_real_window() {
    let mut scene = Scene::thirty_degree();
    let fineness = sim_core::units::Length::from_mm(0.8);
    scene.invented_casts = Some(InventedCasts { fineness, ..InventedCasts::dentate() });
    let desk = Desk::open(&scene);
    let first = desk.now().unwrap();
    assert_eq!(first["casts"]["show"], "relief");
    let cusps = |line: &Value| line["cusps"].as_array().unwrap().len();

    // The lower cast alone, from above, with its map; the map opens with the jaw.
    let least = |line: &Value| number(&line["casts"]["clearance"][1]["least_mm"]);
    desk.push("show=clearance", "the map", |line| line["casts"]["clearance"][1].is_object());
    desk.push("seen=lower", "the lower cast", |line| line["casts"]["seen"] == "lower");
    desk.key("c");
    desk.key("a");
    let rest =
        desk.wait("close, from above", |line| line["casts"]["close"] == true && line["view"] == "above");
    assert!(least(&rest).abs() < 0.05, "{}", least(&rest));
    let picture = desk.pixels_of([500.0, 300.0, 200.0, 200.0]);
    desk.key("End");
    let open = desk.wait("the end", |line| near(number(&line["at"]), 6.0));
    assert!(least(&open) > least(&rest) + 0.2, "{} then {}", least(&rest), least(&open));
    desk.wait_for_change([500.0, 300.0, 200.0, 200.0], &picture);

    // The section, moved with its slider.
    desk.push("page=casts", "the casts' page", |line| line["casts"]["section"].is_object());
    let drawn = desk.pixels("section");
    let moved =
        desk.press("cut_at", 0.3, "the plane moved", |line| number(&line["casts"]["section"]["at_mm"]) < 0.0);
    assert!(number(&moved["casts"]["section"]["lines"][1]) >= 1.0);
    desk.wait_for_pixels("section", &drawn);

    // A click on the cast, at the middle of a molar as the report knows the picture, becomes a cusp.
    let before = cusps(&moved);
    let [x, y] = middle_of_tooth(&scene);
    let picked = desk.click_until(x, y, "something picked", |line| line["casts"]["picked"].is_object());
    assert_eq!(picked["casts"]["picked"]["tooth"], 36);
    desk.push("add_cusp", "the cusp added", |line| cusps(line) == before + 1);
    desk.push("page=cusps", "the cusps' page", |line| line["places"][format!("remove={before}")].is_array());
    desk.push(&format!("remove={before}"), "the cusp gone", |line| cusps(line) == before);

    // A slider of the generator: coarse while it moves, then in full.
    let triangles = |line: &Value| number(&line["casts"]["triangles"][1]);
    let full = triangles(&desk.now().unwrap());
    let mut changed = scene.clone();
    "invented_casts.cusp_angle_deg=30".parse::<Change>().unwrap().make(&mut changed).unwrap();
    std::fs::write(desk.path("scene.ron"), changed.to_ron()).unwrap();
    desk.key("F5");
    let again =
        desk.wait("the changed casts", |line| near(setting(line, "invented_casts.cusp_angle_deg"), 30.0));
    assert!((triangles(&again) - full).abs() < full / 4.0);
    desk.key("u");
}

/// Where in the window the middle of the lower left first molar is seen, with the lower cast alone and
/// close, from above, at the end of a protrusion: found by the viewer's own state, which the snapshots
/// check.
fn middle_of_tooth(scene: &Scene) -> [f64; 2] {
    use sim_core::cusp::{Arch, Tooth};
    use sim_core::frame::LowerPoint;
    use viewer::action::Action;
    use viewer::casts::{Seen, Show};
    use viewer::page::Page;
    let mut state = viewer::state::State::open(scene.clone()).unwrap();
    for action in [
        Action::Show(Show::Clearance),
        Action::See(Seen::Lower),
        Action::Close(true),
        Action::View(viewer::projection::Viewpoint::Above),
        Action::ScrubTo(usize::MAX),
        Action::Page(Page::Casts),
    ] {
        state.act(action);
    }
    let casts = &state.shown.mounted.as_ref().unwrap().casts;
    let surface = casts.surface(Arch::Lower);
    let molar = Tooth::new(36).ok();
    let own =
        (0..surface.triangles().len()).filter(|triangle| casts.tooth_of(Arch::Lower, *triangle) == molar);
    let corners: Vec<_> = own.flat_map(|triangle| surface.corners(triangle)).collect();
    let middle = corners.iter().sum::<nalgebra::Vector3<f64>>() / corners.len() as f64;
    let seen = state.sample().placement.jaw.to_upper(&LowerPoint::from_coords(middle));
    let (_, projection) = viewer::frame::lay_out(&state, [SCREEN.0 as f64, SCREEN.1 as f64], 1.0);
    projection.pixel(seen.coords())
}

#[test]
fn a_plan_is_read_applied_and_taken_back_in_a_real_window() {
    let scene = Scene::from_ron(include_str!("../../scenes/planned_disclusion.ron")).unwrap();
    let desk = Desk::open(&scene);
    let before = desk.now().unwrap();
    let planned = desk.push("page=plan", "the plan's page", |line| line["plan"]["met"] == true);
    assert_eq!(planned["plan"]["goal"], "disclusion");
    let told = planned["plan"]["changes"].clone();
    let changes = told.to_string();
    assert!(changes.contains("incisal guidance from 25.00°"), "{changes}");

    desk.push("apply_plan", "the plan applied", |line| line["plan"]["applied"] == 1);
    let applied = desk.wait("the answer for the planned settings", |line| line["plan"]["is_new"] == true);
    let plate = |line: &Value| setting(line, "anterior_guide.sagittal_inclination_deg");
    assert!(changes.contains(&format!("to {:.2}°", plate(&applied))), "{changes}: {}", plate(&applied));
    desk.push("take_plan_back", "the plan taken back", |line| line["settings"] == before["settings"]);

    // The answer follows a goal that is changed, once the hand rests.
    desk.push("goal=none", "no goal", |line| {
        line["plan"]["goal"] == "none" && line["plan"]["is_new"] == true
    });
    desk.push("goal=disclusion", "the goal again", |line| {
        line["plan"]["met"] == true && line["plan"]["changes"] == told
    });
}

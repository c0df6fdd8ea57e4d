//! A desk to test the viewer at: a virtual screen of the test's own, keys and mouse from outside, the
//! report for what the viewer knows and the screen's memory for what it shows.
//!
//! Needs Xvfb, xdotool and a Vulkan driver, and fails without them. Waits for what should happen, not
//! for a time, since a software driver shows a few frames a second only.

#![allow(dead_code, reason = "each test program uses its part of the desk")]

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use serde_json::Value;
use sim_core::scene::Scene;
use tempfile::TempDir;

/// Longest time that one thing may take: a slow machine building for others at the same time.
pub(crate) const PATIENCE: Duration = Duration::from_secs(90);
pub(crate) const SCREEN: (usize, usize) = (1280, 800);

/// One desk at a time: a software driver has enough to do with one, and two screens that start at the
/// same moment may take the same number.
static ONE_DESK: Mutex<()> = Mutex::new(());

/// Ends the process when the test does, however it does.
pub(crate) struct Process(pub(crate) Child);

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
pub(crate) struct Desk {
    folder: TempDir,
    display: String,
    pub(crate) viewer: Process,
    _screen: Process,
    pub(crate) window: String,
    _alone: MutexGuard<'static, ()>,
}

impl Desk {
    /// Opens a scene in a window of its own, and waits for its first frame.
    pub(crate) fn open(scene: &Scene) -> Self {
        Self::open_with(scene, &[])
    }

    /// The same with more words on the command line.
    pub(crate) fn open_with(scene: &Scene, more: &[&str]) -> Self {
        let alone = ONE_DESK.lock().unwrap_or_else(PoisonError::into_inner);
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("scene.ron"), scene.to_ron()).unwrap();
        let (screen, display) = start_screen(folder.path());
        let viewer = start_viewer(folder.path(), &display, more);
        let mut desk =
            Self { folder, display, viewer, _screen: screen, window: String::new(), _alone: alone };
        desk.take_window(|line| line["title"] == scene.title.as_str());
        desk
    }

    /// Kills the viewer in the middle of whatever it does, and opens it again.
    #[allow(dead_code, reason = "not every test needs it")]
    pub(crate) fn crash_and_open_again(&mut self) {
        self.viewer.0.kill().unwrap();
        self.viewer.0.wait().unwrap();
        self.open_again();
    }

    /// Opens a viewer that has ended anew.
    #[allow(dead_code, reason = "not every test needs it")]
    pub(crate) fn open_again(&mut self) {
        self.viewer = start_viewer(self.folder.path(), &self.display, &[]);
        self.take_window(|_| true);
    }

    /// Waits for the first frame, and gives the window the keyboard.
    fn take_window(&mut self, is_first: impl Fn(&Value) -> bool) {
        self.wait("the first frame", is_first);
        let id = self.viewer.0.id().to_string();
        self.window = self.xdotool(&["search", "--sync", "--onlyvisible", "--pid", &id]);
        self.xdotool(&["windowfocus", "--sync", &self.window.clone()]);
    }

    /// Runs xdotool on the desk's screen, and gives the last line it says.
    pub(crate) fn xdotool(&self, arguments: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(arguments)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool runs (package xdotool)");
        assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8_lossy(&output.stdout).lines().last().unwrap_or_default().to_owned()
    }

    /// A file in the folder that the desk stands on.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The last whole line of the report.
    pub(crate) fn now(&self) -> Option<Value> {
        let text = std::fs::read_to_string(self.path("report.jsonl")).ok()?;
        let end = text.rfind('\n')?;
        serde_json::from_str(text[..end].lines().last()?).ok()
    }

    /// Waits until the report says so, and gives its line.
    pub(crate) fn wait(&self, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
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

    /// Presses a key.
    pub(crate) fn key(&self, key: &str) {
        self.xdotool(&["key", "--clearmodifiers", key]);
    }

    /// Where a control is: left, top, width, height.
    pub(crate) fn place(&self, name: &str) -> [f64; 4] {
        let line = self.now().expect("a report");
        let place = &line["places"][name];
        assert!(place.is_array(), "no control {name} in {}", line["places"]);
        [0, 1, 2, 3].map(|k| place[k].as_f64().expect("a number"))
    }

    /// Presses the left button on a part (0 to 1) of a control's width, at the middle of its height,
    /// and holds it until what should happen has happened.
    pub(crate) fn press(&self, name: &str, part: f64, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
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
    pub(crate) fn click_until(&self, x: f64, y: f64, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
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
    pub(crate) fn push(&self, name: &str, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
        // A panel shown for the first time puts its controls in order over some frames.
        self.wait(&format!("{name} at its place"), |line| {
            line["settled"] == true && line["places"][name].is_array()
        });
        let [left, top, width, height] = self.place(name);
        self.click(left + width / 2.0, top + height / 2.0);
        self.wait(what, is_so)
    }

    /// Presses and lets go of the left button at a place.
    pub(crate) fn click(&self, x: f64, y: f64) {
        self.xdotool(&["mousemove", "--sync", &x.round().to_string(), &y.round().to_string()]);
        self.xdotool(&["mousedown", "1"]);
        self.xdotool(&["mouseup", "1"]);
    }

    /// The pixels of a control's place as the screen shows them.
    pub(crate) fn pixels(&self, name: &str) -> Vec<u8> {
        self.pixels_of(self.place(name))
    }

    /// The pixels of a part of the screen: left, top, width, height.
    pub(crate) fn pixels_of(&self, place: [f64; 4]) -> Vec<u8> {
        let [left, top, width, height] = place.map(|number| number as usize);
        let screen = screen_memory(&self.path("Xvfb_screen0"));
        (top..(top + height).min(SCREEN.1))
            .flat_map(|y| (left..(left + width).min(SCREEN.0)).map(move |x| (x, y)))
            .flat_map(|(x, y)| screen[(y * SCREEN.0 + x) * 4..][..3].to_vec())
            .collect()
    }

    pub(crate) fn wait_for_pixels(&self, name: &str, before: &[u8]) {
        self.wait_for_change(self.place(name), before);
    }

    pub(crate) fn wait_for_change(&self, place: [f64; 4], before: &[u8]) {
        let start = Instant::now();
        while self.pixels_of(place) == before {
            assert!(start.elapsed() < PATIENCE, "{place:?} looks as it did");
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

/// Starts the viewer on the scene in a folder, with a report of its own.
fn start_viewer(folder: &Path, display: &str, more: &[&str]) -> Process {
    let report = folder.join("report.jsonl");
    // A report of a window before is no report of this one.
    let _ = std::fs::remove_file(&report);
    let said = std::fs::File::create(folder.join("said.txt")).unwrap();
    let viewer = Command::new(env!("CARGO_BIN_EXE_viewer"))
        .arg(folder.join("scene.ron"))
        .arg("--report")
        .arg(report)
        .args(more)
        .env("DISPLAY", display)
        // What is kept between windows is this desk's alone.
        .env("XDG_STATE_HOME", folder.join("kept"))
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .stderr(said)
        .spawn()
        .expect("the viewer starts");
    Process(viewer)
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

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

pub(crate) fn setting(line: &Value, name: &str) -> f64 {
    number(&line["settings"][name])
}

pub(crate) fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

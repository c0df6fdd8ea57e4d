//! A study of small groups, and runs of it.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::sync::atomic::{AtomicBool, Ordering};

use study_run::{
    Destination, Existing, Finished, FreeSpace, Loaded, Observer, Options, Part, RunError, UnderWay, run,
};
use tempfile::TempDir;

/// Casts are mounted, so that a group has few rows; the pin guides, so that rows are quick. Some
/// inclinations are out of range, some rows have no interference, and every kind of column is there.
pub(crate) fn text(rows: u64, seed: u64) -> String {
    let mut scene = sim_core::scene::Scene::thirty_degree().to_ron();
    let end = scene.rfind(')').unwrap();
    scene.insert_str(end, ", invented_casts: (kind: Dentate, fineness_mm: 1.5)");
    format!(
        r#"(
            title: "Written by a test",
            scene: {},
            factors: [
                (setting: "horizontal_inclination_deg", values: Normal(mean: 40.0, sd: 25.0)),
                (setting: "right_guide.lateral_angle_deg", values: Uniform(min: 5.0, max: 25.0)),
            ],
            constraints: [LeftEqualsRight("lateral_angle_deg")],
            plan: MonteCarlo(rows: {rows}, seed: {seed}),
            record: (
                measures: [Clearance, Interference, FirstInterference, Guidance],
                advances_mm: [3.0],
                cusps: ["36.mesiobuccal", "46.mesiobuccal"],
            ),
        )"#,
        scene.replace(",,", ",").replace(",\n,", ",")
    )
}

pub(crate) const ROWS: u64 = 300;

pub(crate) fn study(rows: u64, seed: u64) -> Loaded {
    files::study_from_text(&text(rows, seed), "written.ron", Path::new(""))
        .unwrap_or_else(|error| panic!("{error}"))
}

/// Made once: casts take time.
pub(crate) static STUDY: LazyLock<Loaded> = LazyLock::new(|| study(ROWS, 3));

pub(crate) struct Folder(TempDir);

impl Folder {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.path()).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

pub(crate) fn options(path: &Path, existing: Existing) -> Options {
    Options {
        destination: Destination::File(path.to_owned()),
        existing,
        part: Part::WHOLE,
        threads: 2,
        free_space: FreeSpace::Asked,
        under_way: UnderWay::default(),
    }
}

/// Runs to the end.
pub(crate) fn ran(loaded: &Loaded, options: &Options) -> Result<Finished, RunError> {
    run(loaded, options, &mut (), &AtomicBool::new(false))
}

pub(crate) fn bytes_of(loaded: &Loaded, options: &Options) -> Vec<u8> {
    let finished = ran(loaded, options).unwrap_or_else(|error| panic!("{error}"));
    assert!(finished.is_whole());
    let bytes = fs::read(finished.path.unwrap()).unwrap();
    assert_eq!(finished.bytes, Some(bytes.len() as u64));
    bytes
}

/// Stops a run once so many rows are written.
struct StopAfter<'s>(u64, &'s AtomicBool);

impl Observer for StopAfter<'_> {
    fn begins(&mut self, _: u64, _: u64) {}
    fn written(&mut self, rows: u64) {
        if rows >= self.0 {
            self.1.store(true, Ordering::Relaxed);
        }
    }
    fn saved(&mut self, _: u64) {}
}

/// Runs by one thread until so many rows are written, or some more, but not all.
pub(crate) fn stopped(loaded: &Loaded, options: &Options, rows: u64) -> Finished {
    let stop = AtomicBool::new(false);
    let options = Options { threads: 1, ..options.clone() };
    let finished = run(loaded, &options, &mut StopAfter(rows, &stop), &stop).unwrap();
    assert!(finished.rows >= rows && !finished.is_whole(), "{finished:?}");
    finished
}

//! Runs that were stopped, or killed at any byte of what they wrote, and gone on with.

use std::fs::{self, File};
use std::path::Path;

use study_run::{Existing, Options, UnderWay};

use crate::support::{Folder, STUDY, bytes_of, options, stopped};

/// What a run left in its folder.
struct Left {
    table: Vec<u8>,
    journal: Vec<u8>,
}

const UNFINISHED: [&str; 2] = ["table.unfinished", ".journal"];

impl Left {
    fn by_a_stopped_run(ending: &str) -> Self {
        let folder = Folder::new();
        stopped(&STUDY, &options(&folder.path(&format!("table.{ending}")), Existing::Refused), 128);
        let name = format!("{}.{ending}", UNFINISHED[0]);
        let read = |name: &str| fs::read(folder.path(name)).unwrap();
        Self { table: read(&name), journal: read(&format!("{name}{}", UNFINISHED[1])) }
    }

    /// Puts the first bytes of both files into a folder and goes on.
    fn gone_on_with(&self, ending: &str, table: usize, journal: usize) -> (Vec<u8>, u64) {
        let folder = Folder::new();
        let name = format!("{}.{ending}", UNFINISHED[0]);
        fs::write(folder.path(&name), &self.table[..table]).unwrap();
        fs::write(folder.path(&format!("{name}{}", UNFINISHED[1])), &self.journal[..journal]).unwrap();
        let path = folder.path(&format!("table.{ending}"));
        let options = options(&path, Existing::Resumed);
        let there = there(&options);
        let bytes = bytes_of(&STUDY, &options);
        assert_eq!(folder.names(), [format!("table.{ending}")]);
        (bytes, there)
    }
}

/// Rows that a run would not compute again: it is stopped before it begins any.
fn there(options: &Options) -> u64 {
    let stop = std::sync::atomic::AtomicBool::new(true);
    study_run::run(&STUDY, options, &mut (), &stop).unwrap().there
}

fn undisturbed(ending: &str) -> Vec<u8> {
    let folder = Folder::new();
    bytes_of(&STUDY, &options(&folder.path(&format!("table.{ending}")), Existing::Refused))
}

/// Every byte near both ends, and some between.
fn places(length: usize, every: usize) -> impl Iterator<Item = usize> {
    (0..=length).filter(move |place| place % every == 0 || *place < 8 || length - place < 4)
}

#[test]
fn a_stopped_run_ends_with_the_bytes_of_an_undisturbed_one_and_keeps_what_it_had() {
    for ending in ["parquet", "csv"] {
        let left = Left::by_a_stopped_run(ending);
        let (bytes, there) = left.gone_on_with(ending, left.table.len(), left.journal.len());
        assert!(bytes == undisturbed(ending), "{ending}");
        assert!(there >= 128, "{ending}: only {there} rows were kept");
    }
}

#[test]
fn a_table_cut_at_any_byte_is_gone_on_with_to_the_same_bytes() {
    for ending in ["parquet", "csv"] {
        let (left, whole) = (Left::by_a_stopped_run(ending), undisturbed(ending));
        let mut kept = Vec::new();
        for place in places(left.table.len(), 977) {
            let (bytes, there) = left.gone_on_with(ending, place, left.journal.len());
            assert!(bytes == whole, "{ending} cut at {place}");
            kept.push(there);
        }
        assert!(kept.is_sorted(), "a longer table keeps no less: {kept:?}");
        assert!(kept.contains(&0) && kept.contains(&64) && kept.contains(&128), "{kept:?}");
    }
}

#[test]
fn a_journal_cut_at_any_byte_is_gone_on_with_to_the_same_bytes() {
    for ending in ["parquet", "csv"] {
        let (left, whole) = (Left::by_a_stopped_run(ending), undisturbed(ending));
        let mut kept = Vec::new();
        for place in places(left.journal.len(), 211) {
            let (bytes, there) = left.gone_on_with(ending, left.table.len(), place);
            assert!(bytes == whole, "{ending}, journal cut at {place}");
            kept.push(there);
        }
        assert!(kept.is_sorted() && kept.first() == Some(&0) && kept.last() >= Some(&128), "{kept:?}");
    }
}

#[test]
fn what_a_crash_left_wrong_in_the_middle_is_computed_again() {
    for ending in ["parquet", "csv"] {
        let mut left = Left::by_a_stopped_run(ending);
        let whole = undisturbed(ending);
        for place in [2, left.table.len() / 4, left.table.len() / 2] {
            left.table[place] ^= 0x20;
            let (bytes, _) = left.gone_on_with(ending, left.table.len(), left.journal.len());
            assert!(bytes == whole, "{ending}, wrong at {place}");
            left.table[place] ^= 0x20;
        }
    }
}

#[test]
fn a_run_stopped_again_and_again_gets_to_the_same_end() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    let mut existing = Existing::Refused;
    let mut rows = 0;
    while rows < 192 {
        rows = stopped(&STUDY, &options(&path, existing), rows + 1).rows;
        existing = Existing::Resumed;
    }
    assert!(bytes_of(&STUDY, &options(&path, existing)) == undisturbed("parquet"));
}

#[test]
fn a_whole_table_is_not_computed_again() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    bytes_of(&STUDY, &options(&path, Existing::Refused));
    let before = modified(&path);
    let finished = crate::support::ran(&STUDY, &options(&path, Existing::Resumed)).unwrap();
    assert_eq!((finished.there, finished.rows), (finished.of, finished.of));
    assert_eq!(modified(&path), before);
}

fn modified(path: &Path) -> std::time::SystemTime {
    File::open(path).unwrap().metadata().unwrap().modified().unwrap()
}

#[test]
fn a_run_that_drops_its_rows_under_way_can_be_gone_on_with_to_the_same_bytes() {
    for ending in ["parquet", "csv"] {
        let folder = Folder::new();
        let path = folder.path(&format!("table.{ending}"));
        let dropping = Options { under_way: UnderWay::Dropped, ..options(&path, Existing::Refused) };
        let finished = stopped(&STUDY, &dropping, 64);
        // Whole groups, which have 64 rows where there are casts: none of a later one without those before it.
        assert_eq!(finished.rows % 64, 0, "{finished:?}");
        let resumed = options(&path, Existing::Resumed);
        assert_eq!(there(&resumed), finished.rows);
        assert_eq!(bytes_of(&STUDY, &resumed), undisturbed(ending));
    }
}

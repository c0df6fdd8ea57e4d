//! Neither threads nor parts change the rows.

use study_run::{Existing, Options, Part};

use crate::forms::{csv_lines, rows_of};
use crate::support::{Folder, ROWS, STUDY, bytes_of, options, ran};

#[test]
fn the_bytes_do_not_depend_on_the_number_of_threads() {
    let folder = Folder::new();
    for ending in ["parquet", "csv"] {
        let files: Vec<Vec<u8>> = [1, 2, 3, 8, 0]
            .map(|threads| {
                let path = folder.path(&format!("by_{threads}.{ending}"));
                bytes_of(&STUDY, &Options { threads, ..options(&path, Existing::Refused) })
            })
            .into();
        assert!(files.windows(2).all(|pair| pair[0] == pair[1]), "{ending}");
    }
}

#[test]
fn parts_one_after_the_other_are_the_whole_tables_rows() {
    let folder = Folder::new();
    // More parts than rows in the end; files of one row are many, so that one form must do.
    for (of, endings) in
        [(1, &["parquet", "csv"][..]), (2, &["parquet", "csv"]), (7, &["parquet", "csv"]), (301, &["csv"])]
    {
        for ending in endings.iter().copied() {
            let path = folder.path(&format!("table_{of}.{ending}"));
            let whole = folder.path(&format!("whole_{of}.{ending}"));
            ran(&STUDY, &options(&whole, Existing::Refused)).unwrap();
            let mut rows = Vec::new();
            for number in 1..=of {
                let part = Part::new(number, of).unwrap();
                let finished = ran(&STUDY, &Options { part, ..options(&path, Existing::Refused) }).unwrap();
                let file = finished.path.unwrap();
                assert_eq!(file, part.named(&path));
                rows.extend(if ending == "csv" { csv_lines(&file) } else { rows_of(&file) });
            }
            let expected = if ending == "csv" { csv_lines(&whole) } else { rows_of(&whole) };
            assert_eq!(expected.len() as u64, ROWS);
            assert_eq!(rows, expected, "{of} parts, {ending}");
        }
    }
}

#[test]
fn parts_share_rows_out_without_a_gap_however_many_there_are() {
    for rows in [0, 1, 5, 1 << 50, 999_999_999_999] {
        for of in [1, 2, 3, 1000, u32::MAX] {
            let part = |number| Part::new(number, of).unwrap().rows(rows);
            assert_eq!((part(1).start, part(of).end), (0, rows));
            for number in [1, 2, of / 2, of - 1].into_iter().filter(|number| (1..of).contains(number)) {
                assert_eq!(part(number).end, part(number + 1).start);
                let (one, other) = (part(number), part(number + 1));
                assert!((one.end - one.start).abs_diff(other.end - other.start) <= 1);
            }
        }
    }
}

#[test]
fn what_is_no_part_is_refused_with_an_example() {
    for given in ["", "3", "0/4", "5/4", "-1/4", "1/0", "a/b", "1/2/3", "1.5/2"] {
        let error = given.parse::<Part>().unwrap_err().to_string();
        assert!(error.contains(&format!("`{given}`")) && error.contains("3/8"), "{error}");
    }
    assert_eq!("2/4".parse::<Part>().unwrap().to_string(), "2/4");
    let named = Part::new(3, 12).unwrap().named("far/table.parquet".as_ref());
    assert_eq!(named, std::path::Path::new("far/table.part-03-of-12.parquet"));
}

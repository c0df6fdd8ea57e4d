//! Files that trimesh wrote are read, and come to what trimesh reads in them.

use std::path::Path;

use files::cast::read;
use sim_core::cast::CastUnit;
use sim_core::cusp::Arch;

use super::shapes::{area, volume};

/// The table has twelve digits, and sums over some hundred triangles in another order differ by less.
const PART: f64 = 1e-10;

#[test]
fn every_file_of_trimesh_comes_to_the_same() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/outside");
    let table = std::fs::read_to_string(folder.join("trimesh_files.csv")).expect("the table");
    let mut lines = table.lines().filter(|line| !line.starts_with('#'));
    let columns: Vec<&str> = lines.next().expect("a head").split(',').collect();
    let (mut files, mut greatest) = (0, 0.0_f64);
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        let text = |column: &str| {
            let at = columns.iter().position(|&name| name == column).expect("a column");
            cells[at]
        };
        let number = |column: &str| text(column).parse::<f64>().expect("a number");
        let count = |column: &str| text(column).parse::<usize>().expect("a count");
        let file = text("file");

        let cast = read(&folder.join("meshes").join(file), Arch::Lower, Some(CastUnit::Millimetre))
            .unwrap_or_else(|error| panic!("{error}"));
        let (surface, report) = (&cast.surface, &cast.report);
        assert_eq!(surface.vertices().len(), count("vertices"), "{file}");
        assert_eq!(surface.triangles().len(), count("triangles"), "{file}");
        assert_eq!(report.shells, count("bodies"), "{file}");
        assert_eq!(report.borders, count("borders"), "{file}");
        assert_eq!(report.closed_shells == report.shells, count("closed") == 1, "{file}");

        let mut same = |what: &str, ours: f64, theirs: f64| {
            let apart = (ours - theirs).abs() / theirs.abs().max(1.0);
            greatest = greatest.max(apart);
            assert!(apart <= PART, "{file}: {what} is {ours} here and {theirs} there");
        };
        same("area", area(surface), number("area_mm2"));
        same("border", report.border_length.mm(), number("border_length_mm"));
        if !text("volume_mm3").is_empty() {
            same("volume", volume(surface), number("volume_mm3"));
        }
        match text("first_vertex_red") {
            "" => assert!(surface.colours().is_none(), "{file}"),
            _ => {
                let wanted =
                    ["red", "green", "blue"].map(|part| count(&format!("first_vertex_{part}")) as u8);
                assert_eq!(surface.colours().expect("colours")[0], wanted, "{file}");
            }
        }
        assert_eq!(cast.warnings(), Vec::<String>::new(), "{file}");
        files += 1;
    }
    println!("{files} files, apart by {greatest:.1e} of a value at most, allowed {PART:.0e}");
    assert!(files > 10, "the table has {files} files");
}

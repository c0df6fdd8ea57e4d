//! Where a table comes from, and the folder in which it goes to an archive.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::helpers::{Folder, run};
use crate::tables::{CLEARANCE, GRID, summary, table, written};

const PLAN: &str = "plan: LatinHypercube(rows: 20, seed: 7)";

fn read(path: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// By the system's own program.
fn sha256sum(path: &Path) -> String {
    let said = std::process::Command::new("sha256sum").arg(path).output().unwrap();
    String::from_utf8(said.stdout).unwrap().split(' ').next().unwrap().to_owned()
}

#[test]
fn a_table_says_what_it_was_made_of_and_by_and_a_file_beside_it_when_and_where() {
    for ending in ["parquet", "csv"] {
        let folder = Folder::new();
        let study = written(&folder, "s.ron", GRID, PLAN, CLEARANCE);
        let table = table(&folder, &study, &format!("t.{ending}"));
        let beside = read(&folder.path(&format!("t.{ending}.origin.json")));
        assert_eq!(beside["seed"], 7);
        assert_eq!(beside["version"], study_run::VERSION);
        assert!(beside["platform"].as_str().unwrap().contains(std::env::consts::ARCH));
        assert_eq!(beside["day"].as_str().unwrap().len(), "2026-11-28".len());
        let told = summary(&table, &["--study", &study]);
        assert_eq!(told["build"], built::BUILD);
        let inputs = told["inputs"].as_array().unwrap();
        let names: Vec<&str> = inputs.iter().map(|input| input["file"].as_str().unwrap()).collect();
        assert_eq!(names, ["s.ron", "scene.ron"]);
        for input in inputs {
            let path = folder.path(input["file"].as_str().unwrap());
            assert_eq!(input["sha256"].as_str().unwrap(), sha256sum(&path));
        }
        assert_eq!(told["runs"][0], beside);
    }
}

/// The day and the threads stand beside the table and not in it: made anew on another day, its bytes are the same.
#[test]
fn when_and_with_how_many_threads_is_not_in_the_bytes() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", GRID, PLAN, CLEARANCE);
    let mut made = Vec::new();
    for (name, day, threads) in [("a", "0", "1"), ("b", "864000000", "2")] {
        let out = folder.shell(&format!("{name}.parquet"));
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_eminentia"));
        command
            .args(["study", "run", &study, "--out", &out, "--threads", threads])
            .env("SOURCE_DATE_EPOCH", day);
        assert!(command.status().unwrap().success());
        made.push((fs::read(&out).unwrap(), read(Path::new(&format!("{out}.origin.json")))["day"].clone()));
    }
    assert_eq!(made[0].0, made[1].0);
    assert_eq!((made[0].1.as_str(), made[1].1.as_str()), (Some("1970-01-01"), Some("1997-05-19")));
}

/// What a package says of its files is true of them, and the study in it makes the same table.
#[test]
fn a_package_describes_its_files_and_its_study_makes_them_again() {
    for ending in ["parquet", "csv"] {
        let folder = Folder::new();
        let study =
            written(&folder, "s.ron", GRID, PLAN, "measures: [Clearance, Interference], advances_mm: [3.0]");
        let table = table(&folder, &study, &format!("t.{ending}"));
        let out = folder.shell("package");
        let asked = ["study", "package", &table, "--study", &study, "--out", &out];
        let left =
            run(&[&asked[..], &["--license", "https://creativecommons.org/licenses/by/4.0/"]].concat());
        assert_eq!(left.status, 0, "{}", left.err);
        let package = Path::new(&out);
        let described = read(&package.join("datapackage.json"));
        for resource in described["resources"].as_array().unwrap() {
            let path = package.join(resource["path"].as_str().unwrap());
            assert_eq!(resource["bytes"], fs::metadata(&path).unwrap().len());
            assert_eq!(resource["hash"].as_str().unwrap(), format!("sha256:{}", sha256sum(&path)));
        }
        let fields = described["resources"][0]["schema"]["fields"].as_array().unwrap();
        let named = |name: &str| fields.iter().find(|field| field["name"] == name).unwrap();
        assert_eq!(named("horizontal_inclination_deg")["unit"], "degrees");
        assert_eq!(named("protrusive.3mm.36.mesiobuccal.clearance_mm")["unit"], "mm");
        assert_eq!(named("protrusive.3mm.36.mesiobuccal.interferes")["type"], "boolean");
        let crate_of = read(&package.join("ro-crate-metadata.json"));
        let graph = crate_of["@graph"].as_array().unwrap();
        let by_id = |id: &str| graph.iter().find(|entity| entity["@id"] == id).unwrap();
        let parts = by_id("./")["hasPart"].as_array().unwrap();
        assert!(parts.iter().all(|part| by_id(part["@id"].as_str().unwrap())["@type"] == "File"));
        assert_eq!(by_id("#run")["instrument"]["@id"], "#eminentia");
        let again = folder.shell(&format!("again.{ending}"));
        let packed_study = package.join("study.ron");
        assert_eq!(run(&["study", "run", packed_study.to_str().unwrap(), "--out", &again]).status, 0);
        if ending == "csv" {
            assert_eq!(fs::read(&again).unwrap(), fs::read(&table).unwrap());
        }
        // A folder that is there is somebody's.
        assert_eq!(run(&asked).status, 2);
    }
}

#[test]
fn a_long_version_says_what_was_built() {
    let left = run(&["--version"]);
    for words in [study_run::VERSION, "commit: ", "build for ", "rustc "] {
        assert!(left.out.contains(words), "{}", left.out);
    }
    assert_eq!(run(&["-V"]).out, format!("eminentia {}\n", study_run::VERSION));
}

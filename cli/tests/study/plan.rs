//! `eminentia study plan`: what a run will take, without running it.

use std::fs;

use serde_json::Value;

use crate::support::{Folder, run, study};

#[test]
fn a_plan_tells_rows_columns_time_and_size_and_runs_nothing() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    let left = run(&["study", "plan", &study]);
    assert_eq!(left.status, Some(0), "{}", left.err);
    for word in ["Written by a test", "6, by the plan FullGrid", "Parquet", "CSV", "a second by 1 thread"] {
        assert!(left.out.contains(word), "{word} in {}", left.out);
    }
    assert!(left.out.contains("protrusive.2mm.36.mesiobuccal.clearance_mm"), "names in full: {}", left.out);
    assert_eq!(folder.names(), ["scene.ron", "study.ron"]);
}

#[test]
fn a_plan_as_json_agrees_with_the_run() {
    let folder = Folder::new();
    let study = study(&folder, "MonteCarlo(rows: 3000, seed: 1)");
    let left = run(&["study", "plan", &study, "--format", "json", "--part", "2/3"]);
    let plan: Value = serde_json::from_str(&left.out).unwrap();
    assert_eq!((&plan["study_rows"], &plan["rows"]), (&3000.into(), &1000.into()));
    assert!(plan["rows_a_second_by_one_thread"].as_f64().unwrap() > 0.0);

    let size = |name: &str| {
        let table = folder.shell(name);
        assert_eq!(run(&["study", "run", &study, "--out", &table]).status, Some(0));
        fs::metadata(table).unwrap().len() as f64 / 3.0
    };
    // Shortest digits differ in number from row to row; a tenth is many times that.
    let csv = size("table.csv");
    assert!((plan["csv_bytes"].as_f64().unwrap() / csv - 1.0).abs() < 0.1, "{} {csv}", plan["csv_bytes"]);
    // A part differs from the next by the digits of its row numbers and in the words of its reasons.
    let parquet = size("table.parquet");
    let told = plan["parquet_bytes"].as_f64().unwrap();
    assert!((told / parquet - 1.0).abs() < 0.5, "{told}, {parquet}");

    let csv = fs::read_to_string(folder.path("table.csv")).unwrap();
    let names: Vec<&str> = csv.lines().nth(1).unwrap().split(',').collect();
    let columns = plan["columns"].as_array().unwrap();
    assert!(columns.iter().map(|column| column["name"].as_str().unwrap()).eq(names));
    let first = csv.lines().nth(1002).unwrap();
    for (column, cell) in columns.iter().zip(first.split(',')) {
        match &column["first"][0] {
            Value::Number(number) => assert_eq!(number.as_f64().unwrap(), cell.parse::<f64>().unwrap()),
            Value::String(text) => assert_eq!(text, cell),
            other => assert!(other.is_null() && cell.is_empty(), "{other} {cell}"),
        }
    }
}

#[test]
fn a_small_table_is_as_large_as_was_told() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    let left = run(&["study", "plan", &study, "--format", "json"]);
    let plan: Value = serde_json::from_str(&left.out).unwrap();
    for (form, name) in [("parquet_bytes", "table.parquet"), ("csv_bytes", "table.csv")] {
        let table = folder.shell(name);
        assert_eq!(run(&["study", "run", &study, "--out", &table]).status, Some(0));
        let size = fs::metadata(table).unwrap().len() as f64;
        assert!((plan[form].as_f64().unwrap() - size).abs() < 0.5, "{form}: {} {size}", plan[form]);
    }
    assert!(plan["free_bytes"].as_u64().unwrap() > 0);
}

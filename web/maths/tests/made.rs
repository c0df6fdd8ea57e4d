//! The tables are what their generators make, and are made anew by them.
#![cfg(not(target_arch = "wasm32"))]

use std::fs;

use browser_maths::set_up::columns;
use browser_maths::{POSES, drawn, tooth_guided};
use whole_checks::table::Outcome;

#[test]
#[ignore = "writes the tables anew"]
fn the_tables_are_made_anew() -> Outcome<()> {
    fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/poses.csv"), drawn::table()?)?;
    Ok(fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/tooth_guided.csv"), tooth_guided::table()?)?)
}

/// Settings are exact wherever they are drawn; the poses behind them are another test's.
fn settings(line: &str) -> Vec<&str> {
    let mut cells: Vec<_> = line.split(',').collect();
    if !line.starts_with('#') {
        cells.truncate(cells.len().saturating_sub(columns().len()));
    }
    cells
}

#[test]
fn the_table_has_the_set_ups_that_the_generator_draws() -> Outcome<()> {
    let drawn = drawn::table()?;
    assert_eq!(POSES.lines().count(), drawn.lines().count());
    for (kept, made) in POSES.lines().zip(drawn.lines()) {
        assert_eq!(settings(kept), settings(made));
    }
    Ok(())
}

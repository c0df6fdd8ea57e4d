//! Tables as Arrow has them, against the rows that they are made of.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use arrow_array::{Array as _, BooleanArray, Float64Array, RecordBatch, StringArray, UInt64Array};
use sim_core::scene::Scene;
use sim_core::study::Cell;
use study_run::{BatchError, Batcher, Loaded, key, schema};

/// Guides so steep that some rows admit no pose, and every kind of column.
fn study(rows: u64) -> Loaded {
    let scene = Scene::thirty_degree().to_ron();
    let text = format!(
        r#"(
            title: "Written by a test",
            scene: {scene},
            factors: [
                (setting: "horizontal_inclination_deg", values: Normal(mean: 40.0, sd: 25.0)),
                (setting: "right_guide.lateral_angle_deg", values: Uniform(min: 5.0, max: 25.0)),
            ],
            constraints: [LeftEqualsRight("lateral_angle_deg")],
            plan: MonteCarlo(rows: {rows}, seed: 3),
            record: (
                measures: [Clearance, Interference, FirstInterference, Guidance, BennettMovement],
                advances_mm: [2.0, 5.0],
            ),
        )"#
    );
    files::study_from_text(&text, "written.ron", Path::new("")).unwrap_or_else(|error| panic!("{error}"))
}

fn cell(table: &RecordBatch, column: usize, row: usize) -> Cell<'_> {
    let array = table.column(column).as_any();
    if let Some(numbers) = array.downcast_ref::<Float64Array>() {
        return Cell::Number(if numbers.is_null(row) { f64::NAN } else { numbers.value(row) });
    }
    if let Some(texts) = array.downcast_ref::<StringArray>() {
        return Cell::Text((!texts.is_null(row)).then(|| texts.value(row)));
    }
    let flags: &BooleanArray = array.downcast_ref().unwrap();
    Cell::Flag((!flags.is_null(row)).then(|| flags.value(row)))
}

fn same(one: Cell<'_>, other: Cell<'_>) -> bool {
    match (one, other) {
        (Cell::Number(one), Cell::Number(other)) => {
            // A table has no −0.
            one.to_bits() == (other + 0.0).to_bits() || (one.is_nan() && other.is_nan())
        }
        (one, other) => one == other,
    }
}

#[test]
fn every_cell_of_a_batch_is_the_rows_own_wherever_the_batch_begins() {
    let study = study(700);
    let mut batcher = Batcher::new(&study.prepared, &schema(&study));
    let mut row = study.prepared.row_buffer();
    let mut nothing = [0; 3];
    for rows in [0..700, 699..700, 250..260, 0..0] {
        let table = batcher.batch(rows.clone()).unwrap();
        let numbers: &UInt64Array = table.column(0).as_any().downcast_ref().unwrap();
        assert_eq!(numbers.values().to_vec(), rows.clone().collect::<Vec<_>>());
        for (at, number) in rows.enumerate() {
            study.prepared.compute(number, &mut row).unwrap();
            for column in 0..study.prepared.columns().len() {
                let (is, should_be) = (cell(&table, column + 1, at), row.cell(column).unwrap());
                assert!(same(is, should_be), "row {number}, column {column}: {is:?}, {should_be:?}");
                match should_be {
                    Cell::Number(number) => nothing[0] += usize::from(number.is_nan()),
                    Cell::Text(text) => nothing[1] += usize::from(text.is_none()),
                    Cell::Flag(flag) => nothing[2] += usize::from(flag.is_none()),
                }
            }
        }
    }
    assert!(nothing.iter().all(|count| *count > 0), "nothing was left out: {nothing:?}");
}

#[test]
fn a_schema_says_what_the_table_is_and_what_its_columns_mean() {
    let study = study(10);
    let schema = schema(&study);
    let about = schema.metadata();
    assert_eq!(about[key::TITLE], "Written by a test");
    assert_eq!(about[key::ROWS], "10");
    assert_eq!(about[key::STUDY_SHA256], study.sha256());
    assert_eq!(about[key::STUDY_SHA256].len(), 64);
    assert!(about[key::CAUTION].contains("licensed practice"));
    let again = files::study_from_text(&about[key::STUDY], "again.ron", Path::new("")).unwrap();
    assert_eq!(again.sha256(), study.sha256());

    assert!(!schema.field(0).is_nullable());
    for (field, column) in schema.fields().iter().skip(1).zip(study.prepared.columns()) {
        assert_eq!(field.name(), &column.name);
        assert!(field.is_nullable());
        assert_eq!(field.metadata().get(key::UNIT).map(String::as_str), column.unit.map(|unit| unit.words()));
    }
    let role = |name: &str| schema.field_with_name(name).unwrap().metadata()[key::ROLE].clone();
    assert_eq!(role("horizontal_inclination_deg"), "factor");
    assert_eq!(role("left_guide.lateral_angle_deg"), "derived");
    assert_eq!(role("protrusive.2mm.guided_by"), "measured");
    assert_eq!(role("reason"), "reason");
    let searched = schema.field_with_name("protrusive.first_interference.cusp").unwrap();
    assert_eq!(searched.metadata().get(key::SEARCHED_TO).map(String::as_str), Some("6 mm"));
    let measured = schema.field_with_name("protrusive.2mm.guided_by").unwrap();
    assert_eq!(measured.metadata().get(key::SEARCHED_TO), None);
}

#[test]
fn rows_past_the_last_are_refused() {
    let study = study(10);
    let past = study_run::batch(&study, 5..11);
    assert!(matches!(past, Err(BatchError::NoSuchRow(no_row)) if no_row.row == 10 && no_row.rows == 10));
}

//! Counts, means, quantiles and shares against the same made here from the rows.

use std::collections::BTreeMap;

use serde_json::Value;
use sim_core::study::{Cell, ColumnKind};

use crate::helpers::{Folder, assert_near, number, run};
use crate::tables::{CLEARANCE, column, computed, loaded, of, piece, summary, table, written};

/// Half of the inclinations are out of the setting's range, and the arc's end is met by others: rows
/// without a value, for two reasons.
const WITH_GAPS: &str = "(setting: \"right_guide.horizontal_inclination_deg\", values: Normal(mean: 60.0, sd: 20.0)), \
    (setting: \"left_guide.lateral_angle_deg\", values: Uniform(min: 0.0, max: 30.0))";
const ALL: &str =
    "measures: [Clearance, Interference, FirstInterference, Guidance, Opening], advances_mm: [2.0, 5.0]";

/// Sums over a few hundred numbers of a few millimetres keep twelve digits.
const ROUNDING: f64 = 1e-11;

fn with_gaps(folder: &Folder) -> String {
    written(folder, "gaps.ron", WITH_GAPS, "plan: MonteCarlo(rows: 400, seed: 3)", ALL)
}

/// A quantile as its definition says: the number at part × (count − 1), between neighbours in
/// proportion.
fn quantile(numbers: &[f64], part: f64) -> f64 {
    let mut rising = numbers.to_vec();
    rising.sort_by(f64::total_cmp);
    let at = part * (rising.len() - 1) as f64;
    let (below, above) = (rising[at.floor() as usize], rising[at.ceil() as usize]);
    below + (above - below) * at.fract()
}

fn check_measure(told: &Value, values: &[f64]) {
    let there: Vec<f64> = values.iter().copied().filter(|value| !value.is_nan()).collect();
    assert_eq!(told["rows"], there.len());
    let missing = told["without_value"].as_array().unwrap().iter().map(|own| own["rows"].as_u64().unwrap());
    assert_eq!(missing.sum::<u64>() as usize, values.len() - there.len());
    if there.is_empty() {
        assert!(told["mean"].is_null() && told["least"].is_null() && told["quantiles"][2]["at"].is_null());
        return;
    }
    // By two passes, where the summary goes once.
    let mean = there.iter().sum::<f64>() / there.len() as f64;
    let squares = there.iter().map(|value| (value - mean).powi(2)).sum::<f64>();
    let sd = if there.len() < 2 { 0.0 } else { (squares / (there.len() - 1) as f64).sqrt() };
    assert_near(number(told, "mean"), mean, ROUNDING);
    assert_near(number(told, "sd"), sd, ROUNDING);
    assert_eq!(number(told, "least"), there.iter().copied().fold(f64::INFINITY, f64::min) + 0.0);
    assert_eq!(number(told, "greatest"), there.iter().copied().fold(f64::NEG_INFINITY, f64::max) + 0.0);
    for (index, part) in [0.05, 0.25, 0.5, 0.75, 0.95].into_iter().enumerate() {
        let own = &told["quantiles"][index];
        assert_eq!(own["part"], part);
        assert_near(number(own, "at"), quantile(&there, part), ROUNDING);
    }
}

#[test]
fn every_measure_has_the_numbers_of_its_rows() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let told = summary(&table(&folder, &study, "table.parquet"), &[]);
    let (columns, reasons) = computed(&loaded(&study));
    let measures = told["measures"].as_array().unwrap();
    assert!(measures.len() >= 12);
    for measure in measures {
        check_measure(measure, column(&columns, measure["name"].as_str().unwrap()));
    }
    for factor in told["factors"].as_array().unwrap() {
        let values = column(&columns, factor["name"].as_str().unwrap());
        assert_near(number(factor, "mean"), values.iter().sum::<f64>() / 400.0, ROUNDING);
    }
    let not_whole = reasons.iter().flatten().count();
    assert!(not_whole > 20 && not_whole < 380, "{not_whole}");
    assert_eq!((&told["rows"], &told["whole_rows"]), (&400.into(), &(400 - not_whole).into()));
    // They differ in their numbers alone.
    let [reason] = &told["without_value"].as_array().unwrap()[..] else { panic!("{told}") };
    assert_eq!(reason["rows"], not_whole);
    assert!(reason["reason"].as_str().unwrap().contains("horizontal_inclination_deg is …"), "{reason}");
}

#[test]
fn rows_in_which_nothing_interferes_are_no_fault_and_are_told_from_those_without_a_pose() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let told = summary(&table(&folder, &study, "table.parquet"), &[]);
    let (columns, reasons) = computed(&loaded(&study));
    let name = "right_lateral.first_interference.advance_mm";
    let values = column(&columns, name);
    let rows = |wanted: bool| {
        values.iter().zip(&reasons).filter(|(value, why)| value.is_nan() && why.is_some() == wanted).count()
    };
    let without = of(&told, "measures", name)["without_value"].as_array().unwrap();
    let of_reason = |words: &str| {
        let own = without.iter().find(|own| own["reason"].as_str().unwrap().contains(words));
        own.map_or(0, |own| own["rows"].as_u64().unwrap() as usize)
    };
    assert!(rows(true) > 0);
    assert_eq!((of_reason("nothing there"), of_reason("is …")), (rows(false), rows(true)));
}

#[test]
fn shares_of_flags_and_words_are_those_of_the_rows_that_say_something() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let told = summary(&table(&folder, &study, "table.parquet"), &[]);
    let study = loaded(&study);
    let prepared = &study.prepared;
    let mut row = prepared.row_buffer();
    let mut flags: BTreeMap<String, [u64; 3]> = BTreeMap::new();
    let mut words: BTreeMap<String, BTreeMap<Option<String>, u64>> = BTreeMap::new();
    for number in 0..prepared.row_count() {
        prepared.compute(number, &mut row).unwrap();
        for (place, column) in prepared.columns().iter().enumerate() {
            match row.cell(place) {
                Some(Cell::Flag(flag)) => {
                    let at = flag.map_or(2, |flag| usize::from(!flag));
                    flags.entry(column.name.clone()).or_default()[at] += 1;
                }
                Some(Cell::Text(word)) if column.name != "reason" => {
                    let counts = words.entry(column.name.clone()).or_default();
                    *counts.entry(word.map(str::to_owned)).or_default() += 1;
                }
                _ => assert_ne!(column.kind, ColumnKind::Flag),
            }
        }
    }
    assert!(flags.len() >= 8 && words.len() >= 10);
    for (name, [yes, no, none]) in flags {
        let own = of(&told, "flags", &name);
        assert_eq!((&own["true"], &own["false"]), (&yes.into(), &no.into()), "{name}");
        assert_near(number(own, "share"), yes as f64 / (yes + no) as f64, 1e-15);
        assert_eq!(own["without_value"][0]["rows"], none, "{name}");
    }
    for (name, counts) in words {
        let own = of(&told, "words", &name)["words"].as_array().unwrap();
        let found: BTreeMap<Option<String>, u64> = own
            .iter()
            .map(|own| (Some(own["word"].as_str().unwrap().to_owned()), own["rows"].as_u64().unwrap()))
            .collect();
        let counts: BTreeMap<_, _> = counts.into_iter().filter(|(word, _)| word.is_some()).collect();
        assert_eq!(found, counts, "{name}");
    }
}

/// Steeper guides part more, so that the rows of a rising list are in rising order: its quantiles are
/// known rows.
#[test]
fn a_list_that_rises_has_its_quantiles_at_known_rows() {
    let folder = Folder::new();
    let factor = "(setting: \"horizontal_inclination_deg\", values: Range(from: 20.0, to: 60.0, steps: 20))";
    let study = written(&folder, "s.ron", factor, "plan: FullGrid", CLEARANCE);
    let told = summary(&table(&folder, &study, "t.csv"), &["--study", &study]);
    let (columns, _) = computed(&loaded(&study));
    let name = "protrusive.3mm.36.mesiobuccal.clearance_mm";
    let values = column(&columns, name);
    assert!(values.windows(2).all(|pair| pair[0] < pair[1]));
    let told = of(&told, "measures", name);
    for (index, row) in [1, 5, 10, 15, 19].into_iter().enumerate() {
        assert_eq!(number(&told["quantiles"][index], "at"), values[row], "of 21 rows");
    }
}

/// What is told but for the names of the files, what only a Parquet says of itself, and what only the program leaves
/// beside a table.
fn told_alike(mut told: Value) -> Value {
    let object = told.as_object_mut().unwrap();
    ["tables", "version", "commit", "build", "inputs", "runs"]
        .into_iter()
        .for_each(|name| drop(object.remove(name)));
    told
}

#[test]
fn csv_parquet_and_parts_in_any_order_say_the_same() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let whole = told_alike(summary(&table(&folder, &study, "table.parquet"), &[]));
    let csv = table(&folder, &study, "table.csv");
    assert_eq!(told_alike(summary(&csv, &["--study", &study])), whole);
    let loaded = loaded(&study);
    let parts: Vec<String> = [(0, 130, 7), (130, 131, 1), (131, 400, 1000)]
        .into_iter()
        .map(|(from, to, group)| piece(&folder, &loaded, &format!("{from}.parquet"), from..to, group))
        .collect();
    assert_eq!(told_alike(summary(&parts[2], &[&parts[0], &parts[1]])), whole);
    assert_eq!(whole["notes"].as_array().unwrap().len(), 1, "nothing is amiss: {}", whole["notes"]);
}

/// More rows than are read at once.
#[test]
fn a_table_of_several_blocks_is_read_through() {
    let folder = Folder::new();
    let factor =
        "(setting: \"horizontal_inclination_deg\", values: Range(from: 10.0, to: 60.0, steps: 69999))";
    let study =
        written(&folder, "s.ron", factor, "plan: FullGrid", "measures: [Opening], advances_mm: [3.0]");
    let told = summary(&table(&folder, &study, "t.parquet"), &[]);
    assert_eq!(told["rows"], 70_000);
    let steps = of(&told, "factors", "horizontal_inclination_deg");
    assert_near(number(steps, "mean"), 35.0, 1e-9);
    // n numbers at equal distances h have the variance h² n (n + 1) / 12.
    assert_near(number(steps, "sd"), 50.0 / 69_999.0 * (70_000.0 * 70_001.0 / 12.0_f64).sqrt(), 1e-9);
}

#[test]
fn an_unfinished_table_says_so_and_is_summed_up_as_far_as_it_goes() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let piece = piece(&folder, &loaded(&study), "t.parquet", 0..150, 100);
    let told = summary(&piece, &[]);
    let notes = told["notes"].to_string();
    assert!(notes.contains("150 of the study's 400 rows") && notes.contains("--resume"), "{notes}");
    assert_eq!((&told["rows"], &told["rows_of_study"]), (&150.into(), &400.into()));
    let (columns, _) = computed(&loaded(&study));
    let name = "protrusive.2mm.16.mesiopalatal.clearance_mm";
    check_measure(of(&told, "measures", name), &column(&columns, name)[..150]);
    let left = run(&["study", "summary", &piece]);
    assert!(left.out.contains("150 of 400") && left.out.contains("The table is not whole"), "{}", left.out);
}

#[test]
fn csv_has_every_number_in_full_and_the_table_says_it_rounded() {
    let folder = Folder::new();
    let study = with_gaps(&folder);
    let table = table(&folder, &study, "table.parquet");
    let told = summary(&table, &[]);
    let left = run(&["study", "summary", &table, "--format", "csv"]);
    assert_eq!(left.status, 0, "{}", left.err);
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(left.out.as_bytes());
    let lines: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    for measure in told["measures"].as_array().unwrap() {
        let own = |statistic: &str, of: &str| -> Option<f64> {
            let name = measure["name"].as_str().unwrap();
            let line = lines.iter().find(|line| &line[0] == name && &line[3] == statistic && &line[4] == of);
            line.unwrap_or_else(|| panic!("{name} {statistic} {of}"))[5].parse().ok()
        };
        for name in ["mean", "sd", "least", "greatest", "rows"] {
            assert_eq!(own(name, ""), measure[name].as_f64(), "{measure}");
        }
        assert_eq!(own("quantile", "0.25"), measure["quantiles"][1]["at"].as_f64());
    }
    let text = run(&["study", "summary", &table]).out;
    let mean = number(of(&told, "measures", "protrusive.2mm.opening_deg"), "mean");
    let line = text.lines().find(|line| line.contains("rotation of the jaw")).unwrap();
    assert!(line.contains(&format!("{mean:.2}").replace('-', "−")), "{line} {mean}");
    assert!(text.contains("For teaching and research"));
}

//! What a run of a study will take, as an object.

use arrow_array::cast::AsArray as _;
use arrow_array::types::{Float64Type, UInt64Type};
use arrow_array::{Array, ArrayRef};
use arrow_schema::DataType;
use serde_json::{Value, json};
use study_run::{Estimate, Form, Loaded, key};

pub(super) fn object(loaded: &Loaded, estimate: &Estimate, free: Option<u64>) -> Value {
    let study = loaded.prepared.study();
    let schema = estimate.first.schema();
    let columns = schema.fields().iter().zip(estimate.first.columns()).map(|(field, array)| {
        let metadata = |name: &str| field.metadata().get(name);
        let first: Vec<Value> = (0..array.len()).map(|row| cell(array, row)).collect();
        json!({"name": field.name(), "role": metadata(key::ROLE), "unit": metadata(key::UNIT),
            "searched_to": metadata(key::SEARCHED_TO), "first": first})
    });
    let left_out = loaded.prepared.left_out();
    let tails = left_out.tails.iter().map(|tail| {
        json!({"setting": tail.setting.written(), "part_of_rows": tail.part, "least": tail.range.0,
            "greatest": tail.range.1})
    });
    let warnings = loaded.prepared.warnings().iter().map(words::verdict::study::warning);
    json!({
        "title": study.title, "study_sha256": loaded.sha256(), "plan": study.plan.name(),
        "study_rows": estimate.study_rows, "rows": estimate.rows, "rows_saved_at_a_time": estimate.group_rows,
        "threads": estimate.threads, "seconds": estimate.seconds(),
        "rows_a_second_by_one_thread": estimate.rows_a_second_by_one,
        "rows_a_second_by_all_threads": estimate.rows_a_second_by_all,
        "parquet_bytes": estimate.bytes(Form::Parquet), "csv_bytes": estimate.bytes(Form::Csv),
        "free_bytes": free,
        "out_of_range": {"settings": tails.collect::<Vec<Value>>(), "least_part_of_rows": left_out.rows.0,
            "greatest_part_of_rows": left_out.rows.1, "part_of_groups": left_out.groups},
        "rows_tried": estimate.tried, "rows_tried_not_whole": estimate.tried_with_reason,
        "rows_tried_with_note": estimate.tried_with_note, "warnings": warnings.collect::<Vec<String>>(),
        "columns": columns.collect::<Vec<Value>>(),
    })
}

fn cell(array: &ArrayRef, row: usize) -> Value {
    if array.is_null(row) {
        return Value::Null;
    }
    match array.data_type() {
        DataType::Float64 => json!(array.as_primitive::<Float64Type>().value(row)),
        DataType::UInt64 => json!(array.as_primitive::<UInt64Type>().value(row)),
        DataType::Boolean => json!(array.as_boolean().value(row)),
        _ => json!(array.as_string::<i32>().value(row)),
    }
}

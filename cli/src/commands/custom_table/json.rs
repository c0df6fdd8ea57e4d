//! A custom incisal table.

use serde_json::{Value, json};

use crate::output::exact;
use report::formed_table::{FormedTableReport, Repeat};

/// The table as an object.
pub(super) fn object(report: &FormedTableReport) -> Value {
    let formed = &report.formed;
    let field = formed.field();
    let (rows, columns) = field.size();
    let each_row = |of: &dyn Fn(usize, usize) -> Value| -> Vec<Vec<Value>> {
        (0..rows).map(|row| (0..columns).map(|column| of(row, column)).collect()).collect()
    };
    let height = |row, column| json!(field.point(row, column).map(|[_, _, up]| exact(up)));
    let to_print = |row, column| json!(report.printed.point(row, column).map(|[_, _, up]| exact(up)));
    json!({
        "title": report.title,
        "guided_to_mm": formed.guided_to().mm(),
        "swept_share": formed.swept_share(),
        "corner_mm": field.point(0, 0).map(|[ahead, left, _]| [exact(ahead), exact(left)]),
        "step_mm": field.step_mm(),
        "tip_radius_mm": field.tip().radius.mm(),
        "heights_mm": each_row(&height),
        "printed_heights_mm": each_row(&to_print),
        "tip_runs_off_mm": exact(report.tip_runs_off.mm()),
        "error_mm": report.error().map(|error| exact(error.mm())),
        "cautions": report.cautions(),
        "swept": each_row(&|row, column| json!(formed.is_swept(row, column))),
        "repeats": report.repeats.iter().map(repeat).collect::<Vec<Value>>(),
    })
}

fn repeat(repeat: &Repeat) -> Value {
    json!({
        "excursion": repeat.movement.name(),
        "to_mm": repeat.to.mm(),
        "greatest_departure_mm": repeat.greatest.map(|(apart, _)| exact(apart.mm())),
        "at_advance_mm": repeat.greatest.map(|(_, advance)| exact(advance.mm())),
    })
}

//! A table in words, and what all of a summary have in common.

use sim_core::study::Column;
use sim_core::study::statistics::Estimate;
use words::number::two_decimals;

/// A table: heads, and under them rows, some of which only head those that follow.
pub struct WordedTable {
    /// What it shows.
    pub caption: String,
    /// One a column; the first is that of the rows’ own heads.
    pub heads: Vec<String>,
    /// Under the heads.
    pub rows: Vec<Row>,
    /// Place of the column that holds words; all others but the first hold numbers.
    pub of_words: Option<usize>,
    /// What has to be known to read it, in sentences.
    pub note: String,
}

/// A row of a table.
pub enum Row {
    /// Heads the rows that follow.
    Group(String),
    /// Its own head, then its cells.
    Cells(Vec<String>),
}

pub(super) fn owned(heads: &[&str]) -> Vec<String> {
    heads.iter().map(|head| (*head).to_owned()).collect()
}

pub(super) fn number(number: f64) -> String {
    if number.is_finite() { two_decimals(number) } else { "–".to_owned() }
}

/// Rows in the order given, each place heading its own.
pub(super) fn by_place<'a, T>(
    items: impl IntoIterator<Item = &'a T>,
    column: impl Fn(&T) -> &Column,
    row: impl Fn(&T) -> Vec<String>,
) -> Vec<Row>
where
    T: 'a,
{
    rows_by_place(items, column, |item| vec![row(item)])
}

/// Heads of the rows that hold the ends of intervals.
const ENDS: [&str; 2] = ["95 % from", "to"];

/// A row of estimates and two more with the ends of their intervals under them; only the first where there
/// are none. A number without an interval is given as a text.
pub(super) fn with_ends(head: String, cells: Vec<Result<Estimate, String>>) -> Vec<Vec<String>> {
    estimates_written(head, cells, number)
}

/// As [`with_ends`], the numbers written by `write`.
pub(super) fn estimates_written(
    head: String,
    cells: Vec<Result<Estimate, String>>,
    write: impl Fn(f64) -> String,
) -> Vec<Vec<String>> {
    let line = |head: String, of: &dyn Fn(&Estimate) -> f64, bare: bool| {
        let cell = |cell: &Result<Estimate, String>| match cell {
            Ok(estimate) if bare || estimate.has_interval() => write(of(estimate)),
            Err(text) if bare => text.clone(),
            _ => String::new(),
        };
        std::iter::once(head).chain(cells.iter().map(cell)).collect::<Vec<String>>()
    };
    let mut rows = vec![line(head, &|estimate| estimate.value, true)];
    if cells.iter().flatten().any(Estimate::has_interval) {
        let [from, to] = ENDS.map(|end| format!("\u{2003}{end}"));
        rows.push(line(from, &|estimate| estimate.low, false));
        rows.push(line(to, &|estimate| estimate.high, false));
    }
    rows
}

/// As [`by_place`], several rows for each.
pub(super) fn rows_by_place<'a, T>(
    items: impl IntoIterator<Item = &'a T>,
    column: impl Fn(&T) -> &Column,
    rows_of: impl Fn(&T) -> Vec<Vec<String>>,
) -> Vec<Row>
where
    T: 'a,
{
    let mut rows = Vec::new();
    let mut last = None;
    for item in items {
        let place = column(item).place;
        if last != Some(place) {
            rows.extend(place.map(|place| Row::Group(words::name::column::place(place))));
            last = Some(place);
        }
        rows.extend(rows_of(item).into_iter().map(Row::Cells));
    }
    rows
}

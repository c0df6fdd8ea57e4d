//! A table in words, and what all of a summary have in common.

use sim_core::study::Column;
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
    let mut rows = Vec::new();
    let mut last = None;
    for item in items {
        let place = column(item).place;
        if last != Some(place) {
            rows.extend(place.map(|place| Row::Group(words::name::column::place(place))));
            last = Some(place);
        }
        rows.push(Row::Cells(row(item)));
    }
    rows
}

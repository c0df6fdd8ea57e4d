//! One row a distribution.

use std::io::{self, Write};

use sim_core::study::{PUBLISHED, Published};

use super::words::settings;
use crate::output::{Column, Field, Row, Rows, column};

struct PublishedRow {
    published: &'static Published,
    stands_for: String,
}

impl Row for PublishedRow {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("name", |row| row.published.name.into()),
            column("what", |row| row.published.what.into()),
            column("unit", |row| row.published.unit.words().into()),
            column("mean", |row| row.published.figures.mean().into()),
            column("sd", |row| row.published.figures.sd().into()),
            column("least", |row| row.published.figures.range().map(|range| range.0).into()),
            column("greatest", |row| row.published.figures.range().map(|range| range.1).into()),
            column("people", |row| f64::from(row.published.people).into()),
            column("stands_for", |row| Field::from(&row.stands_for)),
            column("source", |row| row.published.source.into()),
        ]
    }
}

pub(super) fn write(out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<PublishedRow>(out)?;
    for published in &PUBLISHED {
        rows.put(&PublishedRow { published, stands_for: settings(published).join(" ") })?;
    }
    rows.end()
}

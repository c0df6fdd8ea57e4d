//! A study's summary: what the table is, then table after table.

use std::io::{self, Write};

use crate::output::{BOLD, Cell, FAINT, Grid, printable_line};
use report::study::summary::StudySummary;
use report::study::wording::{Row, SummaryWording, WordedTable};

/// A column of sentences is no wider.
const WIDEST_WORDS: usize = 56;
/// Neither is a row's own head, where numbers stand beside it.
const WIDEST_HEAD: usize = 44;
/// Nor one with few beside it.
const WIDEST_LONE_HEAD: usize = 72;
/// These are few.
const FEW: usize = 3;

pub(super) fn write(summary: &StudySummary, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let wording = SummaryWording::of(summary);
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&summary.title))?;
    let longest = wording.facts.iter().map(|(name, _)| name.chars().count()).max().unwrap_or_default();
    for (name, value) in &wording.facts {
        writeln!(out, "{FAINT}{name:longest$}{FAINT:#}  {}", printable_line(value))?;
    }
    for (head, sentences) in [("Warnings", &wording.warnings), ("What to keep in mind", &wording.notes)] {
        if sentences.is_empty() {
            continue;
        }
        writeln!(out, "\n{BOLD}{head}{BOLD:#}")?;
        for sentence in sentences {
            let options = textwrap::Options::new(width).initial_indent("- ").subsequent_indent("  ");
            writeln!(out, "{}", textwrap::fill(&printable_line(sentence), options))?;
        }
    }
    wording.tables.iter().try_for_each(|worded| table(worded, width, out))
}

fn table(table: &WordedTable, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n{BOLD}{}{BOLD:#}", table.caption)?;
    let mut grid =
        Grid::new((0..table.heads.len()).map(|place| (if place == 0 { 0 } else { 2 }, 0)).collect());
    let heads = table.heads.iter().enumerate().map(|(place, head)| {
        let cell =
            if table.of_words == Some(place) { Cell::left(head.clone()) } else { Cell::right(head.clone()) };
        cell.styled(FAINT)
    });
    grid.row(heads.collect());
    for row in &table.rows {
        match row {
            Row::Group(head) => {
                grid.row(vec![Cell::left(printable_line(head)).styled(BOLD).across(table.heads.len())]);
            }
            Row::Cells(cells) => cells_of(table, cells, &mut grid),
        }
    }
    grid.write(out)?;
    if table.note.is_empty() {
        return Ok(());
    }
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(&table.note, width))
}

/// One row, on as many lines as its words need.
fn cells_of(table: &WordedTable, cells: &[String], grid: &mut Grid) {
    let widest_head = if cells.len() <= FEW { WIDEST_LONE_HEAD } else { WIDEST_HEAD };
    let parted: Vec<Vec<String>> = cells
        .iter()
        .enumerate()
        .map(|(place, cell)| {
            let (widest, indent) = if place == 0 { (widest_head, "    ") } else { (WIDEST_WORDS, "") };
            let options = textwrap::Options::new(widest).subsequent_indent(indent);
            textwrap::wrap(&printable_line(cell), options).into_iter().map(|line| line.into_owned()).collect()
        })
        .collect();
    let lines = parted.iter().map(Vec::len).max().unwrap_or_default();
    for line in 0..lines {
        let row = parted.iter().enumerate().map(|(place, cell)| {
            let text = cell.get(line).cloned().unwrap_or_default();
            if place == 0 {
                Cell::left(format!("  {text}"))
            } else if table.of_words == Some(place) {
                Cell::left(text)
            } else {
                Cell::right(text)
            }
        });
        grid.row(row.collect());
    }
}

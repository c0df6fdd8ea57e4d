//! A grid of cells in columns, some spanning several, each with its own style.

use std::io::{self, Write};

use anstyle::Style;
use unicode_width::UnicodeWidthStr as _;

use super::style::PLAIN;

/// Where text stands in its cell.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Align {
    Left,
    Right,
}

/// One cell.
pub(crate) struct Cell {
    text: String,
    style: Style,
    align: Align,
    span: usize,
}

impl Cell {
    pub(crate) fn left(text: impl Into<String>) -> Self {
        Self { text: text.into(), style: PLAIN, align: Align::Left, span: 1 }
    }

    pub(crate) fn right(text: impl Into<String>) -> Self {
        Self { align: Align::Right, ..Self::left(text) }
    }

    /// Across several columns.
    pub(crate) fn across(self, span: usize) -> Self {
        Self { span, ..self }
    }

    pub(crate) fn styled(self, style: Style) -> Self {
        Self { style, ..self }
    }
}

/// Rows of cells; a column is as wide as its widest cell, and no narrower than it is told to be.
pub(crate) struct Grid {
    /// Space before each column, and its least width.
    columns: Vec<(usize, usize)>,
    rows: Vec<Vec<Cell>>,
}

impl Grid {
    pub(crate) fn new(columns: Vec<(usize, usize)>) -> Self {
        Self { columns, rows: Vec::new() }
    }

    pub(crate) fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    pub(crate) fn blank(&mut self) {
        self.rows.push(Vec::new());
    }

    fn widths(&self) -> Vec<usize> {
        let mut widths: Vec<usize> = self.columns.iter().map(|(_, least)| *least).collect();
        // First what stands in one column, then what may find room in several.
        for spanning in [false, true] {
            for row in &self.rows {
                let mut column = 0;
                for cell in row {
                    let next = column + cell.span;
                    if (cell.span > 1) == spanning {
                        let lacking = cell.text.width().saturating_sub(self.room(&widths, column, next));
                        widths[next - 1] += lacking;
                    }
                    column = next;
                }
            }
        }
        widths
    }

    /// Room in a run of columns, the space between them included.
    fn room(&self, widths: &[usize], from: usize, to: usize) -> usize {
        widths[from..to].iter().sum::<usize>()
            + self.columns[from + 1..to].iter().map(|(gap, _)| gap).sum::<usize>()
    }

    pub(crate) fn write(&self, out: &mut dyn Write) -> io::Result<()> {
        let widths = self.widths();
        for row in &self.rows {
            let (mut column, mut spaces) = (0, 0);
            for cell in row {
                let next = column + cell.span;
                let free = self.room(&widths, column, next).saturating_sub(cell.text.width());
                let (before, after) = if cell.align == Align::Left { (0, free) } else { (free, 0) };
                spaces += self.columns[column].0 + before;
                if cell.text.is_empty() {
                    spaces += after;
                } else {
                    // Spaces are written only when something follows, so that no line trails off.
                    let style = cell.style;
                    write!(out, "{:spaces$}{style}{}{style:#}", "", cell.text)?;
                    spaces = after;
                }
                column = next;
            }
            writeln!(out)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_under_what_spans_them_and_no_line_trails_off() {
        let mut grid = Grid::new(vec![(0, 0), (2, 5), (1, 5)]);
        grid.row(vec![Cell::left("tip"), Cell::right("1.00"), Cell::right("−2.00")]);
        grid.row(vec![Cell::left(""), Cell::left("twelve wide!").across(2)]);
        grid.row(vec![Cell::left("longer"), Cell::left("x"), Cell::left("")]);
        let mut out = Vec::new();
        grid.write(&mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert_eq!(text, "tip      1.00  −2.00\n        twelve wide!\nlonger  x\n");
    }
}

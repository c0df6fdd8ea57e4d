//! A custom incisal table: its size, its form, how well it repeats the teeth.

use std::io::{self, Write};

use sim_core::anterior::PinTip;

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable_line};
use report::formed_table::FormedTableReport;
use words::number::{as_set, decimals, length, percent, two_decimals};

const LEGEND: &str = "Heights are counted from the pin tip's place at rest with the pin flush. distance: the greatest \
    distance between where the table and where the teeth alone bring the incisal point; a finer --step makes it \
    less.";
const LEGEND_OF_BALL: &str = "Of a tip that is a ball the heights are those of the printed surface; the scene written \
    holds those of the ball's centre on it.";

/// Writes what the table is like.
pub(super) fn write(report: &FormedTableReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    writeln!(out, "{}\n", textwrap::fill(&form(report), width))?;
    let mut grid = Grid::new(vec![(0, 22), (2, 8), (2, 9), (2, 0)]);
    let heads = [Cell::left("repeats, mm"), Cell::right("to"), Cell::right("distance"), Cell::left("at")];
    grid.row(heads.into_iter().map(|cell| cell.styled(BOLD)).collect());
    for repeat in &report.repeats {
        let mut cells = vec![Cell::left(words::name::movement(repeat.movement))];
        cells.push(Cell::right(two_decimals(repeat.to.mm())));
        match repeat.greatest {
            Some((apart, advance)) => {
                cells.push(Cell::right(decimals(apart.mm(), 4)));
                cells.push(Cell::left(two_decimals(advance.mm())));
            }
            None => cells.push(Cell::right("–").styled(FAINT)),
        }
        grid.row(cells);
    }
    grid.write(out)?;
    let closeness = words::verdict::formed_table::closeness(report.error());
    writeln!(out, "\n{BOLD}{}{BOLD:#}", textwrap::fill(&closeness, width))?;
    for caution in report.cautions() {
        writeln!(out, "{ALARM}{}{ALARM:#}", textwrap::fill(caution, width))?;
    }
    let of_ball = report.formed.field().tip() != PinTip::POINT;
    let legend = if of_ball { format!("{LEGEND} {LEGEND_OF_BALL}") } else { LEGEND.to_owned() };
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(&legend, width))
}

/// Its size and form, in sentences.
fn form(report: &FormedTableReport) -> String {
    let formed = &report.formed;
    let field = &report.printed;
    let (rows, columns) = field.size();
    let heights =
        (0..rows).flat_map(|row| (0..columns).filter_map(move |column| Some(field.point(row, column)?[2])));
    let (least, greatest) = heights
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, greatest), at| (least.min(at), greatest.max(at)));
    let long = |count: usize| two_decimals(field.step_mm() * (count - 1) as f64);
    format!(
        "Custom incisal table of {rows} by {columns} heights every {} mm: {} mm from back to front, {} mm across, \
         from {} to {} mm high. The pin swept {} of it, the rest is margin. The teeth guide every excursion up \
         to {} mm of advance. {}",
        as_set(field.step_mm()),
        long(rows),
        long(columns),
        two_decimals(least),
        two_decimals(greatest),
        percent(formed.swept_share()),
        two_decimals(formed.guided_to().mm()),
        tip(report),
    )
}

/// For which tip it is.
fn tip(report: &FormedTableReport) -> String {
    let tip = report.formed.field().tip();
    if tip == PinTip::POINT {
        return "The pin's tip is taken as a point.".to_owned();
    }
    format!(
        "The pin's tip is a ball of {} radius. At ridges sharper than the ball, and nearer than its radius to where \
         the sweep ends, its centre runs lower than the teeth lead it: by {} at most. Sweep farther (--to) than the \
         table is needed.",
        length(tip.radius, 2),
        length(report.tip_runs_off, 3),
    )
}

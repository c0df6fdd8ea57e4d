//! An account as a table: the parts and their sum, where they come from, what moves the number.

use std::io::{self, Write};

use report::account::AccountReport;
use words::name;
use words::number::{change, decimals, two_decimals, with_unit};
use words::verdict::account::{
    formula, meaning, no_slopes, number, part, sentence, slope, slopes_hold, source, values, way,
};

use crate::output::{BOLD, Cell, FAINT, Grid, printable_line};

/// Slopes shown; the rest moves the number less.
const MOST_SLOPES: usize = 12;

pub(super) fn write(report: &AccountReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let account = &report.account;
    let unit = account.number.unit();
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    let what = printable_line(&number(account.number, report.cusp.as_ref()));
    let movement = name::movement_with_ratio(report.excursion.movement());
    let advance = two_decimals(report.placement.advance().mm());
    let value = with_unit(account.value, unit, 3);
    let line = format!("{what}, {movement}, condylar advance {advance} mm: {value}");
    writeln!(out, "{BOLD}{}{BOLD:#}", textwrap::fill(&line, width))?;
    writeln!(out, "{}\n", textwrap::fill(meaning(account.number), width))?;
    parts(report).write(out)?;
    if let Some(said) = sentence(account) {
        writeln!(out, "\n{}", textwrap::fill(&said, width))?;
    }
    formulas(report, width, out)?;
    writeln!(out, "\n{BOLD}What moves it most{BOLD:#}")?;
    match &account.slopes {
        Err(why) => writeln!(out, "{}", textwrap::fill(no_slopes(*why), width)),
        Ok(slopes) if slopes.is_empty() => writeln!(out, "No setting moves it here."),
        Ok(slopes) => {
            let options = textwrap::Options::new(width).initial_indent("- ").subsequent_indent("  ");
            for of in slopes.iter().take(MOST_SLOPES) {
                writeln!(out, "{}", textwrap::fill(&slope(account.number, of), &options))?;
            }
            if slopes.len() > MOST_SLOPES {
                writeln!(
                    out,
                    "{FAINT}  {} more settings move it less.{FAINT:#}",
                    slopes.len() - MOST_SLOPES
                )?;
            }
            let said = slopes_hold(report.is_driven_by_the_incisal_point());
            writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(said, width))
        }
    }
}

fn parts(report: &AccountReport) -> Grid {
    let account = &report.account;
    let mut grid = Grid::new(vec![(0, 0), (2, 0), (2, 0)]);
    let unit = account.number.unit().sign();
    let heads = [Cell::left("part"), Cell::right(unit.trim()), Cell::left("put in")];
    grid.row(heads.into_iter().map(|head| head.styled(FAINT)).collect());
    for (place, of) in account.parts.iter().enumerate() {
        let label = format!("{} {}", place + 1, part(of));
        grid.row(vec![Cell::left(label), Cell::right(change(of.amount, 3)), Cell::left(values(of))]);
        if let Some(way) = way(of) {
            grid.row(vec![Cell::left(""), Cell::left(""), Cell::left(way).styled(FAINT)]);
        }
    }
    let sum: f64 = account.parts.iter().map(|part| part.amount).sum();
    grid.row(vec![
        Cell::left("sum").styled(BOLD),
        Cell::right(decimals(sum, 3)).styled(BOLD),
        Cell::left(""),
    ]);
    grid
}

/// Each formula once, with the parts that it is of.
fn formulas(report: &AccountReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut told: Vec<((&str, &str), Vec<String>)> = Vec::new();
    for (place, of) in report.account.parts.iter().enumerate() {
        let what = (formula(report.account.number, of), source(of));
        let place = (place + 1).to_string();
        match told.iter_mut().find(|(own, _)| *own == what) {
            Some((_, places)) => places.push(place),
            None => told.push((what, vec![place])),
        }
    }
    writeln!(out, "\n{BOLD}Formulas{BOLD:#}")?;
    for ((formula, source), places) in told {
        let options = textwrap::Options::new(width).subsequent_indent("  ");
        let line = format!("{}: {formula} ({source})", places.join(", "));
        writeln!(out, "{}", textwrap::fill(&line, options))?;
    }
    Ok(())
}

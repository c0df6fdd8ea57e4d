//! Tables for people: rounded to two decimals, explained, and made to be read in a lecture.

mod baseline;
mod comparison;
mod contacts;
mod custom_table;
mod doubt;
mod excursions;
mod grid;
mod pair;
mod planned;
mod practice;
mod programmed;
mod settings;
mod study;
mod study_plan;
mod tracing;

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use anstyle::{AnsiColor, Effects, Style};
use sim_core::doubt::Doubt;
use sim_core::practice::{DealNumber, Mark};
use sim_core::setting::Departure;
use study_run::{Estimate, Loaded};

pub(crate) use grid::printable_line;

use super::Format;
use crate::command_line::CAUTION;
use report::case::WorkedCase;
use report::comparison::Comparison;
use report::contacts::ContactsReport;
use report::formed_table::FormedTableReport;
use report::invented_pair::InventedPairReport;
use report::planned::Planned;
use report::study::summary::StudySummary;
use report::tracing::TracingReport;
use report::walk::SceneWalk;

/// Tables.
pub(super) struct Table;

const PLAIN: Style = Style::new();
const BOLD: Style = Style::new().effects(Effects::BOLD);
const FAINT: Style = Style::new().effects(Effects::DIMMED);
const ALARM: Style = AnsiColor::Red.on_default().bold();

/// A space at which a line is not broken, until it is set.
const UNBROKEN: &str = "\u{a0}";

/// Set where nobody tells how wide the paper is.
const USUAL_WIDTH: usize = 100;
/// Narrower than this, lines run over instead.
const LEAST_WIDTH: usize = 60;

/// Columns to set tables in: `COLUMNS` if it is set, else the terminal's, else 100.
pub(crate) fn width() -> usize {
    let told = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    told.or_else(terminal).unwrap_or(USUAL_WIDTH).max(LEAST_WIDTH)
}

/// The one list of settings as text.
pub(crate) fn settings_text(width: usize) -> String {
    settings::text(width)
}

/// Writes a programmed case.
pub(crate) fn programmed(worked: &WorkedCase, out: &mut dyn Write) -> io::Result<()> {
    programmed::write(worked, width(), out)?;
    write_caution(out)
}

/// Writes a plan.
pub(crate) fn planned(planned: &Planned, out: &mut dyn Write) -> io::Result<()> {
    planned::write(planned, width(), out)?;
    write_caution(out)
}

/// Writes how far to trust a case.
pub(crate) fn doubt(title: &str, doubt: &Doubt, seed: u64, out: &mut dyn Write) -> io::Result<()> {
    doubt::write(title, doubt, seed, width(), out)?;
    write_caution(out)
}

/// Writes what was dealt; `seed_given` tells whether a person chose the seed.
pub(crate) fn dealt(
    number: DealNumber,
    handed_out: &[PathBuf],
    key: &Path,
    seed_given: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    practice::dealt(number, handed_out, key, seed_given, width(), out)?;
    write_caution(out)
}

/// Writes what a run of a study will take.
pub(crate) fn study_plan(loaded: &Loaded, estimate: &Estimate, out: &mut dyn Write) -> io::Result<()> {
    study_plan::write(loaded, estimate, width(), out)?;
    write_caution(out)
}

/// Writes a marked answer.
pub(crate) fn marked(mark: &Mark, out: &mut dyn Write) -> io::Result<()> {
    practice::marked(mark, width(), out)?;
    write_caution(out)
}

impl Format for Table {
    fn excursions(&self, run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()> {
        excursions::write(run, width(), out)?;
        write_caution(out)
    }

    fn comparison(&self, comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
        comparison::write(comparison, width(), out)?;
        write_caution(out)
    }

    fn baseline(&self, title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
        baseline::write(title, departures, out)
    }

    fn settings(&self, out: &mut dyn Write) -> io::Result<()> {
        write!(out, "{}", settings_text(width().min(USUAL_WIDTH)))
    }

    fn contacts(&self, report: &ContactsReport, out: &mut dyn Write) -> io::Result<()> {
        contacts::write(report, width(), out)?;
        write_caution(out)
    }

    fn custom_table(&self, report: &FormedTableReport, out: &mut dyn Write) -> io::Result<()> {
        custom_table::write(report, width(), out)?;
        write_caution(out)
    }

    fn pair(&self, report: &InventedPairReport, out: &mut dyn Write) -> io::Result<()> {
        pair::write(report, width(), out)?;
        write_caution(out)
    }

    fn study(&self, summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
        study::write(summary, width(), out)?;
        write_caution(out)
    }

    fn tracing(&self, report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
        tracing::write(report, width(), out)?;
        write_caution(out)
    }
}

fn write_caution(out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(CAUTION, width()))
}

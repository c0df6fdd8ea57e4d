//! What a command has to say, and the one way in which it is written.

use std::io::{self, Write};

use super::destination::{Output, OutputError};
use super::format::Format;
use super::json::Object;
use super::style::FAINT;
use super::width::width;

/// Writes the rows of a report.
pub(crate) type Form<'r> = Box<dyn FnOnce(&mut dyn Write) -> io::Result<()> + 'r>;

/// What a command has to say. Every report is a table for people; a form for programs that a report
/// does not have is not offered by its command.
///
/// A report may be worked out while it is written, so that it is never held whole: whether the work
/// succeeded is then known only after the output.
pub(crate) trait Report {
    /// Writes the table, in so many columns of text.
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()>;

    /// The rows for spreadsheets and notebooks; none where there is nothing to put into rows.
    fn csv(&self) -> Option<Form<'_>> {
        None
    }

    /// The object for programs; none where programs have no use for it.
    fn json(&self) -> Option<Object<'_>> {
        None
    }

    /// Whether the table holds numbers that somebody could take for a patient's. What programs read has the caution
    /// always.
    fn needs_caution(&self) -> bool {
        true
    }
}

/// Writes a report in a form to where it goes, with the caution in each form: under a table, as the first line of a
/// CSV (a comment), as a field of an object.
pub(crate) fn write_report(report: &dyn Report, format: Format, output: Output) -> Result<(), OutputError> {
    match format {
        Format::Table => output.write(true, |out| {
            // Whatever a table forgets to make fit to print is made so here.
            let mut table = Vec::new();
            report.table(width(), &mut table)?;
            out.write_all(words::quoted::styled(&String::from_utf8_lossy(&table)).as_bytes())?;
            if report.needs_caution() { write_caution(out) } else { Ok(()) }
        }),
        Format::Csv => {
            let rows = report.csv().ok_or(OutputError::NoSuchForm("CSV"))?;
            output.write(false, |out| {
                out.write_all(words::caution::csv_line().as_bytes())?;
                rows(out)
            })
        }
        Format::Json => {
            let object = report.json().ok_or(OutputError::NoSuchForm("JSON"))?;
            output.write(false, |out| object.write(out))
        }
    }
}

fn write_caution(out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(words::CAUTION, width()))
}

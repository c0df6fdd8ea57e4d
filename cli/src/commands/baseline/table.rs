//! The checklist in sentences, and what departs from the baseline.

use std::io::{self, Write};

use sim_core::setting::{Departure, DepartureValue};

use super::checked::BaselineReport;
use super::names::departure_name;
use crate::output::{BOLD, Cell, FAINT, Grid, printable_line};
use words::number::as_set;
use words::verdict::baseline;

/// What a question and its answers stand behind.
const INDENT: &str = "   ";

/// Writes the checklist, then the departures as a list.
pub(super) fn write(report: &BaselineReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    let measured_by = if report.is_example {
        "Measured by an example of a baseline, which one kind of instrument has. Give the scene its own \
         `baseline: (…)` where the instrument starts elsewhere."
    } else {
        "Measured by the scene's own baseline."
    };
    writeln!(out, "{}\n", textwrap::fill(measured_by, width))?;
    let heading = format!("Before a patient's casts are mounted. {}", baseline::WHY_FIRST);
    writeln!(out, "{}", textwrap::fill(&heading, width))?;
    for (index, item) in report.checklist.iter().enumerate() {
        let number = format!("{}. ", index + 1);
        let asked = baseline::asked(item.check, &report.baseline);
        writeln!(out, "\n{BOLD}{}{BOLD:#}", indented(&asked, &number, width))?;
        writeln!(out, "{}", indented(&baseline::says(item), INDENT, width))?;
        writeln!(out, "{FAINT}{}{FAINT:#}", indented(baseline::why(item.check), INDENT, width))?;
    }
    writeln!(out)?;
    departures(&report.departures, out)
}

fn indented(text: &str, first: &str, width: usize) -> String {
    let options = textwrap::Options::new(width).initial_indent(first).subsequent_indent(INDENT);
    textwrap::fill(text, options)
}

fn departures(departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
    if departures.is_empty() {
        return writeln!(out, "Stands as zeroed: no setting departs from the baseline.");
    }
    let noun = if departures.len() == 1 { "setting departs" } else { "settings depart" };
    writeln!(out, "{} {noun} from the baseline.\n", departures.len())?;
    let mut grid = Grid::new(vec![(0, 0), (3, 8), (3, 8), (3, 0)]);
    let heads = [Cell::left(""), Cell::right("is"), Cell::right("baseline"), Cell::left("set with")];
    grid.row(heads.into_iter().map(|cell| cell.styled(BOLD)).collect());
    for departure in departures {
        let side = departure.side.map_or(String::new(), |side| format!("{side} "));
        let (is, zeroed) = match departure.value {
            DepartureValue::Number { is, zeroed, unit } => {
                (format!("{}{}", as_set(is), unit.sign()), format!("{}{}", as_set(zeroed), unit.sign()))
            }
            DepartureValue::Word { is, zeroed } => (is.to_owned(), zeroed.to_owned()),
        };
        grid.row(vec![
            Cell::left(format!("{side}{}", departure.label)),
            Cell::right(is),
            Cell::right(zeroed),
            Cell::left(departure_name(departure)).styled(FAINT),
        ]);
    }
    grid.write(out)
}

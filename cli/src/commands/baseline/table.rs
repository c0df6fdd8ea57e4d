//! What departs from the zeroed instrument.

use std::io::{self, Write};

use sim_core::setting::{Departure, DepartureValue};

use super::names::departure_name;
use crate::output::{BOLD, Cell, FAINT, Grid, printable_line};
use words::number::as_set;

/// Writes the departures as a list.
pub(super) fn write(title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(title))?;
    if departures.is_empty() {
        return writeln!(out, "Stands as zeroed: no setting departs from the baseline.");
    }
    let noun = if departures.len() == 1 { "setting departs" } else { "settings depart" };
    writeln!(out, "{} {noun} from the zeroed baseline.\n", departures.len())?;
    let mut grid = Grid::new(vec![(0, 0), (3, 8), (3, 8), (3, 0)]);
    let heads = [Cell::left(""), Cell::right("is"), Cell::right("zeroed"), Cell::left("set with")];
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

//! The set-up for people.

use std::io::{self, Write};

use sim_core::tracing::Member;
use words::number::{as_given, length, one_decimal, two_decimals};

use super::judged::SetupReport;
use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable_line};

/// Writes what is to be doubted and what is sound, then the legs.
pub(super) fn write(report: &SetupReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let setup = &report.setup;
    writeln!(out, "{BOLD}Tracer of “{}”{BOLD:#}", printable_line(&report.title))?;
    let tracer = &setup.tracer;
    let (plate, stylus) = match tracer.plate_on {
        Member::Lower => ("lower", "upper"),
        Member::Upper => ("upper", "lower"),
    };
    let at = [tracer.stylus_mm.x, tracer.stylus_mm.y, tracer.stylus_mm.z].map(one_decimal).join(", ");
    let what = format!(
        "Plate of {} × {} mm on the {plate} member, stylus on the {stylus} with its tip at {at} mm (ahead, left, up); rims \
         {} apart at rest.",
        as_given(2.0 * tracer.half_mm.0),
        as_given(2.0 * tracer.half_mm.1),
        length(tracer.rims_apart, 1),
    );
    writeln!(out, "{}\n", textwrap::fill(&what, width))?;
    for (sound, sentence) in words::verdict::tracer::setup(setup) {
        let (mark, style) = if sound { ("- ", BOLD) } else { ("! ", ALARM) };
        let options = textwrap::Options::new(width).initial_indent(mark).subsequent_indent("  ");
        let lines = textwrap::fill(&sentence, options);
        if sound { writeln!(out, "{lines}")? } else { writeln!(out, "{style}{lines}{style:#}")? }
    }
    writeln!(out)?;
    legs(report).write(out)?;
    let note = "Places on the plate from the apex, in millimetres. Rims: the gap at the distance of the record, square to \
                the occlusal plane; below zero they would pass through each other. The bearing on its plate guides.";
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(note, width))
}

fn legs(report: &SetupReport) -> Grid {
    let setup = &report.setup;
    let mut grid = Grid::new(vec![(0, 17), (2, 7), (1, 7), (3, 9), (3, 6), (1, 6), (1, 6)]);
    let distance = as_given(setup.distance.mm());
    grid.row(vec![
        Cell::left("").styled(BOLD),
        Cell::left(format!("at {distance} mm")).across(2).styled(BOLD),
        Cell::right("end to").styled(BOLD),
        Cell::left(format!("rims apart at {distance} mm")).across(3).styled(BOLD),
    ]);
    let heads = ["forward", "left", "edge", "right", "left", "front"].map(Cell::right);
    let heads = std::iter::once(Cell::left("")).chain(heads).map(|cell| cell.styled(FAINT));
    grid.row(heads.collect());
    for leg in &setup.legs {
        let mut row = vec![Cell::left(leg.leg.words())];
        let gaps = [leg.gaps.right_heel, leg.gaps.left_heel, leg.gaps.front];
        let numbers = [leg.hole.forward, leg.hole.left, leg.inside].into_iter().chain(gaps);
        row.extend(numbers.map(|mm| Cell::right(two_decimals(mm.mm()))));
        grid.row(row);
    }
    grid
}

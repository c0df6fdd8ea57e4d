//! What a tracing showed.

use std::io::{self, Write};

use sim_core::tracing::{Apart, Estimate, LARGEST_SHARP_RADIUS, Leg, LegFindings, Order};
use sim_core::units::{Angle, Length};

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable_line};
use report::tracing::{Over, TracingReport};
use words::number::{as_given, one_decimal, two_decimals};

/// Writes the verdict, the figures of the whole, the legs and what was laid over.
pub(super) fn write(report: &TracingReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let findings = &report.findings;
    writeln!(out, "{BOLD}Tracing {}{BOLD:#}", printable_line(&report.name))?;
    let style = if findings.objections().is_empty() { BOLD } else { ALARM };
    let verdict = textwrap::fill(&report.verdict(), width);
    writeln!(out, "{style}{verdict}{style:#}\n")?;
    write_whole(report, out)?;
    writeln!(out)?;
    write_legs(report, out)?;
    write_notes(report, width, out)?;
    if let Some(over) = &report.over {
        writeln!(out)?;
        write_over(over, width, out)?;
    }
    Ok(())
}

fn write_whole(report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
    let findings = &report.findings;
    let mut grid = Grid::new(vec![(0, 0), (2, 7), (1, 0), (2, 0)]);
    let mut row = |name: &str, value: String, error: String, remark: String| {
        grid.row(vec![
            Cell::left(name),
            Cell::right(value),
            Cell::left(error),
            Cell::left(remark).styled(FAINT),
        ]);
    };
    let error = |error: Length| format!("± {} mm", two_decimals(error.mm()));
    let apex = &findings.apex;
    row("apex, forward", two_decimals(apex.at.forward.mm()), error(apex.forward_error), String::new());
    row("apex, left", two_decimals(apex.at.left.mm()), error(apex.left_error), String::new());
    let (value, about) = degrees(&findings.apex_angle);
    row("angle at the apex", value, about, "between the tangents of the lateral legs".into());
    let (low, high) = findings.roundness.interval;
    let interval = format!("{} to {} mm with 95 %", two_decimals(low.mm()), two_decimals(high.mm()));
    let sharp = LARGEST_SHARP_RADIUS.mm();
    row(
        "arc at the apex, radius",
        two_decimals(findings.roundness.radius.mm()),
        "mm".into(),
        format!("{interval}; up to {sharp} mm counts as sharp"),
    );
    if let Some(second) = &findings.second_apex {
        row(
            "second apex, distance",
            two_decimals(second.distance.value.mm()),
            error(second.distance.standard_error),
            format!(
                "at forward {}, left {} mm",
                two_decimals(second.at.forward.mm()),
                two_decimals(second.at.left.mm())
            ),
        );
    }
    let miss = findings.protrusive_misses_by;
    let side = if miss.value.mm() < 0.0 { "right" } else { "left" };
    row(
        "protrusive leg misses it",
        two_decimals(miss.value.mm().abs()),
        error(miss.standard_error),
        format!("to the {side}"),
    );
    let (value, about) = degrees(&findings.asymmetry.difference);
    row("right less left leg", value, about, "each to the protrusive leg".into());
    let (value, about) = degrees(&findings.asymmetry.middle);
    row("middle of the lateral legs", value, about, "to the left of straight backward".into());
    grid.write(out)
}

fn write_legs(report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
    let radius = report.findings.radius.mm();
    let mut grid =
        Grid::new(vec![(0, 0), (2, 5), (1, 6), (2, 5), (1, 6), (2, 7), (1, 7), (2, 6), (2, 5), (2, 7)]);
    let bold = |cell: Cell| cell.styled(BOLD);
    grid.row(vec![
        bold(Cell::left("")),
        bold(Cell::left("at the apex").across(2)),
        bold(Cell::left(format!("to {radius} mm")).across(2)),
        bold(Cell::right(format!("meets {radius} mm at")).across(2)),
        bold(Cell::right("points")),
        bold(Cell::right("aside")),
        bold(Cell::right("scatter")),
    ]);
    let faint = |cell: Cell| cell.styled(FAINT);
    grid.row(
        [
            Cell::left(""),
            Cell::left("angle").across(2),
            Cell::left("angle").across(2),
            Cell::right("forward"),
            Cell::right("left mm"),
            Cell::right(""),
            Cell::right(""),
            Cell::right("mm"),
        ]
        .into_iter()
        .map(faint)
        .collect(),
    );
    for leg in &report.findings.legs {
        let (tangent, tangent_error) = degrees(&leg.tangent);
        let (chord, chord_error) =
            leg.chord.as_ref().map_or(("–".to_owned(), "ends before".to_owned()), degrees);
        let meets = |of: fn(&sim_core::tracing::Meeting) -> Length| {
            leg.meets.as_ref().map_or("–".to_owned(), |meets| two_decimals(of(meets).mm()))
        };
        grid.row(vec![
            Cell::left(leg.leg.words()),
            Cell::right(tangent),
            Cell::left(tangent_error),
            Cell::right(chord),
            Cell::left(chord_error),
            Cell::right(meets(|meets| meets.at.forward)),
            Cell::right(meets(|meets| meets.at.left)),
            Cell::right(leg.used.to_string()),
            Cell::right((leg.set_aside + leg.repeated).to_string()),
            Cell::right(two_decimals(leg.scatter.mm())),
        ]);
    }
    grid.write(out)
}

fn write_notes(report: &TracingReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut notes = vec![
        "Angles from straight backward, outward; of the protrusive leg, to the left. ± is one standard error, \
         from the scatter of the points."
            .to_owned(),
    ];
    let sharp = as_given(LARGEST_SHARP_RADIUS.mm());
    notes.push(format!(
        "That an arc of up to {sharp} mm counts as sharp is this program’s own choice: the trade gives no number."
    ));
    notes.extend(report.findings.legs.iter().filter_map(order_note));
    notes.extend(report.findings.legs.iter().filter_map(|leg| {
        let apart = leg.two_lines?;
        Some(format!("The {} shows two lines, {} mm apart.", leg.leg, two_decimals(apart.value.mm())))
    }));
    if let Some(photo) = report.photo {
        notes.push(format!(
            "From a photo: {} pixels a millimetre, line {} mm wide; places from the first mark. A mark one pixel off \
             changes every length by {} %, which ± does not hold.",
            one_decimal(photo.pixels_per_mm),
            two_decimals(photo.line_width_mm),
            two_decimals(100.0 / photo.marks_apart_pixels)
        ));
    }
    let fitted: Vec<String> = report.findings.legs.iter().map(fitted).collect();
    notes.push(format!("Fitted from the apex: {}.", fitted.join("; ")));
    for note in notes {
        writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(&note, width))?;
    }
    Ok(())
}

fn fitted(leg: &LegFindings) -> String {
    let mm = |length: Length| one_decimal(length.mm());
    format!("{} {} to {} mm", leg.leg, mm(leg.range.from), mm(leg.range.to))
}

fn order_note(leg: &LegFindings) -> Option<String> {
    match leg.order {
        Order::Once => None,
        Order::Retraced { passes } => Some(format!("The {} was gone over {passes} times.", leg.leg)),
        Order::Mixed => Some(format!("The points of the {} come in no order; they were sorted.", leg.leg)),
    }
}

fn write_over(over: &Over, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let stylus = [over.stylus.x(), over.stylus.y(), over.stylus.z()].map(one_decimal).join(", ");
    let head = format!("Laid over: what the instrument of “{}” draws", printable_line(&over.title));
    writeln!(out, "{BOLD}{head}{BOLD:#}")?;
    let mut grid = Grid::new(vec![(0, 0), (2, 8), (2, 8)]);
    grid.row(vec![
        Cell::left("distance, mm").styled(FAINT),
        Cell::right("rms").styled(FAINT),
        Cell::right("greatest").styled(FAINT),
    ]);
    let mut row = |name: &str, apart: Option<Apart>| {
        let of = |length: fn(&Apart) -> Length| {
            apart.as_ref().map_or("–".to_owned(), |apart| two_decimals(length(apart).mm()))
        };
        grid.row(vec![
            Cell::left(name),
            Cell::right(of(|apart| apart.rms)),
            Cell::right(of(|apart| apart.greatest)),
        ]);
    };
    for (leg, apart) in Leg::ALL.into_iter().zip(over.overlay.legs) {
        row(leg.words(), apart);
    }
    row("all legs", over.overlay.whole);
    let turn = over.overlay.turn.degrees();
    let side = if turn < 0.0 { "right" } else { "left" };
    row(&format!("turned by {}° to the {side}", one_decimal(turn.abs())), over.overlay.turned);
    grid.write(out)?;
    let note = format!(
        "Apex on apex, from every recorded point, its scatter included. Stylus at {stylus} mm (ahead, left, up)."
    );
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(&note, width))
}

fn degrees(estimate: &Estimate<Angle>) -> (String, String) {
    let error = format!("± {}°", one_decimal(estimate.standard_error.degrees()));
    (format!("{}°", one_decimal(estimate.value.degrees())), error)
}

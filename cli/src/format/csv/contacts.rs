//! Contacts as one long table; what a row is about stands in its first column.

use std::io::{self, Write};

use serde::Serialize;
use sim_core::cast::Nearest;
use sim_core::cusp::Tooth;
use sim_core::occlusion::{Difference, Interference};
use sim_core::units::Length;

use super::super::exact;
use super::exact_coordinates;
use super::rows::Rows;
use report::contacts::{ContactsReport, PoseContacts, micrometres};

const COLUMNS: [&str; 24] = [
    "row",
    "excursion",
    "advance_mm",
    "contact",
    "tooth",
    "upper_tooth",
    "lower_tooth",
    "least_vertical_gap_mm",
    "least_distance_mm",
    "film_um",
    "area_mm2",
    "x_mm",
    "y_mm",
    "z_mm",
    "scheme",
    "share",
    "from_mm",
    "to_mm",
    "upper_reduction_mm",
    "lower_reduction_mm",
    "square_mm",
    "difference",
    "other_upper_reduction_mm",
    "rule",
];

/// A row; what it says nothing about is empty. The fields stand in the order of [`COLUMNS`].
#[derive(Serialize, Default, Clone, Copy)]
struct Row<'r> {
    row: &'static str,
    excursion: &'static str,
    advance_mm: Option<f64>,
    contact: &'static str,
    tooth: Option<u8>,
    upper_tooth: Option<u8>,
    lower_tooth: Option<u8>,
    least_vertical_gap_mm: Option<f64>,
    least_distance_mm: Option<f64>,
    film_um: Option<f64>,
    area_mm2: Option<f64>,
    at: [Option<f64>; 3],
    scheme: &'static str,
    share: Option<f64>,
    from_mm: Option<f64>,
    to_mm: Option<f64>,
    upper_reduction_mm: Option<f64>,
    lower_reduction_mm: Option<f64>,
    square_mm: Option<f64>,
    difference: &'static str,
    other_upper_reduction_mm: Option<f64>,
    rule: &'r str,
}

/// Writes it all.
pub(super) fn write(report: &ContactsReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::under(&COLUMNS, out)?;
    for pose in &report.poses {
        write_pose(&mut rows, report, pose)?;
    }
    for verdict in &report.guidance {
        let about = Row { excursion: verdict.movement.name(), ..Row::default() };
        for (scheme, share) in &verdict.shares {
            rows.put(Row {
                row: "guidance",
                film_um: Some(exact(report.stretch.film.mm() * 1000.0)),
                scheme: scheme.name(),
                share: Some(*share),
                from_mm: mm(verdict.from),
                to_mm: mm(verdict.to),
                rule: scheme.rule(verdict.movement),
                ..about
            })?;
        }
        for held in &verdict.evidence {
            rows.put(Row {
                row: "guiding",
                contact: held.kind.name(),
                advance_mm: mm(held.advance),
                least_distance_mm: mm(held.nearest.gap),
                share: Some(held.share),
                from_mm: mm(held.from),
                to_mm: mm(held.to),
                ..at(&held.nearest, about.excursion)
            })?;
        }
    }
    for found in &report.in_the_way.found {
        rows.put(Row { row: "interference", ..interference(found) })?;
    }
    for difference in report.against.iter().flat_map(|against| &against.differences) {
        let (difference, found, other) = match difference {
            Difference::Hidden(before) => ("hidden", before, None),
            Difference::Invented(after) => ("invented", after, None),
            Difference::Changed { before, after } => ("changed", before, mm(after.upper_reduction)),
        };
        rows.put(Row {
            row: "difference",
            difference,
            other_upper_reduction_mm: other,
            ..interference(found)
        })?;
    }
    rows.end()
}

/// A row for the casts as a whole, one for each tooth, and one for each tooth and film.
fn write_pose(rows: &mut Rows<'_>, report: &ContactsReport, pose: &PoseContacts) -> io::Result<()> {
    let about =
        || Row { excursion: pose.place.name(), advance_mm: mm(pose.placement.advance()), ..Row::default() };
    let reading = &pose.reading;
    rows.put(Row {
        row: "casts",
        least_vertical_gap_mm: reading.vertical.and_then(|nearest| mm(nearest.gap)),
        least_distance_mm: mm(reading.distance.gap),
        ..Row { advance_mm: about().advance_mm, ..at(&reading.distance, pose.place.name()) }
    })?;
    for tooth in &reading.teeth {
        rows.put(Row {
            row: "tooth",
            tooth: Some(tooth.tooth.number()),
            least_vertical_gap_mm: tooth.vertical.and_then(|nearest| mm(nearest.gap)),
            least_distance_mm: mm(tooth.distance.gap),
            ..Row { advance_mm: about().advance_mm, ..at(&tooth.distance, pose.place.name()) }
        })?;
        for (index, film) in report.films.iter().enumerate() {
            let mark = pose.mark(index, tooth.tooth);
            rows.put(Row {
                row: "mark",
                tooth: Some(tooth.tooth.number()),
                film_um: Some(micrometres(*film)),
                area_mm2: Some(mark.map_or(0.0, |mark| exact(mark.area_mm2))),
                at: [0, 1, 2].map(|axis| mark.map(|mark| exact(mark.centroid_mm[axis]))),
                ..about()
            })?;
        }
    }
    Ok(())
}

fn interference(found: &Interference) -> Row<'static> {
    Row {
        contact: found.kind.name(),
        advance_mm: mm(found.advance),
        from_mm: mm(found.from),
        to_mm: mm(found.to),
        upper_reduction_mm: mm(found.upper_reduction),
        lower_reduction_mm: mm(found.lower_reduction),
        square_mm: mm(found.square),
        ..at(&found.nearest, found.movement.name())
    }
}

/// A row about a place between two teeth.
fn at(nearest: &Nearest, excursion: &'static str) -> Row<'static> {
    Row {
        excursion,
        upper_tooth: nearest.upper_tooth.map(Tooth::number),
        lower_tooth: nearest.lower_tooth.map(Tooth::number),
        at: exact_coordinates(nearest.upper.coords()).map(Some),
        ..Row::default()
    }
}

#[allow(clippy::unnecessary_wraps)] // the columns are empty where a row says nothing about them
fn mm(length: Length) -> Option<f64> {
    Some(exact(length.mm()))
}

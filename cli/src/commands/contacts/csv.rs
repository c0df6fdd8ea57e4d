//! Contacts as one long table; what a row is about stands in its first column.

use std::io::{self, Write};

use sim_core::cast::Nearest;
use sim_core::cusp::Tooth;
use sim_core::occlusion::{Difference, Interference, Missing};
use sim_core::units::Length;

use crate::output::{Column, Row, Rows, column, exact, exact_coordinates};
use report::contacts::{ContactsReport, PoseContacts, micrometres};

/// A row; what it says nothing about is empty.
#[derive(Default, Clone, Copy)]
struct ContactRow<'r> {
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
    region: &'static str,
    difference: &'static str,
    other_upper_reduction_mm: Option<f64>,
    rule: &'r str,
}

impl Row for ContactRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("row", |row| row.row.into()),
            column("excursion", |row| row.excursion.into()),
            column("advance_mm", |row| row.advance_mm.into()),
            column("contact", |row| row.contact.into()),
            column("tooth", |row| row.tooth.into()),
            column("upper_tooth", |row| row.upper_tooth.into()),
            column("lower_tooth", |row| row.lower_tooth.into()),
            column("least_vertical_gap_mm", |row| row.least_vertical_gap_mm.into()),
            column("least_distance_mm", |row| row.least_distance_mm.into()),
            column("film_um", |row| row.film_um.into()),
            column("area_mm2", |row| row.area_mm2.into()),
            column("x_mm", |row| row.at[0].into()),
            column("y_mm", |row| row.at[1].into()),
            column("z_mm", |row| row.at[2].into()),
            column("scheme", |row| row.scheme.into()),
            column("share", |row| row.share.into()),
            column("from_mm", |row| row.from_mm.into()),
            column("to_mm", |row| row.to_mm.into()),
            column("upper_reduction_mm", |row| row.upper_reduction_mm.into()),
            column("lower_reduction_mm", |row| row.lower_reduction_mm.into()),
            column("square_mm", |row| row.square_mm.into()),
            column("region", |row| row.region.into()),
            column("difference", |row| row.difference.into()),
            column("other_upper_reduction_mm", |row| row.other_upper_reduction_mm.into()),
            column("rule", |row| row.rule.into()),
        ]
    }
}

/// Writes it all.
pub(super) fn write(report: &ContactsReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<ContactRow<'_>>(out)?;
    for pose in &report.poses {
        write_pose(&mut rows, report, pose)?;
    }
    for verdict in &report.guidance {
        let about = ContactRow { excursion: verdict.movement.name(), ..ContactRow::default() };
        for (scheme, share) in &verdict.shares {
            rows.put(&ContactRow {
                row: "guidance",
                film_um: Some(exact(report.stretch.film.mm() * 1000.0)),
                scheme: scheme.name(),
                share: Some(*share),
                from_mm: mm(verdict.from),
                to_mm: mm(verdict.to),
                rule: words::verdict::scheme::rule(*scheme, verdict.movement),
                ..about
            })?;
        }
        for held in &verdict.evidence {
            rows.put(&ContactRow {
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
    for contact in &report.in_the_way.interferences {
        rows.put(&ContactRow { row: "interference", ..interference(contact) })?;
    }
    for missing in report.missing.iter().flatten() {
        let excursion = missing.movement.name();
        for lack in &missing.lacks {
            rows.put(&ContactRow {
                row: "lack",
                region: lack.region.name(),
                ..apart(&lack.missing, excursion)
            })?;
        }
        for (tooth, kind, of) in &missing.teeth {
            let tooth = Some(tooth.number());
            rows.put(&ContactRow { row: "missing", tooth, contact: kind.name(), ..apart(of, excursion) })?;
        }
    }
    for difference in report.against.iter().flat_map(|against| &against.differences) {
        let (difference, shown, other) = match difference {
            Difference::Hidden(before) => ("hidden", before, None),
            Difference::Invented(after) => ("invented", after, None),
            Difference::Changed { before, after } => ("changed", before, mm(after.upper_reduction)),
        };
        rows.put(&ContactRow {
            row: "difference",
            difference,
            other_upper_reduction_mm: other,
            ..interference(shown)
        })?;
    }
    rows.end()
}

/// A row for the casts as a whole, one for each tooth, and one for each tooth and film.
fn write_pose(rows: &mut Rows<'_>, report: &ContactsReport, pose: &PoseContacts) -> io::Result<()> {
    let about = || ContactRow {
        excursion: pose.place.name(),
        advance_mm: mm(pose.placement.advance()),
        ..ContactRow::default()
    };
    let reading = &pose.reading;
    rows.put(&ContactRow {
        row: "casts",
        least_vertical_gap_mm: reading.vertical.and_then(|nearest| mm(nearest.gap)),
        least_distance_mm: mm(reading.distance.gap),
        ..ContactRow { advance_mm: about().advance_mm, ..at(&reading.distance, pose.place.name()) }
    })?;
    for tooth in &reading.teeth {
        rows.put(&ContactRow {
            row: "tooth",
            tooth: Some(tooth.tooth.number()),
            least_vertical_gap_mm: tooth.vertical.and_then(|nearest| mm(nearest.gap)),
            least_distance_mm: mm(tooth.distance.gap),
            ..ContactRow { advance_mm: about().advance_mm, ..at(&tooth.distance, pose.place.name()) }
        })?;
        for (index, film) in report.films.iter().enumerate() {
            let mark = pose.mark(index, tooth.tooth);
            rows.put(&ContactRow {
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

fn interference(contact: &Interference) -> ContactRow<'static> {
    ContactRow {
        contact: contact.kind.name(),
        advance_mm: mm(contact.advance),
        from_mm: mm(contact.from),
        to_mm: mm(contact.to),
        upper_reduction_mm: mm(contact.upper_reduction),
        lower_reduction_mm: mm(contact.lower_reduction),
        square_mm: mm(contact.square),
        ..at(&contact.nearest, contact.movement.name())
    }
}

/// A row about teeth that are meant to touch and do not.
fn apart(missing: &Missing, excursion: &'static str) -> ContactRow<'static> {
    ContactRow {
        excursion,
        advance_mm: mm(missing.advance),
        least_distance_mm: missing.nearest.and_then(|nearest| mm(nearest.gap)),
        from_mm: mm(missing.from),
        to_mm: mm(missing.to),
        share: Some(missing.share),
        ..missing.nearest.map_or_else(ContactRow::default, |nearest| at(&nearest, excursion))
    }
}

/// A row about a place between two teeth.
fn at(nearest: &Nearest, excursion: &'static str) -> ContactRow<'static> {
    ContactRow {
        excursion,
        upper_tooth: nearest.upper_tooth.map(Tooth::number),
        lower_tooth: nearest.lower_tooth.map(Tooth::number),
        at: exact_coordinates(nearest.upper.coords()).map(Some),
        ..ContactRow::default()
    }
}

#[allow(clippy::unnecessary_wraps)] // the columns are empty where a row says nothing about them
fn mm(length: Length) -> Option<f64> {
    Some(exact(length.mm()))
}

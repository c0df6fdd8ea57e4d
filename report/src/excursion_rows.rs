//! Excursions as CSV: one row a sample and cusp, full precision, the same columns whatever the scene holds.

use std::io::{self, Write};

use sim_core::cusp::{Cusp, CuspReading, Tooth};
use sim_core::excursion::{CondyleReading, Placement};
use sim_core::units::Length;

use crate::rows::{Column, Row, Rows, column, exact, exact_coordinates};
use crate::walk::{Closeness, ExcursionWalk, SceneWalk};

/// A cusp in a sample, or the sample alone where the scene has no cusps.
struct SampleRow<'r> {
    excursion: &'static str,
    excursion_number: usize,
    sample: usize,
    placement: &'r Placement,
    closeness: Option<Closeness>,
    cusp: Option<(&'r Cusp, CuspReading)>,
    /// Separation of the cusp where the excursion starts.
    start: Option<Length>,
}

impl SampleRow<'_> {
    fn upper_tooth(&self) -> Option<u8> {
        self.placement.guidance.teeth()?.upper_tooth.map(Tooth::number)
    }

    fn lower_tooth(&self) -> Option<u8> {
        self.placement.guidance.teeth()?.lower_tooth.map(Tooth::number)
    }

    fn contact(&self, axis: usize) -> Option<f64> {
        Some(exact_coordinates(self.placement.guidance.teeth()?.at.coords())[axis])
    }

    fn incisal(&self, axis: usize) -> f64 {
        exact_coordinates(self.placement.incisal_point.coords())[axis]
    }

    fn beyond_start(&self) -> Option<f64> {
        let (_, reading) = self.cusp?;
        Some(exact((reading.separation - self.start?).mm()))
    }

    fn reading<T>(&self, of: impl Fn(&CuspReading) -> T) -> Option<T> {
        self.cusp.as_ref().map(|(_, reading)| of(reading))
    }
}

fn advance(reading: &CondyleReading) -> f64 {
    exact(reading.advance.mm())
}

fn medial(reading: &CondyleReading) -> f64 {
    exact(reading.medial.mm())
}

fn drop(reading: &CondyleReading) -> f64 {
    exact(reading.drop.mm())
}

impl Row for SampleRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("excursion", |row| row.excursion.into()),
            column("excursion_number", |row| row.excursion_number.into()),
            column("sample", |row| row.sample.into()),
            column("advance_mm", |row| exact(row.placement.advance().mm()).into()),
            column("opening_deg", |row| exact(row.placement.opening().degrees()).into()),
            column("guided_by", |row| row.placement.guidance.name().into()),
            column("guide_plane", |row| row.placement.guidance.plane().map(|plane| plane.name()).into()),
            column("right_advance_mm", |row| advance(&row.placement.right).into()),
            column("right_medial_mm", |row| medial(&row.placement.right).into()),
            column("right_drop_mm", |row| drop(&row.placement.right).into()),
            column("left_advance_mm", |row| advance(&row.placement.left).into()),
            column("left_medial_mm", |row| medial(&row.placement.left).into()),
            column("left_drop_mm", |row| drop(&row.placement.left).into()),
            column("incisal_x_mm", |row| row.incisal(0).into()),
            column("incisal_y_mm", |row| row.incisal(1).into()),
            column("incisal_z_mm", |row| row.incisal(2).into()),
            column("tooth", |row| row.cusp.map(|(cusp, _)| cusp.tooth().number()).into()),
            column("name", |row| row.cusp.map(|(cusp, _)| cusp.name()).into()),
            column("separation_mm", |row| row.reading(|reading| exact(reading.separation.mm())).into()),
            column("clearance_mm", |row| row.reading(|reading| exact(reading.clearance.mm())).into()),
            column("incline", |row| row.reading(|reading| reading.incline.name()).into()),
            column("upper_tooth", |row| row.upper_tooth().into()),
            column("lower_tooth", |row| row.lower_tooth().into()),
            column("contact_x_mm", |row| row.contact(0).into()),
            column("contact_y_mm", |row| row.contact(1).into()),
            column("contact_z_mm", |row| row.contact(2).into()),
            column("pin_lift_mm", |row| row.placement.pin_lift.map(|lift| exact(lift.mm())).into()),
            column("least_vertical_gap_mm", |row| {
                row.closeness.and_then(|closeness| closeness.vertical_gap).map(|gap| exact(gap.mm())).into()
            }),
            column("least_distance_mm", |row| {
                row.closeness.map(|closeness| exact(closeness.distance.mm())).into()
            }),
            column("separation_from_start_mm", |row| row.beyond_start().into()),
        ]
    }
}

/// Solves the run and writes it sample by sample.
///
/// # Errors
/// Those of what is written to.
pub fn write(run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<SampleRow<'_>>(out)?;
    for solving in run.excursions() {
        let mut start = Vec::new();
        for (sample, placement) in solving.samples().enumerate() {
            if sample == 0 {
                start.extend(solving.cusps(&placement).map(|(_, reading)| reading.separation));
            }
            write_sample(&mut rows, &solving, sample, &placement, &start)?;
        }
    }
    rows.end()
}

/// The same under the line with the caution, as a file of its own.
///
/// # Errors
/// Those of what is written to.
pub fn write_whole(run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()> {
    out.write_all(words::caution::csv_line().as_bytes())?;
    write(run, out)
}

fn write_sample(
    rows: &mut Rows<'_>,
    solving: &ExcursionWalk<'_>,
    sample: usize,
    placement: &Placement,
    start: &[Length],
) -> io::Result<()> {
    let alone = SampleRow {
        excursion: solving.excursion().movement().name(),
        excursion_number: solving.number(),
        sample,
        placement,
        closeness: solving.closeness(placement),
        cusp: None,
        start: None,
    };
    let mut cusps = solving.cusps(placement).zip(start).peekable();
    if cusps.peek().is_none() {
        return rows.put(&alone);
    }
    cusps
        .try_for_each(|(cusp, start)| rows.put(&SampleRow { cusp: Some(cusp), start: Some(*start), ..alone }))
}

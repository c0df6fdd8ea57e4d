//! A set-up of the table, and the numbers that are compared.

use sim_core::cusp::{Cusp, Gauges};
use sim_core::excursion::{Drive, Excursion, Mechanism, Placement, SampleCount};
use sim_core::frame::{OcclusalPlane, UpperPoint};
use sim_core::instrument::Instrument;
use whole_checks::table::{Outcome, Row};

/// Points of the upper member whose places tell its pose in millimetres: near both condyles and at the
/// incisors, so that whatever turns it moves one of them.
const POINTS: [(&str, UpperPoint); 3] = [
    ("right", UpperPoint::mm(0.0, -55.0, 0.0)),
    ("left", UpperPoint::mm(0.0, 55.0, 0.0)),
    ("front", UpperPoint::mm(98.0, 0.0, -42.0)),
];
/// Where along the excursion; the last samples of four.
const PLACES: [&str; 3] = ["third", "two_thirds", "whole"];
const SAMPLES: i64 = 4;

/// All that a row of the table sets.
#[derive(Clone, Debug)]
pub struct SetUp {
    /// The instrument.
    pub instrument: Instrument,
    /// What it is asked to do.
    pub excursion: Excursion,
    /// Along which a tracing is measured, and from which separation is counted.
    pub plane: OcclusalPlane,
    /// The cusp that is measured.
    pub cusp: Cusp,
}

impl SetUp {
    /// Reads a row.
    ///
    /// # Errors
    /// What is missing from the row, or is out of range.
    pub fn read(row: &Row<'_>) -> Outcome<Self> {
        let drive = match row.text("driven_by")? {
            "advance_mm" => Drive::Advance(row.length("whole")?),
            "incisal_displacement_mm" => Drive::IncisalDisplacement(row.length("whole")?),
            "tracing_mm" => Drive::Tracing(row.length("whole")?),
            "opening_deg" => Drive::Opening(row.angle("whole")?),
            other => return Err(format!("no excursion is driven by {other}").into()),
        };
        Ok(Self {
            instrument: row.instrument()?,
            excursion: Excursion::new(row.movement()?, drive)?,
            plane: row.occlusal_plane()?,
            cusp: row.cusp("cusp")?,
        })
    }

    /// The numbers of [`columns`], in their order: millimetres.
    ///
    /// # Errors
    /// Where the set-up has no pose.
    pub fn numbers(&self) -> Outcome<Vec<f64>> {
        let mechanism = Mechanism::new(&self.instrument).with_occlusal_plane(self.plane);
        let gauges = Gauges::new(self.plane, std::slice::from_ref(&self.cusp));
        let placements =
            mechanism.samples(&self.excursion, SampleCount::new(SAMPLES)?).collect::<Result<Vec<_>, _>>()?;
        // A lateral movement with immediate translation has one sample more, at its beginning.
        let before = placements.len().saturating_sub(PLACES.len());
        Ok(placements[before..].iter().flat_map(|placement| numbers_of(placement, &gauges)).collect())
    }
}

fn numbers_of(placement: &Placement, gauges: &Gauges) -> Vec<f64> {
    let readings = gauges.read(&placement.jaw);
    let readings = readings.flat_map(|reading| [reading.separation.mm(), reading.clearance.mm()]);
    places(placement).into_iter().chain(readings).collect()
}

/// Where the three points of the upper member are in the lower frame, in the order of [`place_columns`]:
/// millimetres.
#[must_use]
pub fn places(placement: &Placement) -> Vec<f64> {
    let places = POINTS.iter().map(|(_, point)| *placement.jaw.to_lower(point).coords());
    places.flat_map(|place| [place.x, place.y, place.z]).collect()
}

/// What the columns of places are called.
#[must_use]
pub fn place_columns() -> Vec<String> {
    POINTS.iter().flat_map(|(point, _)| ["x", "y", "z"].map(|axis| format!("{point}_{axis}_mm"))).collect()
}

/// What the columns of a row's numbers are called.
#[must_use]
pub fn columns() -> Vec<String> {
    let readings = ["separation_mm", "clearance_mm"].map(str::to_owned);
    let names: Vec<_> = place_columns().into_iter().chain(readings).collect();
    PLACES.iter().flat_map(|place| names.iter().map(move |name| format!("{place}_{name}"))).collect()
}

/// The numbers that the table gives for a row.
///
/// # Errors
/// A column that is missing or holds no number.
pub fn expected(row: &Row<'_>) -> Outcome<Vec<f64>> {
    columns().iter().map(|column| row.number(column)).collect()
}

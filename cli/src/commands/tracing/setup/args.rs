//! What `eminentia tracing setup` takes.

use clap::Args;
use sim_core::tracing::USUAL_RADIUS;

use crate::args::{Changes, OneScene, ReportWithoutCsvArgs};

/// How far a leg is followed: as far as a jaw commonly goes on a plate (common practice, no source).
pub(crate) const USUAL_REACH_MM: f64 = 10.0;

#[derive(Args)]
pub(crate) struct Setup {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    /// Distance on the plate at which records are made
    #[arg(long, value_name = "MM", default_value_t = USUAL_RADIUS.mm(), value_parser = length, allow_negative_numbers = true)]
    pub(crate) distance: f64,
    /// How far each leg is followed on the plate
    #[arg(long, value_name = "MM", default_value_t = USUAL_REACH_MM, value_parser = length, allow_negative_numbers = true)]
    pub(crate) reach: f64,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

/// Shortest and longest leg that is followed, in mm.
const LENGTHS_MM: (f64, f64) = (1.0, 20.0);

/// A length on the plate.
pub(crate) fn length(given: &str) -> Result<f64, String> {
    let (least, most) = LENGTHS_MM;
    let mm: f64 = given.parse().map_err(|_| "a number of millimetres is needed, for example 6".to_owned())?;
    if (least..=most).contains(&mm) { Ok(mm) } else { Err(format!("allowed are {least} to {most} mm")) }
}

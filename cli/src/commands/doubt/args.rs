//! What `eminentia doubt` takes.

use std::path::PathBuf;

use clap::Args;
use sim_core::doubt::{DRAWS, USUAL_DRAWS, Uncertainties};
use sim_core::record::Case;
use sim_core::units::{Angle, Length};

use crate::args::ReportWithoutCsvArgs;

#[derive(Args)]
pub(crate) struct Doubt {
    /// Case file (RON): the patient's records; `-` is standard input
    #[arg(value_name = "CASE")]
    pub(crate) case: PathBuf,
    /// Number of draws
    #[arg(long, value_name = "N", default_value_t = USUAL_DRAWS, value_parser = draws(), allow_negative_numbers = true)]
    pub(crate) draws: u32,
    /// Seed of the random numbers: the same seed gives the same draws
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    pub(crate) seed: u64,
    /// Standard deviation of each coordinate of a landmark, mm [default: the case's sd_mm]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    landmark_sd_mm: Option<f64>,
    /// Standard deviation of each coordinate of an axis point, mm; 0 also takes an average mounting
    /// for certain [default: 2]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    axis_sd_mm: Option<f64>,
    /// Standard deviation of each coordinate of a reference point, mm [default: 1]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    reference_sd_mm: Option<f64>,
    /// Standard deviation of a record's height at each of its three supports, mm [default: 0.05]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    record_sd_mm: Option<f64>,
    /// Graduation of the instrument's scales, degrees [default: 1]
    #[arg(long, value_name = "DEG", allow_negative_numbers = true)]
    scale_step_deg: Option<f64>,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

fn draws() -> clap::builder::RangedI64ValueParser<u32> {
    clap::value_parser!(u32).range(i64::from(*DRAWS.start())..=i64::from(*DRAWS.end()))
}

impl Doubt {
    /// The uncertainties asked for, the usual ones where none is.
    pub(crate) fn uncertainties(&self, case: &Case) -> Uncertainties {
        let usual = Uncertainties::usual(case);
        let length = |given: Option<f64>, usual| given.map_or(usual, Length::from_mm);
        Uncertainties {
            landmark_sd: length(self.landmark_sd_mm, usual.landmark_sd),
            readings: usual.readings,
            axis_sd: length(self.axis_sd_mm, usual.axis_sd),
            reference_sd: length(self.reference_sd_mm, usual.reference_sd),
            record_sd: length(self.record_sd_mm, usual.record_sd),
            scale_step: self.scale_step_deg.map_or(usual.scale_step, Angle::from_degrees),
        }
    }
}

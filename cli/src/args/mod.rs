//! What many commands take.

mod numbers;
mod photo;
mod plot;
mod print;

use std::path::PathBuf;

use clap::Args;
use sim_core::excursion::SampleCount;
use sim_core::setting::Change;

use crate::output::Format;

pub(crate) use numbers::numbers;
pub(crate) use photo::PhotoOptions;
pub(crate) use plot::PlotArgs;
pub(crate) use print::PrintArgs;

#[derive(Args, Default)]
pub(crate) struct OneScene {
    /// Scene file (RON); `-` is standard input [default: the compiled-in scene]
    #[arg(value_name = "SCENE")]
    pub(crate) path: Option<PathBuf>,
}

#[derive(Args, Default)]
pub(crate) struct Changes {
    /// Change a setting for this run, as in `left_guide.horizontal_inclination_deg=40`; without
    /// `left_guide.` or `right_guide.` a guide's setting changes on both sides. May be repeated
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) with: Vec<Change>,
    /// Samples of each excursion, both ends included
    #[arg(long, value_name = "N", value_parser = sample_count, allow_negative_numbers = true)]
    pub(crate) samples: Option<SampleCount>,
}

#[derive(Args, Default)]
pub(crate) struct ReportArgs {
    /// Form of the output
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
    /// Write to this file instead of standard output; an existing file stays until the new one is complete
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// As [`ReportArgs`], of a report that has no rows to put into a CSV.
#[derive(Args)]
pub(crate) struct ReportWithoutCsvArgs {
    /// Form of the output
    #[arg(long, value_parser = Format::without_csv(), default_value = "table")]
    pub(crate) format: Format,
    /// Write to this file instead of standard output; an existing file stays until the new one is complete
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

fn sample_count(given: &str) -> Result<SampleCount, String> {
    let number: i64 = given.parse().map_err(|_| "a whole number is needed, for example 13".to_owned())?;
    SampleCount::new(number).map_err(|error| error.to_string())
}

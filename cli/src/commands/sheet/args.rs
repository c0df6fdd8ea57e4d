//! What `eminentia sheet` takes.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::args::PhotoOptions;

#[derive(Args)]
pub(crate) struct Sheet {
    /// Case file (RON), the patient's records, or scene file (RON), settings without records; `-` is standard input
    #[arg(value_name = "CASE|SCENE")]
    pub(crate) input: PathBuf,
    /// The sheet (.html or .pdf); an existing file stays until the new one is complete
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Paper that it is set for
    #[arg(long, value_enum, default_value_t)]
    pub(crate) paper: Paper,
    /// Graduation of the instrument's scales, degrees: values to set are rounded to it
    #[arg(long, value_name = "DEG", default_value_t = 1.0, allow_negative_numbers = true)]
    pub(crate) graduation: f64,
    /// The patient's tracing, to stand on the sheet: points (CSV with the columns leg, forward_mm,
    /// left_mm), or a photo of the plate (PNG, JPEG)
    #[arg(long, value_name = "FILE")]
    pub(crate) tracing: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) photo: PhotoOptions,
}

/// Papers.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum Paper {
    /// 210 × 297 mm
    #[default]
    A4,
    /// 8.5 × 11 inches
    Letter,
}

impl From<Paper> for report::sheet::Paper {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self::A4,
            Paper::Letter => Self::Letter,
        }
    }
}

//! What `eminentia study summary` takes.

use std::path::PathBuf;

use clap::{ArgGroup, Args};
use sim_core::study::statistics::{LEAST_RESAMPLES, MOST_RESAMPLES};

use crate::args::{PrintArgs, ReportArgs};

/// Bootstrap resamples where nobody says how many: intervals then stay put to a few hundredths of
/// their width from one seed to another.
const USUAL_RESAMPLES: u32 = 1000;

/// What `study summary --help` says below its options.
const ABOUT_PLANS: &str = "\
How the sources of the spread are found depends on the plan: Sobol’ indices by the plan Indices, a tornado by \
OneAtATime, standardised regression coefficients by a grid and by the random plans. Response curves and heat maps \
need a grid or a random plan, Indices included.

Memory: what is counted row by row needs next to none, whatever the table’s size. Quantiles, Sobol’ indices and \
tornados take a measure’s whole column, 8 bytes a row and as much again to sort it; as many columns are taken at \
once as fit into 256 MB, or one. A picture takes two or three columns and up to 32 bytes a row besides.";

#[derive(Args)]
#[command(after_long_help = ABOUT_PLANS, group = ArgGroup::new("plot").args(["plots", "page"]).multiple(true))]
pub(crate) struct StudySummary {
    /// Table of a study (Parquet or CSV), or all the parts of one
    #[arg(value_name = "TABLE", required = true)]
    pub(crate) tables: Vec<PathBuf>,
    /// The study's file (RON): needed for a CSV, checked against a Parquet
    #[arg(long, value_name = "FILE")]
    pub(crate) study: Option<PathBuf>,
    /// Sum up and draw only this measure, by its column's name or all that have this in their name, as
    /// `36.mesiobuccal.clearance`; may be repeated [default: sum up all, draw the first that varies]
    #[arg(long, value_name = "NAME")]
    pub(crate) measure: Vec<String>,
    /// Draw over this factor, by its name or a part of it; may be repeated, and the first two make the
    /// heat map [default: those that matter most]
    #[arg(long, value_name = "NAME")]
    pub(crate) factor: Vec<String>,
    /// Write every plot into this folder, as SVG, PNG and PDF, and what to say under each into captions.txt
    #[arg(long, value_name = "FOLDER")]
    pub(crate) plots: Option<PathBuf>,
    /// Write a report with all of it: one web page (.html) that needs nothing else
    #[arg(long = "report", value_name = "FILE")]
    pub(crate) page: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
    /// Bootstrap resamples for the intervals of Sobol’ indices
    #[arg(long, value_name = "N", default_value_t = USUAL_RESAMPLES,
          value_parser = clap::value_parser!(u32).range(i64::from(LEAST_RESAMPLES)..=i64::from(MOST_RESAMPLES)), allow_negative_numbers = true)]
    pub(crate) resamples: u32,
    /// Seed of the resamples: the same seed gives the same intervals
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    pub(crate) seed: u64,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}

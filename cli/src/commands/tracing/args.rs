//! What `eminentia tracing` takes.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use sim_core::frame::UpperPoint;
use sim_core::setting::Change;
use sim_core::tracing::USUAL_RADIUS;

use super::setup::Setup;
use super::template::Template;
use crate::args::{PhotoOptions, PrintArgs, ReportArgs, numbers};

#[derive(Subcommand)]
pub(crate) enum Step {
    /// Judge the tracer of a scene before it is used: plate, stylus, rims
    Setup(Setup),
    /// Write the template of a tracing in its own size: apex, legs, and the holes of the records
    Template(Template),
}

#[derive(Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(crate) struct Tracing {
    #[command(subcommand)]
    pub(crate) step: Option<Step>,
    /// Points (CSV with the columns leg, forward_mm, left_mm; `-` is standard input), or a photo of
    /// the plate (PNG, JPEG)
    #[arg(value_name = "FILE", required = true)]
    pub(crate) file: Option<PathBuf>,
    /// Radius of the arc about the apex on which the legs are met, as for the template's holes
    #[arg(long, value_name = "MM", default_value_t = USUAL_RADIUS.mm(), allow_negative_numbers = true)]
    pub(crate) radius: f64,
    /// Draw the tracing into this file (.svg, .png or .pdf)
    #[arg(long, value_name = "FILE")]
    pub(crate) plot: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
    /// Lay the tracing that this scene's instrument draws over it, apex on apex
    #[arg(long, value_name = "SCENE")]
    pub(crate) over: Option<PathBuf>,
    /// Change a setting of that instrument, as in `left_guide.lateral_angle_deg=20`; may be repeated
    #[arg(long, value_name = "NAME=VALUE", requires = "over")]
    pub(crate) with: Vec<Change>,
    /// Where that instrument's stylus stands, in mm from the middle of the axis [default: 20 mm
    /// ahead of the incisal point, in the middle, at its height]
    #[arg(long, value_name = "AHEAD,LEFT,UP", requires = "over", value_parser = place, allow_hyphen_values = true)]
    pub(crate) stylus: Option<UpperPoint>,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
    #[command(flatten)]
    pub(crate) photo: PhotoOptions,
}

/// Farthest that a stylus stands from the axis, in mm: beyond any head.
const FARTHEST_STYLUS_MM: f64 = 300.0;

fn place(given: &str) -> Result<UpperPoint, String> {
    let [ahead, left, up] = numbers(given, "118,0,-42")?;
    let point = UpperPoint::mm(ahead, left, up);
    if point.coords().amax() > FARTHEST_STYLUS_MM {
        return Err(format!(
            "allowed are −{FARTHEST_STYLUS_MM} to {FARTHEST_STYLUS_MM} mm in each direction"
        ));
    }
    Ok(point)
}

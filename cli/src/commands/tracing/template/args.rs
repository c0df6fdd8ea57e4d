//! What `eminentia tracing template` takes.

use std::path::PathBuf;

use clap::Args;
use sim_core::tracing::USUAL_RADIUS;

use super::super::setup::length;
use crate::args::PhotoOptions;
use crate::commands::sheet::Paper;

#[derive(Args)]
pub(crate) struct Template {
    /// Points (CSV with the columns leg, forward_mm, left_mm; `-` is standard input), or a photo of
    /// the plate (PNG, JPEG)
    #[arg(value_name = "FILE", required_unless_present = "scene", conflicts_with = "scene")]
    pub(crate) file: Option<PathBuf>,
    /// Take the tracing that the tracer of this scene draws in place of a recorded one
    #[arg(long, value_name = "SCENE")]
    pub(crate) scene: Option<PathBuf>,
    /// The template (.pdf or .svg); an existing file stays until the new one is complete
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Distance of the holes from the apex
    #[arg(long, value_name = "MM", default_value_t = USUAL_RADIUS.mm(), value_parser = length, allow_negative_numbers = true)]
    pub(crate) distance: f64,
    /// Paper that it is set for
    #[arg(long, value_enum, default_value_t)]
    pub(crate) paper: Paper,
    #[command(flatten)]
    pub(crate) photo: PhotoOptions,
}

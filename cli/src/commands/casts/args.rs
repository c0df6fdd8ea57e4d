//! What `eminentia casts` takes.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use sim_core::setting::Change;

use crate::args::ReportArgs;

#[derive(Args)]
pub(crate) struct Casts {
    /// Scene file (RON) with invented_casts; `-` is standard input [default: the compiled-in pair of
    /// --kind]
    #[arg(value_name = "SCENE", conflicts_with = "kind")]
    pub(crate) scene: Option<PathBuf>,
    /// Which of the compiled-in pairs [default: dentate]
    #[arg(long, value_enum)]
    pub(crate) kind: Option<PairKind>,
    /// Change a setting of the casts before they are made, as in `invented_casts.cusp_angle_deg=35`;
    /// may be repeated
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) with: Vec<Change>,
    /// Write the upper cast to this file: .stl, .ply, or .obj, which keeps the teeth as groups
    #[arg(long, value_name = "FILE")]
    pub(crate) upper: PathBuf,
    /// Write the lower cast to this file, likewise
    #[arg(long, value_name = "FILE")]
    pub(crate) lower: PathBuf,
    /// Write a scene (RON) with these two files as its casts and their cusps named
    #[arg(long, value_name = "FILE")]
    pub(crate) scene_out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}

/// The compiled-in pairs.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum PairKind {
    /// Natural teeth
    #[default]
    Dentate,
    /// Complete dentures
    CompleteDenture,
}

//! What `eminentia practice` takes.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};
use sim_core::practice::{Fault, Level};

use crate::args::ReportWithoutCsvArgs;

#[derive(Subcommand)]
pub(crate) enum Practice {
    /// Deal an invented patient: a case, the instrument as it stands, and an empty answer in a folder
    /// to hand out, and a key to keep
    Deal(Deal),
    /// Mark an answer with the key of its deal
    Mark(Mark),
}

#[derive(Args)]
pub(crate) struct Deal {
    /// Folder to hand out; patient.ron, instrument.ron and answer.ron are written into it
    #[arg(value_name = "FOLDER")]
    pub(crate) folder: PathBuf,
    /// Key to keep: it holds the truth, so put it outside the folder
    #[arg(long, value_name = "FILE")]
    pub(crate) key: PathBuf,
    /// Level of difficulty
    #[arg(long, value_enum, default_value_t)]
    pub(crate) level: LevelName,
    /// Fault to build in; may be repeated
    #[arg(long, value_enum, value_name = "FAULT")]
    pub(crate) fault: Vec<FaultName>,
    /// Draw the faults at random instead: each is as likely to be there as not
    #[arg(long, conflicts_with = "fault")]
    pub(crate) draw_faults: bool,
    /// Seed: the same seed deals the same patient again, so that whoever guesses it learns the truth
    /// [default: drawn at random]
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub(crate) seed: Option<u64>,
}

#[derive(Args)]
pub(crate) struct Mark {
    /// The answer (RON), filled in; `-` is standard input
    #[arg(value_name = "ANSWER")]
    pub(crate) answer: PathBuf,
    /// Key of its deal
    #[arg(long, value_name = "FILE")]
    pub(crate) key: PathBuf,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

/// The levels by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum LevelName {
    /// Landmarks nearly exact, sides nearly alike
    #[default]
    First,
    /// More noise, sides unlike, at times an immediate translation
    Second,
    /// Much noise, sides much unlike, immediate translation, two protrusive records, either design
    Third,
}

/// The faults by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FaultName {
    /// The tentative centric record is off
    WrongCentric,
    /// The protrusive record is too short
    ShortProtrusion,
    /// The lateral records are labelled with the wrong sides
    SwappedSides,
    /// The instrument was not zeroed
    UnzeroedInstrument,
}

impl From<LevelName> for Level {
    fn from(name: LevelName) -> Self {
        match name {
            LevelName::First => Self::First,
            LevelName::Second => Self::Second,
            LevelName::Third => Self::Third,
        }
    }
}

impl From<FaultName> for Fault {
    fn from(name: FaultName) -> Self {
        match name {
            FaultName::WrongCentric => Self::WrongCentric,
            FaultName::ShortProtrusion => Self::ShortProtrusion,
            FaultName::SwappedSides => Self::SwappedSides,
            FaultName::UnzeroedInstrument => Self::UnzeroedInstrument,
        }
    }
}

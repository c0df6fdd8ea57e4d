//! What `eminentia practice` takes.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};
use sim_core::practice::{Fault, Form, Level};

use crate::args::ReportWithoutCsvArgs;

#[derive(Subcommand)]
pub(crate) enum Practice {
    /// Deal an invented patient: a case, a tracing, what an observer saw, the instrument as it
    /// stands, and an empty answer in a folder to hand out, and a key to keep
    Deal(Deal),
    /// Mark an answer with the key of its deal
    Mark(Mark),
}

#[derive(Args)]
pub(crate) struct Deal {
    /// Folder to hand out; patient.ron, tracing.csv, observed.txt, instrument.ron and answer.ron are written
    /// into it
    #[arg(value_name = "FOLDER")]
    pub(crate) folder: PathBuf,
    /// Key to keep: it holds the truth, so put it outside the folder
    #[arg(long, value_name = "FILE")]
    pub(crate) key: PathBuf,
    /// Level of difficulty
    #[arg(long, value_enum, default_value_t)]
    pub(crate) level: LevelName,
    /// Form of the records
    #[arg(long, value_enum, default_value_t)]
    pub(crate) form: FormName,
    /// Fault to build in; may be repeated
    #[arg(long, value_enum, value_name = "FAULT")]
    pub(crate) fault: Vec<FaultName>,
    /// Draw the faults at random instead: none to three
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
    /// Measured nearly exactly, sides nearly alike
    #[default]
    First,
    /// More noise, sides unlike, at times an immediate translation
    Second,
    /// Much noise, sides much unlike, immediate translation; of scanned casts two protrusive records, either
    /// design
    Third,
}

/// The forms by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum FormName {
    /// Landmarks of scanned casts, for `program` to work through
    #[default]
    Coordinates,
    /// What scales read and a caliper measures, to be reasoned out by hand
    Bench,
}

/// The faults by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FaultName {
    /// The tracing was made twice and has two apexes
    DoubleTracing,
    /// The tracing plate is not parallel to the occlusal plane
    TippedPlate,
    /// The tentative centric record is off: forward, back, to the right or to the left
    WrongCentric,
    /// The protrusive record is too short
    ShortProtrusion,
    /// The bearing point has not gone through the protrusive record
    UnperforatedProtrusion,
    /// The tissue gives way, so that the protrusive record does not repeat (bench only)
    ResilientTissue,
    /// The lateral records are labelled with the wrong sides
    SwappedSides,
    /// The bearing point has not gone through a lateral record
    UnperforatedLateral,
    /// A guide was not zeroed
    UnzeroedGuide,
    /// A guide is not locked, so that its readings drift (bench only)
    UnlockedGuide,
    /// The incisal pin is not flush
    PinNotFlush,
    /// A wing of the incisal table is not level
    WingNotZeroed,
}

impl From<FormName> for Form {
    fn from(name: FormName) -> Self {
        match name {
            FormName::Coordinates => Self::Coordinates,
            FormName::Bench => Self::Bench,
        }
    }
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
            FaultName::DoubleTracing => Self::DoubleTracing,
            FaultName::TippedPlate => Self::TippedPlate,
            FaultName::WrongCentric => Self::WrongCentric,
            FaultName::ShortProtrusion => Self::ShortProtrusion,
            FaultName::UnperforatedProtrusion => Self::UnperforatedProtrusion,
            FaultName::ResilientTissue => Self::ResilientTissue,
            FaultName::SwappedSides => Self::SwappedSides,
            FaultName::UnperforatedLateral => Self::UnperforatedLateral,
            FaultName::UnzeroedGuide => Self::UnzeroedGuide,
            FaultName::UnlockedGuide => Self::UnlockedGuide,
            FaultName::PinNotFlush => Self::PinNotFlush,
            FaultName::WingNotZeroed => Self::WingNotZeroed,
        }
    }
}

//! The commands, one a file. Each is an outline: read, work, write.

mod baseline;
mod casts;
mod compare;
mod completion;
mod contacts;
mod custom_table;
mod doubt;
mod excursion;
mod manual;
mod plan;
mod practice;
mod program;
mod scene;
mod settings;
mod sheet;
mod study;
mod tracing;

use crate::command_line::{Command, CommandLine, Excursion};
use crate::failure::Failure;

/// Does what was asked; without a command, the excursions of the compiled-in scene.
pub(crate) fn perform(asked: CommandLine) -> Result<(), Failure> {
    match asked.command.unwrap_or_else(|| Command::Excursion(Excursion::default())) {
        Command::Excursion(asked) => excursion::perform(&asked),
        Command::Plan(asked) => plan::perform(&asked),
        Command::Program(asked) => program::perform(&asked),
        Command::Sheet(asked) => sheet::perform(&asked),
        Command::Doubt(asked) => doubt::perform(&asked),
        Command::Practice(asked) => practice::perform(&asked),
        Command::Study(asked) => study::perform(&asked),
        Command::Compare(asked) => compare::perform(&asked),
        Command::Contacts(asked) => contacts::perform(&asked),
        Command::CustomTable(asked) => custom_table::perform(&asked),
        Command::Casts(asked) => casts::perform(&asked),
        Command::Baseline(asked) => baseline::perform(&asked),
        Command::Settings(report) => settings::perform(&report),
        Command::Tracing(asked) => tracing::perform(&asked),
        Command::Scene => scene::perform(),
        Command::Completion { shell } => completion::perform(shell),
        Command::Manual { command } => manual::perform(command.as_deref()),
    }
}

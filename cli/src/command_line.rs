//! What can be typed, and the help made from it.

mod casts;
mod contacts;
mod custom_table;
mod doubt;
mod plan;
mod practice;
mod program;
mod sheet;
mod study;
mod tracing;

use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use clap_complete::Shell;
use sim_core::excursion::SampleCount;
use sim_core::setting::Change;

use crate::failure::Failure;
use crate::format::{FormatName, table};
use crate::output::OutputError;

pub(crate) use casts::{Casts, PairKind};
pub(crate) use contacts::Contacts;
pub(crate) use custom_table::CustomTable;
pub(crate) use doubt::Doubt;
pub(crate) use plan::Plan;
pub(crate) use practice::{Deal, Mark, Practice};
pub(crate) use program::{Program, ProgramFormat};
pub(crate) use sheet::Sheet;
pub(crate) use sim_core::CAUTION;
pub(crate) use study::{Study, StudyPlan, StudyRun, StudySummary};
pub(crate) use tracing::{PhotoOptions, Tracing};

/// Widest that help is set.
const HELP_WIDTH: usize = 100;

/// Semi-adjustable articulator: what its settings do to the teeth in every excursion.
///
/// Without a command, the excursions of the scene that is compiled in.
#[derive(Parser)]
#[command(name = "eminentia", version, propagate_version = true, max_term_width = HELP_WIDTH, after_help = CAUTION)]
pub(crate) struct CommandLine {
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Subcommand)]
pub(crate) enum Command {
    /// Make the scene's excursions: separation and clearance at every cusp
    #[command(after_long_help = help_on_settings())]
    Excursion(Excursion),
    /// Program the instrument: from a patient's records to its settings, with how sure they are
    Program(Program),
    /// Plan the occlusion: the inclines that teeth need, and what must change for balance or disclusion
    Plan(Plan),
    /// Write the sheet of a case: one page of settings, checks and disclusion, to print or hand on
    Sheet(Sheet),
    /// Redraw a case from its uncertainties: how far to trust its settings, and what that does to the
    /// teeth
    Doubt(Doubt),
    /// Deal invented patients to program an instrument for, and mark the answers
    #[command(subcommand)]
    Practice(Practice),
    /// Studies: a scene's settings varied in many ways at once
    #[command(subcommand)]
    Study(Study),
    /// Compare two scenes, or one scene and changes of its settings, cusp by cusp
    Compare(Compare),
    /// Mark the contacts of casts: which teeth touch, which guide, which are in the way and by how much
    Contacts(Contacts),
    /// Form the custom incisal table that makes the pin repeat what the teeth do
    CustomTable(CustomTable),
    /// Write the invented casts of a scene, or those compiled in, with their cusps named
    Casts(Casts),
    /// List every setting that departs from the zeroed instrument
    Baseline(Baseline),
    /// List every setting: name, range, what it does
    Settings(Report),
    /// Examine a digitised tracing: apex, angles, sharp or rounded, single or double
    Tracing(Tracing),
    /// Print the scene that is compiled in, to start one's own from
    Scene,
    /// Print the completion script of a shell
    Completion {
        /// The shell it is for
        shell: Shell,
    },
    /// Print the manual page, of the program or of one command
    Manual {
        /// The command, as in `eminentia manual excursion`
        command: Option<String>,
    },
}

#[derive(Args, Default)]
pub(crate) struct Excursion {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: Report,
}

#[derive(Args)]
pub(crate) struct Compare {
    /// One scene and changes, or two scenes; `-` is standard input [default: the compiled-in scene]
    #[arg(value_name = "SCENE", num_args = 0..=2)]
    pub(crate) scenes: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: Report,
}

#[derive(Args)]
pub(crate) struct Baseline {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: Report,
}

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
pub(crate) struct Report {
    /// Form of the output
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: FormatName,
    /// Write to this file instead of standard output; an old file stays until the new one is whole
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

fn sample_count(given: &str) -> Result<SampleCount, String> {
    let number: i64 = given.parse().map_err(|_| "a whole number is needed, for example 13".to_owned())?;
    SampleCount::new(number).map_err(|error| error.to_string())
}

/// What `excursion --help` says on top of its options: the one list of settings.
fn help_on_settings() -> String {
    let list = table::settings_text(table::width().min(HELP_WIDTH));
    format!("Settings for --with:\n\n{list}")
}

/// Prints help, version or what is wrong with the command line.
pub(crate) fn answer(answer: &clap::Error) -> ExitCode {
    if answer.use_stderr() {
        let _ = write!(anstream::stderr(), "{}", answer.render().ansi());
        return ExitCode::from(2);
    }
    let mut out = anstream::stdout();
    let printed = write!(out, "{}", answer.render().ansi()).and_then(|()| out.flush());
    match printed {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => Failure::from(OutputError::standard(error)).told(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory as _;

    #[test]
    fn the_command_line_is_well_formed() {
        CommandLine::command().debug_assert();
    }
}

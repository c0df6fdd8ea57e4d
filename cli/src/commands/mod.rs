//! The commands, one a folder: what it takes (`args`), its outline (`run`: read, work, write), and the
//! forms of its report (`table`, `csv`, `json`).

mod baseline;
mod bench;
mod casts;
mod compare;
mod completion;
mod contacts;
mod custom_table;
mod doubt;
mod excursion;
mod lesson;
mod link;
mod manual;
mod plan;
mod practice;
mod program;
mod remount;
mod scene;
mod settings;
mod sheet;
#[cfg(feature = "studies")]
mod study;
mod tracing;
mod viva;
mod why;

use clap::{CommandFactory as _, Parser, Subcommand};
use words::CAUTION;

use crate::args::ReportArgs;
use crate::failure::Outcome;
use crate::output::width;

/// Widest that help is set.
const HELP_WIDTH: usize = 100;

/// Semi-adjustable articulator: what its settings do to the teeth in every excursion.
///
/// Without a command, the excursions of the scene that is compiled in.
#[derive(Parser)]
#[command(name = "eminentia", version, long_version = built::TOLD, propagate_version = true, max_term_width = HELP_WIDTH, after_help = CAUTION)]
pub(crate) struct CommandLine {
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Subcommand)]
pub(crate) enum Command {
    /// Make the scene's excursions: separation and clearance at every cusp
    #[command(after_long_help = help_on_settings())]
    Excursion(excursion::Excursion),
    /// Take a number apart: the parts that it is made of, their formulas, and which setting moves it most
    Why(why::Why),
    /// Program the instrument: from a patient's records to its settings, with how sure they are
    Program(program::Program),
    /// Walk the bench in the order of hands: does the split close on each record, which guide is to be
    /// turned and how far, what is to be doubted
    Bench(bench::Bench),
    /// Plan the occlusion: the inclines that teeth need, and what must change for balance or disclusion
    Plan(plan::Plan),
    /// Judge finished dentures put back on their instrument: error of processing, centric relation, and what to
    /// grind in which order
    Remount(remount::Remount),
    /// Write the sheet of a case or scene: one page to set an instrument from, to print or hand on
    #[command(after_help = words::caution::PRIVACY)]
    Sheet(sheet::Sheet),
    /// Redraw a case from its uncertainties: how far to trust its settings, and what that does to the
    /// teeth
    Doubt(doubt::Doubt),
    /// Deal invented patients to program an instrument for, and mark the answers
    #[command(subcommand)]
    Practice(practice::Practice),
    /// Lessons: list those that come with the program, and look into one's own before a class
    #[command(subcommand)]
    Lesson(lesson::Lesson),
    /// Print questions drawn at random, with the key behind them: for an oral examination
    Viva(viva::Viva),
    /// Studies: a scene's settings varied in many ways at once
    #[cfg(feature = "studies")]
    #[command(subcommand)]
    Study(study::Study),
    /// Studies: left out of this build
    #[cfg(not(feature = "studies"))]
    Study(crate::left_out::Anything),
    /// Compare two scenes, or one scene and changes of its settings, cusp by cusp
    Compare(compare::Compare),
    /// Mark the contacts of casts: which teeth touch, which guide, which are in the way and by how much
    Contacts(contacts::Contacts),
    /// Form the custom incisal table that makes the pin repeat what the teeth do
    CustomTable(custom_table::CustomTable),
    /// Write the invented casts of a scene, or those compiled in, with their cusps named
    Casts(casts::Casts),
    /// Go through the examiner's checklist before mounting, and list what departs from the baseline
    Baseline(baseline::Baseline),
    /// List every setting: name, range, what it does
    Settings(ReportArgs),
    /// Examine a digitised tracing: apex, angles, sharp or rounded, single or double
    Tracing(Box<tracing::Tracing>),
    /// Put a set-up into a link for the viewer in a browser, or print the scene that a link carries
    ///
    /// Whoever has the link can read all that it carries, the title too: it is packed, not locked. It stands
    /// behind the # of an address, which browsers send to no server. Scanned casts do not travel; invented ones do.
    #[command(after_help = words::caution::PRIVACY)]
    Link(link::Link),
    /// Print the scene that is compiled in, to start one's own from
    Scene,
    /// Print the completion script of a shell
    Completion(completion::Completion),
    /// Print the manual page, of the program or of one command
    Manual(manual::Manual),
}

impl CommandLine {
    /// Does what is asked for; without a command, the excursions of the compiled-in scene.
    pub(crate) fn perform(self) -> Outcome {
        match self.command.unwrap_or_else(|| Command::Excursion(excursion::Excursion::default())) {
            Command::Excursion(args) => excursion::perform(&args),
            Command::Why(args) => why::perform(&args),
            Command::Plan(args) => plan::perform(&args),
            Command::Program(args) => program::perform(&args),
            Command::Remount(args) => remount::perform(&args),
            Command::Bench(args) => bench::perform(&args),
            Command::Sheet(args) => sheet::perform(&args),
            Command::Doubt(args) => doubt::perform(&args),
            Command::Practice(args) => practice::perform(&args),
            Command::Lesson(args) => lesson::perform(&args),
            Command::Viva(args) => viva::perform(&args),
            #[cfg(feature = "studies")]
            Command::Study(args) => study::perform(&args),
            #[cfg(not(feature = "studies"))]
            Command::Study(_) => Err(crate::left_out::LeftOut::studies().into()),
            Command::Compare(args) => compare::perform(&args),
            Command::Contacts(args) => contacts::perform(&args),
            Command::CustomTable(args) => custom_table::perform(&args),
            Command::Casts(args) => casts::perform(&args),
            Command::Baseline(args) => baseline::perform(&args),
            Command::Settings(args) => settings::perform(&args),
            Command::Tracing(args) => tracing::perform(&args),
            Command::Link(args) => link::perform(&args),
            Command::Scene => scene::perform(),
            Command::Completion(args) => completion::perform(&args, Self::command()),
            Command::Manual(args) => manual::perform(&args, Self::command()),
        }
    }
}

/// What `excursion --help` says on top of its options: the one list of settings.
fn help_on_settings() -> String {
    format!("Settings for --with:\n\n{}", settings::text(width().min(HELP_WIDTH)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_is_well_formed() {
        CommandLine::command().debug_assert();
    }
}

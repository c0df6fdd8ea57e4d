//! What `eminentia contacts` takes.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use report::contacts::Judged;
use sim_core::occlusion::{InterferenceSearch, Stretch};
use sim_core::scene::Scene;
use sim_core::setting::Change;
use sim_core::units::Length;

use crate::args::{Changes, ReportArgs};

#[derive(Args)]
pub(crate) struct Contacts {
    /// Scene file (RON) with casts; `-` is standard input [default: the compiled-in dentate pair]
    #[arg(value_name = "SCENE")]
    pub(crate) scene: Option<PathBuf>,
    /// Read the marks in this excursion only: protrusive, right_lateral, left_lateral, or any other
    /// that the scene has [default: centric, and the end of each of the scene's excursions]
    #[arg(long, value_name = "NAME")]
    pub(crate) excursion: Option<String>,
    /// Where in that excursion: millimetres of condylar advance, degrees of an opening [default: its
    /// end]
    #[arg(long, value_name = "MM", requires = "excursion", allow_negative_numbers = true)]
    pub(crate) at: Option<f64>,
    /// Thickness of an articulating film, in micrometres; may be repeated [default: five
    /// examples, 8, 20, 40, 100 and 200]
    #[arg(long, value_name = "UM", allow_negative_numbers = true)]
    pub(crate) film: Vec<f64>,
    /// What the teeth are meant to do: others in the way are interferences, and what balance lacks is
    /// missing [default: balanced for invented complete dentures, else canine-guided]
    #[arg(long, value_enum)]
    pub(crate) intended: Option<IntendedScheme>,
    /// Advance up to which guidance is named and interferences are searched for
    #[arg(long, value_name = "MM", default_value_t = Stretch::default().to.mm(), value_parser = advance, allow_negative_numbers = true)]
    to: f64,
    #[command(flatten)]
    pub(crate) changes: Changes,
    /// Change a setting, and list the interferences that an instrument set in this way would hide, invent
    /// or change; may be repeated
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) against: Vec<Change>,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
    #[command(flatten)]
    pub(crate) marked: Marked,
}

/// Files for the marked casts.
#[derive(Args)]
#[command(next_help_heading = "Marked casts")]
pub(crate) struct Marked {
    /// Write the upper cast with the marks of every film in colour (.ply or .obj), in the frame of its
    /// own member. The thinnest film marks in dark blue, thicker ones through green to yellow. The scale grows
    /// steadily lighter, so that its steps can be told apart in grey and without seeing red and green. The marks are those of --excursion, else of centric
    #[arg(long, value_name = "FILE")]
    pub(crate) marked_upper: Option<PathBuf>,
    /// The lower cast, likewise
    #[arg(long, value_name = "FILE")]
    pub(crate) marked_lower: Option<PathBuf>,
}

/// What the teeth are meant to do.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum IntendedScheme {
    /// Front teeth guide protrusion, the canine alone a lateral excursion
    CanineGuided,
    /// Front teeth guide protrusion, canine and back teeth of the working side a lateral excursion
    GroupFunction,
    /// All teeth touch in every excursion, as complete dentures are to
    Balanced,
}

impl From<IntendedScheme> for sim_core::occlusion::IntendedScheme {
    fn from(scheme: IntendedScheme) -> Self {
        match scheme {
            IntendedScheme::CanineGuided => Self::CanineGuided,
            IntendedScheme::GroupFunction => Self::GroupFunction,
            IntendedScheme::Balanced => Self::Balanced,
        }
    }
}

/// Advances over which guidance can be told, in millimetres: from where it is begun to be told, to
/// where no joint goes.
const ADVANCES_MM: std::ops::RangeInclusive<f64> = 1.0..=15.0;

fn advance(given: &str) -> Result<f64, String> {
    match given.parse::<f64>() {
        Ok(number) if ADVANCES_MM.contains(&number) => Ok(number),
        _ => Err(format!("a number of {} to {} mm is needed", ADVANCES_MM.start(), ADVANCES_MM.end())),
    }
}

impl Contacts {
    /// By which scheme the teeth of a scene are judged.
    pub(crate) fn judged(&self, scene: &Scene) -> Judged {
        Judged::by(self.intended.map(Into::into), scene)
    }

    /// The stretch over which guidance is told.
    pub(crate) fn stretch(&self, judged: Judged) -> Stretch {
        Stretch { to: Length::from_mm(self.to), intended: judged.scheme.intended(), ..Stretch::default() }
    }

    /// How interferences are looked for.
    pub(crate) fn search(&self, judged: Judged) -> InterferenceSearch {
        InterferenceSearch {
            intended: judged.scheme.intended(),
            to: Length::from_mm(self.to),
            ..InterferenceSearch::default()
        }
    }
}

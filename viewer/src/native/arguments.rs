//! The command line.

use std::path::PathBuf;

use clap::Parser;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use sim_core::setting::Change;
use sim_core::units::Length;

use super::bench_arguments::BenchArguments;
use super::out_arguments::OutArguments;
use super::values::{film, finite, png, position};
use crate::casts::{CutPlane, Seen, Show};
use crate::geometry::poses::Moving;
use crate::projection::Viewpoint;
use crate::projections::{Arrangement, Spread};
use crate::writing::size;

/// Shows an articulator and its teeth in motion.
///
/// For teaching and research; settings are verified on the patient, and local rules and licensed
/// practice decide.
#[derive(Debug, Parser)]
#[command(name = "viewer", version)]
pub struct Arguments {
    /// Scene, case or lesson file (RON) to open; a case lies on the bench. Without one, the built-in teaching scene.
    pub scene: Option<PathBuf>,

    /// Write the picture to this PNG file, replacing it, instead of opening a window.
    #[arg(long, value_name = "FILE.png", value_parser = png)]
    pub snapshot: Option<PathBuf>,

    /// What else is written instead of opening a window, and how the picture is looked at.
    #[command(flatten, next_help_heading = "Pictures")]
    pub out: OutArguments,

    /// Change a setting, as in `left_guide.horizontal_inclination_deg=40`; without `left_guide.` or `right_guide.` a
    /// guide's setting changes on both sides. May be repeated.
    #[arg(long, value_name = "NAME=VALUE", conflicts_with_all = ["lesson", "lessons"])]
    pub with: Vec<Change>,

    /// Excursion to show: protrusive, right_lateral, left_lateral or another of the scene's.
    #[arg(long, value_name = "NAME")]
    pub excursion: Option<String>,

    /// How far along it: mm of its drive (degrees for opening).
    #[arg(long, value_name = "NUMBER", value_parser = position, allow_negative_numbers = true)]
    pub at: Option<f64>,

    /// Size of the picture in pixels; of the window in the points of the screen, of which one that is set to 200 % has
    /// one for two pixels.
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = size, default_value = "1280x800")]
    pub size: (u32, u32),

    /// Where to look from; oblique when absent.
    #[arg(long, value_parser = one_of(VIEWS))]
    pub view: Option<Viewpoint>,

    /// What the middle of the window shows.
    #[arg(long, value_parser = one_of(ARRANGEMENTS), value_name = "WHAT", default_value = "picture")]
    pub arrange: Arrangement,

    /// Where the paths of the projections start.
    #[arg(long, value_parser = one_of(SPREADS), value_name = "WHERE", default_value = "rest")]
    pub paths: Spread,

    /// Keep this scene file as a second set-up, B, beside the first.
    #[arg(long, value_name = "FILE")]
    pub beside: Option<PathBuf>,

    /// Show A and B side by side instead of B dotted over A.
    #[arg(long, requires = "beside")]
    pub side_by_side: bool,

    /// Draw the angles of guides and planes as arcs in the picture.
    #[arg(long)]
    pub angles: bool,

    /// Which member moves on the screen.
    #[arg(long, value_parser = one_of(MEMBERS), default_value = "lower")]
    pub moving: Moving,

    /// What the casts show.
    #[arg(long, value_parser = one_of(SHOWN), value_name = "WHAT")]
    pub show: Option<Show>,

    /// Thickness of the articulating film whose marks are shown, in micrometres: 8, 20, 40, 100 or 200.
    #[arg(long, value_name = "UM", value_parser = film)]
    pub film: Option<Length>,

    /// Which members to show; the other one is lifted off.
    #[arg(long, value_parser = one_of(SEEN), value_name = "WHICH")]
    pub seen: Option<Seen>,

    /// Show the teeth alone, not the whole instrument.
    #[arg(long)]
    pub close: bool,

    /// Cut the casts with this plane.
    #[arg(long, value_parser = one_of(PLANES), value_name = "PLANE")]
    pub section: Option<CutPlane>,

    /// Where the plane stands: mm left of the midline, in front of the axis, or along the arch from the
    /// midline to the left; below zero is right.
    #[arg(long, value_name = "MM", value_parser = finite, allow_negative_numbers = true, requires = "section")]
    pub section_at: Option<f64>,

    /// Open the page that plans the occlusion, with the goal of the scene's plan.
    #[arg(long, conflicts_with = "section")]
    pub plan: bool,

    /// Open the page that says why a number is what it is: the clearance of this cusp, by tooth and name, or by
    /// the tooth alone for the first cusp of it.
    #[arg(long, value_name = "TOOTH:NAME", conflicts_with_all = ["section", "plan"])]
    pub why: Option<String>,
    /// Open the page of the tracing, with the plate alone in the picture; in a scene without a tracer with the usual
    /// one, an example.
    #[arg(long, conflicts_with_all = ["section", "plan"])]
    pub plate: bool,

    /// What lies on the bench.
    #[command(flatten, next_help_heading = "Bench")]
    pub bench: BenchArguments,
    /// Open the list of lessons, vivas and scenes that come with the program.
    #[arg(long)]
    pub lessons: bool,

    /// Give the lesson of this name that comes with the program (`eminentia lesson list` names them).
    #[arg(long, value_name = "NAME", conflicts_with = "scene")]
    pub lesson: Option<String>,

    /// Start the lesson at this step, from 1.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub step: Option<u16>,

    /// Show the step with its question answered.
    #[arg(long)]
    pub answered: bool,

    /// Write the viewer's state to this file, replacing it, as one line of JSON for each change: for
    /// tests, and for reading the viewer without seeing it.
    #[arg(long, value_name = "FILE.jsonl", conflicts_with = "snapshot")]
    pub report: Option<PathBuf>,
}

/// Words of an option: the word, what it stands for, and its line of help.
type Words<T> = &'static [(&'static str, T, &'static str)];

const VIEWS: Words<Viewpoint> = &[
    ("oblique", Viewpoint::Oblique, "From the front, the right and a little above"),
    ("right", Viewpoint::Right, "From the patient's right"),
    ("left", Viewpoint::Left, "From the patient's left"),
    ("front", Viewpoint::Front, "From the front"),
    ("above", Viewpoint::Above, "From above, anterior up"),
    ("below", Viewpoint::Below, "From below, anterior up"),
    ("axis", Viewpoint::Axis, "Along the line through both sphere centres: closing is a turn about a point"),
];
const ARRANGEMENTS: Words<Arrangement> = &[
    ("picture", Arrangement::Picture, "The picture"),
    ("both", Arrangement::Both, "The picture beside the three projections"),
    ("projections", Arrangement::Projections, "The sagittal, frontal and horizontal projections"),
];
const SPREADS: Words<Spread> = &[
    ("rest", Spread::FromRest, "All at rest, so that short paths are seen large"),
    ("place", Spread::InPlace, "Each where its point stands in the instrument"),
];
const MEMBERS: Words<Moving> = &[
    ("lower", Moving::Lower, "The lower one, as the patient moves the jaw"),
    ("upper", Moving::Upper, "The upper one, as on the bench"),
];
const SHOWN: Words<Show> = &[
    ("relief", Show::Relief, "Their form, lit from the side"),
    ("clearance", Show::Clearance, "How far the opposing cast is along the occlusal plane's normal"),
    ("film", Show::Film, "What articulating film would print"),
];
const SEEN: Words<Seen> = &[
    ("both", Seen::Both, "Both"),
    ("upper", Seen::Upper, "The upper one"),
    ("lower", Seen::Lower, "The lower one"),
];
const PLANES: Words<CutPlane> = &[
    ("sagittal", CutPlane::Sagittal, "Fore and aft"),
    ("frontal", CutPlane::Frontal, "From side to side"),
    ("square", CutPlane::Square, "Square to the arch"),
];

/// Reads one of these words.
fn one_of<T: Copy + Send + Sync>(words: Words<T>) -> impl TypedValueParser<Value = T> {
    let possible = words.iter().map(|(word, _, help)| PossibleValue::new(*word).help(*help));
    PossibleValuesParser::new(possible).try_map(|given| {
        let choice = words.iter().find(|(word, ..)| *word == given);
        choice.map(|(_, value, _)| *value).ok_or("no such word")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_sound() {
        Arguments::command().debug_assert();
    }
}

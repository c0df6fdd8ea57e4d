//! Everything that ends a command short, and the exit status that tells it to other programs.

use std::process::ExitCode;

use files::SceneCastsError;
use report::contacts::PlaceError;
use report::study::SummaryError;
use sim_core::cast::NoSuchFilm;
use sim_core::doubt::DoubtError;
use sim_core::excursion::{ExcursionError, NoPose};
use sim_core::occlusion::NoTable;
use sim_core::plan::PlanError;
use sim_core::practice::{DealError, MarkError};
use sim_core::tracing::ExamineError;

use crate::case::Unworkable;
use study_run::{LoadError, RunError};

use crate::input::InputError;
use crate::output::OutputError;
use crate::plot::PlotError;
use crate::say;
use crate::tracing_file::TracingFileError;

/// Why a command did not do all of its work.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    #[error(transparent)]
    Input(#[from] InputError),
    #[error(transparent)]
    Output(#[from] OutputError),
    /// Excursions that stopped short; what was solved before has been written.
    #[error("{}", .0.iter().map(Stop::to_string).collect::<Vec<_>>().join("\n"))]
    Stopped(Vec<Stop>),
    #[error(transparent)]
    Plot(#[from] PlotError),
    #[error(transparent)]
    TracingFile(#[from] TracingFileError),
    #[error("{name}: {error}")]
    NoTracing { name: String, error: ExamineError },
    /// The tracing was examined and is not accepted.
    #[error("{0}")]
    Repeat(String),
    /// A fault of the program.
    #[error("{0}; this is a fault of the program")]
    Unexpected(String),
    #[error("nothing to compare; give a second scene, or changes as in --with horizontal_inclination_deg=40")]
    NothingToCompare,
    #[error("two scenes and changes of settings are given; compare two scenes, or one scene and its changes")]
    TooMuchToCompare,
    #[error("{name}: {error}")]
    Plan { name: String, error: PlanError },
    #[error(
        "--free says what may be changed, but nothing is to be reached; give a goal too, as --balance or --clear"
    )]
    FreeForNothing,
    /// The goal is out of reach; the nearest has been written.
    #[error("{name}: the goal of the plan cannot be reached within its bounds; the nearest is given")]
    NotReached { name: String },
    #[error(transparent)]
    Unworkable(Unworkable),
    /// What was read has been written, without the settings.
    #[error("{name}: the centric record is not confirmed; no settings are given, take the record again")]
    Unconfirmed { name: String },
    #[error("--out {name}: its ending tells no kind of sheet; give .html or .pdf")]
    NoSuchSheet { name: String },
    #[error("{option} {name}: its ending tells no kind of surface file; give .stl, .ply or .obj")]
    NoSuchSurfaceFile { option: &'static str, name: String },
    #[error("{option} {name}: its ending tells no kind of surface file with colours; give .ply or .obj")]
    NoSuchColouredFile { option: &'static str, name: String },
    #[error("{name}: has no casts; give casts: (upper: \"…\", lower: \"…\") or invented_casts")]
    NoCasts { name: String },
    #[error("--excursion {given}: there is no such excursion; those of this scene are {known}")]
    NoSuchExcursion { given: String, known: String },
    #[error("--excursion {name}: the scene makes none of it; say how far with --at")]
    NoEnd { name: String },
    #[error("--at: {0}")]
    At(ExcursionError),
    #[error("--film: {0}")]
    Film(NoSuchFilm),
    #[error("{name}: {error}")]
    CustomTable { name: String, error: NoTable },
    #[error("{name}: has no invented_casts; give a scene that has, or none and --kind")]
    NoInventedCasts { name: String },
    #[error("{name}: {error}")]
    Casts { name: String, error: Box<SceneCastsError> },
    #[error("{name}: {error}")]
    Doubt { name: String, error: DoubtError },
    #[error(transparent)]
    Deal(DealError),
    #[error("{name}: {error}")]
    Mark { name: String, error: MarkError },
    #[error("{name}: is already there, and a deal writes over nothing; choose another folder and key")]
    AlreadyThere { name: String },
    #[error("--key {name}: lies in the folder that is handed out; keep it elsewhere")]
    KeyHandedOut { name: String },
    #[error(transparent)]
    StudySummary(#[from] SummaryError),
    #[error("--plots {name}: is a file; a folder is needed, and is made where there is none")]
    PlotsNoFolder { name: String },
    #[error("--plots {name}: cannot be made: {error}")]
    PlotsFolder { name: String, error: std::io::Error },
    #[error("--report {name}: its ending tells no web page; give .html")]
    NoPage { name: String },
    #[error(transparent)]
    StudyFile(#[from] LoadError),
    #[error(transparent)]
    StudyRun(#[from] RunError),
    /// What was computed before is there, to be read and gone on with.
    #[error("{name}: stopped with {rows} of {of} rows in it; run again with --resume to go on")]
    StudyStopped { name: String, rows: String, of: String },
    #[error("stopped with {rows} of {of} rows on standard output")]
    StudyCut { rows: String, of: String },
    #[error(
        "a study from standard input has no name for its table; give one with --out, or - for standard output"
    )]
    NoTableNamed,
    #[error("no command is called `{given}`; the commands are {known}")]
    NoSuchCommand { given: String, known: String },
}

/// An excursion that stopped short, and in which scene.
#[derive(Debug, Clone, thiserror::Error)]
#[error("{scene}: {no_pose}")]
pub(crate) struct Stop {
    pub(crate) scene: String,
    pub(crate) no_pose: NoPose,
}

impl Stop {
    /// Fails if anything stopped short in a scene.
    pub(crate) fn none(scene: &str, stops: Vec<NoPose>) -> Result<(), Failure> {
        let stop = |no_pose| Self { scene: scene.to_owned(), no_pose };
        let stops: Vec<Self> = stops.into_iter().map(stop).collect();
        if stops.is_empty() { Ok(()) } else { Err(Failure::Stopped(stops)) }
    }
}

impl From<PlaceError> for Failure {
    fn from(error: PlaceError) -> Self {
        match error {
            PlaceError::NoSuchExcursion { given, known } => Self::NoSuchExcursion { given, known },
            PlaceError::NoEnd { name } => Self::NoEnd { name },
            PlaceError::At(error) => Self::At(error),
        }
    }
}

/// The work failed.
const FAILED: u8 = 1;
/// The input or the command line is wrong.
const WRONG: u8 = 2;

impl Failure {
    /// Says it on standard error and gives the exit status.
    pub(crate) fn told(&self) -> ExitCode {
        match self {
            Self::Stopped(stops) => stops.iter().for_each(|stop| say::error(stop)),
            _ => say::error(self),
        }
        ExitCode::from(self.status())
    }

    fn status(&self) -> u8 {
        match self {
            Self::Stopped(_) | Self::Repeat(_) | Self::Unexpected(_) => FAILED,
            Self::Plot(PlotError::Picture { .. }) => FAILED,
            Self::Output(error) if error.is_of_the_work() => FAILED,
            Self::Input(_)
            | Self::Plot(_)
            | Self::TracingFile(_)
            | Self::NoTracing { .. }
            | Self::Output(_)
            | Self::NothingToCompare
            | Self::TooMuchToCompare
            | Self::NoSuchCommand { .. } => WRONG,
            Self::Plan { error: PlanError::NoPose(_), .. } | Self::NotReached { .. } => FAILED,
            Self::Plan { .. } | Self::FreeForNothing => WRONG,
            Self::Unconfirmed { .. } => FAILED,
            Self::NoSuchSurfaceFile { .. }
            | Self::NoSuchColouredFile { .. }
            | Self::NoInventedCasts { .. }
            | Self::NoCasts { .. }
            | Self::NoSuchExcursion { .. }
            | Self::NoEnd { .. }
            | Self::At(_)
            | Self::Film(_)
            | Self::CustomTable { error: NoTable::Size { .. }, .. }
            | Self::Casts { .. } => WRONG,
            Self::CustomTable { .. } => FAILED,
            Self::Unworkable(_) | Self::NoSuchSheet { .. } => WRONG,
            Self::Doubt { error: DoubtError::Draws { .. } | DoubtError::OutOfBounds(_), .. } => WRONG,
            Self::PlotsFolder { .. } => FAILED,
            Self::StudySummary(_) | Self::PlotsNoFolder { .. } | Self::NoPage { .. } => WRONG,
            Self::StudyStopped { .. } | Self::StudyCut { .. } => FAILED,
            Self::StudyRun(error) if error.is_of_the_work() => FAILED,
            Self::StudyFile(_) | Self::StudyRun(_) | Self::NoTableNamed => WRONG,
            Self::Doubt { .. } | Self::Deal(_) => FAILED,
            Self::Mark { error: MarkError::NoSettings { .. }, .. } => FAILED,
            Self::Mark { .. } | Self::AlreadyThere { .. } | Self::KeyHandedOut { .. } => WRONG,
        }
    }
}

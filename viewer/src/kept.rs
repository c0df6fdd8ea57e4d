//! A second set-up, B, kept beside the one that is shown: solved for the same excursion, standing at the
//! same place of what drives it.

use std::path::PathBuf;
use std::sync::Arc;

use nalgebra::Vector3;
use serde::Serialize;
use sim_core::anterior::AnteriorGuide;
use sim_core::cusp::{Cusp, CuspError, CuspReading};
use sim_core::excursion::Excursion;
use sim_core::scene::Scene;
use sim_core::units::Length;

use crate::casts::{Mounted, Scans};
use crate::solved::{SceneWithCasts, SolvedExcursion, SolvedSample};

/// How B stands beside the picture of A.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Beside {
    /// Dotted, in the same place.
    Ghost,
    /// Whole, to the right, seen by the same camera.
    SideBySide,
}

impl Beside {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 2] = [Self::Ghost, Self::SideBySide];

    /// The words on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Ghost => "over A",
            Self::SideBySide => "beside A",
        }
    }
}

/// A set-up as it was kept.
#[derive(Debug)]
pub struct SetUp {
    /// What it is called.
    pub name: String,
    /// The file that its scene was read from.
    pub file: Option<PathBuf>,
    /// Its casts as they were read.
    pub scans: Option<Arc<Scans>>,
    /// The scene as in the file.
    pub as_read: Scene,
    /// The scene as it was kept.
    pub scene: Scene,
    /// Its casts on their members.
    pub mounted: Option<Arc<Mounted>>,
}

impl SetUp {
    fn with_casts(&self) -> SceneWithCasts<'_> {
        let casts = self.mounted.as_ref().map(|mounted| &mounted.casts);
        SceneWithCasts { scene: &self.scene, casts, rough: false }
    }
}

/// A place on an excursion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// The excursion.
    pub excursion: Excursion,
    /// Before everything, an immediate translation included.
    pub is_start: bool,
    /// How far it has been driven.
    pub driven: f64,
}

/// The set-up kept, and where it stands.
#[derive(Clone, Debug)]
pub struct Kept {
    /// The set-up.
    pub set_up: Arc<SetUp>,
    /// Its excursion, as far as it has poses.
    pub solved: Option<SolvedExcursion>,
    /// Where it stands, or why it has no pose there.
    pub now: Result<SolvedSample, String>,
    at: Option<At>,
}

impl Kept {
    /// Keeps a set-up. It stands nowhere until it follows.
    #[must_use]
    pub fn new(set_up: Arc<SetUp>) -> Self {
        Self { set_up, solved: None, now: Err(String::new()), at: None }
    }

    /// Goes to the same place of the same excursion.
    pub fn follow(&mut self, at: At) {
        if self.at == Some(at) {
            return;
        }
        let scene = self.set_up.with_casts();
        if self.at.is_none_or(|before| before.excursion != at.excursion) {
            match SolvedExcursion::solve(scene, at.excursion) {
                Ok(solved) => self.solved = Some(solved),
                Err(no_pose) => {
                    self.solved = None;
                    self.now = Err(no_pose.to_string());
                }
            }
        }
        self.at = Some(at);
        let Some(solved) = &self.solved else { return };
        self.now = if at.is_start { Ok(solved.sample(0).clone()) } else { exactly(solved, scene, at.driven) };
    }

    /// What B reads now at the cusp of that tooth and name, if it has a pose and such a cusp.
    #[must_use]
    pub fn reading_of(&self, cusp: &Cusp) -> Option<CuspReading> {
        let number = self.number_of(cusp)?;
        self.now.as_ref().ok()?.readings.get(number).copied()
    }

    /// The number that the cusp of that tooth and name has in B.
    #[must_use]
    pub fn number_of(&self, cusp: &Cusp) -> Option<usize> {
        let cusps = &self.set_up.scene.cusps;
        cusps.iter().position(|own| own.tooth() == cusp.tooth() && own.name() == cusp.name())
    }
}

/// The pose at exactly that place: where samples of the two set-ups differ, B is not read beside it.
fn exactly(solved: &SolvedExcursion, scene: SceneWithCasts<'_>, driven: f64) -> Result<SolvedSample, String> {
    SolvedExcursion::solve_to_there(solved, scene, driven).map_err(|error| error.to_string())
}

/// How far a facebow is off that is put beside the right one: the figure that Weinberg LA, J Prosthet Dent
/// 1961;11, works through (from memory).
pub const FACEBOW_OFF: Length = Length::from_mm(5.0);

/// Why a scene cannot be mounted by another facebow here.
#[derive(Debug, thiserror::Error)]
pub enum NotMoved {
    /// A cusp would stand where no jaw reaches.
    #[error("{0}")]
    Cusp(#[from] CuspError),
    /// Casts are mounted by their own settings.
    #[error("this scene has casts; their mounting is a setting of the file, and is changed there")]
    Casts,
}

/// The same scene mounted by a facebow whose axis lies so far behind the jaw's: every tooth stands so much
/// farther in front of the instrument's axis. The instrument, its pin and its table are as they were.
///
/// # Errors
/// [`NotMoved`] for a scene with casts, or a cusp that would leave the jaw.
pub fn by_another_facebow(scene: &Scene, behind: Length) -> Result<Scene, NotMoved> {
    if scene.casts.is_some() || scene.invented_casts.is_some() {
        return Err(NotMoved::Casts);
    }
    let mut moved = scene.clone();
    let shift = Vector3::x() * behind.mm();
    for cusp in &mut moved.cusps {
        let at: [f64; 3] = (cusp.at_mm() + shift).into();
        *cusp = Cusp::new(cusp.tooth(), cusp.name(), at, *cusp.opposing())?;
    }
    // Incisors that guide are teeth, and come with the others.
    if matches!(moved.instrument.anterior_guide, AnteriorGuide::Incisors(_)) {
        moved.instrument.incisal_point.x = moved.instrument.incisal_point.x + behind;
    }
    Ok(moved)
}

//! A step of a sound lesson.

use super::file::View;
use super::phrase::At;
use super::prose::Said;
use super::question::Question;
use crate::excursion::Excursion;
use crate::frame::Side;
use crate::scene::Scene;
use crate::setting::SettingName;

/// A step of a lesson.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is read.
    pub text: Vec<Said>,
    /// The set-up.
    pub scene: Scene,
    /// The excursion that is shown; none where the jaw stays at rest.
    pub excursion: Option<Excursion>,
    /// How far along; to the end where nothing is said.
    pub at: Option<At>,
    /// From where one looks.
    pub view: Option<View>,
    /// What is pointed at.
    pub points: Vec<Target>,
    /// What is asked.
    pub question: Option<Question>,
}

/// Something pointed at.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A cusp, by its place in the step's scene.
    Cusp(usize),
    /// A condyle.
    Condyle(Side),
    /// The incisal point.
    IncisalPoint,
    /// A setting.
    Setting(SettingName),
    /// The plot.
    Plot,
}

//! What a link carries.

use sim_core::scene::Scene;

/// What a link carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent {
    /// The scene, with whatever was set in it. It names no cast files: those stay where they are.
    pub scene: Scene,
    /// The second set-up, B, where one stands beside it.
    pub beside: Option<Scene>,
    /// The excursion shown; the page's usual when absent.
    pub shown: Option<Shown>,
    /// The viewpoint by its name, as `oblique`: small letters and `_`, at most twenty. Whether there is one of
    /// that name, who shows it knows. The page's usual when absent.
    pub viewpoint: Option<String>,
}

/// An excursion that is shown, and where in it one stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The name of its movement, as `right_lateral`: one of the scene's, or `protrusive`, `right_lateral`,
    /// `left_lateral`, which every scene can make.
    pub excursion: String,
    /// How far along it one stands, in the unit of its drive (mm, or degrees of an opening), from 0 to
    /// the farthest that drives go; where the page begins when absent.
    pub driven: Option<f64>,
}

impl From<Scene> for Sent {
    /// The scene alone.
    fn from(scene: Scene) -> Self {
        Self { scene, beside: None, shown: None, viewpoint: None }
    }
}

//! Set-ups of a viva, drawn within what joints and instruments have.

use rand_chacha::rand_core::Rng;

use crate::practice::dice::Dice;
use crate::scene::Scene;
use crate::setting::Change;

use super::level::VivaLevel;

/// Ranges of what is drawn, in degrees and millimetres, within those published of populations; round numbers
/// (common practice, no source).
const INCLINATION: (f64, f64) = (20.0, 45.0);
const LATERAL: (f64, f64) = (8.0, 25.0);
const PLATE: (f64, f64) = (0.0, 40.0);
const WING: (f64, f64) = (10.0, 30.0);
const PLANE: (f64, f64) = (4.0, 16.0);
const IMMEDIATE: (f64, f64) = (0.4, 1.2);
/// In steps of which the settings are drawn.
const STEP_DEG: f64 = 1.0;
const STEP_MM: f64 = 0.1;
/// Sides that differ by less are too alike to tell a slip by.
pub(super) const UNLIKE_DEG: f64 = 4.0;

/// A set-up, and the changes that make it of the compiled-in scene.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    pub(super) scene: Scene,
    pub(super) changes: Vec<Change>,
}

impl Drawn {
    /// The compiled-in scene with its guides, plate and plane drawn anew.
    pub(super) fn new<R: Rng>(dice: &mut Dice<R>, level: VivaLevel) -> Self {
        let mut drawn = Self { scene: Scene::thirty_degree(), changes: Vec::new() };
        let mut inclinations = [0.0, 0.0];
        while f64::abs(inclinations[0] - inclinations[1]) < UNLIKE_DEG {
            inclinations = [dice.stepped(INCLINATION, STEP_DEG), dice.stepped(INCLINATION, STEP_DEG)];
        }
        let mut laterals = [0.0, 0.0];
        while f64::abs(laterals[0] - laterals[1]) < UNLIKE_DEG {
            laterals = [dice.stepped(LATERAL, STEP_DEG), dice.stepped(LATERAL, STEP_DEG)];
        }
        for (side, (h, l)) in ["right_guide", "left_guide"].iter().zip(inclinations.into_iter().zip(laterals))
        {
            drawn.change(&format!("{side}.horizontal_inclination_deg={h}"));
            drawn.change(&format!("{side}.lateral_angle_deg={l}"));
            if level != VivaLevel::First || dice.coin() {
                let immediate = dice.stepped(IMMEDIATE, STEP_MM);
                drawn.change(&format!("{side}.immediate_translation_mm={immediate}"));
            }
        }
        drawn.change(&format!("anterior_guide.sagittal_inclination_deg={}", dice.stepped(PLATE, STEP_DEG)));
        drawn.change(&format!("anterior_guide.right_wing_deg={}", dice.stepped(WING, STEP_DEG)));
        drawn.change(&format!("anterior_guide.left_wing_deg={}", dice.stepped(WING, STEP_DEG)));
        drawn.change(&format!("occlusal_plane_inclination_deg={}", dice.stepped(PLANE, STEP_DEG)));
        drawn
    }

    /// Changes a setting. What a template writes is in range; what were not would leave the scene as it is.
    pub(super) fn change(&mut self, written: &str) {
        if let Ok(change) = written.parse::<Change>()
            && change.make(&mut self.scene).is_ok()
        {
            self.changes.push(change);
        }
    }
}

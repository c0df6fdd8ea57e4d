//! A question of a viva.

use super::answer::VivaAnswer;
use super::level::VivaLevel;
use crate::cusp::Tooth;
use crate::excursion::Excursion;
use crate::frame::Side;
use crate::scene::Scene;
use crate::setting::Change;
use crate::units::{Angle, Length};

/// A question with its answers.
#[derive(Clone, Debug)]
pub struct VivaQuestion {
    /// How hard it is.
    pub level: VivaLevel,
    /// The set-up.
    pub scene: Scene,
    /// The changes that make it of the compiled-in scene.
    pub changes: Vec<Change>,
    /// The excursion that shows it; none where nothing moves.
    pub excursion: Option<Excursion>,
    /// What is asked.
    pub asked: Asked,
    /// The answers, in a drawn order.
    pub answers: Vec<VivaAnswer>,
    /// The place of the right one.
    pub right: usize,
}

/// What is asked of a set-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// How far a condyle goes down in protrusion.
    Drop {
        /// The condyle.
        side: Side,
        /// Its advance.
        advance: Length,
    },
    /// How far the orbiting condyle goes inward.
    MedialShift {
        /// The orbiting side.
        orbiting: Side,
        /// Its advance.
        advance: Length,
    },
    /// The lateral angle by the rule.
    Rule {
        /// The guide.
        side: Side,
    },
    /// Which of three lower teeth of a side parts most in protrusion.
    PartsMost {
        /// The side.
        side: Side,
        /// Condylar advance.
        advance: Length,
    },
    /// The separation of a tooth.
    Separation {
        /// The tooth.
        tooth: Tooth,
        /// The side that the jaw goes to; none in protrusion.
        working: Option<Side>,
        /// Condylar advance.
        advance: Length,
    },
    /// The clearance of a tooth.
    Clearance {
        /// The tooth.
        tooth: Tooth,
        /// The side that the jaw goes to; none in protrusion.
        working: Option<Side>,
        /// Condylar advance.
        advance: Length,
    },
    /// Which change raises the separation of a tooth most.
    ActsMost {
        /// The tooth.
        tooth: Tooth,
        /// The side that the jaw goes to.
        working: Side,
        /// Condylar advance.
        advance: Length,
        /// By how much each setting is to be raised.
        by: Angle,
    },
    /// What the split does on a protrusive record with the guides at a trial.
    Split {
        /// What both guides are set to.
        trial: Angle,
        /// What both joints have.
        joint: Angle,
    },
    /// The angle of the condyle's path to the upper teeth, opened at the pin, non-arcon.
    OpenedPath {
        /// The guide.
        side: Side,
        /// How far the pin is let down.
        pin: Length,
        /// How far that opens the instrument.
        opening: Angle,
    },
    /// How far the condyles advance until the front has drawn so much on the plate.
    TracingAdvance {
        /// What is drawn.
        drawn: Length,
    },
    /// Where a tooth ends from where it should, closed about a misplaced axis.
    AxisError {
        /// The tooth.
        tooth: Tooth,
        /// How far the axis is off.
        off: Length,
        /// The turn.
        opening: Angle,
    },
}

//! The instrument: every setting of it, and its zeroed baseline.

mod incisal_point;
mod zeroed;

pub use incisal_point::IncisalPoint;

use serde::{Deserialize, Serialize};

use crate::anterior::AnteriorGuide;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::units::Length;

/// Which member carries the condylar spheres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Design {
    /// Spheres on the lower member, housings on the upper, as in the joint.
    Arcon,
    /// Spheres on the upper member, housings on the lower.
    NonArcon,
}

impl Design {
    /// `Arcon` or `NonArcon`: the word that a scene file uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Arcon => "Arcon",
            Self::NonArcon => "NonArcon",
        }
    }
}

settings_struct! {
    /// A semi-adjustable articulator with all its settings.
    pub struct Instrument {
        intercondylar_distance as INTERCONDYLAR_DISTANCE: Length = "intercondylar_distance_mm", "intercondylar distance",
            60.0..=180.0, step 1.0, zeroed None,
            "Distance w between the centres of the condylar spheres.";
        pin_extension as PIN_EXTENSION: Length = "pin_extension_mm", "pin extension", -30.0..=30.0, step 0.5,
            zeroed Some(0.0), absent 0.0,
            "How far the incisal pin is let down, which opens the instrument about the axis. Incisors have no pin.";
    }
    also {
        design: Design = "design", "Which member carries the spheres.";
        right_guide: CondylarGuide = "right_guide", "The right condylar guide.";
        left_guide: CondylarGuide = "left_guide", "The left condylar guide.";
        anterior_guide: AnteriorGuide = "anterior_guide", "What stops the closing in front.";
        incisal_point: IncisalPoint = "incisal_point_mm",
            "Pin tip, or lower incisal edge, in the zeroed centric position.";
    }
}

impl Instrument {
    /// The condylar guide of one side.
    #[must_use]
    pub const fn guide(&self, side: Side) -> &CondylarGuide {
        match side {
            Side::Right => &self.right_guide,
            Side::Left => &self.left_guide,
        }
    }

    /// The condylar guide of one side, to be set.
    pub const fn guide_mut(&mut self, side: Side) -> &mut CondylarGuide {
        match side {
            Side::Right => &mut self.right_guide,
            Side::Left => &mut self.left_guide,
        }
    }
}

//! The instrument: every setting of it, and the baseline at which it starts.
//!
//! ```
//! use sim_core::frame::{Side, UpperPoint};
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! let mut instrument = Instrument::zeroed();
//! assert_eq!(instrument.guide(Side::Left).horizontal_inclination, Angle::from_degrees(30.0));
//! // Wider condyles: the spheres' seats move out with them.
//! instrument.intercondylar_distance = Length::from_mm(120.0);
//! assert_eq!(instrument.seat(Side::Left), UpperPoint::mm(0.0, 60.0, 0.0));
//! assert_eq!(instrument.seat(Side::Right), UpperPoint::mm(0.0, -60.0, 0.0));
//! ```

mod baseline;
mod incisal_point;
mod zeroed;

pub use baseline::Baseline;
pub use incisal_point::IncisalPoint;

use serde::{Deserialize, Serialize};

use crate::anterior::AnteriorGuide;
use crate::frame::{Frame, Point, Side};
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

    /// +1 where the spheres go in their housings as the jaw does (arcon), −1 where they go the opposite
    /// way, since it is the upper member that carries them.
    #[must_use]
    pub const fn sense(self) -> f64 {
        match self {
            Self::Arcon => 1.0,
            Self::NonArcon => -1.0,
        }
    }
}

/// [`Instrument::seat`] at an intercondylar distance.
#[inline]
pub(crate) fn seat<F: Frame>(side: Side, intercondylar_distance: Length) -> Point<F> {
    Point::mm(0.0, side.outward_y() * intercondylar_distance.mm() / 2.0, 0.0)
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
    /// Where the centre of a side's condylar sphere rests: at half the intercondylar distance from the
    /// middle. In the zeroed centric position that is the same place in either member's frame.
    #[must_use]
    pub fn seat<F: Frame>(&self, side: Side) -> Point<F> {
        seat(side, self.intercondylar_distance)
    }

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

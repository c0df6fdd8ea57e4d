//! One solved pose of the mechanism.

use super::Station;
use crate::anterior::GuidePlane;
use crate::cusp::Tooth;
use crate::frame::{JawPose, Side, UpperPoint};
use crate::instrument::{Design, seat};
use crate::units::{Angle, Length};

/// Displacement of one condyle from its place in the zeroed centric position, as its guide
/// measures it.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct CondyleReading {
    /// Forward.
    pub advance: Length,
    /// Toward the midline.
    pub medial: Length,
    /// Downward.
    pub drop: Length,
}

impl CondyleReading {
    /// Reads a condyle off any jaw pose: M c − c in the upper frame for an arcon instrument, c − U c
    /// in the lower frame for a non-arcon one, as advance, medial shift and drop of the jaw.
    #[must_use]
    pub fn of_pose(jaw: &JawPose, side: Side, design: Design, intercondylar_distance: Length) -> Self {
        let (upper_seat, lower_seat) =
            (seat(side, intercondylar_distance), seat(side, intercondylar_distance));
        let moved = match design {
            Design::Arcon => jaw.to_upper(&lower_seat) - upper_seat,
            Design::NonArcon => lower_seat - jaw.to_lower(&upper_seat),
        };
        Self {
            advance: Length::from_mm(moved.x),
            medial: Length::from_mm(-side.outward_y() * moved.y),
            drop: Length::from_mm(-moved.z),
        }
    }
}

/// What stops the jaw from closing further.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Guidance {
    /// The pin on a plane of the incisal table.
    Table(GuidePlane),
    /// The lower incisal edge on an incline of the upper incisors.
    Incisors(GuidePlane),
    /// Teeth that meet before the pin does.
    Teeth(ToothStop),
    /// The pin on a table formed to the teeth.
    CustomTable,
    /// Nothing: the jaw is opened about the axis.
    None,
}

/// The teeth that stop the closing, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothStop {
    /// The upper tooth, where the cast says which it is.
    pub upper_tooth: Option<Tooth>,
    /// The lower tooth, where the cast says which it is.
    pub lower_tooth: Option<Tooth>,
    /// Where they meet.
    pub at: UpperPoint,
}

impl Guidance {
    /// `table`, `incisors`, `teeth`, `custom_table` or `none`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Table(_) => "table",
            Self::Incisors(_) => "incisors",
            Self::Teeth(_) => "teeth",
            Self::CustomTable => "custom_table",
            Self::None => "none",
        }
    }

    /// The plane touched, if any.
    #[must_use]
    pub const fn plane(self) -> Option<GuidePlane> {
        match self {
            Self::Table(plane) | Self::Incisors(plane) => Some(plane),
            Self::Teeth(_) | Self::CustomTable | Self::None => None,
        }
    }

    /// The teeth that stop the closing, if teeth do.
    #[must_use]
    pub const fn teeth(self) -> Option<ToothStop> {
        match self {
            Self::Teeth(stop) => Some(stop),
            Self::Table(_) | Self::Incisors(_) | Self::CustomTable | Self::None => None,
        }
    }
}

/// One solved pose: where the jaw is and what holds it there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// How far along the path of its movement it stands.
    pub station: Station,
    /// The jaw pose M.
    pub jaw: JawPose,
    /// The right condyle in its guide.
    pub right: CondyleReading,
    /// The left condyle in its guide.
    pub left: CondyleReading,
    /// What stops the closing.
    pub guidance: Guidance,
    /// How far the pin tip is off the nearest plane of its table, where casts share in the guidance;
    /// zero where the pin leads.
    pub pin_lift: Option<Length>,
    /// The lower member's incisal point, in the upper frame.
    pub incisal_point: UpperPoint,
}

impl Placement {
    /// Advance of the orbiting condyle (of both, in protrusion).
    #[must_use]
    pub const fn advance(&self) -> Length {
        self.station.advance()
    }

    /// The condyle of one side in its guide.
    #[must_use]
    pub const fn condyle(&self, side: Side) -> &CondyleReading {
        match side {
            Side::Right => &self.right,
            Side::Left => &self.left,
        }
    }

    /// How far the jaw is rotated open: the inclination of its forward direction below the
    /// horizontal, seen in the sagittal plane of the upper frame. In straight protrusion it is the
    /// whole rotation of the jaw.
    #[must_use]
    pub fn opening(&self) -> Angle {
        let forward = self.jaw.rotation().column(0);
        Angle::from_radians((-forward.z).atan2(forward.x))
    }
}

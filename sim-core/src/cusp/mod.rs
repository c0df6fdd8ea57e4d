//! Teeth, cusps, and how far they stand off in an excursion.
//!
//! ```
//! use sim_core::cusp::{Cusp, Gauges, OpposingIncline, OpposingInclines, Tooth};
//! use sim_core::excursion::{Mechanism, Movement, Station};
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! // A lower left first molar's cusp that meets an incline of 20° as it moves forward.
//! let opposing = OpposingInclines {
//!     protrusive: Angle::from_degrees(20.0),
//!     retrusive: Angle::ZERO,
//!     working: Angle::ZERO,
//!     nonworking: Angle::ZERO,
//! };
//! let cusp = Cusp::new(Tooth::new(36)?, "mesiobuccal", [60.0, 24.0, -40.0], opposing)?;
//! let gauges = Gauges::new(OcclusalPlane { inclination: Angle::ZERO }, [&cusp]);
//! let mechanism = Mechanism::new(&Instrument::zeroed());
//! let placed = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(3.0)))?;
//! let reading = gauges.read(&placed.jaw).next().expect("one cusp, one reading");
//! // The level table leaves the molars nearly nothing but the incline to run into.
//! assert_eq!(reading.incline, OpposingIncline::Protrusive);
//! assert!(reading.separation > Length::ZERO && reading.clearance < Length::ZERO);
//! assert!(reading.interferes());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub(crate) mod crown;
mod displacement;
mod gauges;
mod lanes;
mod tooth;

pub(crate) use gauges::CONTACT_MM;
pub use gauges::{CuspReading, Gauges, OpposingIncline};
pub use lanes::GaugeLanes;
pub use tooth::{Arch, NoSuchTooth, Tooth};

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use crate::frame::{LowerPoint, UpperPoint};
use crate::units::Angle;

settings_struct! {
    /// The inclines of the opposing tooth that a cusp may run against, relative to the occlusal
    /// plane.
    #[derive(Copy)]
    pub struct OpposingInclines {
        protrusive as PROTRUSIVE: Angle = "protrusive_deg", "opposing protrusive incline", 0.0..=85.0, step 1.0,
            zeroed None, "Incline met as the cusp moves forward.";
        retrusive as RETRUSIVE: Angle = "retrusive_deg", "opposing retrusive incline", 0.0..=85.0, step 1.0,
            zeroed None, "Incline met as the cusp moves back.";
        working as WORKING: Angle = "working_deg", "opposing working incline", 0.0..=85.0, step 1.0,
            zeroed None, "Incline met as the cusp moves outward.";
        nonworking as NONWORKING: Angle = "nonworking_deg", "opposing orbiting incline", 0.0..=85.0, step 1.0,
            zeroed None, "Incline met as the cusp moves inward.";
    }
}

/// A cusp tip at which separation and clearance are read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "CuspFields", into = "CuspFields")]
pub struct Cusp {
    tooth: Tooth,
    name: String,
    at: Vector3<f64>,
    opposing: OpposingInclines,
}

/// A cusp tip in the frame of the member that carries it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CuspTip {
    /// Of an upper tooth.
    Upper(UpperPoint),
    /// Of a lower tooth.
    Lower(LowerPoint),
}

/// Why something is no cusp.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CuspError {
    /// No name to tell it by.
    #[error("name is empty; give each cusp a name, for example \"mesiobuccal\"")]
    NoName,
    /// A coordinate that is not finite or lies outside any jaw.
    #[error("at_mm is ({x}, {y}, {z}); allowed are coordinates within ±{FARTHEST_MM} mm")]
    OutOfReach {
        /// Anterior coordinate given.
        x: f64,
        /// Left coordinate given.
        y: f64,
        /// Upward coordinate given.
        z: f64,
    },
    /// A back tooth on the other side of the midline.
    #[error("at_mm has y = {y}, but tooth {tooth} is on the patient's {side}; allowed there is y {sign} 0")]
    WrongSide {
        /// The tooth.
        tooth: Tooth,
        /// Left coordinate given.
        y: f64,
        /// The tooth's side.
        side: crate::frame::Side,
        /// `<` or `>`.
        sign: char,
    },
}

/// No jaw reaches farther from the middle of its axis.
const FARTHEST_MM: f64 = 200.0;
/// Front teeth (up to the canine) may stand across the midline of a shifted arch.
const LAST_FRONT_TOOTH: u8 = 3;

impl Cusp {
    /// A cusp from its tooth, a name of its own, its place in the frame of the member that carries
    /// it (millimetres: anterior, left, up; both frames coincide at rest) and what opposes it.
    ///
    /// # Errors
    /// [`CuspError`] for an empty name, a place outside any jaw, or a premolar or molar on the
    /// wrong side of the midline.
    pub fn new(
        tooth: Tooth,
        name: &str,
        at_mm: [f64; 3],
        opposing: OpposingInclines,
    ) -> Result<Self, CuspError> {
        let name = name.trim();
        if name.is_empty() {
            return Err(CuspError::NoName);
        }
        let [x, y, z] = at_mm;
        if !at_mm.iter().all(|coordinate| coordinate.abs() <= FARTHEST_MM) {
            return Err(CuspError::OutOfReach { x, y, z });
        }
        let side = tooth.side();
        if tooth.position() > LAST_FRONT_TOOTH && y * side.outward_y() <= 0.0 {
            let sign = if side.outward_y() > 0.0 { '>' } else { '<' };
            return Err(CuspError::WrongSide { tooth, y, side, sign });
        }
        Ok(Self { tooth, name: name.to_owned(), at: Vector3::new(x, y, z), opposing })
    }

    /// The tooth that carries it.
    #[must_use]
    pub const fn tooth(&self) -> Tooth {
        self.tooth
    }

    /// Its name on that tooth.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What opposes it.
    #[must_use]
    pub const fn opposing(&self) -> &OpposingInclines {
        &self.opposing
    }

    /// The same cusp with other opposing inclines.
    #[must_use]
    pub fn opposed_by(&self, opposing: OpposingInclines) -> Self {
        Self { opposing, ..self.clone() }
    }

    /// Where its tip stands in its own member's frame, in millimetres; at rest the two frames coincide.
    #[must_use]
    pub const fn at_mm(&self) -> Vector3<f64> {
        self.at
    }

    /// The same cusp elsewhere. The caller answers for the place being within a jaw; inside this crate
    /// only.
    pub(crate) fn moved_to(&self, at: Vector3<f64>) -> Self {
        Self { at, ..self.clone() }
    }

    /// What opposes it, to be set.
    pub(crate) const fn opposing_mut(&mut self) -> &mut OpposingInclines {
        &mut self.opposing
    }

    /// Tooth and name in one word, as settings and tables address it: `36.mesiobuccal`.
    #[must_use]
    pub fn label(&self) -> String {
        format!("{}.{}", self.tooth, self.name)
    }

    /// Its tip, in the frame of the member that carries it.
    #[must_use]
    pub const fn tip(&self) -> CuspTip {
        match self.tooth.arch() {
            Arch::Upper => CuspTip::Upper(UpperPoint::from_coords(self.at)),
            Arch::Lower => CuspTip::Lower(LowerPoint::from_coords(self.at)),
        }
    }
}

/// A cusp as a scene file gives it.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Cusp")]
struct CuspFields {
    tooth: Tooth,
    name: String,
    at_mm: (f64, f64, f64),
    opposing: OpposingInclines,
}

impl TryFrom<CuspFields> for Cusp {
    type Error = CuspError;
    fn try_from(fields: CuspFields) -> Result<Self, CuspError> {
        let (x, y, z) = fields.at_mm;
        Self::new(fields.tooth, &fields.name, [x, y, z], fields.opposing)
    }
}

impl From<Cusp> for CuspFields {
    fn from(cusp: Cusp) -> Self {
        let at_mm = (cusp.at.x, cusp.at.y, cusp.at.z);
        Self { tooth: cusp.tooth, name: cusp.name, at_mm, opposing: cusp.opposing }
    }
}

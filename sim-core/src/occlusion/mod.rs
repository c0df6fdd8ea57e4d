//! What contacts mean: what guides an excursion, what stands in its way, and the table that repeats it.
//!
//! [`Mounted`] is an instrument with casts on it and the occlusal plane they are read against. It
//! answers five questions:
//!
//! - [`Mounted::contacts`]: which pairs of teeth touch in a pose, and what such a contact is called in
//!   that excursion.
//! - [`Mounted::scheme`]: which teeth guide an excursion, and by which rule that is told.
//! - [`Mounted::interferences`]: which teeth stand in the way of those that are meant to guide, and how
//!   much must come off for each to go clear. [`differences`] compares two such lists.
//! - [`Mounted::missing`]: which of the teeth that are meant to touch do not, and how far they are apart.
//! - [`Mounted::form_table`]: the incisal table that makes the pin repeat what the teeth do.
//!
//! Lengths are millimetres, sides are the patient's. Where a tooth cannot be told (gum, or a cast
//! without labels) it is `None`.
//!
//! ```
//! use std::sync::Arc;
//! use sim_core::anterior::{AnteriorGuide, Trough};
//! use sim_core::cast::invented::InventedCasts;
//! use sim_core::cast::{Casts, ToothPlaces};
//! use sim_core::excursion::Movement;
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::instrument::Instrument;
//! use sim_core::occlusion::{Mounted, Scheme, Stretch};
//! use sim_core::units::{Angle, Length};
//!
//! // Natural teeth that guide by themselves, the pin raised out of the way.
//! let plane = OcclusalPlane { inclination: Angle::ZERO };
//! let coarse = InventedCasts { fineness: Length::from_mm(1.5), ..InventedCasts::dentate() };
//! let made = coarse.make(plane)?;
//! let casts = Arc::new(Casts::new(made.upper, made.lower, &ToothPlaces::none()));
//! let instrument = Instrument {
//!     anterior_guide: AnteriorGuide::Casts(Trough::LEVEL),
//!     pin_extension: Length::from_mm(-20.0),
//!     ..Instrument::zeroed()
//! };
//! let mounted = Mounted::new(instrument, casts, plane);
//! // Two looks, at 2 mm and at 3 mm of protrusion: there the front teeth lead.
//! let (from, to, step) = (Length::from_mm(2.0), Length::from_mm(3.0), Length::from_mm(1.0));
//! let verdict = mounted.scheme(Movement::Protrusive, &Stretch { from, to, step, ..Stretch::default() })?;
//! assert_eq!(verdict.scheme, Scheme::AnteriorGuided);
//! assert_eq!((verdict.from, verdict.to), (from, to));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod contact;
mod difference;
mod group;
mod intended;
mod interference;
mod missing;
mod peak;
mod scheme;
mod steps;
mod table;

pub use contact::{Contact, ContactKind};
pub use difference::{Difference, differences};
pub(crate) use group::ToothGroup;
pub use intended::{Guides, Intended, IntendedScheme};
pub use interference::{Interference, InterferenceSearch, Interferences};
pub use missing::{Lack, Missing, MissingContacts, Region};
pub use scheme::{Held, Scheme, Stretch, Verdict};
pub use table::{FormedTable, NoTable, TablePrint, TableSize, TableSweep};

use std::sync::Arc;

use crate::cast::Casts;
use crate::excursion::Mechanism;
use crate::frame::OcclusalPlane;
use crate::instrument::Instrument;

/// An instrument with casts on it.
#[derive(Clone, Debug)]
pub struct Mounted {
    instrument: Instrument,
    casts: Arc<Casts>,
    plane: OcclusalPlane,
}

impl Mounted {
    /// Casts on an instrument; what is vertical is told by the occlusal plane.
    #[must_use]
    pub const fn new(instrument: Instrument, casts: Arc<Casts>, plane: OcclusalPlane) -> Self {
        Self { instrument, casts, plane }
    }

    /// The instrument.
    #[must_use]
    pub const fn instrument(&self) -> &Instrument {
        &self.instrument
    }

    /// The casts.
    #[must_use]
    pub const fn casts(&self) -> &Arc<Casts> {
        &self.casts
    }

    /// The occlusal plane.
    #[must_use]
    pub const fn plane(&self) -> OcclusalPlane {
        self.plane
    }

    /// The instrument made ready, guided as its anterior guide says.
    fn mechanism(&self) -> Mechanism {
        Mechanism::new(&self.instrument).with_casts(Arc::clone(&self.casts))
    }
}

//! Settings from which no casts can be made.

use crate::cusp::CuspError;
use crate::facts::OutOfRange;

use crate::cast::SurfaceError;

/// Why no casts can be made from these settings.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum InventedError {
    /// A setting outside its own range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A compensating curve that the arch does not fit on.
    #[error("{key} is {given_mm}; allowed are 0 (flat) and {least_mm} mm or more")]
    CurveTooTight {
        /// Which curve.
        key: &'static str,
        /// Radius given.
        given_mm: f64,
        /// Least radius that is not flat.
        least_mm: f64,
    },
    /// Upper front teeth whose palatal side would be a wall.
    #[error(
        "overbite_mm {overbite_mm} over overjet_mm {overjet_mm} is a guide steeper than {steepest_deg}°; with this \
         overjet allowed are up to {greatest_mm:.2} mm of overbite"
    )]
    OverbiteTooSteep {
        /// Overbite given.
        overbite_mm: f64,
        /// Overjet given.
        overjet_mm: f64,
        /// Steepest guide that is built.
        steepest_deg: f64,
        /// Greatest overbite at this overjet.
        greatest_mm: f64,
    },
    /// An arch line that ends before its teeth do.
    #[error(
        "the lower teeth of one side take {needed_mm:.1} mm of arch; arch_width_mm {width_mm} and arch_length_mm \
         {length_mm} have room for {room_mm:.1} mm: widen or lengthen the arch"
    )]
    ArchTooShort {
        /// What the teeth take.
        needed_mm: f64,
        /// What there is.
        room_mm: f64,
        /// Arch width given.
        width_mm: f64,
        /// Arch length given.
        length_mm: f64,
    },
    /// An arch so pointed that the teeth would stand in each other's way lingually.
    #[error(
        "with arch_width_mm {width_mm} and arch_length_mm {length_mm} the arch turns on a radius of {radius_mm:.1} \
         mm; the teeth need {least_mm:.1} mm there: widen or shorten the arch, or choose another arch_form"
    )]
    ArchTooPointed {
        /// Least radius of the arch line.
        radius_mm: f64,
        /// Least radius at which neighbouring crowns keep apart.
        least_mm: f64,
        /// Arch width given.
        width_mm: f64,
        /// Arch length given.
        length_mm: f64,
    },
    /// A cusp that is none, which no setting within its range leads to.
    #[error("a cusp of the invented casts: {0}")]
    Cusp(#[from] CuspError),
    /// A surface that is none, which no setting within its range leads to.
    #[error("an invented cast: {0}")]
    Surface(#[from] SurfaceError),
}

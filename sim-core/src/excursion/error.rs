//! Settings for which no pose exists.

use crate::frame::Side;
use crate::units::Length;

/// No pose exists at this advance; says which setting stands in the way.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{movement} has no pose at {} mm of condylar advance: {obstacle}", .advance.mm())]
pub struct NoPose {
    /// Name of the movement, as in output.
    pub movement: &'static str,
    /// The advance at which it failed.
    pub advance: Length,
    /// What stands in the way.
    pub obstacle: Obstacle,
}

/// What keeps a pose from existing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Obstacle {
    /// A path used past its end.
    #[error(
        "{side}_guide.path: the {path} path ends at {ends_at_mm:.3} mm; a longer path or a shorter excursion is needed"
    )]
    PastEnd {
        /// Side of the guide.
        side: Side,
        /// `arc` or `profile`.
        path: &'static str,
        /// The last advance it reaches, in millimetres.
        ends_at_mm: f64,
    },
    /// The walls hold the sphere centres farther apart, or nearer, than their distance.
    #[error(
        "intercondylar_distance_mm: the guides' walls leave no room for two spheres {distance_mm} mm apart (horizontal_inclination_deg, wall_tilt_deg and laterosurtrusion_deg of the two sides are too unlike)"
    )]
    Unbridged {
        /// The intercondylar distance, in millimetres.
        distance_mm: f64,
    },
    /// The guided point never reaches its guide as the jaw closes, or cannot leave it.
    #[error(
        "anterior_guide: the incisal point meets no plane of the guide within a quarter turn of closing (sagittal_inclination_deg or a wing is too steep, or pin_extension_mm too large)"
    )]
    GuideNotReached,
    /// The pin has left a table formed to the teeth.
    #[error(
        "anterior_guide: the pin is beyond the edge of the custom table; a larger table or a shorter excursion is needed"
    )]
    OffTable,
    /// Teeth are to guide, and there are none.
    #[error("anterior_guide: Casts guides by the teeth of both casts, and the scene has no casts")]
    NoCasts,
    /// No plane guides, along which a velocity could be told.
    #[error(
        "anterior_guide: the velocity is told where planes guide (Table, Incisors), not on teeth or on a table formed to them"
    )]
    NoPlanes,
    /// The incisal point does not go as far as asked.
    #[error(
        "incisal_displacement_mm: the incisal point gets no farther than {farthest_mm:.3} mm from rest, {wanted_mm} mm are asked"
    )]
    DisplacementNotReached {
        /// Displacement asked for, in millimetres.
        wanted_mm: f64,
        /// Greatest displacement found, in millimetres.
        farthest_mm: f64,
    },
    /// The incisal point does not go as far along the occlusal plane as asked.
    #[error(
        "tracing_mm: the incisal point gets no farther than {farthest_mm:.3} mm along the occlusal plane, {wanted_mm} mm are asked"
    )]
    TracingNotReached {
        /// Distance asked for, in millimetres.
        wanted_mm: f64,
        /// Greatest distance found, in millimetres.
        farthest_mm: f64,
    },
    /// An instrument alone has no plane that a tracing could be measured along.
    #[error("tracing_mm: is measured along the occlusal plane, and none is given")]
    NoOcclusalPlane,
}

//! What each level deals.

use super::Level;

/// What a level deals, all invented: lengths in millimetres, angles in degrees.
pub(super) struct Recipe {
    pub(super) landmark_sd_mm: f64,
    pub(super) tolerance_mm: f64,
    /// How unlike the sides' inclinations are.
    pub(super) apart_deg: (f64, f64),
    pub(super) translation_mm: (f64, f64),
    /// How far a wrong centric record is off.
    pub(super) centric_off_mm: (f64, f64),
    pub(super) protrusive_records: usize,
    pub(super) turned_scan: bool,
    pub(super) any_design: bool,
    /// Spread of a hand with a caliper, before the caliper rounds to [`CALIPER_STEP_MM`].
    pub(super) hand_mm: f64,
    /// Spread of the closings of one record, as a scale would show it without graduation.
    pub(super) closing_deg: f64,
}

pub(super) const fn recipe(level: Level) -> Recipe {
    match level {
        Level::First => Recipe {
            hand_mm: 0.02,
            closing_deg: 0.3,
            landmark_sd_mm: 0.01,
            tolerance_mm: 0.1,
            apart_deg: (0.0, 3.0),
            translation_mm: (0.0, 0.0),
            centric_off_mm: (1.0, 1.5),
            protrusive_records: 1,
            turned_scan: false,
            any_design: false,
        },
        Level::Second => Recipe {
            hand_mm: 0.04,
            closing_deg: 0.5,
            landmark_sd_mm: 0.02,
            tolerance_mm: 0.12,
            apart_deg: (3.0, 10.0),
            translation_mm: (0.0, 0.4),
            centric_off_mm: (0.6, 1.0),
            protrusive_records: 1,
            turned_scan: true,
            any_design: false,
        },
        Level::Third => Recipe {
            hand_mm: 0.06,
            closing_deg: 0.7,
            landmark_sd_mm: 0.04,
            tolerance_mm: 0.25,
            apart_deg: (8.0, 16.0),
            translation_mm: (0.2, 0.8),
            centric_off_mm: (0.5, 0.8),
            protrusive_records: 2,
            turned_scan: true,
            any_design: true,
        },
    }
}

/// How far a sound protrusive record goes on the tracing (common practice, no source: 6 mm).
pub(super) const SOUND_PROTRUSION_MM: (f64, f64) = (6.0, 7.0);
/// How far one that is too short goes there: enough below 5 mm that noise does not make it sound, and
/// enough that an angle can be read from it.
pub(super) const SHORT_PROTRUSION_MM: (f64, f64) = (2.5, 4.5);
/// How far the orbiting condyle of a lateral record advances.
pub(super) const LATERAL_MM: (f64, f64) = (5.0, 7.0);

/// A caliper shows steps of this.
pub(super) const CALIPER_STEP_MM: f64 = 0.05;
/// A scale shows whole degrees.
pub(super) const GRADUATION_DEG: f64 = 1.0;

//! The settings of one condylar guide.

use super::GuidePath;
use crate::units::{Angle, Length};

settings_struct! {
    /// How much of the side shift a lateral movement spends early: e(a) = e·min(a/aₑ, 1).
    #[derive(Copy)]
    pub struct EarlyTranslation {
        amount as AMOUNT: Length = "amount_mm", "early lateral translation", 0.0..=5.0, step 0.1,
            zeroed Some(0.0),
            "Side shift that builds up over the first part of the orbiting condyle's advance.";
        over as OVER: Length = "over_mm", "early translation spent over", 0.1..=20.0, step 0.5, zeroed None,
            "Advance of the orbiting condyle over which the early translation is spent.";
    }
}

impl EarlyTranslation {
    /// No early translation; the 4 mm it would be spent over is what a scene that is silent means.
    pub const NONE: Self = Self { amount: Length::ZERO, over: Length::from_mm(4.0) };
}

settings_struct! {
    /// One condylar guide: what steers the sphere of one side, as the jaw moves.
    ///
    /// `a` is the condyle's advance, `v` its drop, `m` its medial shift, all in millimetres from
    /// its place in the zeroed centric position. Superior wall: v = f(a) + m·tan τ; medial wall on
    /// the orbiting side: m = i + e(a) + a·tan L.
    pub struct CondylarGuide {
        horizontal_inclination as HORIZONTAL_INCLINATION: Angle = "horizontal_inclination_deg",
            "horizontal condylar inclination" symbol "H", -30.0..=85.0, step 1.0, zeroed Some(30.0),
            "Inclination H of the superior wall at the seat, in the sagittal projection. Ignored where the path is a recorded profile.";
        lateral_angle as LATERAL_ANGLE: Angle = "lateral_angle_deg", "lateral condylar (Bennett) angle" symbol "L", -30.0..=60.0, step 1.0,
            zeroed Some(30.0),
            "Angle L of the medial wall to the sagittal plane, the Bennett angle. The condyle of this side shifts inward along it as it orbits: the progressive side shift.";
        immediate_translation as IMMEDIATE_TRANSLATION: Length = "immediate_translation_mm", "immediate lateral translation",
            0.0..=5.0, step 0.1, zeroed Some(0.0), absent 0.0,
            "Side shift i that the orbiting condyle of this side makes before it advances.";
        wall_tilt as WALL_TILT: Angle = "wall_tilt_deg", "tilt of the superior wall", -45.0..=45.0, step 1.0,
            zeroed Some(0.0), absent 0.0,
            "Transverse tilt τ of the superior wall: a medial shift m lowers the condyle by m·tan τ.";
        lateroretrusion as LATERORETRUSION: Angle = "lateroretrusion_deg", "lateroretrusion, working side",
            -60.0..=60.0, step 1.0, zeroed Some(0.0), absent 0.0,
            "Angle ρ by which the working condyle goes back as it shifts outward; below 0 it goes forward (lateroprotrusion).";
        laterosurtrusion as LATEROSURTRUSION: Angle = "laterosurtrusion_deg", "laterosurtrusion, working side",
            -60.0..=60.0, step 1.0, zeroed Some(0.0), absent 0.0,
            "Angle κ by which the working condyle rises as it shifts outward; below 0 it drops (laterodetrusion).";
    }
    also {
        early_translation: EarlyTranslation = "early_translation", absent EarlyTranslation::NONE,
            "Early lateral translation of the orbiting condyle of this side; none when absent.";
        path: GuidePath = "path", absent GuidePath::Straight,
            "Form of the superior wall in the sagittal plane; straight when absent.";
    }
}

impl CondylarGuide {
    /// What is below it counts as rest, in millimetres: rounding of a sphere that does not move.
    pub(crate) const AT_REST_MM: f64 = 1e-9;

    /// The advance at which an arc is lowest, r·sin H; beyond it the condyle rises again. At rest where the arc
    /// rises from the seat on; `None` of a path that is no arc.
    ///
    /// ```
    /// # use sim_core::guide::{ArcPath, CondylarGuide, GuidePath};
    /// # use sim_core::units::{Angle, Length};
    /// let mut guide = CondylarGuide::straight(Angle::from_degrees(30.0), Angle::from_degrees(15.0));
    /// assert_eq!(guide.lowest_advance(), None);
    /// guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) });
    /// let lowest = guide.lowest_advance().expect("an arc");
    /// assert!((lowest.mm() - 10.0).abs() < 1e-12);
    /// assert!(guide.slope_at(lowest)?.abs() < 1e-12);
    /// # Ok::<(), sim_core::guide::PastEnd>(())
    /// ```
    #[must_use]
    pub fn lowest_advance(&self) -> Option<Length> {
        match &self.path {
            GuidePath::Arc(arc) => {
                let (sin, _) = self.horizontal_inclination.sin_cos();
                Some(Length::from_mm((arc.radius.mm() * sin).max(0.0)))
            }
            GuidePath::Straight | GuidePath::Profile(_) => None,
        }
    }

    /// A straight guide with nothing but its two angles.
    #[must_use]
    pub const fn straight(horizontal_inclination: Angle, lateral_angle: Angle) -> Self {
        Self {
            horizontal_inclination,
            lateral_angle,
            immediate_translation: Length::ZERO,
            wall_tilt: Angle::ZERO,
            lateroretrusion: Angle::ZERO,
            laterosurtrusion: Angle::ZERO,
            early_translation: EarlyTranslation::NONE,
            path: GuidePath::Straight,
        }
    }
}

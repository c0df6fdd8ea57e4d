//! The pin off its table: what processing did to the vertical dimension.

use nalgebra::{Rotation3, Vector3};

use super::file::coords;
use super::{Remount, RemountError};
use crate::anterior::AnteriorGuide;
use crate::cusp::Arch;
use crate::scene::Scene;
use crate::units::{Angle, Length};

/// The error of processing: a turn about the axis, since both condyles are held.
#[derive(Clone, Debug, PartialEq)]
pub struct Processing {
    /// How far the pin is off its table, square to the plate.
    pub pin_lift: Length,
    /// How far the instrument is turned open by it; below zero it is closed.
    pub turn: Angle,
    /// By how much the vertical dimension grows at the incisors, along the occlusal plane's normal.
    pub at_incisors: Length,
    /// What the lift alone makes of teeth that met before: the gap at each, but for the one that holds the bite open.
    pub teeth: Vec<GapByLift>,
}

/// A gap that the lift alone explains.
#[derive(Clone, Debug, PartialEq)]
pub struct GapByLift {
    /// Its cusp, `36.mesiobuccal`.
    pub cusp: String,
    /// The gap along the occlusal plane's normal.
    pub gap: Length,
}

impl Remount {
    /// What the pin's lift says; `None` where it is not given.
    ///
    /// With the pin's tip P in the upper frame and the plate's normal n in the lower, a turn θ lifts the tip by
    /// n·(R(−θ)P − P₀): A cos θ + B sin θ = C, solved in closed form.
    ///
    /// # Errors
    /// [`RemountError`] where there is no pin, or no turn that lifts it so far.
    pub fn processing(&self, scene: &Scene) -> Result<Option<Processing>, RemountError> {
        let Some(lift) = self.pin_lift_mm.map(|lift| lift.length().mm()) else { return Ok(None) };
        let rest = opening(scene, 0.0)?;
        let lifted = opening(scene, lift)?;
        let normal = scene.occlusal_plane.normal();
        let gap = |at: &Vector3<f64>| {
            let moved = about_axis(lifted) * at - about_axis(rest) * at;
            Length::from_mm(-moved.dot(&normal))
        };
        let invented = scene.invented_casts.as_ref();
        let pair = invented.and_then(|settings| settings.make(scene.occlusal_plane).ok());
        let cusps = match (&pair, scene.cusps.is_empty()) {
            (Some(pair), true) => &pair.cusps,
            _ => &scene.cusps,
        };
        let lower = cusps.iter().filter(|cusp| cusp.tooth().arch() == Arch::Lower);
        Ok(Some(Processing {
            pin_lift: Length::from_mm(lift),
            turn: Angle::from_radians(lifted - rest),
            at_incisors: gap(&self.incisors(scene)),
            teeth: lower.map(|cusp| GapByLift { cusp: cusp.label(), gap: gap(&cusp.at_mm()) }).collect(),
        }))
    }

    /// Where the lower incisal edge is.
    fn incisors(&self, scene: &Scene) -> Vector3<f64> {
        match (&self.incisors_mm, &scene.invented_casts) {
            (Some(place), _) => coords(place),
            (None, Some(casts)) => Vector3::new(casts.incisal_x.mm(), 0.0, casts.incisal_z.mm()),
            (None, None) => scene.instrument.incisal_point.coords(),
        }
    }
}

/// A turn that opens the jaw about the axis.
pub(super) fn about_axis(radians: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Vector3::y_axis(), radians)
}

/// How far the jaw is open with the pin so far off its table, in radians.
fn opening(scene: &Scene, lift_mm: f64) -> Result<f64, RemountError> {
    let plate = match &scene.instrument.anterior_guide {
        AnteriorGuide::Table(trough) | AnteriorGuide::Casts(trough) => trough.sagittal_inclination.radians(),
        _ => return Err(RemountError::NoPin),
    };
    let (sin, cos) = plate.sin_cos();
    let table = scene.instrument.incisal_point.coords();
    let tip = table - Vector3::z() * scene.instrument.pin_extension.mm();
    let height = tip.x * sin + tip.z * cos;
    let reach = tip.x * cos - tip.z * sin;
    let wanted = (table.x * sin + table.z * cos + lift_mm) / height.hypot(reach);
    if wanted.abs() > 1.0 {
        return Err(RemountError::NoTurn { lift_mm });
    }
    Ok(reach.atan2(height) - wanted.acos())
}

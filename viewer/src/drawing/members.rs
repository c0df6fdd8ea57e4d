//! The two members: plain bars that carry guides, spheres, pin, table and casts.

use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::{Design, Instrument};
use sim_core::scene::Scene;

use super::anterior::{pin_tip, rest_point};
use super::guide::{SPHERE_RADIUS_MM, rest_centre};
use super::mesh::Mesh;
use super::teeth;
use crate::casts::Mounted;

/// Height of the upper member's arm above the reference plane. All of this is a drawing's choice.
const ARM_MM: f64 = 22.0;
/// How far the lower member's foot stands below the lowest of pin and teeth.
const FOOT_MM: f64 = 22.0;
/// How far the pillars stand behind the axis.
const PILLAR_MM: f64 = -16.0;
/// Width and height of the main bars.
const BAR_MM: (f64, f64) = (12.0, 5.0);
/// Length of the neck under the incisal table.
const NECK_MM: f64 = 9.0;
/// Radius of rods.
const ROD_MM: f64 = 2.6;
/// Radius of the pin.
const PIN_MM: f64 = 2.2;

/// Everything rigid of the two members, each in its own frame.
#[derive(Clone, Debug, Default)]
pub struct Members {
    /// Upper member with the pin.
    pub upper: Mesh,
    /// Lower member.
    pub lower: Mesh,
    /// Spheres, in the frame of the member that carries them.
    pub spheres: Mesh,
    /// The pin, fixed to the upper member; nothing where the incisors guide.
    pub pin: Mesh,
}

/// The members of a scene, and what holds its casts.
#[must_use]
pub fn members(scene: &Scene, mounted: Option<&Mounted>) -> Members {
    let instrument = &scene.instrument;
    let mut members = Members::default();
    let arm = Vector3::z() * ARM_MM;
    let foot = foot(scene, mounted);
    let reach = front(scene);
    let half = instrument.intercondylar_distance.mm() / 2.0;
    for (mesh, level, thick) in [(&mut members.upper, arm, BAR_MM), (&mut members.lower, foot, (16.0, 6.0))] {
        let back = level + Vector3::x() * PILLAR_MM;
        mesh.bar(
            back - Vector3::y() * (half + 6.0),
            back + Vector3::y() * (half + 6.0),
            Vector3::z(),
            thick.0,
            thick.1,
        );
        mesh.bar(back, level + Vector3::x() * reach, Vector3::z(), thick.0, thick.1);
    }
    for side in Side::BOTH {
        let centre = rest_centre(instrument, side);
        members.spheres.sphere(centre, SPHERE_RADIUS_MM);
        let beside = Vector3::new(PILLAR_MM, centre.y, 0.0);
        let (carrier, other) = match instrument.design {
            Design::Arcon => (&mut members.lower, &mut members.upper),
            Design::NonArcon => (&mut members.upper, &mut members.lower),
        };
        let (carrier_level, other_level) = match instrument.design {
            Design::Arcon => (foot, arm),
            Design::NonArcon => (arm, foot),
        };
        // The sphere's stem comes from behind, where no wall is.
        carrier.rod(&[beside + carrier_level, beside, centre], ROD_MM);
        // The housing hangs on (stands on) its member.
        let toward = if other_level.z > 0.0 { 1.0 } else { -1.0 };
        let roof = centre + Vector3::new(-1.0, 0.0, toward * (SPHERE_RADIUS_MM + 1.0));
        let bracket = Vector3::new(-1.0, centre.y, other_level.z);
        other.rod(&[bracket, roof], ROD_MM);
        other.bar(
            Vector3::new(PILLAR_MM, centre.y, other_level.z),
            bracket + Vector3::x() * 4.0,
            Vector3::z(),
            8.0,
            5.0,
        );
    }
    mountings(scene, mounted, &mut members);
    if instrument.anterior_guide.has_pin() {
        let tip = pin_tip(instrument);
        let top = Vector3::new(tip.x, tip.y, ARM_MM + 10.0);
        members.pin.rod(&[top, tip + Vector3::z() * 7.0], PIN_MM);
        members.pin.spike(tip + Vector3::z() * 7.0, tip, PIN_MM);
        members
            .upper
            .rod(&[Vector3::new(tip.x, tip.y, ARM_MM - 5.0), Vector3::new(tip.x, tip.y, ARM_MM + 5.0)], 6.0);
        let rest = rest_point(instrument);
        // A pillar, and a neck that stays under an inclined plate.
        let neck = rest - Vector3::z() * NECK_MM;
        members.lower.rod(&[Vector3::new(rest.x, rest.y, foot.z), neck], 5.0);
        members.lower.rod(&[neck, rest - Vector3::z() * 1.5], 1.6);
    }
    members
}

/// Where the base of an arch is fixed to its member, right and left.
fn fixings(scene: &Scene, mounted: Option<&Mounted>, arch: Arch) -> [Vector3<f64>; 2] {
    mounted.map_or_else(|| teeth::fixings(scene, arch), |mounted| mounted.fixings(arch))
}

/// Where the foot of the lower member stands.
fn foot(scene: &Scene, mounted: Option<&Mounted>) -> Vector3<f64> {
    let lowest = fixings(scene, mounted, Arch::Lower)[0].z.min(rest_point(&scene.instrument).z);
    Vector3::z() * (lowest - FOOT_MM)
}

/// How far forward the members reach.
fn front(scene: &Scene) -> f64 {
    rest_point(&scene.instrument).x + 7.0
}

/// A yoke and two posts from each base to its member: the teeth stay in sight from above.
fn mountings(scene: &Scene, mounted: Option<&Mounted>, members: &mut Members) {
    let foot = foot(scene, mounted);
    for (mesh, arch, level) in
        [(&mut members.upper, Arch::Upper, ARM_MM), (&mut members.lower, Arch::Lower, foot.z)]
    {
        let [right, left] = fixings(scene, mounted, arch);
        let on_yoke = |place: Vector3<f64>| Vector3::new(place.x, place.y, level);
        mesh.bar(on_yoke(right), on_yoke(left), Vector3::z(), 9.0, BAR_MM.1);
        for place in [right, left] {
            mesh.rod(&[place, on_yoke(place)], ROD_MM + 0.8);
        }
    }
}

/// A box of the world that holds the whole instrument at rest, for the first look.
#[must_use]
pub fn bounds(scene: &Scene, mounted: Option<&Mounted>) -> (Vector3<f64>, Vector3<f64>) {
    let half = scene.instrument.intercondylar_distance.mm() / 2.0 + 10.0;
    (
        Vector3::new(PILLAR_MM - 6.0, -half, foot(scene, mounted).z - 6.0),
        Vector3::new(front(scene) + 8.0, half, ARM_MM + 14.0),
    )
}

/// A box about the sphere centres, for the look along the axis.
#[must_use]
pub fn axis_bounds(instrument: &Instrument) -> (Vector3<f64>, Vector3<f64>) {
    let half = instrument.intercondylar_distance.mm() / 2.0;
    (Vector3::new(-20.0, -half, -18.0), Vector3::new(28.0, half, 22.0))
}

//! The two members: plain bars that carry guides, spheres, pin, table and casts.

use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::Design;
use sim_core::scene::Scene;

use super::guide::SPHERE_RADIUS_MM;
use super::mesh::Mesh;
use crate::casts::Mounted;
use crate::geometry::extent::{ARM_MM, PILLAR_MM, fixings, foot, front};
use crate::geometry::landmarks::{pin_tip, rest_centre, rest_point};

/// Width and height of the main bars. All of this is a drawing's choice.
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
    /// The right and the left sphere, in the frame of the member that carries them.
    pub spheres: [Mesh; 2],
    /// What the housings hang on (stand on), fixed to the member without spheres.
    pub housings: Mesh,
    /// The pin, fixed to the upper member; nothing where the incisors guide.
    pub pin: Mesh,
}

/// The members of a scene, and what holds its casts.
#[must_use]
pub fn members(scene: &Scene, mounted: Option<&Mounted>) -> Members {
    let mut members = frames(scene, mounted);
    for arch in [Arch::Upper, Arch::Lower] {
        mounting(scene, mounted, arch, &mut members);
    }
    members
}

/// The members as they are on the bench: the lower cast is fixed to its member, the upper one is parted from its own
/// by the split, and the pin is up.
#[must_use]
pub fn members_on_bench(scene: &Scene) -> Members {
    let mut members = frames(scene, None);
    mounting(scene, None, Arch::Lower, &mut members);
    members.pin = Mesh::default();
    members
}

/// The members without what holds the casts.
fn frames(scene: &Scene, mounted: Option<&Mounted>) -> Members {
    let instrument = &scene.instrument;
    let mut members = Members::default();
    let arm = Vector3::z() * ARM_MM;
    let foot = foot(scene, on_cast(mounted, Arch::Lower));
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
    for (side, sphere) in Side::BOTH.into_iter().zip(&mut members.spheres) {
        let centre = rest_centre(instrument, side);
        sphere.sphere(centre, SPHERE_RADIUS_MM);
        let beside = Vector3::new(PILLAR_MM, centre.y, 0.0);
        let other = &mut members.housings;
        let carrier = match instrument.design {
            Design::Arcon => &mut members.lower,
            Design::NonArcon => &mut members.upper,
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

/// Where a cast is fixed to its member.
fn on_cast(mounted: Option<&Mounted>, arch: Arch) -> Option<[Vector3<f64>; 2]> {
    mounted.map(|mounted| mounted.fixings(arch))
}

/// A yoke and two posts from a base to its member: the teeth stay in sight from above.
fn mounting(scene: &Scene, mounted: Option<&Mounted>, arch: Arch, members: &mut Members) {
    let (mesh, level) = match arch {
        Arch::Upper => (&mut members.upper, ARM_MM),
        Arch::Lower => (&mut members.lower, foot(scene, on_cast(mounted, Arch::Lower)).z),
    };
    let [right, left] = fixings(scene, arch, on_cast(mounted, arch));
    let on_yoke = |place: Vector3<f64>| Vector3::new(place.x, place.y, level);
    mesh.bar(on_yoke(right), on_yoke(left), Vector3::z(), 9.0, BAR_MM.1);
    for place in [right, left] {
        mesh.rod(&[place, on_yoke(place)], ROD_MM + 0.8);
    }
}

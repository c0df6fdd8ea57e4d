//! What lies under the mouse, by name.

use nalgebra::Vector3;
use sim_core::cusp::Arch;

use super::parts::Part;
use crate::geometry::poses::MemberPoses;

/// A ray of the world: from where, and the unit direction in which it looks.
pub(super) type Ray = (Vector3<f64>, Vector3<f64>);

/// How far along a ray a triangle is met: Möller T, Trumbore B, Fast, minimum storage ray/triangle
/// intersection, J Graphics Tools 1997;2:21–28.
fn met((from, toward): &Ray, [a, b, c]: &[Vector3<f64>; 3]) -> Option<f64> {
    let (along, beside) = (b - a, c - a);
    let across = toward.cross(&beside);
    let determinant = along.dot(&across);
    if determinant.abs() < 1e-12 {
        return None;
    }
    let off = from - a;
    let u = off.dot(&across) / determinant;
    let turned = off.cross(&along);
    let v = toward.dot(&turned) / determinant;
    let far = beside.dot(&turned) / determinant;
    (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && far > 0.0).then_some(far)
}

/// The name of the part that a ray meets first, and how far along.
pub(super) fn under<'p>(
    parts: impl Iterator<Item = &'p Part>,
    poses: &MemberPoses,
    (from, toward): Ray,
) -> Option<(&'p str, f64)> {
    let mut first: Option<(&str, f64)> = None;
    for part in parts.filter(|part| !part.name.is_empty()) {
        let pose = if part.member == Arch::Upper { &poses.upper } else { &poses.lower };
        // The ray in the member's own frame.
        let turned = pose.rotation.transpose();
        let ray = (turned * (from - pose.translation), turned * toward);
        for triangle in part.mesh.triangles() {
            let Some(far) = met(&ray, &triangle) else { continue };
            if first.is_none_or(|(_, nearest)| far < nearest) {
                first = Some((&part.name, far));
            }
        }
    }
    first
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::parts;
    use crate::geometry::poses::Moving;
    use sim_core::excursion::{Mechanism, Movement, Station};
    use sim_core::frame::Side;
    use sim_core::scene::Scene;
    use sim_core::units::Length;

    #[test]
    fn spheres_and_the_pin_are_named_where_the_maths_puts_them() {
        let scene = Scene::thirty_degree();
        let mechanism = Mechanism::new(&scene.instrument);
        let placed = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(4.0))).unwrap();
        let parts = parts(&scene, None, 12.0);
        for moving in [Moving::Lower, Moving::Upper] {
            let poses = MemberPoses::of(&placed.jaw, moving);
            for side in Side::BOTH {
                let centre = poses.sphere(&scene.instrument, side);
                // From the side outward of it nothing lies before a sphere.
                let outward = Vector3::y() * side.outward_y();
                let ray = (centre + outward * 200.0, -outward);
                let (name, far) = under(parts.iter(), &poses, ray).unwrap();
                assert_eq!(name, format!("{side} condylar sphere"));
                assert!((far - 195.0).abs() < 0.2, "{far}");
            }
            let tip = poses.upper.place(&crate::geometry::landmarks::pin_tip(&scene.instrument));
            let ray = (tip + Vector3::new(200.0, 0.0, 20.0), -Vector3::x());
            assert_eq!(under(parts.iter(), &poses, ray).unwrap().0, "incisal pin");
            assert_eq!(under(parts.iter(), &poses, (Vector3::z() * 400.0, Vector3::z())), None);
        }
    }

    #[test]
    fn a_wall_is_named_where_its_sphere_touches_it() {
        let scene = Scene::thirty_degree();
        let placed = Mechanism::new(&scene.instrument).rest().unwrap();
        let poses = MemberPoses::of(&placed.jaw, Moving::Lower);
        let walls = parts(&scene, None, 12.0);
        // From a sphere's own centre the nearest wall in the direction of its touch.
        let slope = 30.0_f64.to_radians();
        for side in Side::BOTH {
            let centre = poses.sphere(&scene.instrument, side);
            let up = Vector3::new(slope.sin(), 0.0, slope.cos());
            let housing = walls.iter().filter(|part| part.name.contains("wall"));
            let (name, far) = under(housing, &poses, (centre, up)).unwrap();
            assert_eq!(name, format!("superior wall, {side} guide"));
            assert!((far - crate::drawing::SPHERE_RADIUS_MM).abs() < 0.02, "{far}");
        }
    }
}

//! The clearance map: against another library's rays, and closed forms.

use nalgebra::Vector3;
use parry3d_f64::math::Vector;
use parry3d_f64::query::{Ray, RayCast};
use proptest::prelude::*;

use super::samples::{hills, parry, pose, rotation, sheet, shifted, sphere};
use crate::cast::{Casts, LastPairs, ToothPlaces};
use crate::cusp::Arch;
use crate::frame::{JawPose, LowerPoint, OcclusalPlane};
use crate::units::{Angle, Length};

const ROUNDING_MM: f64 = 1e-9;
/// A ray along an edge may be lost to either side.
const BESIDE_MM: f64 = 1e-6;
const CAP_MM: f64 = 30.0;
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Hills have one layer, so the first thing a ray from far away meets is the opposing surface.
    #[test]
    fn the_map_is_what_rays_of_another_library_find(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, -2.0_f64..9.0),
        incline in -20.0..20.0,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(incline) };
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2));
        let casts = Casts::new(hills(seeds.0, 8, false), hills(seeds.1, 9, true), &ToothPlaces::none());
        let cap = Length::from_mm(CAP_MM);
        let mut least = f64::INFINITY;
        for arch in [Arch::Upper, Arch::Lower] {
            let map = casts.clearance_map(&jaw, plane, arch, cap);
            let place = |v: &Vector3<f64>, arch| match arch {
                Arch::Upper => *v,
                Arch::Lower => *jaw.to_upper(&LowerPoint::from_coords(*v)).coords(),
            };
            let opposite = parry(casts.surface(arch.opposite()), |v| place(v, arch.opposite()));
            let way = plane.normal() * if arch == Arch::Lower { 1.0 } else { -1.0 };
            prop_assert_eq!(map.len(), casts.surface(arch).vertices().len());
            for (vertex, gap) in casts.surface(arch).vertices().iter().zip(&map) {
                let from = place(vertex, arch) - way * CAP_MM;
                let direction = Vector::new(way.x, way.y, way.z);
                let cast = |by: f64| {
                    let origin = Vector::new(from.x + by, from.y + by / 2.0, from.z);
                    opposite.cast_local_ray(&Ray::new(origin, direction), 2.0 * CAP_MM, false).map(|t| t - CAP_MM)
                };
                match (gap.map(Length::mm), cast(0.0)) {
                    (Some(gap), Some(ray)) => prop_assert!((gap - ray).abs() < ROUNDING_MM, "{gap}, ray {ray}"),
                    (None, None) => {}
                    // At the border.
                    (found, ray) => {
                        let beside = [cast(BESIDE_MM), cast(-BESIDE_MM)];
                        let is_border = beside.iter().any(Option::is_some) && beside.iter().any(Option::is_none);
                        prop_assert!(is_border, "{found:?}, ray {ray:?}, beside {beside:?}");
                    }
                }
                least = gap.map_or(least, |gap| gap.mm().min(least));
            }
        }
        let vertical = casts.measure(&jaw, plane, &mut LastPairs::default()).vertical.unwrap();
        prop_assert!(vertical.gap.mm() <= least + ROUNDING_MM, "{vertical:?}, map {least}");
    }
}

#[test]
fn under_an_inclined_plane_the_gap_grows_with_its_tangent() {
    let incline = 30.0_f64.to_radians().tan();
    let upper = sheet(8, [60.0, 60.0], false, |x, _| 5.0 + x * incline);
    let lower = sheet(10, [20.0, 20.0], true, |x, y| -0.01 * (x * x + y * y));
    let casts = Casts::new(upper, lower, &ToothPlaces::none());
    let map = casts.clearance_map(&JawPose::identity(), LEVEL, Arch::Lower, Length::from_mm(50.0));
    for (vertex, gap) in casts.surface(Arch::Lower).vertices().iter().zip(map) {
        assert!((gap.unwrap().mm() - (5.0 + vertex.x * incline - vertex.z)).abs() < ROUNDING_MM);
    }
    let capped = casts.clearance_map(&JawPose::identity(), LEVEL, Arch::Lower, Length::from_mm(4.0));
    for (vertex, gap) in casts.surface(Arch::Lower).vertices().iter().zip(capped) {
        assert_eq!(gap.is_some(), 5.0 + vertex.x * incline - vertex.z <= 4.0, "{vertex}");
    }
}

#[test]
fn what_faces_away_has_no_gap() {
    let casts = Casts::new(sheet(4, [20.0; 2], false, |_, _| 9.0), sphere(3.0, 12), &ToothPlaces::none());
    let map = casts.clearance_map(&JawPose::identity(), LEVEL, Arch::Lower, Length::from_mm(50.0));
    for (vertex, gap) in casts.surface(Arch::Lower).vertices().iter().zip(map) {
        // The ring at the equator belongs to the upper half too.
        let expected = (vertex.z > -1e-9).then_some(9.0 - vertex.z);
        assert_eq!(gap.is_some(), expected.is_some(), "{vertex}");
        assert!((gap.map_or(0.0, Length::mm) - expected.unwrap_or(0.0)).abs() < ROUNDING_MM);
    }
}

#[test]
fn a_lower_tip_through_the_upper_plane_has_a_gap_below_zero() {
    let tip = shifted(sphere(3.0, 12), Vector3::new(1.0, 2.0, -2.5));
    let casts = Casts::new(sheet(4, [20.0; 2], false, |_, _| 0.0), tip, &ToothPlaces::none());
    let map = casts.clearance_map(&JawPose::identity(), LEVEL, Arch::Lower, Length::from_mm(5.0));
    let least = map.iter().flatten().map(|gap| gap.mm()).fold(f64::INFINITY, f64::min);
    assert!((least + 0.5).abs() < ROUNDING_MM, "{least}");
}

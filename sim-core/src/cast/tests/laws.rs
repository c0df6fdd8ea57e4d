//! What holds whatever the meshes and wherever they stand.

use nalgebra::{Matrix3, Vector3};
use proptest::prelude::*;

use super::samples::{hills, pose, rotation, turned};
use crate::cast::casts::LastGapPairs;
use crate::cast::{Casts, CastsReading, LastPairs, Surface, ToothPlaces};
use crate::cusp::{Cusp, OpposingInclines, Tooth};
use crate::frame::{JawPose, OcclusalPlane, UpperPoint};
use crate::units::Angle;

/// Rounding of jaw-sized numbers, many times over.
const ROUNDING_MM: f64 = 1e-9;
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

/// Two teeth a side in either arch, over the hills.
fn places() -> ToothPlaces {
    let cusps: Vec<Cusp> =
        [(16, -5.0), (14, 5.0), (26, -5.0), (24, 5.0), (46, -5.0), (44, 5.0), (36, -5.0), (34, 5.0)]
            .into_iter()
            .map(|(number, x)| {
                let tooth = Tooth::new(number).unwrap();
                let at = [x, 5.0 * tooth.side().outward_y(), 0.0];
                let inclines = Angle::from_degrees(20.0);
                let opposing = OpposingInclines {
                    protrusive: inclines,
                    retrusive: inclines,
                    working: inclines,
                    nonworking: inclines,
                };
                Cusp::new(tooth, "tip", at, opposing).unwrap()
            })
            .collect();
    ToothPlaces::of(&cusps)
}

fn read(upper: Surface, lower: Surface, jaw: &JawPose) -> CastsReading {
    Casts::new(upper, lower, &places()).measure(jaw, LEVEL, &mut LastPairs::default())
}

/// Overall vertical and true, then those of each tooth.
fn gaps(reading: &CastsReading) -> Vec<f64> {
    let all = [(reading.vertical, reading.distance)];
    let teeth = reading.teeth.iter().map(|tooth| (tooth.vertical, tooth.distance));
    all.into_iter()
        .chain(teeth)
        .flat_map(|(vertical, distance)| [vertical.map_or(f64::MAX, |v| v.gap.mm()), distance.gap.mm()])
        .collect()
}

fn same(one: &[f64], other: &[f64]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| (a - b).abs() <= ROUNDING_MM)
}

/// Every triangle cut in four at the middles of its edges, none of them shared.
fn split(surface: &Surface) -> Surface {
    let (mut vertices, mut triangles) = (Vec::new(), Vec::new());
    for at in 0..surface.triangles().len() {
        let [a, b, c] = surface.corners(at);
        let [d, e, f] = [(a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0];
        for corners in [[a, d, f], [d, b, e], [f, e, c], [d, e, f]] {
            let first = u32::try_from(vertices.len()).unwrap();
            vertices.extend(corners);
            triangles.push([first, first + 1, first + 2]);
        }
    }
    Surface::new(vertices, triangles).unwrap()
}

/// Triangles in another order, each begun at another corner.
fn shuffled(surface: &Surface, stride: usize) -> Surface {
    let count = surface.triangles().len();
    let triangles = (0..count).map(|at| {
        let [a, b, c] = surface.triangles()[(at * stride + 5) % count];
        if at % 2 == 0 { [b, c, a] } else { [c, a, b] }
    });
    Surface::new(surface.vertices().to_vec(), triangles.collect()).unwrap()
}

/// The mirror image across the midline, seen from the same side.
fn mirrored(surface: &Surface) -> Surface {
    let vertices = surface.vertices().iter().map(|v| Vector3::new(v.x, -v.y, v.z)).collect();
    Surface::new(vertices, surface.triangles().iter().map(|[a, b, c]| [*a, *c, *b]).collect()).unwrap()
}

fn mirrored_tooth(tooth: Tooth) -> Tooth {
    let quadrant = [2, 1, 4, 3][usize::from(tooth.number() / 10) - 1];
    Tooth::new(i64::from(quadrant * 10 + tooth.position())).unwrap()
}

prop_compose! {
    fn jaw_pose()(
        turn in (-0.1..0.1, -0.1..0.1, -0.1..0.1),
        shift in (-3.0..3.0, -3.0..3.0, 0.0_f64..7.0),
    ) -> JawPose {
        pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2))
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_mesh_split_or_shuffled_has_the_same_gaps(seeds in (0u64..1000, 0u64..1000), jaw in jaw_pose()) {
        // A vertex more on a flat triangle may lie deeper behind the other surface than any corner.
        let jaw = pose(*jaw.rotation(), jaw.translation() - Vector3::z() * 6.0);
        let (upper, lower) = (hills(seeds.0, 8, false), hills(seeds.1, 9, true));
        let plain = gaps(&Casts::new(upper.clone(), lower.clone(), &ToothPlaces::none()).measure(&jaw, LEVEL, &mut LastPairs::default()));
        let cut = gaps(&Casts::new(split(&upper), split(&lower), &ToothPlaces::none()).measure(&jaw, LEVEL, &mut LastPairs::default()));
        prop_assert!(same(&plain, &cut), "{plain:?}\n{cut:?}");
        let whole = gaps(&read(upper.clone(), lower.clone(), &jaw));
        let mixed = gaps(&read(shuffled(&upper, 3), shuffled(&lower, 5), &jaw));
        prop_assert!(same(&whole, &mixed), "{whole:?}\n{mixed:?}");
    }

    #[test]
    fn moved_together_the_casts_have_the_same_distances(
        seeds in (0u64..1000, 0u64..1000), jaw in jaw_pose(), turn in (-3.0..3.0, -1.0..1.0, -3.0..3.0),
    ) {
        let turn = rotation(turn.0, turn.1, turn.2);
        let (upper, lower) = (hills(seeds.0, 8, false), hills(seeds.1, 9, true));
        let here = read(upper.clone(), lower.clone(), &jaw);
        let there = pose(turn * jaw.rotation() * turn.transpose(), turn * jaw.translation());
        // Distances of unpierced surfaces: what lies behind is looked for along the vertical, which stays.
        prop_assume!(here.vertical.is_some_and(|vertical| vertical.gap.mm() > 0.0));
        let casts = Casts::new(turned(upper, &turn), turned(lower, &turn), &ToothPlaces::none());
        let moved = casts.measure(&there, LEVEL, &mut LastPairs::default());
        prop_assert!((here.distance.gap.mm() - moved.distance.gap.mm()).abs() < ROUNDING_MM);
    }

    #[test]
    fn the_mirror_image_has_the_same_gaps_on_the_other_side(seeds in (0u64..1000, 0u64..1000), jaw in jaw_pose()) {
        let (upper, lower) = (hills(seeds.0, 8, false), hills(seeds.1, 9, true));
        let flip = Matrix3::from_diagonal(&Vector3::new(1.0, -1.0, 1.0));
        let image = pose(flip * jaw.rotation() * flip, flip * jaw.translation());
        let seen = read(upper.clone(), lower.clone(), &jaw);
        let mirror = read(mirrored(&upper), mirrored(&lower), &image);
        for tooth in &seen.teeth {
            let Some(other) = mirror.teeth.iter().find(|other| other.tooth == mirrored_tooth(tooth.tooth)) else {
                return Err(TestCaseError::fail(format!("tooth {} has no image", tooth.tooth)));
            };
            prop_assert!((tooth.distance.gap.mm() - other.distance.gap.mm()).abs() < ROUNDING_MM, "{tooth:?}\n{other:?}");
            let vertical = |reading: Option<crate::cast::Nearest>| reading.map_or(f64::MAX, |v| v.gap.mm());
            prop_assert!((vertical(tooth.vertical) - vertical(other.vertical)).abs() < ROUNDING_MM);
        }
        let place = seen.vertical.unwrap().upper;
        let across = UpperPoint::mm(place.x(), -place.y(), place.z());
        prop_assert!(mirror.vertical.unwrap().upper.distance_mm(&across) < ROUNDING_MM);
    }

    #[test]
    fn a_warm_start_changes_no_reading(
        seeds in (0u64..1000, 0u64..1000),
        poses in prop::collection::vec(jaw_pose(), 1..5),
        stale in (0u32..400, 0u32..400),
    ) {
        let casts = Casts::new(hills(seeds.0, 8, false), hills(seeds.1, 9, true), &places());
        let stale = LastGapPairs { vertical: Some(stale), distance: Some(stale) };
        let mut warm = LastPairs { closing: None, whole: stale, teeth: [[stale; 8]; 4] };
        for jaw in poses {
            let cold = casts.measure(&jaw, LEVEL, &mut LastPairs::default());
            prop_assert_eq!(casts.measure(&jaw, LEVEL, &mut warm), cold);
        }
    }

    #[test]
    fn the_least_of_all_teeth_and_gum_is_the_least(seeds in (0u64..1000, 0u64..1000), jaw in jaw_pose()) {
        let reading = read(hills(seeds.0, 8, false), hills(seeds.1, 9, true), &jaw);
        for tooth in &reading.teeth {
            prop_assert!(tooth.distance.gap.mm() >= reading.distance.gap.mm() - ROUNDING_MM);
        }
        let nearest = reading.distance;
        for named in [nearest.upper_tooth, nearest.lower_tooth].into_iter().flatten() {
            let of_it = reading.teeth.iter().find(|tooth| tooth.tooth == named).unwrap();
            prop_assert!((of_it.distance.gap.mm() - nearest.gap.mm()).abs() < ROUNDING_MM);
        }
    }
}

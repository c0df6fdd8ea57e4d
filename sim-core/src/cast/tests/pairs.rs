//! Pairs of teeth, each held to casts that have nothing else on them.

use nalgebra::{Matrix3, Vector3};
use proptest::prelude::*;

use super::samples::{hills, pose, rotation};
use crate::cast::closing::Touch;
use crate::cast::{Casts, LastPairs, Nearest, Surface, ToothPlaces};
use crate::cusp::{Arch, Tooth};
use crate::frame::{JawPose, OcclusalPlane, UpperPoint};
use crate::units::{Angle, Length};

/// Rounding of jaw-sized numbers, many times over.
const ROUNDING_MM: f64 = 1e-9;
/// Openings agree when a hundred millimetres of lever make a nanometre of them.
const OPENING: f64 = 1e-11;
const EVERYTHING: Length = Length::from_mm(f64::INFINITY);

fn tooth(number: i64) -> Option<Tooth> {
    Tooth::new(number).ok()
}

/// Three parts from right to left; the middle one is no tooth.
fn labelled(surface: Surface, numbers: [i64; 3]) -> Surface {
    let middle = |triangle| surface.corners(triangle).iter().map(|corner| corner.y).sum::<f64>() / 3.0;
    let part = |y: f64| usize::from(y > -3.0) + usize::from(y > 3.0);
    let teeth =
        (0..surface.triangles().len()).map(|triangle| tooth(numbers[part(middle(triangle))])).collect();
    surface.with_teeth(teeth).unwrap()
}

fn only(surface: &Surface, wanted: Option<Tooth>) -> Surface {
    let labels = surface.teeth().unwrap();
    let kept = surface.triangles().iter().zip(labels).filter(|(_, label)| **label == wanted);
    let triangles: Vec<_> = kept.map(|(triangle, _)| *triangle).collect();
    let count = triangles.len();
    let surface = Surface::new(surface.vertices().to_vec(), triangles).unwrap();
    surface.with_teeth(vec![wanted; count]).unwrap()
}

const UPPER: [i64; 3] = [16, 0, 26];
const LOWER: [i64; 3] = [46, 0, 36];

fn both(seeds: (u64, u64)) -> [Surface; 2] {
    [labelled(hills(seeds.0, 8, false), UPPER), labelled(hills(seeds.1, 9, true), LOWER)]
}

fn casts([upper, lower]: [Surface; 2]) -> Casts {
    Casts::new(upper, lower, &ToothPlaces::none())
}

fn alone(casts: &Casts, upper: Option<Tooth>, lower: Option<Tooth>) -> Casts {
    self::casts([only(casts.surface(Arch::Upper), upper), only(casts.surface(Arch::Lower), lower)])
}

fn of(all: &[Nearest], upper: Option<Tooth>, lower: Option<Tooth>) -> Option<f64> {
    let mut same = all.iter().filter(|one| (one.upper_tooth, one.lower_tooth) == (upper, lower));
    let found = same.next().map(|one| one.gap.mm());
    assert!(same.next().is_none(), "each pair once");
    found
}

fn pairs() -> impl Iterator<Item = (Option<Tooth>, Option<Tooth>)> {
    UPPER.into_iter().flat_map(|upper| LOWER.map(|lower| (tooth(upper), tooth(lower))))
}

fn near(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => (one - other).abs() < ROUNDING_MM,
        (one, other) => one == other,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_pair_has_the_gaps_that_it_has_alone(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, -2.0_f64..9.0),
        incline in -20.0..20.0,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(incline) };
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2));
        let casts = casts(both(seeds));
        let vertical = casts.vertical_gaps(&jaw, plane, Arch::Upper, EVERYTHING, |_, _| true);
        let distances = casts.distances(&jaw, plane, EVERYTHING, |_, _| true);
        for (upper, lower) in pairs() {
            let apart = alone(&casts, upper, lower).measure(&jaw, plane, &mut LastPairs::default());
            prop_assert!(near(of(&vertical, upper, lower), apart.vertical.map(|found| found.gap.mm())));
            // Where a vertex is behind the whole surface it may be past the border of one tooth's, and
            // the other way round.
            let distance = of(&distances, upper, lower).expect("any two surfaces have a distance");
            if distance > 0.0 && apart.distance.gap.mm() > 0.0 {
                prop_assert!((distance - apart.distance.gap.mm()).abs() < ROUNDING_MM);
            }
        }
        let whole = casts.measure(&jaw, plane, &mut LastPairs::default());
        let least = |all: &[Nearest]| all.iter().map(|found| found.gap.mm()).reduce(f64::min);
        prop_assert!(near(least(&vertical), whole.vertical.map(|found| found.gap.mm())));
        prop_assert!(near(least(&distances), Some(whole.distance.gap.mm())));
    }

    #[test]
    fn no_gap_is_told_that_is_not_asked_for(
        seeds in (0u64..1000, 0u64..1000), down in -1.0..6.0_f64, limit in -1.0..4.0_f64,
    ) {
        let plane = OcclusalPlane { inclination: Angle::ZERO };
        let jaw = pose(Matrix3::identity(), Vector3::new(0.0, 0.0, -down));
        let casts = casts(both(seeds));
        let asked = |upper: Option<Tooth>, _: Option<Tooth>| upper == tooth(16);
        let all = casts.vertical_gaps(&jaw, plane, Arch::Upper, EVERYTHING, |_, _| true);
        let few = casts.vertical_gaps(&jaw, plane, Arch::Upper, Length::from_mm(limit), asked);
        let wanted = all.iter().filter(|one| one.upper_tooth == tooth(16) && one.gap.mm() < limit);
        prop_assert_eq!(few.len(), wanted.clone().count());
        for (one, other) in few.iter().zip(wanted) {
            prop_assert!((one.gap.mm() - other.gap.mm()).abs() < ROUNDING_MM);
        }
        let within = casts.distances(&jaw, plane, Length::from_mm(limit.abs()), |_, _| true);
        let distances = casts.distances(&jaw, plane, EVERYTHING, |_, _| true);
        prop_assert_eq!(within.len(), distances.iter().filter(|one| one.gap.mm() <= limit.abs()).count());
    }

    /// Seen from the lower member the upper one moves, and the lower one's own normal is what is upright.
    #[test]
    fn the_normal_that_the_lower_member_carries_turns_with_it(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, -2.0_f64..6.0),
        incline in -20.0..20.0,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(incline) };
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2));
        let [upper, lower] = both(seeds);
        let found = casts([upper.clone(), lower.clone()])
            .vertical_gaps(&jaw, plane, Arch::Lower, EVERYTHING, |_, _| true);
        let seen = upper.moved(|vertex| *jaw.to_lower(&UpperPoint::from_coords(*vertex)).coords()).unwrap();
        let still = JawPose::identity();
        let twin = casts([seen, lower]).vertical_gaps(&still, plane, Arch::Upper, EVERYTHING, |_, _| true);
        prop_assert_eq!(found.len(), twin.len());
        for (one, other) in found.iter().zip(&twin) {
            prop_assert!((one.gap.mm() - other.gap.mm()).abs() < ROUNDING_MM);
            // Both places are on one upright, as far apart as the gap says.
            let way = one.upper.coords() - jaw.to_upper(&one.lower).coords();
            prop_assert!((way - jaw.rotation() * plane.normal() * one.gap.mm()).norm() < ROUNDING_MM);
        }
    }

    #[test]
    fn what_does_not_stop_the_closing_is_as_if_it_were_not_there(
        seeds in (0u64..1000, 0u64..1000), turn in (-0.1..0.1, -0.1..0.1, -0.1..0.1), out in 60.0..90.0_f64,
    ) {
        let casts = casts(both(seeds));
        let above = (Matrix3::identity(), Vector3::new(out, 0.0, -20.0));
        let below = (rotation(turn.0, turn.1, turn.2), Vector3::new(out, 0.5, -22.0));
        for (upper, lower) in pairs() {
            let limited = casts.stopped_by(|one, other| (one, other) == (upper, lower));
            let mut warm = LastPairs::default();
            let touch = limited.first_touch(&above, &below, -1.0, &mut warm);
            let twin = alone(&casts, upper, lower).first_touch(&above, &below, -1.0, &mut LastPairs::default());
            prop_assert_eq!(touch.is_some(), twin.is_some());
            if let (Some(touch), Some(twin)) = (touch, twin) {
                prop_assert!((touch.opening_radians - twin.opening_radians).abs() < OPENING);
                prop_assert_eq!((touch.upper_tooth, touch.lower_tooth), (upper, lower));
                // Started from anything else's end it finds the same.
                let mut other = LastPairs::default();
                casts.first_touch(&above, &below, -1.0, &mut other);
                let again = limited.first_touch(&above, &below, -1.0, &mut other).expect("the same");
                prop_assert_eq!((again.upper_triangle, again.lower_triangle), (
                    touch.upper_triangle,
                    touch.lower_triangle
                ));
                prop_assert!((again.opening_radians - touch.opening_radians).abs() < OPENING);
            }
        }
        let all = casts.stopped_by(|_, _| true).first_touch(&above, &below, -1.0, &mut LastPairs::default());
        let whole = casts.first_touch(&above, &below, -1.0, &mut LastPairs::default());
        let pair = |touch: Touch| (touch.upper_triangle, touch.lower_triangle);
        prop_assert_eq!(all.map(pair), whole.map(pair));
        let opening = |touch: Option<Touch>| touch.map_or(0.0, |touch| touch.opening_radians);
        prop_assert!((opening(all) - opening(whole)).abs() < OPENING);
        prop_assert_eq!(
            casts.stopped_by(|_, _| false).first_touch(&above, &below, -1.0, &mut LastPairs::default()),
            None
        );
    }
}

#[test]
fn what_passes_through_is_measured_as_before() {
    let plane = OcclusalPlane { inclination: Angle::ZERO };
    let jaw = pose(Matrix3::identity(), Vector3::new(0.0, 0.0, -1.0));
    let casts = casts(both((3, 4)));
    let limited = casts.stopped_by(|_, _| false);
    assert_eq!(
        limited.measure(&jaw, plane, &mut LastPairs::default()),
        casts.measure(&jaw, plane, &mut LastPairs::default())
    );
}

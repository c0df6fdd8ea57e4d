//! The inclines that facets need to glide in contact: against differences of the motion, closed forms
//! and published rules, and the laws that they obey.

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Arch, Tooth};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{LowerPoint, OcclusalPlane, Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::plan::{ArchForm, FacetPlace, RequiredInclines, Role, required_inclines};
use sim_core::units::{Angle, Length};
use whole_checks::deg;
use whole_checks::random;
use whole_checks::tolerance::{HALF_OF_THE_DIGITS, ORDER, ROUNDED, SOLVED};

/// A direction is the quotient of two small ways; straight ahead it may come out as ±0.
const DIRECTION_DEG: f64 = 1e-6;
/// An incline that an opened instrument needs: the pose at rest is solved for, and tangents taken at it.
const OPENED_DEG: f64 = 1e-8;
/// Where the guidances are 32° apart the rule of proportion misleads by more than half a degree.
const MISLEADS_DEG: f64 = 0.5;
/// The chord of a slightly bent arch is no shorter than this part of it; across the middle line, two
/// central incisors of 5 mm stand no nearer than this.
const CHORD: f64 = 0.97;
const INCISORS_MM: (f64, f64) = (4.9, 5.0);

/// Degrees; rounding of angles from ways of a millimetre.
const EXACT_DEG: f64 = 1e-9;

fn level() -> OcclusalPlane {
    OcclusalPlane { inclination: Angle::ZERO }
}

/// An instrument with straight guides, its plate and wings on incisors or on a table.
fn instrument(condylar_deg: f64, lateral_deg: f64, incisors: bool, trough: Trough) -> Instrument {
    let guide = CondylarGuide::straight(deg(condylar_deg), deg(lateral_deg));
    Instrument {
        right_guide: guide.clone(),
        left_guide: guide,
        anterior_guide: if incisors { AnteriorGuide::Incisors(trough) } else { AnteriorGuide::Table(trough) },
        incisal_point: IncisalPoint::mm(92.0, 0.0, -40.0),
        ..Instrument::zeroed()
    }
}

fn plate(degrees: f64) -> Trough {
    Trough { sagittal_inclination: deg(degrees), ..Trough::LEVEL }
}

fn place(number: i64, at: [f64; 3]) -> FacetPlace {
    FacetPlace {
        tooth: Tooth::new(number).unwrap(),
        name: None,
        at: Vector3::from(at),
        leans_forward: Angle::ZERO,
        leans_outward: Angle::ZERO,
    }
}

fn at_teeth(instrument: &Instrument, plane: OcclusalPlane) -> Vec<RequiredInclines> {
    let teeth = ArchForm::usual(instrument).teeth(instrument, plane).unwrap();
    let places: Vec<FacetPlace> = teeth.iter().map(|tooth| FacetPlace::of_tooth(tooth, &[])).collect();
    required_inclines(instrument, plane, &places, Length::from_mm(3.0)).unwrap()
}

fn protrusive_deg(needed: &RequiredInclines) -> f64 {
    needed.protrusive.tangent.along_way.degrees()
}

/// Step of the differences, in millimetres of advance.
const STEP_MM: f64 = 1e-5;
/// What Richardson's differences of poses leave: rounding of 1e-13 mm over the step, and, where a knot
/// of a recorded path lies within it, the step times the jump of its curvature.
const DIFFERENCE: f64 = 5e-5;

proptest! {
    #![proptest_config(random::cases(800))]

    #[test]
    fn the_velocity_is_what_differences_of_the_motion_show(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..6.0_f64,
        at in (40.0..95.0_f64, -30.0..30.0_f64, -50.0..-20.0_f64), at_rest in any::<bool>(),
    ) {
        let t = if at_rest { 0.0 } else { t };
        let mechanism = Mechanism::new(&instrument);
        let pose = |advance: f64| mechanism.at(movement, Station::advanced(Length::from_mm(advance))).unwrap();
        // Across a crease of the guide, or the end of an early translation, there is no one velocity.
        let planes: Vec<_> = [t + STEP_MM / 2.0, t + STEP_MM].iter().map(|t| pose(*t).guidance.plane()).collect();
        prop_assume!(planes[0] == planes[1]);
        let ends = Side::BOTH.map(|side| instrument.guide(side).early_translation.over.mm());
        prop_assume!(ends.iter().all(|end| t >= *end || t + STEP_MM < *end));
        let velocity = mechanism.velocity(movement, Station::advanced(Length::from_mm(t))).unwrap();
        let (x, y, z) = at;
        let (lower, upper) = (LowerPoint::mm(x, y, z), UpperPoint::mm(x, y, z));
        let difference = |way: &dyn Fn(f64) -> Vector3<f64>| {
            let slope = |step: f64| (way(t + step) - way(t)) / step;
            slope(STEP_MM / 2.0) * 2.0 - slope(STEP_MM)
        };
        let of_lower = difference(&|t| *pose(t).jaw.to_upper(&lower).coords());
        let of_upper = difference(&|t| -pose(t).jaw.to_lower(&upper).coords());
        prop_assert!((velocity.of_lower(&lower) - of_lower).amax() < DIFFERENCE, "{:?} {of_lower:?}", velocity.of_lower(&lower));
        prop_assert!((velocity.of_upper(&upper) - of_upper).amax() < DIFFERENCE, "{:?} {of_upper:?}", velocity.of_upper(&upper));
    }

    #[test]
    fn an_immediate_translation_starts_sideways(
        instrument in random::instrument(), working in prop_oneof![Just(Side::Right), Just(Side::Left)],
    ) {
        let orbiting = working.opposite();
        prop_assume!(instrument.guide(orbiting).immediate_translation > Length::ZERO);
        let mechanism = Mechanism::new(&instrument);
        let movement = Movement::Lateral { working };
        let velocity = mechanism.velocity(movement, Station::REST).unwrap();
        let part = 1e-5;
        let moved = |part: f64| mechanism.at(movement, Station::sideways(part)).unwrap();
        prop_assume!(moved(part).guidance == moved(part / 2.0).guidance);
        let point = LowerPoint::mm(60.0, 20.0, -35.0);
        let slope = |part: f64| (moved(part).jaw.to_upper(&point).coords() - point.coords()) / part;
        let difference = slope(part / 2.0) * 2.0 - slope(part);
        prop_assert!((velocity.of_lower(&point) - difference).amax() < DIFFERENCE);
    }

    #[test]
    fn equal_guides_at_front_and_back_need_that_incline_everywhere(
        incline in 5.0..50.0_f64, lateral in 0.0..25.0_f64, incisors in any::<bool>(),
        plane in -5.0..20.0_f64, design in random::design(),
    ) {
        let mut instrument = instrument(incline, lateral, incisors, plate(incline));
        instrument.design = design;
        let plane = OcclusalPlane { inclination: deg(plane) };
        let needed = at_teeth(&instrument, plane);
        prop_assert_eq!(needed.len(), 28);
        for needed in needed {
            for required in [needed.protrusive.tangent, needed.protrusive.chord] {
                let should_be = incline - plane.inclination.degrees();
                prop_assert!((required.along_way.degrees() - should_be).abs() < EXACT_DEG, "{required:?}");
                prop_assert!((required.to_axis.degrees() - should_be).abs() < EXACT_DEG, "{required:?}");
            }
            // And so says the rule of proportion, for once.
            prop_assert!(needed.rule_is_off().degrees().abs() < EXACT_DEG);
        }
    }

    #[test]
    fn a_steeper_condylar_guide_needs_steeper_posterior_inclines(
        condylar in 5.0..50.0_f64, steeper in 1.0..15.0_f64, incisal in 0.0..50.0_f64,
        incisors in any::<bool>(), plane in -5.0..20.0_f64,
    ) {
        let plane = OcclusalPlane { inclination: deg(plane) };
        let with = |condylar| at_teeth(&instrument(condylar, 15.0, incisors, plate(incisal)), plane);
        let mut gains = Vec::new();
        for (flat, steep) in with(condylar).iter().zip(with(condylar + steeper)) {
            // In front of the incisal point the jaw rocks the other way.
            if flat.place.tooth.position() < 4 {
                continue;
            }
            let gain = protrusive_deg(&steep) - protrusive_deg(flat);
            prop_assert!(gain > 0.0, "tooth {}: {gain}", flat.place.tooth);
            let orbiting = |needed: &RequiredInclines| needed.orbiting.tangent.along_way.degrees();
            prop_assert!(orbiting(&steep) > orbiting(flat), "tooth {}", flat.place.tooth);
            gains.push((flat.place.at.x, gain));
        }
        // Over a level guide the influence grows toward the condyle (Villa H, J Prosthet Dent
        // 1970;23:522): backward from tooth to tooth.
        if incisal < condylar {
            gains.sort_by(|one, other| other.0.total_cmp(&one.0));
            let (front, back) = (gains[0].1, gains[gains.len() - 1].1);
            prop_assert!(back > front, "front {front}, back {back}");
        }
    }

    #[test]
    fn a_plane_tilted_toward_the_condylar_path_needs_shallower_inclines(
        condylar in 20.0..50.0_f64, incisal in 0.0..50.0_f64, plane in -5.0..15.0_f64, tilt in 1.0..10.0_f64,
    ) {
        // At the same place every degree of tilt is a degree less, exactly.
        let instrument = instrument(condylar, 15.0, true, plate(incisal));
        let places = [place(36, [60.0, 24.0, -36.0]), place(24, [78.0, -21.0, -38.0])];
        let with = |degrees: f64| {
            required_inclines(&instrument, OcclusalPlane { inclination: deg(degrees) }, &places, Length::from_mm(3.0)).unwrap()
        };
        for (less, more) in with(plane).iter().zip(with(plane + tilt)) {
            let lost = protrusive_deg(less) - protrusive_deg(&more);
            prop_assert!((lost - tilt).abs() < EXACT_DEG, "{lost}");
        }
    }

    #[test]
    fn at_rest_both_arches_need_the_same_and_a_mirrored_tooth_the_mirrored(
        instrument in random::symmetric_instrument(), at in (45.0..90.0_f64, 15.0..30.0_f64, -45.0..-25.0_f64),
        plane in random::occlusal_plane(),
    ) {
        let (x, y, z) = at;
        let places = [place(36, [x, y, z]), place(26, [x, y, z]), place(46, [x, -y, z]), place(16, [x, -y, z])];
        let needed = required_inclines(&instrument, plane, &places, Length::from_mm(2.0)).unwrap();
        for role in Role::ALL {
            let first = needed[0].glide(role);
            for other in &needed[1..] {
                let (one, other) = (first.tangent, other.glide(role).tangent);
                prop_assert!((one.along_way - other.along_way).degrees().abs() < HALF_OF_THE_DIGITS);
                prop_assert!((one.direction - other.direction).degrees().abs() < DIRECTION_DEG, "{one:?} {other:?}");
            }
            let (lower, mirrored) = (needed[0].glide(role).chord, needed[2].glide(role).chord);
            prop_assert!((lower.along_way - mirrored.along_way).degrees().abs() < HALF_OF_THE_DIGITS);
        }
    }
}

/// What a rigid jaw does at once in straight protrusion on incisors: tangents to the line from condyle
/// to incisal point are linear along that line (derived in first_order.rs's terms, here exact).
#[test]
fn the_tangent_on_the_line_from_incisal_point_to_condyle_is_linear_in_tangents() {
    let fall = 40.0_f64.atan2(92.0).to_degrees();
    let tan = |degrees: f64| (degrees - fall).to_radians().tan();
    for (beta, u) in [(40.0, 10.0), (30.0, 30.0), (20.0, 45.0), (55.0, 0.0)] {
        for d in [0.1, 0.25, 0.5, 0.75, 0.9] {
            let instrument = instrument(beta, 15.0, true, plate(u));
            let at = [92.0 * (1.0 - d), 20.0, -40.0 * (1.0 - d)];
            let needed =
                required_inclines(&instrument, level(), &[place(36, at)], Length::from_mm(1.0)).unwrap();
            let rigid = (tan(u) + d * (tan(beta) - tan(u))).atan().to_degrees() + fall;
            assert!((protrusive_deg(&needed[0]) - rigid).abs() < EXACT_DEG, "β {beta} u {u} d {d}");
            // Swenson's formula as given in Christensen FT, J Prosthet Dent 1961;11:48–54.
            let swenson = u + d * (beta - u);
            assert!((needed[0].by_proportion.degrees() - swenson).abs() < EXACT_DEG);
            assert!((needed[0].rule_is_off().degrees() - (swenson - rigid)).abs() < EXACT_DEG);
        }
    }
}

/// The rule of proportion is of the first order: it departs in the second order of the difference of
/// the guidances.
#[test]
fn the_rule_of_proportion_misleads_in_the_second_order_of_the_difference() {
    let off = |difference: f64| {
        let instrument = instrument(30.0 + difference, 15.0, true, plate(30.0 - difference));
        let at = [46.0, 20.0, -20.0];
        let needed = required_inclines(&instrument, level(), &[place(36, at)], Length::from_mm(1.0)).unwrap();
        needed[0].rule_is_off().degrees().abs()
    };
    let order = (off(4.0) / off(2.0)).log2();
    assert!((order - 2.0).abs() < ORDER, "observed order {order}");
    assert!(off(16.0) > MISLEADS_DEG, "{}° where the guidances are 32° apart", off(16.0));
}

/// Flat rims on a level plane over a level incisal guide open to a wedge of angle γ about the front, so
/// that a full-contact facet at x behind the incisal point would have to fall by x·sin γ while it goes
/// forward by p + x(1 − cos γ): Christensen FT, J Prosthet Dent 1960;10:95–98 (formula II, which gives
/// γ) and 1958;8:910–923 (separation along the rim).
#[test]
fn the_chord_of_a_flat_rim_is_christensens() {
    for beta in [10.0, 25.0, 40.0, 55.0] {
        for p in [0.5, 2.0, 5.0, 8.0] {
            let instrument = instrument(beta, 15.0, true, Trough::LEVEL);
            let (a, phi) = (92.0_f64.hypot(40.0), 40.0_f64.atan2(92.0));
            let beta = f64::to_radians(beta);
            let gamma = ((beta - phi).sin() + p / a * beta.sin()).asin() - (beta - phi);
            let advance = Mechanism::new(&instrument)
                .at_incisal_displacement(Movement::Protrusive, Length::from_mm(p))
                .unwrap()
                .advance();
            for x in [10.0, 30.0, 45.0] {
                let at = [92.0 - x, 22.0, -40.0];
                let needed = required_inclines(&instrument, level(), &[place(36, at)], advance).unwrap();
                let should_be = (x * gamma.sin()).atan2(p + x * (1.0 - gamma.cos())).to_degrees();
                let chord = needed[0].protrusive.chord.along_way.degrees();
                assert!(
                    (chord - should_be).abs() < EXACT_DEG,
                    "β {beta} p {p} x {x}: {chord} for {should_be}"
                );
            }
        }
    }
}

/// On the working side the condyle's own place only slides along the axis; on the orbiting side it
/// follows its walls: what a facet at the condyle would need is known in closed form.
#[test]
fn at_the_condyles_the_walls_themselves_are_the_inclines() {
    let trough = Trough { right_wing: deg(20.0), left_wing: deg(20.0), ..plate(25.0) };
    let instrument = instrument(35.0, 17.0, false, trough);
    let condyle = |side: f64| [0.0, side * 55.0, 0.0];
    let places = [place(37, condyle(1.0)), place(47, condyle(-1.0))];
    for needed in required_inclines(&instrument, level(), &places, Length::from_mm(4.0)).unwrap() {
        assert!((protrusive_deg(&needed) - 35.0).abs() < EXACT_DEG);
        let orbiting = needed.orbiting.tangent;
        // Forward 1, down tan H, inward tan L.
        let (h, l) = (35.0_f64.to_radians().tan(), 17.0_f64.to_radians().tan());
        assert!((orbiting.direction.degrees() + 17.0).abs() < EXACT_DEG);
        assert!((orbiting.along_way.degrees() - h.atan2(1.0_f64.hypot(l)).to_degrees()).abs() < EXACT_DEG);
        assert!((orbiting.sagittal.unwrap().degrees() - 35.0).abs() < EXACT_DEG);
        assert!((orbiting.transverse.unwrap().degrees() - h.atan2(l).to_degrees()).abs() < EXACT_DEG);
        let working = needed.working.tangent;
        assert!(
            (working.direction.degrees() - 90.0).abs() < DIRECTION_DEG
                && working.along_way.degrees().abs() < DIRECTION_DEG
        );
        assert!(working.sagittal.is_none());
    }
}

/// A jaw that opens carries the housings of a non-arcon instrument with it: seen from the upper member
/// the condylar path is then flatter by the angle of opening, and on an arcon one it is not.
#[test]
fn the_designs_part_by_the_angle_of_opening_at_the_condyle() {
    for extension in [-2.0, 1.0, 4.0] {
        let opening = |design| {
            let mut instrument = instrument(35.0, 15.0, false, plate(10.0));
            instrument.design = design;
            instrument.pin_extension = Length::from_mm(extension);
            let needed =
                required_inclines(&instrument, level(), &[place(37, [0.0, 55.0, 0.0])], Length::from_mm(1.0))
                    .unwrap();
            (Mechanism::new(&instrument).rest().unwrap().opening().degrees(), protrusive_deg(&needed[0]))
        };
        let (opened, arcon) = opening(Design::Arcon);
        let (opened_too, non_arcon) = opening(Design::NonArcon);
        assert!((opened - opened_too).abs() < SOLVED && opened * extension > 0.0);
        assert!((arcon - 35.0).abs() < EXACT_DEG, "{arcon}");
        assert!((non_arcon - (35.0 + opened)).abs() < OPENED_DEG, "opened {opened}, needs {non_arcon}");
    }
}

#[test]
fn the_arch_holds_every_tooth_but_the_third_molars_side_by_side() {
    let instrument = instrument(30.0, 15.0, true, plate(20.0));
    let arch = ArchForm::usual(&instrument);
    let teeth = arch.teeth(&instrument, level()).unwrap();
    assert_eq!(teeth.len(), 28);
    // Wheeler's Dental Anatomy, from memory: lower central incisor 5 mm, first molar 11 mm.
    let find = |number| teeth.iter().find(|tooth| tooth.tooth.number() == number).unwrap().at;
    assert!((INCISORS_MM.0..INCISORS_MM.1).contains(&(find(31) - find(41)).norm()));
    for (one, other, apart) in [(36, 35, 9.0), (36, 37, 10.75), (16, 17, 9.5), (24, 25, 7.0)] {
        let chord = (find(one) - find(other)).norm();
        assert!(chord < apart && chord > CHORD * apart, "{one} {other}: {chord}");
    }
    for tooth in &teeth {
        let mirror = match tooth.tooth.number() {
            number @ 11..=18 => number + 10,
            number @ 21..=28 => number - 10,
            number @ 31..=38 => number + 10,
            number => number - 10,
        };
        let mirror = find(mirror);
        assert!((tooth.at.x - mirror.x).abs() < ROUNDED && (tooth.at.y + mirror.y).abs() < ROUNDED);
        assert_eq!(tooth.at.y > 0.0, tooth.tooth.side() == Side::Left);
        assert!((tooth.at.z + 40.0).abs() < ROUNDED, "a level plane through the incisal point");
    }
    let short = ArchForm { length: Length::from_mm(25.0), width: Length::from_mm(40.0), ..arch };
    let refused = short.teeth(&instrument, level()).unwrap_err().to_string();
    assert!(refused.contains("arch_length_mm") && refused.contains("wider or longer"), "{refused}");
}

/// The curve is a circle tangent to the plane at the lower canine: heights and tilts by plane geometry.
#[test]
fn the_compensating_curve_is_a_circle_from_the_canine_back() {
    let instrument = instrument(30.0, 15.0, true, plate(20.0));
    let flat = ArchForm::usual(&instrument);
    let radius = 100.0;
    let curved = ArchForm { sagittal_curve: Length::from_mm(radius), ..flat };
    let plane = OcclusalPlane { inclination: deg(8.0) };
    let flat = flat.teeth(&instrument, plane).unwrap();
    let canine = flat.iter().find(|tooth| tooth.tooth.number() == 33).unwrap().at;
    let mut lifted = 0;
    for (flat, curved) in flat.iter().zip(curved.teeth(&instrument, plane).unwrap()) {
        let behind = (canine - flat.at).dot(&plane.anterior());
        let up = (curved.at - flat.at).dot(&plane.normal());
        if behind > 0.0 {
            // On the circle about the point one radius above the canine.
            let from_centre = (behind.powi(2) + (radius - up).powi(2)).sqrt();
            assert!((from_centre - radius).abs() < SOLVED);
            assert!((curved.sagittal_tilt.radians().sin() * radius - behind).abs() < SOLVED);
            lifted += usize::from(flat.tooth.arch() == Arch::Lower);
        } else {
            assert!(up.abs() < ROUNDED);
        }
    }
    assert_eq!(lifted, 8, "four lower back teeth on each side");
    let tight = ArchForm { sagittal_curve: Length::from_mm(30.0), ..ArchForm::usual(&instrument) };
    assert!(tight.teeth(&instrument, plane).unwrap_err().to_string().contains("at least 60 mm"));
}

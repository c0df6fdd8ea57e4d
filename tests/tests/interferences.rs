//! Teeth in the way of the guidance: how deep, and that as much off frees them and less does not.

use std::sync::Arc;

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::Casts;
use sim_core::cusp::Tooth;
use sim_core::excursion::{Mechanism, Movement, Ratio, Station};
use sim_core::frame::{LowerPoint, OcclusalPlane, Side};
use sim_core::instrument::Instrument;
use sim_core::occlusion::{
    ContactKind, Difference, Intended, Interference, InterferenceSearch, Mounted, differences,
};
use sim_core::units::{Angle, Length};
use whole_checks::hand_made::{Bite, LEVEL, both, casts, ground, tooth_guided};
use whole_checks::random;
use whole_checks::tolerance::{ROUNDED, SOLVED};

/// What a check of depths is to have something to find by.
const SOMETHING_MM: f64 = 0.1;

const RIGHT: Movement = Movement::Lateral { working: Side::Right };
const LEFT: Movement = Movement::Lateral { working: Side::Left };

/// What is searched for between two looks is found to this, in millimetres: the depth changes by at
/// most its own length with the advance, which is found to a hundred thousandth.
const FOUND_MM: f64 = 2e-5;
/// Steps of the second derivation over the excursion.
const FINE: u32 = 3000;
/// Told however shallow.
const SHALLOWEST: Length = Length::from_mm(1e-7);
/// A micrometre.
const MICROMETRE: f64 = 1e-3;

fn front() -> Vec<Bite> {
    let canine = Bite { outward: 0.7, inward: -0.7, forward: 0.5, ..Bite::of(3, Side::Right) };
    let incisor = Bite { forward: 0.6, ..Bite::of(1, Side::Right) };
    [canine, incisor].into_iter().flat_map(both).collect()
}

fn with_molars(slopes: [[f64; 3]; 2]) -> Vec<Bite> {
    let molar =
        |side, [forward, outward, inward]: [f64; 3]| Bite { forward, outward, inward, ..Bite::of(6, side) };
    front().into_iter().chain([molar(Side::Right, slopes[0]), molar(Side::Left, slopes[1])]).collect()
}

fn search() -> InterferenceSearch {
    InterferenceSearch { least: SHALLOWEST, ..InterferenceSearch::default() }
}

fn interferences_of(
    instrument: &Instrument,
    casts: Arc<Casts>,
    plane: OcclusalPlane,
    movement: Movement,
) -> Vec<Interference> {
    let mounted = Mounted::new(instrument.clone(), casts, plane);
    let all = mounted.interferences(movement, &search()).expect("a pose");
    let short = (search().to - all.guided_to).mm();
    assert!(short.abs() < SOLVED, "the canines lead all the way, but for {short} mm");
    assert!(all.guides_apart.expect("guides").mm().abs() < SOLVED);
    all.found
}

/// The greatest depth of a tip in its own fossa along a level plane's normal, over the excursion that the
/// guides alone make: where the tip goes, against the height of the fossa there.
fn deepest(tip: &Bite, guides: &[Bite], movement: Movement) -> f64 {
    let mechanism = Mechanism::new(&tooth_guided()).with_casts(casts(guides));
    let [x, y, z] = tip.tip;
    (0..=FINE)
        .map(|step| {
            let advance = Length::from_mm(3.0 * f64::from(step) / f64::from(FINE));
            let jaw = mechanism.at(movement, Station::advanced(advance)).expect("a pose").jaw;
            let at = jaw.to_upper(&LowerPoint::mm(x, y, z));
            at.z() - tip.fossa_height(at.x(), at.y())
        })
        .fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn the_depth_is_that_of_the_tip_in_its_fossa_while_the_canine_alone_guides() {
    let bites = with_molars([[0.1, 0.9, 0.2], [0.2, 0.1, 1.3]]);
    let guides: Vec<Bite> = bites.iter().filter(|bite| bite.upper % 10 == 3).copied().collect();
    let interferences = interferences_of(&tooth_guided(), casts(&bites), LEVEL, RIGHT);
    assert_eq!(interferences.len(), 2, "{interferences:?}");
    for interference in &interferences {
        let (upper, lower) = interference.teeth();
        let bite = bites.iter().find(|bite| Tooth::new(bite.upper).ok() == upper).expect("a bite");
        assert_eq!(lower, Tooth::new(bite.lower).ok());
        let expected = deepest(bite, &guides, RIGHT);
        assert!(expected > SOMETHING_MM, "the test is to have something to find: {expected}");
        let depth = interference.upper_reduction.mm();
        assert!((depth - expected).abs() < FOUND_MM, "{depth} for {expected}");
        assert!((interference.nearest.gap.mm() + depth).abs() < ROUNDED);
        // Over one plane of the fossa square depth is depth times the cosine of its incline; the
        // tip is a vertex.
        assert!(interference.square.mm() < depth && interference.square.mm() > depth * 0.5);
        let kind = if bite.tip[1] < 0.0 { ContactKind::Working } else { ContactKind::Orbiting };
        assert_eq!(interference.kind, kind);
        assert!(interference.from.mm() <= interference.advance.mm());
        assert!(interference.advance.mm() <= interference.to.mm());
    }
    assert!(
        interferences[0].upper_reduction.mm() >= interferences[1].upper_reduction.mm(),
        "the deepest comes first"
    );
}

#[test]
fn with_group_function_intended_the_working_molar_may_lead_and_the_orbiting_one_may_not() {
    let bites = with_molars([[0.1, 0.9, 0.2], [0.2, 0.1, 1.9]]);
    let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
    let kinds = |intended| {
        let search = InterferenceSearch { intended, ..search() };
        let all = mounted.interferences(RIGHT, &search).expect("a pose").found;
        all.iter().map(|interference| interference.kind).collect::<Vec<_>>()
    };
    assert_eq!(kinds(Intended::CANINE_GUIDED).len(), 2);
    assert_eq!(kinds(Intended::GROUP_FUNCTION), [ContactKind::Orbiting]);
    assert_eq!(kinds(Intended::BALANCED), []);
}

#[test]
fn a_table_that_leads_is_the_guide_that_teeth_are_in_the_way_of() {
    let bites = with_molars([[0.1, 0.9, 0.2], [0.2, 0.1, 0.7]]);
    let mut instrument = tooth_guided();
    instrument.pin_extension = Length::ZERO;
    instrument.anterior_guide = AnteriorGuide::Table(Trough::LEVEL);
    let mounted = Mounted::new(instrument.clone(), casts(&bites), LEVEL);
    let interferences = mounted.interferences(RIGHT, &search()).expect("a pose").found;
    let working =
        interferences.iter().find(|one| one.kind == ContactKind::Working).expect("the working molar");
    let mechanism = Mechanism::new(&instrument);
    let molar = bites.iter().find(|bite| bite.upper == 16).expect("the molar");
    let [x, y, z] = molar.tip;
    let depth = |step: u32| {
        let advance = Length::from_mm(3.0 * f64::from(step) / f64::from(FINE));
        let at = mechanism.at(RIGHT, Station::advanced(advance)).expect("a pose").jaw;
        let at = at.to_upper(&LowerPoint::mm(x, y, z));
        at.z() - molar.fossa_height(at.x(), at.y())
    };
    let expected = (0..=FINE).map(depth).fold(0.0, f64::max);
    assert!((working.upper_reduction.mm() - expected).abs() < FOUND_MM);
    // The canines are pierced on a level table as well; they are meant to touch and are not told.
    assert!(interferences.iter().all(|one| one.nearest.upper_tooth != Tooth::new(13).ok()));
}

#[test]
fn guides_that_stand_apart_at_rest_are_told() {
    let mut bites = with_molars([[0.1; 3]; 2]);
    for bite in bites.iter_mut().filter(|bite| bite.upper % 10 == 3) {
        bite.clear_mm = 0.2;
    }
    let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
    let all = mounted.interferences(RIGHT, &search()).expect("a pose");
    assert!((all.guides_apart.expect("canines").mm() - 0.2).abs() < SOLVED, "{:?}", all.guides_apart);
}

#[test]
fn a_wrong_inclination_hides_an_interference_or_invents_one() {
    let bites = with_molars([[0.75, 0.1, 0.1], [0.2, 0.1, 0.1]]);
    let at_inclination = |degrees: f64| {
        let mut instrument = tooth_guided();
        for side in Side::BOTH {
            instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(degrees);
        }
        interferences_of(&instrument, casts(&bites), LEVEL, Movement::Protrusive)
    };
    let (flat, steep) = (at_inclination(20.0), at_inclination(50.0));
    assert_eq!((flat.len(), steep.len()), (1, 0), "{flat:?} {steep:?}");
    let hidden = differences(&flat, &steep);
    assert_eq!(hidden, [Difference::Hidden(flat[0])]);
    assert!((hidden[0].growth_mm() + flat[0].upper_reduction.mm()).abs() < ROUNDED);
    assert_eq!(differences(&steep, &flat), [Difference::Invented(flat[0])]);
    let flatter = at_inclination(10.0);
    assert_eq!(differences(&flat, &flatter), [Difference::Changed { before: flat[0], after: flatter[0] }]);
    assert!(differences(&flat, &flatter)[0].growth_mm() > 0.0);
    assert!(differences(&flat, &flat)[0].growth_mm().abs() < ROUNDED);
}

#[test]
fn alike_sides_have_alike_interferences() {
    let slopes = [0.4, 0.8, 0.7];
    let bites = with_molars([slopes, slopes]);
    let [right, left] =
        [RIGHT, LEFT].map(|movement| interferences_of(&tooth_guided(), casts(&bites), LEVEL, movement));
    assert_eq!(right.len(), left.len());
    assert!(!right.is_empty());
    for (right, left) in right.iter().zip(&left) {
        assert_eq!(
            (right.kind, right.nearest.upper_tooth.map(Tooth::position)),
            (left.kind, left.nearest.upper_tooth.map(Tooth::position))
        );
        assert!((right.upper_reduction.mm() - left.upper_reduction.mm()).abs() < SOLVED);
        assert!((right.lower_reduction.mm() - left.lower_reduction.mm()).abs() < SOLVED);
        assert!((right.nearest.upper.y() + left.nearest.upper.y()).abs() < FOUND_MM);
    }
}

fn slopes() -> impl Strategy<Value = [f64; 3]> {
    [0.0..1.2_f64, 0.0..1.2_f64, 0.0..1.2_f64]
}

fn movement() -> impl Strategy<Value = Movement> {
    prop_oneof![
        Just(Movement::Protrusive),
        Just(RIGHT),
        Just(LEFT),
        (0.1..0.9_f64).prop_map(|ratio| Movement::Lateroprotrusive {
            working: Side::Left,
            ratio: Ratio::new(ratio).expect("between 0 and 1"),
        }),
    ]
}

proptest! {
    #![proptest_config(random::cases(16))]

    #[test]
    fn the_reduction_told_and_a_micrometre_frees_a_tooth_and_a_micrometre_less_does_not(
        right in slopes(), left in slopes(), movement in movement(),
        tilt in -5.0..15.0_f64, of_upper in any::<bool>(), immediate in prop_oneof![Just(0.0), 0.1..0.6_f64],
    ) {
        let bites = with_molars([right, left]);
        let plane = OcclusalPlane { inclination: Angle::from_degrees(tilt) };
        let mut instrument = tooth_guided();
        for side in Side::BOTH {
            instrument.guide_mut(side).immediate_translation = Length::from_mm(immediate);
        }
        let interferences = interferences_of(&instrument, casts(&bites), plane, movement);
        let reduction = |one: &Interference| if of_upper { one.upper_reduction } else { one.lower_reduction };
        // All that is told of a tooth comes off it, and so much more or less.
        let after = |more: f64| {
            let off = |tooth: i64, of: &dyn Fn(&Interference) -> Option<Tooth>| {
                let of_tooth = interferences.iter().filter(|one| of(one) == Tooth::new(tooth).ok());
                let depth = of_tooth.map(|one| reduction(one).mm()).fold(0.0, f64::max);
                if depth > 0.0 { plane.normal() * (depth + more).max(0.0) } else { Vector3::zeros() }
            };
            let upper = |bite: &Bite| {
                if of_upper { off(bite.upper, &|one| one.nearest.upper_tooth) } else { Vector3::zeros() }
            };
            let lower = |bite: &Bite| {
                if of_upper { Vector3::zeros() } else { off(bite.lower, &|one| one.nearest.lower_tooth) }
            };
            interferences_of(&instrument, ground(&bites, upper, lower), plane, movement)
        };
        prop_assert!(after(MICROMETRE).is_empty());
        for one in after(-MICROMETRE) {
            prop_assert!(reduction(&one).mm() < MICROMETRE + FOUND_MM);
        }
        let deep = interferences.iter().filter(|one| reduction(one).mm() > 2.0 * MICROMETRE).count();
        prop_assert!(after(-MICROMETRE).len() >= deep);
    }
}

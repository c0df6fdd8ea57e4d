//! What the invented casts do on the teaching instrument, as measured: their forms are chosen, and what
//! follows from them is not.

use std::sync::Arc;

use sim_core::cast::invented::InventedCasts;
use sim_core::cast::{Casts, ToothPlaces};
use sim_core::cusp::Tooth;
use sim_core::excursion::Movement;
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::occlusion::{
    ContactKind, Intended, Interference, InterferenceSearch, Mounted, Scheme, Stretch, Verdict,
};
use sim_core::units::{Angle, Length};
use whole_checks::hand_made::{LEVEL, tooth_guided};
use whole_checks::tolerance::SOLVED;

/// “All of the way”, to a hundredth of it.
const ALL_THE_WAY: f64 = 0.99;

const LATERAL: [Movement; 2] =
    [Movement::Lateral { working: Side::Right }, Movement::Lateral { working: Side::Left }];

/// Looks that are far enough apart for a quick check.
const STEP: Length = Length::from_mm(0.25);

fn mounted(settings: InventedCasts, plane: OcclusalPlane, inclination: f64) -> Mounted {
    let settings = InventedCasts { fineness: Length::from_mm(1.0), ..settings };
    let pair = settings.make(plane).expect("a pair");
    let casts = Casts::new(pair.upper, pair.lower, &ToothPlaces::none());
    let mut instrument = tooth_guided();
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(inclination);
    }
    Mounted::new(instrument, Arc::new(casts), plane)
}

fn verdict_of(mounted: &Mounted, movement: Movement) -> Verdict {
    judged(mounted, movement, Intended::CANINE_GUIDED)
}

fn judged(mounted: &Mounted, movement: Movement, intended: Intended) -> Verdict {
    let stretch = Stretch { step: STEP, intended, ..Stretch::default() };
    let verdict = mounted.scheme(movement, &stretch).expect("a pose");
    println!("{} {:?} {:?}", movement.name(), verdict.scheme, verdict.shares);
    verdict
}

fn in_the_way(mounted: &Mounted, movement: Movement, intended: Intended) -> Vec<Interference> {
    let search = InterferenceSearch { intended, step: STEP, ..InterferenceSearch::default() };
    mounted.interferences(movement, &search).expect("a pose").found
}

fn cusps(degrees: f64) -> InventedCasts {
    InventedCasts { cusp_angle: Angle::from_degrees(degrees), ..InventedCasts::dentate() }
}

/// Upper teeth in contact, by position and kind, in any order of sides.
fn positions(verdict: &Verdict) -> Vec<(Option<u8>, ContactKind)> {
    let of = |tooth: Option<Tooth>| tooth.map(Tooth::position);
    let mut all: Vec<_> =
        verdict.evidence.iter().map(|held| (of(held.nearest.upper_tooth), held.kind)).collect();
    all.sort_unstable();
    all
}

#[test]
fn natural_teeth_are_canine_guided_to_both_sides_alike_and_front_teeth_lead_protrusion() {
    // With this much overjet the lower first premolars stay clear of the upper canines in protrusion.
    let overjet = Length::from_mm(3.5);
    let mounted = mounted(InventedCasts { overjet, ..InventedCasts::dentate() }, LEVEL, 30.0);
    let sides = LATERAL.map(|movement| verdict_of(&mounted, movement));
    for side in &sides {
        assert_eq!(side.scheme, Scheme::CanineGuided);
        assert!(side.evidence.iter().all(|held| held.kind == ContactKind::Working));
    }
    assert!((sides[0].share - sides[1].share).abs() < SOLVED);
    assert_eq!(positions(&sides[0]), positions(&sides[1]));
    let protrusive = verdict_of(&mounted, Movement::Protrusive);
    assert_eq!(protrusive.scheme, Scheme::AnteriorGuided);
    assert!(protrusive.share > ALL_THE_WAY);
}

#[test]
fn steep_cusps_lead_in_place_of_the_canine_and_are_told_as_in_the_way() {
    let [mild, steep] = [25.0, 38.0].map(|degrees| {
        let mounted = mounted(cusps(degrees), LEVEL, 30.0);
        (verdict_of(&mounted, LATERAL[0]).scheme, in_the_way(&mounted, LATERAL[0], Intended::CANINE_GUIDED))
    });
    assert_eq!((mild.0, steep.0), (Scheme::CanineGuided, Scheme::GroupFunction));
    let back = |interferences: &[Interference]| {
        let molars = interferences.iter().filter(|one| one.nearest.upper_tooth == Tooth::new(16).ok());
        molars.map(|one| one.upper_reduction.mm()).fold(0.0, f64::max)
    };
    println!("first molar in the way by {} and {} mm", back(&mild.1), back(&steep.1));
    assert!(back(&steep.1) > 2.0 * back(&mild.1) && back(&steep.1) > 0.1);
}

#[test]
fn dentures_touch_on_both_sides_in_protrusion_and_steeper_guides_clear_the_orbiting_side() {
    let denture = || InventedCasts::complete_denture();
    let flat = mounted(denture(), LEVEL, 30.0);
    let protrusive = verdict_of(&flat, Movement::Protrusive);
    let on = |side| {
        let of_side = protrusive
            .evidence
            .iter()
            .filter(move |held| held.nearest.upper_tooth.map(Tooth::side) == Some(side));
        of_side.map(|held| held.share).fold(0.0, f64::max)
    };
    assert!((on(Side::Right) - on(Side::Left)).abs() < SOLVED && on(Side::Left) > ALL_THE_WAY);
    assert!(in_the_way(&flat, Movement::Protrusive, Intended::BALANCED).is_empty());
    let sides = [30.0, 60.0].map(|inclination| {
        let mounted = mounted(denture(), LEVEL, inclination);
        let verdict = judged(&mounted, LATERAL[0], Intended::BALANCED);
        let share = |wanted| {
            let of = verdict.shares.iter().filter(|(scheme, _)| *scheme == wanted);
            of.map(|(_, share)| share).sum::<f64>()
        };
        [share(Scheme::OrbitingGuided), share(Scheme::Balanced)]
    });
    println!("orbiting-guided and balanced over {sides:?} of the way");
    assert!(sides[0][0] > ALL_THE_WAY && sides[1][0] < 0.8 && sides[1][1] > 0.0, "{sides:?}");
}

//! The pin raised and lowered, the occlusal plane tilted and shifted: each change put into the instrument
//! here, solved forward, and compared with what the list of what-ifs tells.

use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Station};
use sim_core::frame::{OcclusalPlane, Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, Instrument};
use sim_core::plan::{
    AngleRange, ArchForm, Clearances, FacetPlace, Free, Goal, Meeting, Plan, Role, Variant, Wanted, Weight,
    WhatIf, disclude, required_inclines, what_ifs,
};
use sim_core::units::{Angle, Length};
use whole_checks::deg;
use whole_checks::random;
use whole_checks::tolerance::SOLVED;

/// Rounding of angles, and of answers that a solver ends within.
const EXACT_DEG: f64 = 1e-9;
/// What Richardson's difference over a thousandth of a millimetre leaves of a tangent, in degrees.
const DIFFERENCE_DEG: f64 = 1e-4;
const STEP_MM: f64 = 1e-3;
/// What two searches for the same answer from the same start may differ by, in degrees.
const SEARCH_DEG: f64 = 1e-6;

fn instrument(h: f64, l: f64, plate: f64, wings: f64, design: Design) -> Instrument {
    let guide = CondylarGuide::straight(deg(h), deg(l));
    Instrument {
        design,
        right_guide: guide.clone(),
        left_guide: guide,
        anterior_guide: AnteriorGuide::Table(Trough {
            sagittal_inclination: deg(plate),
            right_wing: deg(wings),
            left_wing: deg(wings),
            flat_half_width: Length::ZERO,
        }),
        ..Instrument::zeroed()
    }
}

fn plane(degrees: f64) -> OcclusalPlane {
    OcclusalPlane { inclination: deg(degrees) }
}

/// Required inclines only.
fn no_goal() -> Plan {
    Plan { chord: Length::from_mm(3.0), arch: None, tooth_axes: Vec::new(), goal: None }
}

fn first_molar() -> Tooth {
    Tooth::new(36).unwrap()
}

/// A what-if's change, made by hand.
fn changed(
    what: &WhatIf,
    instrument: &Instrument,
    stands: OcclusalPlane,
) -> (Instrument, OcclusalPlane, ArchForm) {
    let mut instrument = Instrument { design: what.design, ..instrument.clone() };
    let (mut plane, mut arch) = (stands, ArchForm::usual(&instrument));
    match what.variant {
        Variant::AsItStands => {}
        Variant::Pin(by) => instrument.pin_extension = instrument.pin_extension + by,
        Variant::Tilt(by) => plane.inclination = plane.inclination + by,
        Variant::Shift(by) => arch.above = arch.above + by,
    }
    (instrument, plane, arch)
}

/// The incline at which a place of the lower jaw starts its way since rest, in degrees to a plane.
fn incline_by_differences(
    instrument: &Instrument,
    plane: OcclusalPlane,
    role: Role,
    at: &Vector3<f64>,
) -> f64 {
    let mechanism = Mechanism::new(instrument);
    let rest = mechanism.rest().unwrap().jaw;
    let in_the_jaw = rest.to_lower(&UpperPoint::from_coords(*at));
    let moved = |advance: f64| {
        let station = Station::advanced(Length::from_mm(advance));
        let placed = mechanism.at(role.movement(Side::Left), station).unwrap();
        (placed.jaw.to_upper(&in_the_jaw).coords() - at) / advance
    };
    let way = moved(STEP_MM / 2.0) * 2.0 - moved(STEP_MM);
    let fall = -way.dot(&plane.normal());
    fall.atan2(way.dot(&plane.anterior()).hypot(way.y)).to_degrees()
}

prop_compose! {
    fn settings()(
        h in 10.0..50.0_f64, l in 0.0..20.0_f64, plate in 0.0..45.0_f64, wings in 0.0..30.0_f64,
        tilt in 0.0..15.0_f64, non_arcon in any::<bool>(),
    ) -> (Instrument, OcclusalPlane) {
        let design = if non_arcon { Design::NonArcon } else { Design::Arcon };
        (instrument(h, l, plate, wings, design), plane(tilt))
    }
}

proptest! {
    #![proptest_config(random::cases(60))]

    #[test]
    fn every_incline_told_is_that_of_the_changed_instrument((instrument, stands) in settings()) {
        let all = what_ifs(&instrument, stands, &[], &no_goal()).unwrap();
        // Nothing, four pins, two tilts and two shifts, each on both designs.
        prop_assert_eq!(all.len(), 18);
        for what in &all {
            let (changed, plane, arch) = changed(what, &instrument, stands);
            let teeth = arch.teeth(&changed, plane).unwrap();
            let at = teeth.iter().find(|tooth| tooth.tooth == first_molar()).unwrap().at;
            for (role, incline) in [
                (Role::Protrusive, &what.inclines.protrusive),
                (Role::Working, &what.inclines.working),
                (Role::Orbiting, &what.inclines.orbiting),
            ] {
                let by_differences = incline_by_differences(&changed, plane, role, &at);
                let incline = incline.tangent.along_way.degrees();
                prop_assert!((incline - by_differences).abs() < DIFFERENCE_DEG, "{:?} {role:?}: {incline} {by_differences}", what.variant);
            }
        }
    }

    /// With the pin flush the designs are one mechanism, so far as the start of a way tells.
    #[test]
    fn flush_designs_need_the_same_and_opened_ones_part_by_the_opening((instrument, stands) in settings()) {
        let all = what_ifs(&instrument, stands, &[], &no_goal()).unwrap();
        let of = |variant: Variant, design: Design| {
            all.iter().find(|what| what.variant == variant && what.design == design).unwrap()
        };
        let protrusive = |what: &WhatIf| what.inclines.protrusive.tangent.along_way.degrees();
        for what in &all {
            let (arcon, non_arcon) = (of(what.variant, Design::Arcon), of(what.variant, Design::NonArcon));
            prop_assert!((arcon.opening - non_arcon.opening).degrees().abs() < EXACT_DEG);
            // The guides of a non-arcon instrument turn with the jaw: opened by an angle, it starts as an
            // arcon one whose guides are steeper by that angle.
            let (mut same, plane, arch) = changed(arcon, &instrument, stands);
            for side in Side::BOTH {
                let guide = same.guide_mut(side);
                guide.horizontal_inclination = guide.horizontal_inclination + non_arcon.opening;
            }
            let teeth = arch.teeth(&same, plane).unwrap();
            let places: Vec<_> = teeth
                .iter()
                .filter(|tooth| tooth.tooth == first_molar())
                .map(|tooth| FacetPlace::of_tooth(tooth, &[]))
                .collect();
            let needed = required_inclines(&same, plane, &places, Length::from_mm(3.0)).unwrap();
            let steeper = needed[0].protrusive.tangent.along_way.degrees();
            prop_assert!((protrusive(non_arcon) - steeper).abs() < EXACT_DEG, "{:?}: {} {steeper}", what.variant, protrusive(non_arcon));
        }
    }

    /// On a level table the pin tip, let down by e, stands on the table's plane when
    /// x sin θ + (z − e) cos θ = z, with the incisal point at x, z.
    #[test]
    fn the_pin_opens_the_instrument_by_the_closed_form(
        h in 0.0..50.0_f64, non_arcon in any::<bool>(), extension in -1.0..1.0_f64,
    ) {
        let design = if non_arcon { Design::NonArcon } else { Design::Arcon };
        let mut instrument = instrument(h, 10.0, 0.0, 0.0, design);
        instrument.pin_extension = Length::from_mm(extension);
        let all = what_ifs(&instrument, plane(5.0), &[], &no_goal()).unwrap();
        let tip = instrument.incisal_point.coords();
        let mut pins = 0;
        for what in &all {
            let by = if let Variant::Pin(by) = what.variant { by.mm() } else { 0.0 };
            pins += usize::from(by != 0.0);
            let (x, z) = (tip.x, tip.z - extension - by);
            let opening = (tip.z / x.hypot(z)).asin() - z.atan2(x);
            prop_assert!((what.opening.degrees() - opening.to_degrees()).abs() < EXACT_DEG, "{by}: {} {}", what.opening.degrees(), opening.to_degrees());
        }
        prop_assert_eq!(pins, 8);
    }

    /// The plane is tilted about the incisal point and shifted along its normal, with its teeth.
    #[test]
    fn teeth_go_with_the_plane((instrument, stands) in settings()) {
        let all = what_ifs(&instrument, stands, &[], &no_goal()).unwrap();
        let stood = all[0].inclines.place.at;
        let pivot = instrument.incisal_point.coords();
        let mut moved = 0;
        for what in &all {
            let at = match what.variant {
                Variant::AsItStands | Variant::Pin(_) => stood,
                // Anterior edge down is a turn about the axis to the left.
                Variant::Tilt(by) => {
                    moved += 1;
                    Rotation3::from_axis_angle(&Vector3::y_axis(), by.radians()) * (stood - pivot) + pivot
                }
                Variant::Shift(by) => {
                    moved += 1;
                    stood + stands.normal() * by.mm()
                }
            };
            prop_assert!((what.inclines.place.at - at).amax() < SOLVED, "{:?}: {:?} {at:?}", what.variant, what.inclines.place.at);
        }
        prop_assert_eq!(moved, 8);
    }
}

#[test]
fn without_a_pin_there_is_none_to_move() {
    let mut instrument = instrument(30.0, 15.0, 40.0, 20.0, Design::Arcon);
    instrument.anterior_guide = AnteriorGuide::Incisors(*instrument.anterior_guide.trough().unwrap());
    let all = what_ifs(&instrument, plane(10.0), &[], &no_goal()).unwrap();
    assert_eq!(all.len(), 10);
    assert!(all.iter().all(|what| !matches!(what.variant, Variant::Pin(_)) && what.answer.is_none()));
}

/// The goal is asked again of each changed instrument, cusps and all.
#[test]
fn the_goals_answer_is_that_of_the_changed_instrument() {
    let instrument = instrument(36.0, 15.0, 25.0, 10.0, Design::Arcon);
    let stands = plane(10.0);
    let incline = deg(25.0);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let cusp =
        |at: Vector3<f64>| [Cusp::new(first_molar(), "mesiobuccal", [at.x, at.y, at.z], opposing).unwrap()];
    let stood = Vector3::new(66.0, 24.0, -36.5);
    let wanted = |excursion, clearance| Wanted {
        tooth: first_molar(),
        name: None,
        excursion,
        advance: Length::from_mm(3.0),
        clearance: Length::from_mm(clearance),
    };
    let range = |most| AngleRange { least: Angle::ZERO, most: deg(most), weight: Weight::ONE };
    let goal = Clearances {
        clearances: vec![wanted(Role::Protrusive, 0.8), wanted(Role::Working, 0.3)],
        by: Meeting::AtLeast,
        free: vec![Free::IncisalGuidance(range(60.0)), Free::LateralIncisalGuidance(range(45.0))],
    };
    let plan = Plan { goal: Some(Goal::Disclusion(goal.clone())), ..no_goal() };
    let all = what_ifs(&instrument, stands, &cusp(stood), &plan).unwrap();
    assert_eq!(all.len(), 18);
    let pivot = instrument.incisal_point.coords();
    let mut answers = Vec::new();
    for what in &all {
        let (changed, plane, _) = changed(what, &instrument, stands);
        let moved = cusp(match what.variant {
            Variant::AsItStands | Variant::Pin(_) => stood,
            Variant::Tilt(by) => {
                Rotation3::from_axis_angle(&Vector3::y_axis(), by.radians()) * (stood - pivot) + pivot
            }
            Variant::Shift(by) => stood + stands.normal() * by.mm(),
        });
        let alone = disclude(&changed, plane, &moved, &goal).unwrap();
        let answer = what.answer.as_ref().unwrap();
        assert_eq!((answer.met, answer.changes.len()), (alone.met, 2), "{:?}", what.variant);
        for (change, alone) in answer.changes.iter().zip(&alone.changes) {
            assert!(
                (change.to - alone.to).degrees().abs() < SEARCH_DEG,
                "{:?}: {change:?} {alone:?}",
                what.variant
            );
        }
        answers.push(answer.changes[0].to.degrees());
    }
    // A plane that stands steeper is nearer to the condylar path, so that a steeper table must make up for
    // what it takes: the what-ifs do not all say the same.
    let of = |variant| answers[all.iter().position(|what| what.variant == variant).unwrap()];
    assert!(of(Variant::Tilt(deg(5.0))) > of(Variant::AsItStands) + 1.0);
    assert!(of(Variant::AsItStands) > of(Variant::Tilt(deg(-5.0))) + 1.0);
}

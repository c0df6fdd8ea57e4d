//! Guidance for wanted clearances: every answer is put into the forward solver, and stands beside
//! SciPy's. `outside/plan_scipy.py` made the table and says how.

use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::plan::{
    AngleRange, Clearances, Disclosed, Factor, Free, Meeting, Role, Wanted, Weight, disclude,
};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};
use whole_checks::deg;
use whole_checks::random;
use whole_checks::table::{Outcome, Row, Table};
use whole_checks::tolerance::SOLVED;

/// An angle found by least squares: the sum is flat there, and half of its digits are lost.
const LEAST_SQUARES_DEG: f64 = 1e-6;
/// A cusp that is a tenth of a degree too steep takes more than this of the clearance.
const TOO_STEEP_MM: f64 = 1e-5;
/// Step of a central difference, in degrees, and what it leaves: half of the digits of a clearance over
/// the step; of the quotient of two such slopes, ten times that.
const STEP_DEG: f64 = 1e-4;
const SLOPE: f64 = 1e-6;
const QUOTIENT: f64 = 1e-5;
/// What the search may leave of the least change above that of the table that is known to do.
const CHANGE_DEG: f64 = 1e-6;

/// What the forward solver may leave of a clearance, in millimetres.
const CLEARANCE_MM: f64 = 1e-9;

fn instrument(condylar: f64, lateral: f64, plate: f64, wings: f64) -> Instrument {
    let guide = CondylarGuide::straight(deg(condylar), deg(lateral));
    let trough = Trough {
        sagittal_inclination: deg(plate),
        right_wing: deg(wings),
        left_wing: deg(wings),
        flat_half_width: Length::ZERO,
    };
    Instrument {
        right_guide: guide.clone(),
        left_guide: guide,
        anterior_guide: AnteriorGuide::Table(trough),
        ..Instrument::zeroed()
    }
}

fn plane() -> OcclusalPlane {
    OcclusalPlane { inclination: deg(10.0) }
}

fn opposing(degrees: f64) -> OpposingInclines {
    OpposingInclines {
        protrusive: deg(degrees),
        retrusive: deg(degrees),
        working: deg(degrees),
        nonworking: deg(degrees),
    }
}

fn cusps(degrees: f64) -> Vec<Cusp> {
    [(36, [66.0, 24.0, -36.5]), (37, [55.0, 26.5, -34.5]), (26, [64.0, 21.0, -36.0])]
        .map(|(number, at)| {
            Cusp::new(Tooth::new(number).unwrap(), "mesiobuccal", at, opposing(degrees)).unwrap()
        })
        .to_vec()
}

fn wanted(number: i64, excursion: Role, clearance: f64) -> Wanted {
    Wanted {
        tooth: Tooth::new(number).unwrap(),
        name: None,
        excursion,
        advance: Length::from_mm(3.0),
        clearance: Length::from_mm(clearance),
    }
}

fn free() -> Vec<Free> {
    let range = |most| AngleRange { least: Angle::ZERO, most: deg(most), weight: Weight::ONE };
    vec![Free::IncisalGuidance(range(60.0)), Free::LateralIncisalGuidance(range(45.0))]
}

/// A clearance by the forward solver.
fn forward(instrument: &Instrument, plane: OcclusalPlane, cusp: &Cusp, role: Role, advance: Length) -> f64 {
    let movement = role.movement(cusp.tooth().side());
    let placed = Mechanism::new(instrument).at(movement, Station::advanced(advance)).unwrap();
    let gauges = Gauges::new(plane, std::slice::from_ref(cusp));
    gauges.read(&placed.jaw).next().unwrap().clearance.mm()
}

fn shown_by_the_forward_solver(plan: &Disclosed, plane: OcclusalPlane) {
    for target in &plan.reached {
        let clearance =
            forward(&plan.instrument, plane, &plan.cusps[target.cusp], target.role, target.advance);
        assert!((clearance - target.reached.mm()).abs() <= CLEARANCE_MM, "{target:?}: {clearance}");
        if plan.met {
            assert!(clearance >= target.wanted.mm() - CLEARANCE_MM, "{target:?}: {clearance}");
        }
    }
}

/// The published means: 1.1, 1.0 and 0.5 mm in protrusion, on the orbiting and on the working side
/// (Hobo S, Takayama H, from memory).
#[test]
fn the_published_disclusion_is_planned_and_found_again_by_the_forward_solver() {
    let instrument = instrument(40.0, 15.0, 20.0, 5.0);
    let wants = vec![
        wanted(36, Role::Protrusive, 1.1),
        wanted(36, Role::Orbiting, 1.0),
        wanted(36, Role::Working, 0.5),
    ];
    let goal = Clearances { clearances: wants, by: Meeting::AtLeast, free: free() };
    let plan = disclude(&instrument, plane(), &cusps(25.0), &goal).unwrap();
    assert!(plan.met && plan.in_the_way.is_none());
    shown_by_the_forward_solver(&plan, plane());
    // The least change leans on something, else it would be no change at all.
    assert!(plan.reached.iter().any(|target| target.holds));
    assert!(plan.reached.iter().any(|target| target.before < target.wanted));
    // With the same bounds every clearance lies between the least and the greatest that can be.
    for target in &plan.reached {
        assert!(target.reach.0 <= target.reached && target.reached <= target.reach.1, "{target:?}");
    }
}

#[test]
fn as_many_unknowns_as_wants_meet_them_exactly() {
    let before = instrument(35.0, 15.0, 20.0, 10.0);
    let known = instrument(35.0, 15.0, 41.0, 23.0);
    let all = cusps(20.0);
    let there = |role| forward(&known, plane(), &all[0], role, Length::from_mm(3.0));
    let wants = vec![
        wanted(36, Role::Protrusive, there(Role::Protrusive)),
        wanted(36, Role::Working, there(Role::Working)),
    ];
    let goal = Clearances { clearances: wants, by: Meeting::LeastSquares, free: free() };
    let plan = disclude(&before, plane(), &all, &goal).unwrap();
    assert!(plan.met);
    shown_by_the_forward_solver(&plan, plane());
    assert!((plan.changes[0].to.degrees() - 41.0).abs() < LEAST_SQUARES_DEG, "{:?}", plan.changes);
    assert!((plan.changes[1].to.degrees() - 23.0).abs() < LEAST_SQUARES_DEG, "{:?}", plan.changes);
}

#[test]
fn a_clearance_out_of_reach_is_said_with_the_cusp_in_the_way_and_the_nearest() {
    let instrument = instrument(20.0, 15.0, 20.0, 5.0);
    let low = AngleRange { least: Angle::ZERO, most: deg(30.0), weight: Weight::ONE };
    let wants = vec![wanted(36, Role::Protrusive, 0.1), wanted(37, Role::Protrusive, 3.0)];
    let goal = Clearances { clearances: wants, by: Meeting::AtLeast, free: vec![Free::IncisalGuidance(low)] };
    let plan = disclude(&instrument, plane(), &cusps(25.0), &goal).unwrap();
    assert!(!plan.met);
    let worst = &plan.reached[plan.in_the_way.unwrap()];
    assert_eq!(worst.tooth.number(), 37);
    assert!(worst.reach.1 < worst.wanted && (worst.reach.1 - worst.reached).mm().abs() < SOLVED, "{worst:?}");
    assert!((plan.changes[0].to.degrees() - 30.0).abs() < SOLVED, "the nearest is the steepest");
    shown_by_the_forward_solver(&plan, plane());
}

#[test]
fn the_steepest_incline_of_a_cusp_leaves_just_the_clearance_wanted() {
    let instrument = instrument(40.0, 15.0, 45.0, 20.0);
    let wants = vec![
        wanted(36, Role::Protrusive, 0.4),
        wanted(36, Role::Working, 0.3),
        wanted(36, Role::Orbiting, 0.6),
    ];
    let goal = Clearances { clearances: wants.clone(), by: Meeting::AtLeast, free: free() };
    let plan = disclude(&instrument, plane(), &cusps(0.0), &goal).unwrap();
    let allowance = &plan.allowances[0];
    let steepest = allowance.inclines.map(|(_, _, most)| most.unwrap_or(Angle::ZERO));
    assert!(allowance.inclines[1].2.is_none() || steepest[1] > Angle::ZERO);
    let at = |inclines: [Angle; 4]| {
        let [protrusive, retrusive, working, nonworking] = inclines;
        let cusp = Cusp::new(
            Tooth::new(36).unwrap(),
            "mesiobuccal",
            [66.0, 24.0, -36.5],
            OpposingInclines { protrusive, retrusive, working, nonworking },
        )
        .unwrap();
        let clearance = |want: &Wanted| {
            forward(&plan.instrument, plane(), &cusp, want.excursion, want.advance) - want.clearance.mm()
        };
        wants.iter().map(clearance).fold(f64::INFINITY, f64::min)
    };
    // Just enough with all at their steepest; each one a little steeper alone is too much.
    assert!(at(steepest).abs() <= CLEARANCE_MM, "{}", at(steepest));
    for which in [0, 2, 3] {
        let mut steeper = steepest;
        steeper[which] = steeper[which] + deg(0.1);
        assert!(at(steeper) < -TOO_STEEP_MM, "{which}: {}", at(steeper));
    }
}

#[test]
fn a_free_cusp_inclination_is_ground_no_flatter_than_it_must_be() {
    let instrument = instrument(35.0, 15.0, 30.0, 15.0);
    let range = AngleRange { least: Angle::ZERO, most: deg(45.0), weight: Weight::ONE };
    let wants = vec![wanted(36, Role::Protrusive, 0.8), wanted(36, Role::Orbiting, 0.8)];
    let goal =
        Clearances { clearances: wants, by: Meeting::AtLeast, free: vec![Free::CuspInclination(range)] };
    let plan = disclude(&instrument, plane(), &cusps(35.0), &goal).unwrap();
    assert!(plan.met);
    shown_by_the_forward_solver(&plan, plane());
    assert!(plan.reached.iter().any(|target| target.holds) && plan.changes[0].to < plan.changes[0].from);
}

/// The sensitivities beside differences taken by hand over other steps, and beside the implicit
/// function: where one want holds one unknown, da/dH = −(∂c/∂H)/(∂c/∂a).
#[test]
fn sensitivities_are_those_of_the_implicit_function() {
    let before = instrument(35.0, 15.0, 20.0, 10.0);
    let one = || vec![free().remove(0)];
    let wants = vec![wanted(36, Role::Protrusive, 1.2)];
    let goal = Clearances { clearances: wants, by: Meeting::AtLeast, free: one() };
    let all = cusps(20.0);
    let plan = disclude(&before, plane(), &all, &goal).unwrap();
    assert!(plan.met && plan.reached[0].holds);
    let clearance = |h: f64, l: f64, plate: f64| {
        forward(&instrument(h, l, plate, 10.0), plane(), &all[0], Role::Protrusive, Length::from_mm(3.0))
    };
    let plate = plan.changes[0].to.degrees();
    let step = STEP_DEG;
    let slope = |up: f64, down: f64| (up - down) / (2.0 * step);
    let by_h = slope(clearance(35.0 + step, 15.0, plate), clearance(35.0 - step, 15.0, plate));
    let by_l = slope(clearance(35.0, 15.0 + step, plate), clearance(35.0, 15.0 - step, plate));
    let by_plate = slope(clearance(35.0, 15.0, plate + step), clearance(35.0, 15.0, plate - step));
    for (sensitivity, by) in plan.sensitivities.iter().zip([by_h, by_l]) {
        assert!((sensitivity.clearance_per_degree[0].mm() - by).abs() < SLOPE, "{sensitivity:?}: {by}");
        assert!(
            (sensitivity.answer_per_degree[0] + by / by_plate).abs() < QUOTIENT,
            "{sensitivity:?}: {}",
            -by / by_plate
        );
    }
    assert_eq!(plan.sensitivities.len(), 2);
    assert_eq!(plan.sensitivities[0].of, Factor::CondylarGuidance);
    assert!(plan.sensitivities[0].answer_per_degree[0] < 0.0, "a steeper path asks for a flatter plate");
    assert!(plan.sensitivities[1].answer_per_degree[0].abs() < SLOPE, "L plays no part in protrusion");
}

#[test]
fn goals_that_make_no_sense_are_refused_with_what_would() {
    let instrument = instrument(35.0, 15.0, 20.0, 10.0);
    let refused = |clearances: Vec<Wanted>, free: Vec<Free>, part: &str| {
        let goal = Clearances { clearances, by: Meeting::AtLeast, free };
        let message = disclude(&instrument, plane(), &cusps(20.0), &goal).unwrap_err().to_string();
        assert!(message.contains(part), "{message}");
    };
    refused(vec![], free(), "clearances is empty");
    refused(vec![wanted(46, Role::Working, 1.0)], free(), "36 \"mesiobuccal\"");
    let named = Wanted { name: Some("lingual".to_owned()), ..wanted(36, Role::Working, 1.0) };
    refused(vec![named], free(), "no cusp \"lingual\"");
    let plane = AngleRange { least: deg(0.0), most: deg(10.0), weight: Weight::ONE };
    refused(vec![wanted(36, Role::Working, 1.0)], vec![Free::OcclusalPlane(plane)], "plays no part");
}

/// What holds the answer in a scene's file: read back as written, mistakes at their place.
#[test]
fn a_plan_stands_in_a_scenes_file() {
    let text = sim_core::scene::THIRTY_DEGREE.replacen(
        "samples: 13,",
        "samples: 13,\n    plan: (\n        arch: (behind_incisal_point_mm: 8.0, sagittal_curve_radius_mm: 150.0),\n        \
         tooth_axes: [(tooth: 36, forward_deg: 10.0)],\n        goal: Disclusion(clearances: [(tooth: 36, excursion: Working, \
         clearance_mm: 0.5)], free: [IncisalGuidance(least_deg: 10.0, most_deg: 50.0, weight: 2.0)]),\n    ),",
        1,
    );
    let scene = Scene::from_ron(&text).unwrap();
    let plan = scene.plan.as_ref().unwrap();
    assert_eq!((plan.chord.mm(), plan.tooth_axes[0].forward.degrees()), (3.0, 10.0));
    assert_eq!(Scene::from_ron(&scene.to_ron()).unwrap(), scene);
    for (what, with, parts) in [
        ("least_deg: 10.0", "least_deg: 60.0", ["above its most_deg", "free"]),
        ("least_deg: 10.0", "least_deg: 100.0", ["least_deg", "-45 to 85"]),
        ("weight: 2.0", "weight: 0.0", ["weight is 0", "0.001 to 1000"]),
        ("tooth: 36, excursion", "tooth: 38, excursion", ["tooth 38", "it watches"]),
        ("excursion: Working", "excursion: Sideways", ["Sideways", "Orbiting"]),
        ("clearance_mm: 0.5", "clearence_mm: 0.5", ["clearence_mm", "clearance_mm"]),
        ("behind_incisal_point_mm: 8.0", "behind_incisal_point_mm: NaN", ["NaN", "-10 to 60"]),
    ] {
        assert!(text.contains(what), "{what}");
        let refusal = Scene::from_ron(&text.replacen(what, with, 1)).unwrap_err();
        for part in parts {
            assert!(refusal.to_string().contains(part), "{with}: {refusal}");
        }
        assert!(refusal.line > 1, "{refusal}");
    }
}

const TABLE: &str = "plan_scipy.csv";
/// SLSQP stops where its cost, in square degrees or square millimetres, no longer falls; near a least
/// value the angles are known to the square root of that. Its derivatives are differences over 1e-6°.
const ANGLE_DEG: f64 = 2e-3;
/// The cost itself is known better, beside its size.
const COST: f64 = 1e-5;

#[test]
fn guidance_is_what_scipy_finds() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    assert!(table.rows().len() >= 20);
    let (mut angles, mut costs) = (0.0_f64, 0.0_f64);
    for row in table.rows() {
        let (plan, cost, wants) = planned(&row)?;
        let plane = OcclusalPlane { inclination: deg(row.number("occlusal_plane_deg")?) };
        shown_by_the_forward_solver(&plan, plane);
        if wants == Meeting::AtLeast {
            assert!(plan.met, "{row}");
        }
        // No more than SciPy's; where it is less, SciPy has stopped short.
        let theirs = row.number("cost")?;
        assert!(cost <= theirs + COST * theirs.max(1.0), "{row}: {cost} beside {theirs}");
        costs = costs.max((cost - theirs).abs());
        for (change, column) in plan.changes.iter().zip(["plate_deg", "wings_deg"]) {
            let off = (change.to.degrees() - row.number(column)?).abs();
            assert!(off <= ANGLE_DEG, "{row}: {change:?} is off by {off}°");
            angles = angles.max(off);
        }
    }
    println!("angles apart by at most {angles:.1e}°, costs by {costs:.1e}");
    Ok(())
}

fn planned(row: &Row<'_>) -> Outcome<(Disclosed, f64, Meeting)> {
    let number = |column: &str| row.number(column);
    let mut instrument = instrument(
        number("condylar_deg")?,
        number("lateral_deg")?,
        number("plate_from_deg")?,
        number("wings_from_deg")?,
    );
    instrument.incisal_point = IncisalPoint::mm(number("incisal_x_mm")?, 0.0, number("incisal_z_mm")?);
    if row.text("design")? == "NonArcon" {
        instrument.design = Design::NonArcon;
    }
    if row.text("anterior_guide")? == "Incisors" {
        instrument.anterior_guide =
            AnteriorGuide::Incisors(*instrument.anterior_guide.trough().ok_or("a trough")?);
    }
    let opposing = OpposingInclines {
        protrusive: deg(number("opposing_protrusive_deg")?),
        retrusive: deg(number("opposing_retrusive_deg")?),
        working: deg(number("opposing_working_deg")?),
        nonworking: deg(number("opposing_nonworking_deg")?),
    };
    let cusps = vec![
        Cusp::new(Tooth::new(36)?, "lower", [58.0, 25.0, -37.0], opposing)?,
        Cusp::new(Tooth::new(26)?, "upper", [61.0, 22.0, -37.5], opposing)?,
    ];
    let advance = Length::from_mm(number("advance_mm")?);
    let mut clearances = Vec::new();
    for (tooth, name, excursion) in [
        (36, "lower_protrusive", Role::Protrusive),
        (36, "lower_left_lateral", Role::Working),
        (36, "lower_right_lateral", Role::Orbiting),
        (26, "upper_protrusive", Role::Protrusive),
        (26, "upper_right_lateral", Role::Orbiting),
    ] {
        let clearance = Length::from_mm(number(&format!("wanted_{name}_mm"))?);
        clearances.push(Wanted { tooth: Tooth::new(tooth)?, name: None, excursion, advance, clearance });
    }
    let by = match row.text("question")? {
        "at_least" => Meeting::AtLeast,
        _ => Meeting::LeastSquares,
    };
    let plane = OcclusalPlane { inclination: deg(number("occlusal_plane_deg")?) };
    let plan = disclude(&instrument, plane, &cusps, &Clearances { clearances, by, free: free() })?;
    let cost = match by {
        Meeting::AtLeast => {
            plan.changes.iter().map(|change| (change.to - change.from).degrees().powi(2)).sum()
        }
        Meeting::LeastSquares => plan.reached.iter().map(|target| target.lacking().mm().powi(2)).sum(),
    };
    Ok((plan, cost, by))
}

proptest! {
    #![proptest_config(random::cases(150))]

    #[test]
    fn what_a_table_is_known_to_give_is_always_reached(
        (h, l) in (15.0..45.0_f64, 0.0..20.0_f64), (plate, wings) in (5.0..55.0_f64, 2.0..40.0_f64),
        (plate_from, wings_from) in (0.0..60.0_f64, 0.0..45.0_f64), less in 0.0..0.5_f64, cusp in 10.0..35.0_f64,
        non_arcon in any::<bool>(),
    ) {
        let with = |plate, wings| {
            let mut instrument = instrument(h, l, plate, wings);
            if non_arcon {
                instrument.design = Design::NonArcon;
            }
            instrument
        };
        let all = cusps(cusp);
        let known = with(plate, wings);
        let mut clearances = Vec::new();
        for tip in &all {
            for role in Role::ALL {
                let there = forward(&known, plane(), tip, role, Length::from_mm(3.0));
                clearances.push(wanted(i64::from(tip.tooth().number()), role, there - less));
            }
        }
        let goal = Clearances { clearances, by: Meeting::AtLeast, free: free() };
        let plan = disclude(&with(plate_from, wings_from), plane(), &all, &goal).unwrap();
        prop_assert!(plan.met, "{:?}", plan.changes);
        shown_by_the_forward_solver(&plan, plane());
        // The known table is one answer, so the least change is no larger.
        let change = |plate: f64, wings: f64| (plate - plate_from).hypot(wings - wings_from);
        let least = change(plan.changes[0].to.degrees(), plan.changes[1].to.degrees());
        prop_assert!(least <= change(plate, wings) + CHANGE_DEG, "{least} and {}", change(plate, wings));
        for target in &plan.reached {
            let [least, is, most] = [target.reach.0, target.reached, target.reach.1].map(Length::mm);
            prop_assert!(least <= is + CLEARANCE_MM && is <= most + CLEARANCE_MM, "{least}, {is}, {most}");
        }
    }

    /// What the reach of a clearance is told by: corners of the bounds, since nothing in between is more.
    #[test]
    fn a_steeper_guide_never_lessens_a_clearance_nor_does_a_flatter_cusp(
        (h, l) in (10.0..50.0_f64, 0.0..20.0_f64), (plate, wings) in (0.0..55.0_f64, 0.0..40.0_f64),
        steeper in 0.1..5.0_f64, cusp in 0.0..40.0_f64, non_arcon in any::<bool>(), incisors in any::<bool>(),
        working in prop_oneof![Just(Side::Right), Just(Side::Left)], which in 0..3_usize,
    ) {
        let read = |plate, wings, cusp| {
            let mut instrument = instrument(h, l, plate, wings);
            if non_arcon {
                instrument.design = Design::NonArcon;
            }
            if incisors {
                instrument.anterior_guide = AnteriorGuide::Incisors(*instrument.anterior_guide.trough().unwrap());
            }
            let cusp = &cusps(cusp)[which];
            let role = if working == Side::Left { Role::Working } else { Role::Orbiting };
            [Role::Protrusive, role].map(|role| forward(&instrument, plane(), cusp, role, Length::from_mm(3.0)))
        };
        let before = read(plate, wings, cusp);
        for after in [read(plate + steeper, wings, cusp), read(plate, wings + steeper, cusp)] {
            for (before, after) in before.iter().zip(after) {
                prop_assert!(after >= before - SOLVED, "{before} and {after}");
            }
        }
        for (before, after) in before.iter().zip(read(plate, wings, cusp + steeper)) {
            prop_assert!(after <= before + SOLVED, "{before} and {after}");
        }
    }
}

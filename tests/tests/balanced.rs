//! Balanced articulation: every backward answer is put into the forward solver, which must show the
//! contact that was asked for.

use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::plan::{
    AngleRange, ArchForm, Balance, Balanced, CurveRange, Factor, Free, Moulds, Role, Setup, Weight, balance,
};
use sim_core::units::{Angle, Length};
use whole_checks::deg;
use whole_checks::random;
use whole_checks::tolerance::{HALF_OF_THE_DIGITS, SOLVED};

/// A gap that is worth closing, or the check has nothing to do.
const GAP_MM: f64 = 0.1;
/// The middle of a central incisor stands some 0.2 mm behind the incisal point on the bend of the arch; it
/// parts by a fraction of that.
const FRONT_MM: f64 = 0.05;
/// What a search may leave above the least gap, where a gap changes as a square.
const LEAST_MM: f64 = 1e-6;

/// What the forward solver may leave of a contact, in millimetres.
const CONTACT_MM: f64 = 1e-9;

fn setup(condylar: f64, incisal: f64, wings: f64, plane: f64, cusps: f64) -> Setup {
    let guide = CondylarGuide::straight(deg(condylar), deg(15.0));
    let trough = Trough {
        sagittal_inclination: deg(incisal),
        right_wing: deg(wings),
        left_wing: deg(wings),
        flat_half_width: Length::ZERO,
    };
    let instrument = Instrument {
        right_guide: guide.clone(),
        left_guide: guide,
        anterior_guide: AnteriorGuide::Incisors(trough),
        incisal_point: IncisalPoint::mm(90.0, 0.0, -40.0),
        ..Instrument::zeroed()
    };
    let arch = ArchForm { transverse_curve: Length::from_mm(150.0), ..ArchForm::usual(&instrument) };
    Setup { plane: OcclusalPlane { inclination: deg(plane) }, arch, cusp_inclination: deg(cusps), instrument }
}

fn range(least: f64, most: f64) -> AngleRange {
    AngleRange { least: deg(least), most: deg(most), weight: Weight::ONE }
}

fn goal(setup: &Setup, free: Vec<Free>, teeth: &[i64], excursions: &[Role]) -> Balance {
    Balance {
        cusp_inclination: setup.cusp_inclination,
        advance: Length::from_mm(3.0),
        free,
        teeth: teeth.iter().map(|number| Tooth::new(*number).unwrap()).collect(),
        excursions: excursions.to_vec(),
    }
}

/// The gap at a back tooth by the forward solver and the gauges that every scene is read with: a cusp
/// at the tooth's place, opposed by facets of the cusp inclination tipped with the curves.
fn forward_gap(setup: &Setup, number: i64, role: Role, advance_mm: f64) -> f64 {
    let teeth = setup.arch.teeth(&setup.instrument, setup.plane).unwrap();
    let tooth = teeth.iter().find(|tooth| i64::from(tooth.tooth.number()) == number).unwrap();
    let (cusp, curve, across) = (setup.cusp_inclination, tooth.sagittal_tilt, tooth.transverse_tilt);
    let opposing = OpposingInclines {
        protrusive: cusp + curve,
        retrusive: cusp - curve,
        working: cusp - across,
        nonworking: cusp + across,
    };
    let cusp = Cusp::new(tooth.tooth, "middle", tooth.at.into(), opposing).unwrap();
    let movement = role.movement(tooth.tooth.side());
    let placed = Mechanism::new(&setup.instrument)
        .at(movement, Station::advanced(Length::from_mm(advance_mm)))
        .unwrap();
    Gauges::new(setup.plane, &[cusp]).read(&placed.jaw).next().unwrap().clearance.mm()
}

fn in_contact(balanced: &Balanced, teeth: &[i64], roles: &[Role]) {
    assert!(balanced.met, "{:?} leaves {:?}", balanced.changes, balanced.greatest);
    for number in teeth {
        for role in roles {
            let gap = forward_gap(&balanced.setup, *number, *role, 3.0);
            assert!(gap.abs() <= CONTACT_MM, "tooth {number} {}: {gap} mm", role.name());
        }
    }
}

fn alone(factor: Factor) -> Free {
    match factor {
        Factor::CondylarGuidance => Free::CondylarGuidance(range(0.0, 80.0)),
        Factor::IncisalGuidance => Free::IncisalGuidance(range(-20.0, 80.0)),
        Factor::LateralIncisalGuidance => Free::LateralIncisalGuidance(range(0.0, 80.0)),
        Factor::OcclusalPlane => Free::OcclusalPlane(range(-40.0, 40.0)),
        Factor::CompensatingCurve => {
            Free::CompensatingCurve(CurveRange { least_radius: Length::from_mm(60.0), weight: Weight::ONE })
        }
        _ => Free::CuspInclination(range(0.0, 60.0)),
    }
}

#[test]
fn each_of_the_five_factors_alone_balances_a_molar_in_protrusion() {
    let before = setup(35.0, 10.0, 10.0, 8.0, 6.0);
    let gap = forward_gap(&before, 36, Role::Protrusive, 3.0);
    assert!(gap > GAP_MM, "a molar that needs something: {gap}");
    for factor in Factor::FIVE {
        let balanced =
            balance(&before, &goal(&before, vec![alone(factor)], &[36], &[Role::Protrusive])).unwrap();
        in_contact(&balanced, &[36], &[Role::Protrusive]);
        let change = balanced.changes[0];
        assert_eq!((change.factor, balanced.changes.len()), (factor, 1));
        // A gap behind: the path asks for more than the teeth give, so a flatter guide in front or
        // behind closes it, or a steeper plane, curve or cusp (common practice, no source).
        let flatter = matches!(factor, Factor::CondylarGuidance | Factor::IncisalGuidance);
        assert_eq!(change.to < change.from, flatter, "{change:?}");
        // The list of what one factor alone would do holds the same answer.
        let by_itself = balanced.alone.iter().find(|answer| answer.change.factor == factor).unwrap();
        assert!(
            by_itself.met && (by_itself.change.to - change.to).degrees().abs() < HALF_OF_THE_DIGITS,
            "{by_itself:?}"
        );
    }
}

#[test]
fn three_factors_balance_a_molar_in_every_excursion() {
    let before = setup(35.0, 10.0, 10.0, 8.0, 15.0);
    let free = vec![
        alone(Factor::IncisalGuidance),
        alone(Factor::LateralIncisalGuidance),
        alone(Factor::CuspInclination),
    ];
    let balanced = balance(&before, &goal(&before, free, &[36], &Role::ALL)).unwrap();
    in_contact(&balanced, &[36], &Role::ALL);
    // In front the incisors guide, and so are in contact of themselves.
    let front = balanced.gaps.iter().find(|gap| gap.tooth.number() == 31).unwrap();
    assert!(front.gap.mm().abs() < FRONT_MM, "{front:?}");
}

#[test]
fn of_many_balances_the_one_of_least_weighted_change_is_given() {
    let before = setup(35.0, 10.0, 10.0, 8.0, 15.0);
    let weighted = |weight: f64| {
        let heavy = AngleRange { weight: Weight::new(weight).unwrap(), ..range(-20.0, 80.0) };
        let free = vec![Free::IncisalGuidance(heavy), alone(Factor::CuspInclination)];
        let balanced = balance(&before, &goal(&before, free, &[36], &[Role::Protrusive])).unwrap();
        in_contact(&balanced, &[36], &[Role::Protrusive]);
        balanced.changes
    };
    let cost = |incisal: f64, weight: f64| {
        // The cusp that goes with an incisal guide, by the single answer.
        let mut with = before.clone();
        with.set(Factor::IncisalGuidance, deg(incisal));
        let balanced =
            balance(&with, &goal(&with, vec![alone(Factor::CuspInclination)], &[36], &[Role::Protrusive]))
                .unwrap();
        let cusp = balanced.changes[0].to.degrees();
        ((incisal - 10.0) * weight).powi(2) + (cusp - 15.0).powi(2)
    };
    for weight in [0.3, 1.0, 4.0] {
        let changes = weighted(weight);
        let at = changes[0].to.degrees();
        let least = cost(at, weight);
        for beside in [-0.5, -0.05, 0.05, 0.5] {
            assert!(cost(at + beside, weight) > least, "weight {weight}: {beside}° beside {at}° is cheaper");
        }
    }
    let incisal_change = |weight: f64| (weighted(weight)[0].to.degrees() - 10.0).abs();
    assert!(incisal_change(4.0) < incisal_change(0.3), "the heavier changes less");
}

#[test]
fn a_mould_is_taken_from_the_list_and_the_rest_makes_up_for_it() {
    let before = setup(35.0, 10.0, 10.0, 8.0, 15.0);
    let moulds =
        || Free::CuspMould(Moulds { inclinations_deg: vec![0.0, 10.0, 20.0, 33.0], weight: Weight::ONE });
    let free = vec![moulds(), alone(Factor::IncisalGuidance)];
    let balanced = balance(&before, &goal(&before, free, &[36], &[Role::Protrusive])).unwrap();
    in_contact(&balanced, &[36], &[Role::Protrusive]);
    let mould = balanced.setup.cusp_inclination.degrees();
    // The least change of all moulds, each asked by itself.
    let cost = |mould: f64| {
        let mut with = before.clone();
        with.cusp_inclination = deg(mould);
        let one = vec![alone(Factor::IncisalGuidance)];
        let balanced = balance(&with, &goal(&with, one, &[36], &[Role::Protrusive])).unwrap();
        if balanced.met {
            (balanced.changes[0].to.degrees() - 10.0).powi(2) + (mould - 15.0).powi(2)
        } else {
            f64::INFINITY
        }
    };
    for other in [0.0, 10.0, 20.0, 33.0] {
        assert!(cost(mould) <= cost(other) + SOLVED, "{mould}° was taken, {other}° is cheaper");
    }
    // Alone, no mould balances exactly; the one that leaves the least is taken and the rest is told.
    let balanced = balance(&before, &goal(&before, vec![moulds()], &[], &[])).unwrap();
    assert!(!balanced.met);
    let misfit = |mould: f64| {
        let mut with = before.clone();
        with.cusp_inclination = deg(mould);
        let gap = |number, role| forward_gap(&with, number, role, 3.0).powi(2);
        [34, 35, 36, 37, 44, 45, 46, 47]
            .iter()
            .flat_map(|tooth| Role::ALL.map(|role| gap(*tooth, role)))
            .sum::<f64>()
    };
    let taken = balanced.setup.cusp_inclination.degrees();
    for other in [0.0, 10.0, 20.0, 33.0] {
        assert!(misfit(taken) <= misfit(other) + SOLVED, "{taken}° was taken, {other}° leaves less");
    }
}

#[test]
fn what_cannot_balance_is_said_and_its_gaps_are_told_tooth_by_tooth() {
    let before = setup(50.0, 0.0, 0.0, 0.0, 0.0);
    let low = vec![Free::CuspInclination(range(0.0, 10.0))];
    let balanced = balance(&before, &goal(&before, low, &[36, 46], &[Role::Protrusive])).unwrap();
    assert!(!balanced.met);
    assert!(
        (balanced.changes[0].to.degrees() - 10.0).abs() < SOLVED,
        "the nearest is at the bound: {:?}",
        balanced.changes
    );
    assert!(balanced.greatest.mm() > GAP_MM && balanced.greatest < balanced.greatest_before);
    // 16 back teeth of both sides in three excursions, 12 front teeth in one.
    assert_eq!(balanced.gaps.len(), 16 * 3 + 12);
    for gap in balanced.gaps.iter().filter(|gap| gap.tooth.position() >= 4) {
        let forward = forward_gap(&balanced.setup, i64::from(gap.tooth.number()), gap.role, 3.0);
        assert!((gap.gap.mm() - forward).abs() < CONTACT_MM, "{gap:?}: {forward}");
    }
}

/// The rule of proportion (common practice, no source) beside the exact answer.
#[test]
fn the_rule_of_proportion_points_the_right_way_and_is_off_by_degrees() {
    let mut before = setup(35.0, 10.0, 10.0, 8.0, 20.0);
    before.arch.sagittal_curve = Length::from_mm(200.0);
    let balanced =
        balance(&before, &goal(&before, vec![alone(Factor::CuspInclination)], &[36], &[Role::Protrusive]))
            .unwrap();
    // Four answers to a steeper condyle less itself, and three to a steeper incisal guide.
    assert_eq!(balanced.proportion.len(), 4 + 3);
    for row in &balanced.proportion {
        let (Some(exact), Some(rule)) = (row.exact, row.rule) else { panic!("{row:?}") };
        // Put into the instrument, the exact one keeps the molar in contact…
        let mut with = balanced.setup.clone();
        with.set(row.changed, with.get(row.changed) + row.by);
        with.set(row.answer, exact);
        let kept = forward_gap(&with, 36, Role::Protrusive, 3.0);
        assert!(kept.abs() <= CONTACT_MM, "{row:?}: {kept} mm");
        // …the rule's goes the same way, but not as far.
        assert_eq!(exact > row.from, rule > row.from, "{row:?}");
    }
    let worst = balanced.proportion.iter().filter_map(|row| row.rule_is_off()).map(|off| off.degrees().abs());
    assert!(worst.fold(0.0, f64::max) > 2.0);
    // Of a flat plane no proportion can be kept.
    before.plane.inclination = Angle::ZERO;
    let balanced =
        balance(&before, &goal(&before, vec![alone(Factor::CuspInclination)], &[36], &[Role::Protrusive]))
            .unwrap();
    let plane = balanced.proportion.iter().find(|row| row.answer == Factor::OcclusalPlane).unwrap();
    assert!(plane.rule.is_none() && plane.exact.is_some() && plane.rule_is_off().is_none());
}

#[test]
fn goals_that_make_no_sense_are_refused_with_what_would() {
    let setup = setup(35.0, 10.0, 10.0, 8.0, 15.0);
    let refused = |free: Vec<Free>, teeth: &[i64], part: &str| {
        let message = balance(&setup, &goal(&setup, free, teeth, &[])).unwrap_err().to_string();
        assert!(message.contains(part), "{message}");
    };
    refused(vec![Free::IncisalGuidance(range(20.0, 10.0))], &[], "above its most_deg");
    refused(vec![alone(Factor::IncisalGuidance), alone(Factor::IncisalGuidance)], &[], "named twice");
    let wing = Free::RightLateralIncisalGuidance(range(0.0, 10.0));
    refused(vec![alone(Factor::LateralIncisalGuidance), wing], &[], "one of two sides");
    refused(
        vec![Free::CuspMould(Moulds { inclinations_deg: vec![], weight: Weight::ONE })],
        &[],
        "it is empty",
    );
    refused(
        vec![Free::CuspMould(Moulds { inclinations_deg: vec![f64::NAN], weight: Weight::ONE })],
        &[],
        "NaN",
    );
    refused(vec![], &[33], "positions 4 to 7");
    refused(vec![], &[38], "positions 4 to 7");
}

proptest! {
    #![proptest_config(random::cases(60))]

    #[test]
    fn whatever_the_instrument_the_answer_holds_in_the_forward_solver(
        (condylar, incisal, plane) in (15.0..50.0_f64, 0.0..35.0_f64, 0.0..15.0_f64),
        non_arcon in any::<bool>(), table in any::<bool>(), radius in 80.0..400.0_f64,
        which in 0..5_usize, molar in 0..8_usize,
    ) {
        let mut setup = setup(condylar, incisal, 12.0, plane, 15.0);
        setup.arch.sagittal_curve = Length::from_mm(radius);
        if non_arcon {
            setup.instrument.design = Design::NonArcon;
        }
        if table {
            let trough = *setup.instrument.anterior_guide.trough().unwrap();
            setup.instrument.anterior_guide = AnteriorGuide::Table(trough);
        }
        let factor = Factor::FIVE[which];
        let tooth = [34, 36, 37, 24, 26, 44, 47, 16][molar];
        let balanced = balance(&setup, &goal(&setup, vec![alone(factor)], &[tooth], &[Role::Protrusive])).unwrap();
        if balanced.met {
            let gap = forward_gap(&balanced.setup, tooth, Role::Protrusive, 3.0);
            prop_assert!(gap.abs() <= CONTACT_MM, "{factor:?} at {tooth}: {gap}");
        } else {
            // Then it stands at a bound, and nothing between the bounds is nearer.
            let change = balanced.changes[0];
            let mut with = setup.clone();
            for part in 0..=10 {
                let (least, most) = match &alone(factor) {
                    Free::CompensatingCurve(_) => (0.0, 30.0),
                    Free::CondylarGuidance(range) | Free::IncisalGuidance(range) | Free::OcclusalPlane(range)
                    | Free::CuspInclination(range) => (range.least.degrees(), range.most.degrees()),
                    _ => unreachable!(),
                };
                with.set(factor, deg(least + (most - least) * f64::from(part) / 10.0));
                let gap = forward_gap(&with, tooth, Role::Protrusive, 3.0);
                prop_assert!(gap.abs() >= balanced.greatest.mm().abs() - LEAST_MM, "{change:?}: {gap} at {part}");
            }
        }
    }

    #[test]
    fn a_symmetric_denture_has_symmetric_gaps(condylar in 15.0..50.0_f64, wings in 0.0..30.0_f64, cusps in 0.0..35.0_f64) {
        let setup = setup(condylar, 10.0, wings, 8.0, cusps);
        let balanced = balance(&setup, &goal(&setup, vec![alone(Factor::CuspInclination)], &[], &[])).unwrap();
        for one in balanced.gaps.iter().filter(|gap| gap.tooth.side() == Side::Right) {
            let number = if one.tooth.number() < 30 { one.tooth.number() + 10 } else { one.tooth.number() - 10 };
            let other = balanced.gaps.iter().find(|gap| gap.tooth.number() == number && gap.role == one.role).unwrap();
            prop_assert!((one.gap - other.gap).mm().abs() < SOLVED, "{one:?} {other:?}");
        }
    }
}

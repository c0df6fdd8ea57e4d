//! Plans with every goal and every factor that may be free.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use sim_core::cusp::Cusp;
use sim_core::plan::{
    AngleRange, ArchForm, AxisTip, Balance, Clearances, CurveRange, Free, Goal, Meeting, Moulds, Plan, Role,
    Wanted, Weight,
};
use sim_core::units::Angle;

use super::{back_tooth, curve, maybe, tooth};
use crate::random::{angle, length};

/// No goal may free more factors.
const MOST_FREE: usize = 5;

fn weight() -> impl Strategy<Value = Weight> {
    prop_oneof![Just(Weight::ONE), (0.001..1000.0).prop_map(|given| Weight::new(given).expect("in range"))]
}

fn range() -> impl Strategy<Value = AngleRange> {
    (-45.0..20.0, 0.0..65.0, weight()).prop_map(|(least, width, weight)| AngleRange {
        least: Angle::from_degrees(least),
        most: Angle::from_degrees(least + width),
        weight,
    })
}

fn moulds() -> impl Strategy<Value = Moulds> {
    (vec(0.0..60.0, 1..4), weight())
        .prop_map(|(inclinations_deg, weight)| Moulds { inclinations_deg, weight })
}

/// Free factors that do not overlap: both wings together, or one of them, or each.
fn free(for_teeth: bool) -> impl Strategy<Value = Vec<Free>> {
    let condyles = maybe(range().prop_map(Free::CondylarGuidance));
    let plate = maybe(range().prop_map(Free::IncisalGuidance));
    let wings = prop_oneof![
        Just(Vec::new()),
        range().prop_map(|range| vec![Free::LateralIncisalGuidance(range)]),
        range().prop_map(|range| vec![Free::RightLateralIncisalGuidance(range)]),
        (range(), range()).prop_map(|(right, left)| vec![
            Free::RightLateralIncisalGuidance(right),
            Free::LeftLateralIncisalGuidance(left)
        ]),
    ];
    let plane = maybe(range().prop_map(Free::OcclusalPlane));
    let curve = (length(60.0, 1000.0), weight())
        .prop_map(|(least_radius, weight)| Free::CompensatingCurve(CurveRange { least_radius, weight }));
    let cusps = prop_oneof![range().prop_map(Free::CuspInclination), moulds().prop_map(Free::CuspMould),];
    (condyles, plate, wings, plane, maybe(curve), maybe(cusps)).prop_map(
        move |(condyles, plate, wings, plane, curve, cusps)| {
            let plays_a_part = |free: &Free| {
                !(for_teeth
                    && matches!(
                        free,
                        Free::OcclusalPlane(_) | Free::CompensatingCurve(_) | Free::CuspMould(_)
                    ))
            };
            [condyles, plate, plane, curve, cusps]
                .into_iter()
                .flatten()
                .chain(wings)
                .filter(plays_a_part)
                .take(MOST_FREE)
                .collect()
        },
    )
}

fn roles() -> impl Strategy<Value = Vec<Role>> {
    subsequence(Role::ALL.to_vec(), 0..=Role::ALL.len())
}

fn balance() -> impl Strategy<Value = Goal> {
    (angle(0.0, 60.0), length(0.1, 20.0), free(false), vec(back_tooth(), 0..4), roles()).prop_map(
        |(cusp_inclination, advance, free, teeth, excursions)| {
            Goal::BalancedArticulation(Balance { cusp_inclination, advance, free, teeth, excursions })
        },
    )
}

fn disclusion(cusps: Vec<Cusp>) -> impl Strategy<Value = Goal> {
    let wanted =
        (select(cusps), any::<bool>(), length(0.1, 20.0), length(-5.0, 20.0), select(Role::ALL.to_vec()))
            .prop_map(|(cusp, by_name, advance, clearance, excursion)| Wanted {
                advance,
                clearance,
                tooth: cusp.tooth(),
                name: by_name.then(|| cusp.name().to_owned()),
                excursion,
            });
    let by = select(vec![Meeting::AtLeast, Meeting::LeastSquares]);
    (vec(wanted, 1..4), by, free(true))
        .prop_map(|(clearances, by, free)| Goal::Disclusion(Clearances { clearances, by, free }))
}

fn arch() -> impl Strategy<Value = ArchForm> {
    let lengths =
        (length(-10.0, 60.0), length(-30.0, 30.0), length(40.0, 70.0), length(25.0, 60.0), length(0.0, 6.0));
    (lengths, curve(), curve()).prop_map(
        |((behind, above, width, length, upper_outside), sagittal_curve, transverse_curve)| ArchForm {
            behind,
            above,
            width,
            length,
            upper_outside,
            sagittal_curve,
            transverse_curve,
        },
    )
}

/// A plan for a scene with these cusps; a goal of clearances only where there are some.
pub(super) fn plan(cusps: Vec<Cusp>) -> impl Strategy<Value = Plan> {
    let goal =
        if cusps.is_empty() { balance().boxed() } else { prop_oneof![balance(), disclusion(cusps)].boxed() };
    let tip = (tooth(), angle(-45.0, 45.0), angle(-45.0, 45.0))
        .prop_map(|(tooth, forward, outward)| AxisTip { forward, outward, tooth });
    (length(0.1, 20.0), maybe(arch()), vec(tip, 0..3), maybe(goal))
        .prop_map(|(chord, arch, tooth_axes, goal)| Plan { chord, arch, tooth_axes, goal })
}

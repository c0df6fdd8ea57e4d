//! Studies with every kind of values, sampling plan, tie and measure.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use sim_core::setting::{SettingName, listed};
use sim_core::study::{
    BaseScene, Constraint, Factor, MOST_LEVELS, MOST_REPLICATES, MOST_ROWS, Measure, PUBLISHED, Recording,
    Rule, Sample, SamplingPlan, Study, Values,
};

use super::scene::{excursion, scene};
use super::{maybe, text};

const MEASURES: [Measure; 10] = [
    Measure::Separation,
    Measure::Clearance,
    Measure::Interference,
    Measure::FirstInterference,
    Measure::BennettMovement,
    Measure::CondylarAdvance,
    Measure::Opening,
    Measure::Guidance,
    Measure::IncisalPoint,
    Measure::Pose,
];

fn setting(name: &str) -> SettingName {
    name.parse().unwrap_or_else(|error| panic!("{error}"))
}

/// Every setting that a study may vary, each side by itself where there are two, and cusps in the three
/// ways that they are named.
fn settings() -> Vec<SettingName> {
    let sides = |name: &str, each_side| -> Vec<String> {
        if each_side {
            ["right", "left"].map(|side| format!("{side}_guide.{name}")).into()
        } else {
            vec![name.to_owned()]
        }
    };
    listed()
        .filter(|listed| !listed.name.starts_with("invented_casts."))
        .flat_map(|listed| sides(&listed.name, listed.each_side))
        .chain(["cusps.36.working_deg", "cusps.36.mesiobuccal.working_deg"].map(str::to_owned))
        .map(|name| setting(&name))
        .collect()
}

fn values(of: &SettingName) -> BoxedStrategy<Values> {
    let number = || -1e3..1e3;
    let width = || 1e-3..1e3;
    let own = of.written().to_owned();
    let named: Vec<String> =
        PUBLISHED.iter().filter(|it| it.may_stand_for(of)).map(|it| it.name.to_owned()).collect();
    let drawn = prop_oneof![
        vec(number(), 1..5).prop_map(Values::List),
        (number(), width(), 1..1_000_000_u64).prop_map(|(from, width, steps)| Values::Range {
            from,
            to: from + width,
            steps
        }),
        (number(), width()).prop_map(|(min, width)| Values::Uniform { min, max: min + width }),
        (number(), width()).prop_map(|(mean, sd)| Values::Normal { mean, sd }),
        (number(), width(), 0.1..3.0, 0.1..3.0).prop_map(|(mean, sd, below, above)| {
            Values::TruncatedNormal { mean, sd, min: mean - below * sd, max: mean + above * sd }
        }),
        (number(), width(), 0.0..1.0_f64).prop_map(|(min, width, part): (f64, f64, f64)| {
            let max = min + width;
            Values::Triangular { min, mode: (min + part * width).min(max), max }
        }),
        // No two factors name one file: its columns would have to stay together.
        (text(), text())
            .prop_map(move |(file, column)| Values::Column { file: format!("{own}/{file}"), column }),
    ];
    if named.is_empty() {
        drawn.boxed()
    } else {
        prop_oneof![7 => drawn, 1 => select(named).prop_map(Values::Published)].boxed()
    }
}

fn plan() -> impl Strategy<Value = SamplingPlan> {
    let rows = 1..=MOST_ROWS;
    let replicates = proptest::option::of(1..=MOST_REPLICATES);
    prop_oneof![
        Just(SamplingPlan::FullGrid),
        Just(SamplingPlan::OneAtATime),
        (rows.clone(), any::<u64>()).prop_map(|(rows, seed)| SamplingPlan::LatinHypercube { rows, seed }),
        (64..=MOST_ROWS, any::<u64>(), replicates.clone())
            .prop_map(|(rows, seed, replicates)| SamplingPlan::Sobol { rows, seed, replicates }),
        (rows.clone(), any::<u64>()).prop_map(|(rows, seed)| SamplingPlan::MonteCarlo { rows, seed }),
        (rows, any::<u64>(), any::<bool>()).prop_map(|(groups, seed, second_order)| {
            SamplingPlan::Indices { groups, seed, points: Sample::Random, replicates: None, second_order }
        }),
        (64..=MOST_ROWS, any::<u64>(), replicates.clone()).prop_map(|(groups, seed, replicates)| {
            SamplingPlan::Shapley { groups, seed, points: Sample::Sobol, replicates }
        }),
        (1..=MOST_ROWS, any::<u64>(), proptest::option::of(1..=MOST_LEVELS / 2)).prop_map(
            |(trajectories, seed, half)| {
                SamplingPlan::ElementaryEffects { trajectories, seed, levels: half.map(|half| 2 * half) }
            }
        ),
        (64..=MOST_ROWS, any::<u64>(), replicates, any::<bool>()).prop_map(
            |(groups, seed, replicates, second_order)| SamplingPlan::Indices {
                groups,
                seed,
                points: Sample::Sobol,
                replicates,
                second_order
            }
        ),
        Just(SamplingPlan::Rows),
    ]
}

/// Ties of settings that are no factors to those that are, and of factors to each other.
fn constraints(
    factors: &[SettingName],
    spare: SettingName,
    correlates: bool,
) -> BoxedStrategy<Vec<Constraint>> {
    let linear = (select(factors.to_vec()), -10.0..10.0, -100.0..100.0).prop_map(move |(of, times, plus)| {
        Constraint::Derived { setting: spare.clone(), by: Rule::Linear { of, times, plus } }
    });
    let h = factors.iter().find(|name| name.key() == "horizontal_inclination_deg").cloned();
    let has_l = factors.iter().any(|name| name.key() == "lateral_angle_deg");
    let rule = h.filter(|_| !has_l).map(|of| Constraint::Derived {
        setting: setting("lateral_angle_deg"),
        by: Rule::HOverEightPlusTwelve { of },
    });
    let equal = select(vec!["immediate_translation_mm", "wall_tilt_deg"])
        .prop_map(|name| Constraint::LeftEqualsRight(setting(name)));
    let pair: Vec<SettingName> = factors.iter().take(2).cloned().collect();
    let correlated = (-0.99..0.99_f64).prop_map(move |r| Constraint::Correlated {
        between: pair.clone(),
        matrix: vec![vec![1.0, r], vec![r, 1.0]],
    });
    let correlated =
        if correlates && factors.len() > 1 { maybe(correlated).boxed() } else { Just(None).boxed() };
    let rule = maybe(Just(rule)).prop_map(Option::flatten);
    (maybe(linear), rule, maybe(equal), correlated)
        .prop_map(|(linear, rule, equal, correlated)| {
            [linear, rule, equal, correlated].into_iter().flatten().collect()
        })
        .boxed()
}

fn recording() -> impl Strategy<Value = Recording> {
    let advances = vec(0.001..30.0, 0..4).prop_map(|mut advances: Vec<f64>| {
        advances.dedup();
        advances
    });
    let labels = subsequence(vec!["36.mesiobuccal".to_owned(), "46.\"b\"".to_owned(), String::new()], 0..3);
    (
        subsequence(MEASURES.to_vec(), 1..=MEASURES.len()),
        advances,
        maybe(vec(excursion(), 1..3)),
        maybe(labels),
    )
        .prop_map(|(measures, advances_mm, excursions, cusps)| Recording {
            measures,
            advances_mm,
            excursions,
            cusps,
        })
}

/// Any study.
pub fn study() -> impl Strategy<Value = Study> {
    let base = prop_oneof![
        text().prop_map(BaseScene::File),
        scene().prop_map(|scene| BaseScene::Here(Box::new(scene))),
    ];
    let varied = (subsequence(settings(), 2..5).prop_shuffle(), plan()).prop_flat_map(|(mut names, plan)| {
        // The last is kept for what is derived.
        let spare = names.pop().expect("two at least");
        let values: Vec<_> = names.iter().map(values).collect();
        let ties = constraints(&names, spare, plan.takes_correlations());
        (Just(names), values, ties, Just(plan))
    });
    (text(), base, varied, recording()).prop_map(
        |(title, scene, (names, values, constraints, plan), record)| {
            let factors =
                names.into_iter().zip(values).map(|(setting, values)| Factor { setting, values }).collect();
            Study { title, scene, factors, constraints, plan, record }
        },
    )
}

//! The plans of studies: strata, independence of order and parts, layouts, correlations, and numbers
//! that stay what they are from version to version.

use std::collections::HashSet;

use proptest::prelude::*;
use sim_core::study::statistics::Moments;
use sim_core::study::{
    Correlation, Distribution, MOST_ROWS, PlannedFactor, Sample, SamplingDesign, SamplingPlan, StudyError,
    Values,
};
use whole_checks::random;

/// Five standard errors of a mean of 16,384 draws, in deviations, and of a deviation.
const MEAN_ERROR: f64 = 5.0 / 128.0;
const DEVIATION_ERROR: f64 = 5.0 / 181.0;

fn factor(values: &Values) -> PlannedFactor {
    let distribution = Distribution::of(values).expect("values");
    PlannedFactor { name: values.name().to_owned(), distribution, base: Some(0.5) }
}

/// A plan over factors that are anywhere between 0 and 1.
fn uniform(plan: &SamplingPlan, factors: usize) -> SamplingDesign {
    let values = Values::Uniform { min: 0.0, max: 1.0 };
    SamplingDesign::new(plan, vec![factor(&values); factors], Vec::new()).expect("a plan")
}

fn row(design: &SamplingDesign, number: u64) -> Vec<f64> {
    let mut values = vec![f64::NAN; design.factors().len()];
    design.row(number, &mut values);
    values
}

fn rows(design: &SamplingDesign) -> Vec<Vec<f64>> {
    (0..design.rows()).map(|number| row(design, number)).collect()
}

/// The random plans of so many rows, and the plan for indices with as many groups.
fn random_plans(rows: u64, seed: u64) -> [SamplingPlan; 5] {
    [
        SamplingPlan::LatinHypercube { rows, seed },
        SamplingPlan::Sobol { rows, seed, replicates: None },
        SamplingPlan::MonteCarlo { rows, seed },
        SamplingPlan::indices(rows, seed, Sample::Sobol),
        SamplingPlan::indices(rows, seed, Sample::Random),
    ]
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn latin_hypercube_has_exactly_one_row_in_each_stratum_of_each_factor(
        rows_wanted in 1_u64..400, seed: u64, factors in 1_usize..6,
    ) {
        let design = uniform(&SamplingPlan::LatinHypercube { rows: rows_wanted, seed }, factors);
        let all = rows(&design);
        for factor in 0..factors {
            let met: HashSet<u64> =
                all.iter().map(|row| (row[factor] * rows_wanted as f64) as u64).collect();
            prop_assert_eq!(met.len() as u64, rows_wanted);
        }
    }

    #[test]
    fn each_first_power_of_two_of_sobol_points_has_one_in_each_stratum(
        power in 0_u32..10, seed: u64, factors in 1_usize..20,
    ) {
        let count = 1_u64 << power;
        let design = uniform(&SamplingPlan::Sobol { rows: 1024, seed, replicates: Some(1) }, factors);
        for factor in 0..factors {
            let met: HashSet<u64> =
                (0..count).map(|number| (row(&design, number)[factor] * count as f64) as u64).collect();
            prop_assert_eq!(met.len() as u64, count);
        }
    }

    /// The first two Sobol' dimensions are a (0, 2)-sequence: 2^k points are one in each box of
    /// 2^−a by 2^−(k−a), whatever a. Scrambling keeps it.
    #[test]
    fn the_first_two_sobol_dimensions_fill_every_box_alike(power in 0_u32..9, seed: u64) {
        let design = uniform(&SamplingPlan::Sobol { rows: 512, seed, replicates: Some(1) }, 2);
        let count = 1_u64 << power;
        for a in 0..=power {
            let (across, up) = ((1_u64 << a) as f64, (1_u64 << (power - a)) as f64);
            let met: HashSet<(u64, u64)> = (0..count)
                .map(|number| row(&design, number))
                .map(|row| ((row[0] * across) as u64, (row[1] * up) as u64))
                .collect();
            prop_assert_eq!(met.len() as u64, count);
        }
    }

    #[test]
    fn a_row_is_the_same_whatever_was_asked_before_it(seed: u64, count in 2_u64..60, order: u64) {
        for plan in random_plans(count, seed) {
            let design = uniform(&plan, 3);
            let forward = rows(&design);
            // A stride that has no factor in common with the count goes through every row.
            let last = design.rows();
            let stride = (1 + order % last..).find(|stride| gcd(*stride, last) == 1).expect("a stride");
            let again = uniform(&plan, 3);
            for step in 0..last {
                let number = step.wrapping_mul(stride) % last;
                prop_assert_eq!(&row(&again, number), &forward[number as usize]);
            }
        }
    }

    #[test]
    fn indices_of_the_second_order_have_b_with_one_factor_of_a_too(seed: u64, factors in 1_usize..6) {
        for points in [Sample::Sobol, Sample::Random] {
            let plan =
                SamplingPlan::Indices { groups: 5, seed, points, replicates: None, second_order: true };
            let design = uniform(&plan, factors);
            prop_assert_eq!(design.rows(), 5 * (2 * factors as u64 + 2));
            for group in rows(&design).chunks(2 * factors + 2) {
                let (a, b) = (&group[0], &group[2 * factors + 1]);
                for exchanged in 0..factors {
                    for factor in 0..factors {
                        let (of_a, of_b) = if factor == exchanged { (b, a) } else { (a, b) };
                        prop_assert_eq!(group[1 + exchanged][factor], of_a[factor]);
                        prop_assert_eq!(group[1 + factors + exchanged][factor], of_b[factor]);
                    }
                }
            }
        }
    }

    #[test]
    fn indices_lay_out_a_then_a_with_one_factor_of_b_then_b(seed: u64, factors in 1_usize..6) {
        for points in [Sample::Sobol, Sample::Random] {
            let design = uniform(&SamplingPlan::indices(5, seed, points), factors);
            prop_assert_eq!(design.rows(), 5 * (factors as u64 + 2));
            for group in rows(&design).chunks(factors + 2) {
                let (a, b) = (&group[0], &group[factors + 1]);
                for exchanged in 0..factors {
                    for factor in 0..factors {
                        let from = if factor == exchanged { b } else { a };
                        prop_assert_eq!(group[1 + exchanged][factor], from[factor]);
                    }
                    prop_assert_ne!(a[exchanged], b[exchanged]);
                }
            }
        }
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[test]
fn a_grid_holds_every_combination_once_the_last_factor_changing_fastest() {
    let levels = [vec![1.0, 2.0], vec![10.0, 20.0, 30.0], vec![0.5, 0.25]];
    let factors = levels.iter().map(|list| factor(&Values::List(list.clone()))).collect();
    let drawn = rows(&SamplingDesign::new(&SamplingPlan::FullGrid, factors, Vec::new()).expect("a plan"));
    let mut expected = Vec::new();
    for a in &levels[0] {
        for b in &levels[1] {
            expected.extend(levels[2].iter().map(|c| vec![*a, *b, *c]));
        }
    }
    assert_eq!(drawn, expected);
}

#[test]
fn one_at_a_time_starts_from_the_base_and_changes_one_factor_a_row() {
    let factors = vec![
        factor(&Values::Range { from: 1.0, to: 2.0, steps: 2 }),
        factor(&Values::Uniform { min: 0.0, max: 10.0 }),
        factor(&Values::List(vec![7.0])),
    ];
    let design = SamplingDesign::new(&SamplingPlan::OneAtATime, factors, Vec::new()).expect("a plan");
    assert_eq!(design.one_at_a_time_levels(), Some(vec![3, 2, 1]));
    let expected: [[f64; 3]; 7] = [
        [0.5, 0.5, 0.5],
        [1.0, 0.5, 0.5],
        [1.5, 0.5, 0.5],
        [2.0, 0.5, 0.5],
        [0.5, 0.5, 0.5],
        [0.5, 9.5, 0.5],
        [0.5, 0.5, 7.0],
    ];
    assert_eq!(rows(&design), expected);
}

#[test]
fn levels_are_met_alike_often_by_even_plans() {
    let levels = vec![3.0, 1.0, 2.0, 9.0];
    for plan in [
        SamplingPlan::LatinHypercube { rows: 64, seed: 5 },
        SamplingPlan::Sobol { rows: 64, seed: 5, replicates: None },
    ] {
        let factors = vec![factor(&Values::List(levels.clone())); 2];
        let drawn = rows(&SamplingDesign::new(&plan, factors, Vec::new()).expect("a plan"));
        for level in &levels {
            for place in 0..2 {
                let met = drawn.iter().filter(|row| row[place] == *level).count();
                assert_eq!(met, 16, "{} {level}", plan.name());
            }
        }
    }
}

/// Pearson correlation of two columns.
fn correlation(one: impl Iterator<Item = f64> + Clone, other: impl Iterator<Item = f64> + Clone) -> f64 {
    let (a, b) = (Moments::of(one.clone()), Moments::of(other.clone()));
    let products = one.zip(other).map(|(x, y)| (x - a.mean()) * (y - b.mean()));
    products.sum::<f64>() / (a.count() - 1) as f64 / (a.sd() * b.sd())
}

fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let mut ranks = vec![0.0; values.len()];
    order.into_iter().enumerate().for_each(|(rank, place)| ranks[place] = rank as f64);
    ranks
}

/// Rows of the tests of correlations.
const MANY: u64 = 1 << 14;
/// Five deviations of a sample correlation, (1 − r²)/√n, at r = 0.
const SAMPLING_ERROR: f64 = 5.0 / 128.0;

#[test]
fn factors_of_random_plans_are_uncorrelated_unless_asked_to_be() {
    for plan in &random_plans(MANY, 77)[..3] {
        let all = rows(&uniform(plan, 6));
        for one in 0..6 {
            for other in 0..one {
                let r = correlation(all.iter().map(|row| row[one]), all.iter().map(|row| row[other]));
                assert!(r.abs() < SAMPLING_ERROR, "{} factors {one} and {other}: {r}", plan.name());
            }
        }
    }
}

#[test]
fn correlations_asked_for_are_those_of_normal_factors_and_by_the_arc_sine_of_the_ranks() {
    let matrix = [vec![1.0, 0.7, -0.3], vec![0.7, 1.0, 0.1], vec![-0.3, 0.1, 1.0]];
    for plan in [
        SamplingPlan::MonteCarlo { rows: MANY, seed: 3 },
        SamplingPlan::Sobol { rows: MANY, seed: 3, replicates: None },
    ] {
        // An uncorrelated factor between them stays out of it.
        let normal = |mean, sd| factor(&Values::Normal { mean, sd });
        let skew = factor(&Values::Triangular { min: 0.0, mode: 0.0, max: 9.0 });
        let factors = vec![normal(30.0, 5.0), skew.clone(), normal(15.0, 2.0), skew];
        let correlated = Correlation::new(vec![0, 2, 3], &matrix).expect("correlations");
        let all = rows(&SamplingDesign::new(&plan, factors, vec![correlated]).expect("a plan"));
        let column = |place: usize| all.iter().map(move |row| row[place]);
        let r = correlation(column(0), column(2));
        assert!((r - 0.7).abs() < SAMPLING_ERROR, "{}: {r}", plan.name());
        assert!(correlation(column(0), column(1)).abs() < SAMPLING_ERROR);
        for (one, other, given) in [(0, 2, 0.7), (0, 3, -0.3), (2, 3, 0.1_f64)] {
            let of = |place: usize| ranks(&column(place).collect::<Vec<_>>());
            let r = correlation(of(one).into_iter(), of(other).into_iter());
            let expected = 6.0 / std::f64::consts::PI * (given / 2.0).asin();
            assert!((r - expected).abs() < SAMPLING_ERROR, "{}: {r}, not {expected}", plan.name());
        }
        // Each keeps its own distribution: mean and deviation within five of their errors.
        let normal = Moments::of(column(2));
        assert!(
            (normal.mean() - 15.0).abs() < 2.0 * MEAN_ERROR
                && (normal.sd() - 2.0).abs() < 2.0 * DEVIATION_ERROR
        );
    }
}

#[test]
fn a_monte_carlo_column_has_the_moments_of_its_distribution() {
    for (values, mean, sd) in [
        (Values::Uniform { min: 10.0, max: 60.0 }, 35.0, 50.0 / 12_f64.sqrt()),
        (Values::Normal { mean: 32.0, sd: 5.5 }, 32.0, 5.5),
        // (a + b + c)/3 and √((a² + b² + c² − ab − ac − bc)/18).
        (Values::Triangular { min: 0.0, mode: 3.0, max: 9.0 }, 4.0, (63.0_f64 / 18.0).sqrt()),
        (Values::List(vec![1.0, 3.0]), 2.0, 1.0),
    ] {
        let plan = SamplingPlan::MonteCarlo { rows: MANY, seed: 11 };
        let design = SamplingDesign::new(&plan, vec![factor(&values)], Vec::new()).expect("a plan");
        let moments = Moments::of(rows(&design).into_iter().map(|row| row[0]));
        assert!((moments.mean() - mean).abs() < MEAN_ERROR * sd, "{}: {}", values.name(), moments.mean());
        assert!((moments.sd() / sd - 1.0).abs() < DEVIATION_ERROR, "{}: {}", values.name(), moments.sd());
    }
}

#[test]
fn rows_past_a_million_million_are_computed_as_the_first_are() {
    for plan in random_plans(MOST_ROWS / 8, 2026) {
        let design = uniform(&plan, 3);
        assert!(design.rows() > 1_000_000_000_000);
        let met: HashSet<String> = (0..100)
            .map(|step| row(&design, design.rows() - 1 - step * 7_919))
            .inspect(|values| assert!(values.iter().all(|value| *value > 0.0 && *value < 1.0)))
            .map(|values| format!("{values:?}"))
            .collect();
        assert_eq!(met.len(), 100, "{}", plan.name());
    }
}

/// What published tables stand on: a change of these numbers is a change of every table with that
/// plan, and `Prepared::canonical` must then say another layout.
#[test]
fn a_seed_means_the_same_rows_in_every_version() {
    let single = [
        SamplingPlan::LatinHypercube { rows: 1000, seed: 42 },
        SamplingPlan::Sobol { rows: 1000, seed: 42, replicates: Some(1) },
        SamplingPlan::MonteCarlo { rows: 1000, seed: 42 },
        SamplingPlan::Indices {
            groups: 1000,
            seed: 42,
            points: Sample::Sobol,
            replicates: Some(1),
            second_order: false,
        },
        SamplingPlan::indices(1000, 42, Sample::Random),
    ];
    assert_eq!(single.map(|plan| row(&uniform(&plan, 2), 123)), PINNED);
    // Of several scramblings the first is that of a single one.
    let eight = SamplingPlan::Sobol { rows: 1000, seed: 42, replicates: Some(8) };
    assert_eq!(row(&uniform(&eight, 2), 8 * 123), PINNED[1]);
}

/// As first computed.
const PINNED: [[f64; 2]; 5] = [
    [0.9623156173318564, 0.6410838978630711],
    [0.5235269416536762, 0.7070337872659572],
    [0.31561733185659435, 0.08389786307092273],
    [0.702842886447311, 0.7482153029939022],
    [0.6580346047784215, 0.48112094165045105],
];

#[test]
fn plans_that_cannot_be_are_refused_with_what_could() {
    let levels = |count: u64| factor(&Values::Range { from: 0.0, to: 1.0, steps: count - 1 });
    let spread = factor(&Values::Uniform { min: 0.0, max: 1.0 });
    let refused = |plan: &SamplingPlan, factors: Vec<PlannedFactor>, correlations: Vec<Correlation>| {
        SamplingDesign::new(plan, factors, correlations).expect_err("refused").to_string()
    };
    let large = refused(&SamplingPlan::FullGrid, vec![levels(1_000_001); 6], Vec::new());
    assert!(large.contains("FullGrid has more than 1125899906842624 rows"), "{large}");
    let plan = SamplingPlan::indices(MOST_ROWS, 1, Sample::Random);
    assert!(refused(&plan, vec![spread.clone(); 3], Vec::new()).contains("Indices has more than"));
    let none = refused(&SamplingPlan::FullGrid, vec![levels(2), spread.clone()], Vec::new());
    assert!(none.contains("`Uniform` has a distribution; give it a List, a Range or a Column"), "{none}");
    let base = PlannedFactor { base: None, ..spread.clone() };
    let several = refused(&SamplingPlan::OneAtATime, vec![base], Vec::new());
    assert!(several.contains("one value of `Uniform` in the base scene"), "{several}");
    assert_eq!(
        SamplingDesign::new(&SamplingPlan::FullGrid, Vec::new(), Vec::new()).err(),
        Some(StudyError::NoFactor)
    );
    let plan = SamplingPlan::indices(8, 1, Sample::Sobol);
    let many = refused(&plan, vec![spread.clone(); 51], Vec::new());
    assert!(many.contains("at most 50 factors") && many.contains("there are 51"), "{many}");
    let pair = Correlation::new(vec![0, 1], &[vec![1.0, 0.5], vec![0.5, 1.0]]).expect("correlations");
    for plan in [
        SamplingPlan::FullGrid,
        SamplingPlan::OneAtATime,
        SamplingPlan::LatinHypercube { rows: 4, seed: 1 },
        plan,
    ] {
        let lost = refused(&plan, vec![levels(2); 2], vec![pair.clone()]);
        assert!(lost.contains("Sobol, MonteCarlo and Shapley keep them"), "{lost}");
    }
}

#[test]
fn a_matrix_that_is_no_correlation_is_refused_with_its_place() {
    for (matrix, part) in [
        (vec![vec![1.0, 0.5]], "has 1 rows"),
        (vec![vec![1.0, 0.5], vec![0.5]], "one of them of 1 numbers"),
        (vec![vec![1.0, 0.5], vec![0.4, 1.0]], "0.5 at row 1, column 2 but 0.4 at row 2, column 1"),
        (vec![vec![1.0, 0.5], vec![0.5, 0.9]], "0.9 at row 2, column 2"),
        (vec![vec![1.0, 1.5], vec![1.5, 1.0]], "1.5 at row 1, column 2; a correlation is from -1 to 1"),
        (vec![vec![1.0, f64::NAN], vec![f64::NAN, 1.0]], "NaN at row 1, column 2"),
        (vec![vec![f64::NAN, 0.0], vec![0.0, 1.0]], "NaN at row 1, column 1"),
        (vec![vec![1.0, 1.0], vec![1.0, 1.0]], "not positive definite"),
    ] {
        let message = Correlation::new(vec![0, 1], &matrix).expect_err(part).to_string();
        assert!(message.contains(part), "{message}");
    }
    let contradictory = [vec![1.0, 0.9, -0.9], vec![0.9, 1.0, 0.9], vec![-0.9, 0.9, 1.0]];
    assert_eq!(Correlation::new(vec![0, 1, 2], &contradictory), Err(StudyError::NotPositiveDefinite));
}

//! Shapley effects and elementary effects: against closed forms, and SALib's on the same outputs
//! (`outside/salib_screening.py` made the table).

use std::f64::consts::PI;

use nalgebra::{Cholesky, DMatrix, DVector};
use proptest::prelude::*;
use sim_core::study::statistics::{GroupsError, ShapleyEffects, elementary_effects, shapley_effects};
use sim_core::study::{
    Correlation, Distribution, FactorStep, PlannedFactor, Sample, SamplingDesign, SamplingPlan, StudyError,
    Values,
};
use whole_checks::apart::Apart;
use whole_checks::random;
use whole_checks::table::{Outcome, Table};

/// The same sums in another order.
const ROUNDING: f64 = 1e-10;
const SEED: u64 = 11;

fn factors(count: usize, values: &Values) -> Vec<PlannedFactor> {
    let distribution = Distribution::of(values).expect("values");
    vec![PlannedFactor { name: "x".to_owned(), distribution, base: None }; count]
}

fn outputs(design: &SamplingDesign, of: impl Fn(&[f64]) -> f64) -> Vec<f64> {
    let mut x = vec![0.0; design.factors().len()];
    let all = (0..design.rows()).map(|row| {
        design.row(row, &mut x);
        of(&x)
    });
    all.collect()
}

fn shapley(groups: u64, points: Sample) -> SamplingPlan {
    SamplingPlan::Shapley { groups, seed: SEED, points, replicates: None }
}

fn effects(design: &SamplingDesign, of: impl Fn(&[f64]) -> f64) -> ShapleyEffects {
    let outputs = outputs(design, of);
    shapley_effects(&outputs, design.factors().len(), design.units().parts(), 0).expect("effects")
}

/// What two factors do together is shared out between them: with the variances of `against_salib.rs`, V₁ + V₁₃/2,
/// V₂ and V₁₃/2 over V (Iooss B, Prieur C, Int J Uncertainty Quantification 2019;9:493–514, from memory).
#[test]
fn shares_of_the_ishigami_function_are_the_known_ones() {
    let (a, b) = (7.0_f64, 0.1_f64);
    let whole = a * a / 8.0 + b * PI.powi(4) / 5.0 + b * b * PI.powi(8) / 18.0 + 0.5;
    let first = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2) / whole;
    let together = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0) / whole;
    let known = [first + together / 2.0, a * a / 8.0 / whole, together / 2.0];
    let uniform = factors(3, &Values::Uniform { min: -PI, max: PI });
    for (points, tolerance) in [(Sample::Sobol, 0.003), (Sample::Random, 0.03)] {
        let design =
            SamplingDesign::new(&shapley(1 << 13, points), uniform.clone(), Vec::new()).expect("a plan");
        let found = effects(&design, |x| x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin());
        for (own, known) in found.factors.iter().zip(known) {
            assert!((own.share.value - known).abs() < tolerance, "{points:?}: {own:?}, not {known}");
        }
        let sums = [first, a * a / 8.0 / whole, 0.0];
        for (own, (share, known)) in found.factors.iter().zip(known.into_iter().zip(sums)) {
            let last = share + (share - known);
            assert!((own.alone.value - known).abs() < 2.0 * tolerance, "{points:?}: {own:?}, not {known}");
            assert!((own.last.value - last).abs() < 2.0 * tolerance, "{points:?}: {own:?}, not {last}");
        }
        assert!((found.variance / whole - 1.0).abs() < 2.0 * tolerance);
    }
}

/// Variance of a straight line in correlated normal factors that goes when some are known: Cᵀ Σ⁻¹ C over the
/// known, C being their covariances with the line.
fn told_by(known: &[usize], slopes: &[f64], correlations: &DMatrix<f64>) -> f64 {
    if known.is_empty() {
        return 0.0;
    }
    let with = DVector::from_fn(known.len(), |row, _| {
        slopes.iter().enumerate().map(|(factor, slope)| slope * correlations[(known[row], factor)]).sum()
    });
    let among =
        DMatrix::from_fn(known.len(), known.len(), |row, column| correlations[(known[row], known[column])]);
    with.dot(&Cholesky::new(among).expect("positive definite").solve(&with))
}

/// Shares of three factors by going through their six orders.
fn known_shares(slopes: &[f64; 3], correlations: &DMatrix<f64>) -> [f64; 3] {
    let mut shares = [0.0; 3];
    for order in [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        for place in 0..3 {
            let gain = told_by(&order[..=place], slopes, correlations)
                - told_by(&order[..place], slopes, correlations);
            shares[order[place]] += gain / 6.0;
        }
    }
    let whole = told_by(&[0, 1, 2], slopes, correlations);
    shares.map(|share| share / whole)
}

/// Two correlated factors in closed form: (b₁²(1 − r²/2) + r b₁ b₂ + b₂² r²/2) over the variance (Iooss and
/// Prieur 2019, from memory).
#[test]
fn shares_of_two_correlated_factors_are_the_published_ones() {
    let (b, r) = ([1.0, 2.0], 0.6_f64);
    let variance = b[0] * b[0] + b[1] * b[1] + 2.0 * r * b[0] * b[1];
    let share = |own: f64, other: f64| {
        (own * own * (1.0 - r * r / 2.0) + r * own * other + other * other * r * r / 2.0) / variance
    };
    let tie = Correlation::new(vec![0, 1], &[vec![1.0, r], vec![r, 1.0]]).expect("a matrix");
    let normal = factors(2, &Values::Normal { mean: 30.0, sd: 1.0 });
    let design = SamplingDesign::new(&shapley(1 << 13, Sample::Sobol), normal, vec![tie]).expect("a plan");
    let found = effects(&design, |x| b[0] * x[0] + b[1] * x[1]);
    for (own, known) in found.factors.iter().zip([share(b[0], b[1]), share(b[1], b[0])]) {
        assert!((own.share.value - known).abs() < 0.004, "{own:?}, not {known}");
    }
}

proptest! {
    #![proptest_config(random::cases(24))]

    #[test]
    fn shares_of_correlated_factors_are_those_of_all_orders(
        slopes in [-2.0..2.0_f64, -2.0..2.0, 0.5..2.0], lower in prop::collection::vec(-1.0..1.0_f64, 3),
        which in 0..3_usize,
    ) {
        // Rows of length 1, so that their products are correlations.
        let rows = [vec![1.0, 0.0, 0.0], vec![lower[0], 1.0, 0.0], vec![lower[1], lower[2], 1.0]];
        let rows = rows.map(|row| DVector::from_vec(row).normalize());
        let correlations = DMatrix::from_fn(3, 3, |row, column| rows[row].dot(&rows[column]));
        let places = [vec![0, 1, 2], vec![2, 0, 1], vec![1, 2, 0]][which].clone();
        let matrix: Vec<Vec<f64>> = (0..3)
            .map(|row| {
                let of = |column| if row == column { 1.0 } else { correlations[(places[row], places[column])] };
                (0..3).map(of).collect()
            })
            .collect();
        let tie = Correlation::new(places, &matrix).unwrap();
        let normal = factors(3, &Values::Normal { mean: 30.0, sd: 1.0 });
        let design = SamplingDesign::new(&shapley(1 << 11, Sample::Sobol), normal, vec![tie]).unwrap();
        let found = effects(&design, |x| slopes.iter().zip(x).map(|(slope, x)| slope * x).sum());
        let whole = told_by(&[0, 1, 2], &slopes, &correlations);
        for (factor, (own, known)) in found.factors.iter().zip(known_shares(&slopes, &correlations)).enumerate() {
            prop_assert!((own.share.value - known).abs() < 0.02, "{:?}, not {}", own, known);
            let alone = told_by(&[factor], &slopes, &correlations) / whole;
            prop_assert!((own.alone.value - alone).abs() < 0.04, "{:?}, not {}", own, alone);
            let others: Vec<usize> = (0..3).filter(|other| *other != factor).collect();
            let last = 1.0 - told_by(&others, &slopes, &correlations) / whole;
            prop_assert!((own.last.value - last).abs() < 0.04, "{:?}, not {}", own, last);
        }
        prop_assert!((found.factors.iter().map(|own| own.share.value).sum::<f64>() - 1.0).abs() < 1e-9);
    }

    /// The rows of a group keep what they keep to the last bit, if nothing ties it, and else to rounding.
    #[test]
    fn a_row_of_a_group_keeps_what_is_not_drawn_anew(group in 0..512_u64, tied in any::<bool>(), random in any::<bool>()) {
        let tie = Correlation::new(vec![3, 1], &[vec![1.0, 0.7], vec![0.7, 1.0]]).unwrap();
        let ties = if tied { vec![tie] } else { Vec::new() };
        let points = if random { Sample::Random } else { Sample::Sobol };
        let uniform = factors(4, &Values::Uniform { min: 0.0, max: 1.0 });
        let design = SamplingDesign::new(&shapley(512, points), uniform, ties).unwrap();
        let read = |place: u64| {
            let mut row = [0.0; 4];
            design.row(group * 16 + place, &mut row);
            row
        };
        let first = read(0);
        for place in 1..16_u64 {
            for (factor, (own, kept)) in read(place).into_iter().zip(first).enumerate() {
                prop_assert_eq!(own == kept, place >> factor & 1 == 0, "{} {}", place, factor);
            }
        }
    }

    /// Each factor takes one step in each trajectory, of half of its distribution, and nothing else changes.
    #[test]
    fn a_trajectory_changes_one_factor_after_the_other(
        trajectory in 0..1000_u64, count in 1..9_usize, levels in prop_oneof![Just(None), (1..9_u32).prop_map(|half| Some(2 * half))],
        seed in any::<u64>(),
    ) {
        let plan = SamplingPlan::ElementaryEffects { trajectories: 1000, seed, levels };
        let design = SamplingDesign::new(&plan, factors(count, &Values::Uniform { min: 0.0, max: 1.0 }), Vec::new()).unwrap();
        let size = count as u64 + 1;
        let mut before = vec![0.0; count];
        design.row(trajectory * size, &mut before);
        prop_assert_eq!(design.step(trajectory * size), None);
        let levels = f64::from(levels.unwrap_or(4));
        let mut stepped = vec![false; count];
        for place in 1..size {
            let mut after = vec![0.0; count];
            design.row(trajectory * size + place, &mut after);
            let FactorStep { factor, change } = design.step(trajectory * size + place).unwrap();
            prop_assert!(!std::mem::replace(&mut stepped[factor], true));
            for (at, (after, before)) in after.iter().zip(&before).enumerate() {
                let is = after - before;
                prop_assert!((is - if at == factor { change } else { 0.0 }).abs() < 1e-12, "{} {}", at, is);
                let level = after * levels - 0.5;
                prop_assert!((level - level.round()).abs() < 1e-9 && (0.0..levels).contains(&level.round()));
            }
            prop_assert_eq!(change.abs(), 0.5);
            before = after;
        }
    }
}

#[test]
fn elementary_effects_of_the_same_outputs_are_those_of_salib() -> Outcome<()> {
    let (given, expected) =
        (Table::read("salib_screening_outputs.csv")?, Table::read("salib_screening.csv")?);
    let mut apart = Apart::new("elementary effects", ROUNDING);
    for (function, factors) in [("ishigami", 3), ("product", 4)] {
        let (mut outputs, mut steps) = (Vec::new(), Vec::new());
        for row in given.rows() {
            if row.text("function")? == function && row.text("plan")? == "morris" {
                outputs.push(row.number("output")?);
                steps.push(match row.text("factor")? {
                    "" => None,
                    factor => Some(FactorStep { factor: factor.parse()?, change: row.number("change")? }),
                });
            }
        }
        let found = elementary_effects(&outputs, factors, |row| steps[row], 20)?;
        assert_eq!((found.trajectories, found.left_out), (30, 0));
        let mut compared = 0;
        for row in expected.rows() {
            if row.text("function")? != function {
                continue;
            }
            let own = found.factors[row.text("one")?.parse::<usize>()?];
            let value = match row.text("kind")? {
                "mu" => own.mean.value,
                "mu_star" => own.size.value,
                "sigma" => own.spread.value,
                _ => continue,
            };
            apart.note(&[value - row.number("value")?], row);
            compared += 1;
        }
        assert_eq!(compared, 3 * factors);
    }
    apart.check()
}

/// A straight line does the same everywhere: its slope over the whole distribution, without spread.
#[test]
fn elementary_effects_of_a_straight_line_are_its_slopes() {
    let plan = SamplingPlan::ElementaryEffects { trajectories: 12, seed: SEED, levels: None };
    let uniform = factors(3, &Values::Uniform { min: -1.0, max: 3.0 });
    let design = SamplingDesign::new(&plan, uniform, Vec::new()).expect("a plan");
    let mut outputs = outputs(&design, |x| 5.0 + 2.0 * x[0] - 0.5 * x[2]);
    outputs[6] = f64::NAN;
    let step = |row| design.step(row as u64);
    let found = elementary_effects(&outputs, 3, step, design.units().parts()).expect("effects");
    assert_eq!((found.trajectories, found.left_out), (11, 1));
    for (own, slope) in found.factors.iter().zip([8.0, 0.0, -2.0_f64]) {
        assert!((own.mean.value - slope).abs() < 1e-12 && (own.size.value - slope.abs()).abs() < 1e-12);
        assert!(own.spread.value == 0.0 && own.size.half_width() < 1e-12, "{own:?}");
    }
    assert!(matches!(
        elementary_effects(&outputs[..7], 3, step, 20),
        Err(GroupsError::Layout { rows: 7, size: 4, .. })
    ));
}

#[test]
fn plans_that_cannot_be_are_refused_with_what_can() {
    let uniform = |count| factors(count, &Values::Uniform { min: 0.0, max: 1.0 });
    let told = |plan: &SamplingPlan, count, ties| match SamplingDesign::new(plan, uniform(count), ties) {
        Err(error) => error.to_string(),
        Ok(_) => String::new(),
    };
    let many = told(&shapley(8, Sample::Random), 11, Vec::new());
    assert!(many.contains("at most 10 factors, and there are 11; ElementaryEffects"), "{many}");
    let screening = SamplingPlan::ElementaryEffects { trajectories: 10, seed: 1, levels: None };
    let tie = Correlation::new(vec![0, 1], &[vec![1.0, 0.5], vec![0.5, 1.0]]).expect("a matrix");
    let lost = told(&screening, 3, vec![tie]);
    assert!(lost.contains("ElementaryEffects does not keep correlations"), "{lost}");
    let replicates =
        SamplingPlan::Shapley { groups: 8, seed: 1, points: Sample::Random, replicates: Some(2) };
    assert!(matches!(
        SamplingDesign::new(&replicates, uniform(2), Vec::new()),
        Err(StudyError::ReplicatesOfRandom)
    ));
}

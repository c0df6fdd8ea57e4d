//! Sobol' indices against those known of the Ishigami function and against SALib's on the same
//! outputs, and regression coefficients against NumPy's. `outside/salib_indices.py` and
//! `outside/salib_screening.py` made the tables.

// The rest of it reads the tables of jaw poses.
use std::f64::consts::PI;

use sim_core::study::statistics::{
    GroupsError, Regression, RegressionError, Resampling, SobolIndices, sobol_indices, sobol_indices_of,
};
use sim_core::study::{Distribution, PlannedFactor, Sample, SamplingDesign, SamplingPlan, Values};
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Table};

/// Four decimals are quoted.
const AS_QUOTED: f64 = 5e-5;
/// Outputs of a million from which coefficients of one are read lose six of sixteen digits.
const COEFFICIENT: f64 = 1e-9;

/// The same sums in another order.
const ROUNDING: f64 = 1e-10;
/// SALib gives 1.96 bootstrap deviations, here the middle 95 % are taken: the same but for the
/// resamples drawn and for what their distribution departs from a normal one.
const INTERVAL: f64 = 0.15;
const SEED: u64 = 9;

fn sin_squared_and_quartic(x: &[f64]) -> f64 {
    x[0].sin() + 7.0 * x[1].sin().powi(2) + 0.1 * x[2].powi(4) * x[0].sin()
}

/// First-order and total indices of the Ishigami function for a = 7, b = 0.1, from its variances in
/// closed form (Ishigami and Homma 1990, from memory): V = a²/8 + bπ⁴/5 + b²π⁸/18 + 1/2,
/// V₁ = (1 + bπ⁴/5)²/2, V₂ = a²/8, V₁₃ = b²π⁸(1/18 − 1/50).
fn known() -> [(f64, f64); 3] {
    let (a, b) = (7.0_f64, 0.1_f64);
    let whole = a * a / 8.0 + b * PI.powi(4) / 5.0 + b * b * PI.powi(8) / 18.0 + 0.5;
    let first = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2) / whole;
    let second = a * a / 8.0 / whole;
    let together = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0) / whole;
    [(first, first + together), (second, second), (0.0, together)]
}

fn ishigami(groups: u64, points: Sample, resamples: u32) -> SobolIndices {
    let distribution = Distribution::of(&Values::Uniform { min: -PI, max: PI }).expect("values");
    let factor = PlannedFactor { name: "x".to_owned(), distribution, base: None };
    let plan = SamplingPlan::indices(groups, SEED, points);
    let design = SamplingDesign::new(&plan, vec![factor; 3], Vec::new()).expect("a plan");
    let mut x = [0.0; 3];
    let outputs = (0..design.rows()).map(|row| {
        design.row(row, &mut x);
        sin_squared_and_quartic(&x)
    });
    sobol_indices(&outputs.collect::<Vec<_>>(), 3, resamples, SEED).expect("indices")
}

#[test]
fn the_known_values_are_those_usually_quoted() {
    // 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437 (from memory).
    for ((first, total), (quoted_first, quoted_total)) in
        known().into_iter().zip([(0.3139, 0.5576), (0.4424, 0.4424), (0.0, 0.2437)])
    {
        assert!((first - quoted_first).abs() < AS_QUOTED && (total - quoted_total).abs() < AS_QUOTED);
    }
}

#[test]
fn indices_of_the_ishigami_function_tend_to_the_known_ones_faster_by_sobol_points() {
    // Of 2^14 groups: at random the error is some 1/√n times a few, by scrambled points far below.
    for (points, tolerance) in [(Sample::Random, 0.05), (Sample::Sobol, 0.003)] {
        let indices = ishigami(1 << 14, points, 0);
        for (factor, (first, total)) in indices.factors.iter().zip(known()) {
            assert!((factor.first.value - first).abs() < tolerance, "{points:?}: {factor:?}, not {first}");
            assert!((factor.total.value - total).abs() < tolerance, "{points:?}: {factor:?}, not {total}");
        }
    }
}

#[test]
fn intervals_hold_the_known_values_and_shrink_with_the_root_of_the_groups() {
    let (few, many) = (ishigami(512, Sample::Random, 500), ishigami(8192, Sample::Random, 500));
    for ((few, many), (first, total)) in few.factors.iter().zip(&many.factors).zip(known()) {
        for (few, many, known) in [(few.first, many.first, first), (few.total, many.total, total)] {
            assert!(few.low < few.value && few.value < few.high, "{few:?}");
            // Twice the interval: six of them should all hold, and each misses one time in twenty.
            assert!((few.value - known).abs() < few.high - few.low, "{few:?} {known}");
            let shrunk = (few.high - few.low) / (many.high - many.low);
            assert!((2.5..6.0).contains(&shrunk), "{shrunk}");
        }
    }
    assert_eq!(few, ishigami(512, Sample::Random, 500));
}

/// Outputs and factor values of one function of the table.
fn outputs(table: &Table, function: &str, factors: usize) -> Outcome<(Vec<f64>, Vec<Vec<f64>>)> {
    let mut outputs = Vec::new();
    let mut inputs = Vec::new();
    for row in table.rows() {
        if row.text("function")? == function {
            outputs.push(row.number("output")?);
            let x = (0..factors).map(|factor| row.number(&format!("x{factor}")));
            inputs.push(x.collect::<Outcome<Vec<f64>>>()?);
        }
    }
    Ok((outputs, inputs))
}

#[test]
fn indices_and_coefficients_of_the_same_outputs_are_those_of_salib_and_numpy() -> Outcome<()> {
    let (given, expected) = (Table::read("salib_outputs.csv")?, Table::read("salib_indices.csv")?);
    let mut apart = Apart::new("indices and coefficients", ROUNDING);
    let mut widths = Apart::new("half widths, relative", INTERVAL);
    for (function, factors) in [("ishigami", 3), ("product", 4)] {
        let (outputs, inputs) = outputs(&given, function, factors)?;
        let indices = sobol_indices(&outputs, factors, 4000, SEED)?;
        let mut regression = Regression::new(factors);
        inputs.iter().zip(&outputs).for_each(|(row, output)| regression.push(row, *output));
        let line = regression.standardised()?;
        let mut compared = 0;
        for row in expected.rows() {
            if row.text("function")? != function {
                continue;
            }
            let factor: usize = row.text("factor")?.parse()?;
            let index = indices.factors[factor];
            for (estimate, name) in [(index.first, "first"), (index.total, "total")] {
                apart.note(&[estimate.value - row.number(name)?], row);
                let width = row.number(&format!("{name}_half_width"))?;
                widths.note(&[(estimate.high - estimate.low) / 2.0 / width - 1.0], row);
            }
            let coefficient = line.coefficients[factor] - row.number("coefficient")?;
            apart.note(&[coefficient, line.r_squared - row.number("r_squared")?], row);
            compared += 1;
        }
        assert_eq!(compared, factors);
    }
    apart.check()?;
    widths.check()
}

/// Outputs of one function by one plan.
fn screened(table: &Table, function: &str, plan: &str) -> Outcome<Vec<f64>> {
    let mut outputs = Vec::new();
    for row in table.rows() {
        if row.text("function")? == function && row.text("plan")? == plan {
            outputs.push(row.number("output")?);
        }
    }
    Ok(outputs)
}

#[test]
fn second_order_indices_of_the_same_outputs_are_those_of_salib() -> Outcome<()> {
    let (given, expected) =
        (Table::read("salib_screening_outputs.csv")?, Table::read("salib_screening.csv")?);
    let mut apart = Apart::new("indices up to the second order", ROUNDING);
    for (function, factors) in [("ishigami", 3), ("product", 4)] {
        let outputs = screened(&given, function, "indices")?;
        let none = Resampling::Bootstrap { resamples: 0, seed: 1 };
        let found = sobol_indices_of(&outputs, factors, true, none)?;
        let mut compared = 0;
        for row in expected.rows() {
            if row.text("function")? != function {
                continue;
            }
            let one: usize = row.text("one")?.parse()?;
            let value = match row.text("kind")? {
                "first" => found.factors[one].first.value,
                "total" => found.factors[one].total.value,
                "second" => {
                    let other: usize = row.text("other")?.parse()?;
                    let pair = found.pairs.iter().find(|pair| pair.factors == (one, other));
                    pair.expect("a pair").index.value
                }
                _ => continue,
            };
            apart.note(&[value - row.number("value")?], row);
            compared += 1;
        }
        assert_eq!(compared, 2 * factors + factors * (factors - 1) / 2);
    }
    apart.check()
}

/// Of the Ishigami function only the first and the third factor do something together.
#[test]
fn second_order_indices_of_the_ishigami_function_tend_to_the_known_one() {
    let distribution = Distribution::of(&Values::Uniform { min: -PI, max: PI }).expect("values");
    let factor = PlannedFactor { name: "x".to_owned(), distribution, base: None };
    let plan = SamplingPlan::Indices {
        groups: 1 << 13,
        seed: SEED,
        points: Sample::Sobol,
        replicates: None,
        second_order: true,
    };
    let design = SamplingDesign::new(&plan, vec![factor; 3], Vec::new()).expect("a plan");
    let mut x = [0.0; 3];
    let outputs = (0..design.rows()).map(|row| {
        design.row(row, &mut x);
        sin_squared_and_quartic(&x)
    });
    let resampling = Resampling::Replicates { replicates: 8, first_group: 0 };
    let found = sobol_indices_of(&outputs.collect::<Vec<_>>(), 3, true, resampling).expect("indices");
    let [(first, total), ..] = known();
    for pair in &found.pairs {
        let known = if pair.factors == (0, 2) { total - first } else { 0.0 };
        // Of 2^13 groups the intervals are a hundredth long; twice that is allowed.
        assert!((pair.index.value - known).abs() < 0.02, "{pair:?}, not {known}");
        assert!(pair.index.half_width() < 0.02, "{pair:?}");
    }
}

#[test]
fn few_resamples_are_refused() {
    let outputs: Vec<f64> = (0..50).map(|row| f64::from(row * row % 17)).collect();
    assert_eq!(sobol_indices(&outputs, 3, 1, 1), Err(GroupsError::FewResamples { resamples: 1 }));
    assert!(sobol_indices(&outputs, 3, 20, 1).is_ok());
}

#[test]
fn groups_without_an_output_are_left_out_and_counted() {
    let mut outputs: Vec<f64> = (0..50).map(|row| f64::from(row * row % 17)).collect();
    let whole = sobol_indices(&outputs[..45], 3, 0, 1).expect("indices");
    outputs[47] = f64::NAN;
    let part = sobol_indices(&outputs, 3, 0, 1).expect("indices");
    assert_eq!((part.groups, part.left_out), (9, 1));
    assert_eq!(part.factors[1].first.value, whole.factors[1].first.value);
}

#[test]
fn outputs_that_have_no_indices_are_refused_with_the_reason() {
    assert_eq!(sobol_indices(&[1.0; 7], 3, 0, 1), Err(GroupsError::Layout { rows: 7, size: 5 }));
    assert_eq!(sobol_indices(&[], 3, 0, 1), Err(GroupsError::Layout { rows: 0, size: 5 }));
    assert_eq!(sobol_indices(&[f64::NAN; 10], 3, 0, 1), Err(GroupsError::TooFew { whole: 0 }));
    assert_eq!(sobol_indices(&[2.7; 10], 3, 0, 1), Err(GroupsError::Constant));
}

#[test]
fn a_straight_line_has_the_coefficients_of_its_own_slopes_and_merges_from_parts() {
    // Two uncorrelated factors with deviations in the ratio 1 : 2 and slopes 3 and −2.
    let rows = [(-1.0, -2.0), (-1.0, 2.0), (1.0, -2.0), (1.0, 2.0), (f64::NAN, 0.0)];
    let mut whole = Regression::new(2);
    let (mut one, mut other) = (Regression::new(2), Regression::new(2));
    for (number, (x, y)) in rows.into_iter().enumerate() {
        let output = 1e6 + 3.0 * x - 2.0 * y;
        whole.push(&[x, y], output);
        if number < 2 { one.push(&[x, y], output) } else { other.push(&[x, y], output) }
    }
    one.merge(&other);
    for regression in [whole, one] {
        let standardised = regression.standardised().expect("coefficients");
        assert!((standardised.coefficients[0] - 0.6).abs() < COEFFICIENT, "{standardised:?}");
        assert!((standardised.coefficients[1] + 0.8).abs() < COEFFICIENT, "{standardised:?}");
        assert!((standardised.r_squared - 1.0).abs() < COEFFICIENT);
        assert_eq!((standardised.rows, standardised.left_out), (4, 1));
    }
}

#[test]
fn factors_that_tell_nothing_apart_are_refused() {
    let fill = |row: &dyn Fn(f64) -> ([f64; 2], f64)| {
        let mut regression = Regression::new(2);
        for number in 0..9 {
            let (factors, output) = row(f64::from(number));
            regression.push(&factors, output);
        }
        regression.standardised().expect_err("refused")
    };
    assert_eq!(fill(&|n| ([n, 3.0 * n + 1.0], n * n)), RegressionError::Collinear);
    assert_eq!(fill(&|n| ([n, 0.1], n * n)), RegressionError::ConstantFactor { factor: 1 });
    assert_eq!(fill(&|n| ([n, n * n], 0.3)), RegressionError::ConstantOutput);
    let few = Regression::new(2).standardised();
    assert_eq!(few, Err(RegressionError::TooFew { rows: 0, factors: 2 }));
}

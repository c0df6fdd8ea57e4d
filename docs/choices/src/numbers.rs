//! Statistics, roots, random sequences, small programmes, numbers for people.

use std::hint::black_box;
use std::time::Duration;

use average::{Merge as _, Variance};
use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettingsBuilder, DefaultSolver, IPSolver as _, NonnegativeConeT};
use rand::seq::SliceRandom as _;
use rand::{RngExt as _, SeedableRng as _};
use sim_core::study::statistics::{Moments, quantile, sorted};
use statrs::statistics::{Data, OrderStatistics as _};

use crate::measure::{measured, row};

#[allow(dead_code)]
#[path = "../../../sim-core/src/bracket.rs"]
mod bracket;

const COUNT: usize = 10_000_000;

pub(crate) fn rows() {
    let mut random = rand_chacha::ChaCha8Rng::seed_from_u64(1);
    let numbers: Vec<f64> = (0..COUNT).map(|_| 1e9 + random.random::<f64>()).collect();
    moments(&numbers);
    quantiles();
    roots();
    permutations();
    sequences();
    programmes();
    words();
}

/// The variance of 10⁷ uniform numbers beside 10⁹, a twelfth, whole and merged of 100 parts.
fn moments(numbers: &[f64]) {
    let what = "variance of 10⁷ numbers, in 100 parts";
    let parts = || numbers.chunks(COUNT / 100);
    let (ms, mb, own) = measured(3, || {
        parts().map(|part| Moments::of(part.iter().copied())).fold(Moments::default(), |mut all, part| {
            all.merge(&part);
            all
        })
    });
    row(what, "ours", (ms, mb), &format!("{:.12}; a missing number is counted", own.variance()));
    let (ms, mb, other) = measured(3, || {
        parts().map(|part| part.iter().collect::<Variance>()).fold(Variance::new(), |mut all, part| {
            all.merge(&part);
            all
        })
    });
    row(what, "average 0.17.0", (ms, mb), &format!("{:.12}", other.sample_variance()));
    let missing: Variance = [1.0, f64::NAN, 3.0].iter().collect();
    println!("| mean of 1, nothing, 3 | average 0.17.0 | | | {} |", missing.mean());
    println!("| | ours | | | {:?} |", Moments::of([1.0, f64::NAN, 3.0]));
}

fn quantiles() {
    let numbers = [1.0, 2.0, 4.0, 8.0];
    let own = quantile(&sorted(numbers), 0.25);
    let other = Data::new(numbers).quantile(0.25);
    println!("| lower quartile of 1, 2, 4, 8 (NumPy: 1.75) | ours; statrs 0.19.1 | | | {own}; {other} |");
}

/// cos x = x on 0 to 1, to 1e-12, and one that bends at its root.
fn roots() {
    let bent = |x: f64| if x < 0.3 { x - 0.3 } else { 1e3 * (x - 0.3) };
    let functions: [(&str, &dyn Fn(f64) -> f64); 2] = [("smooth", &|x: f64| x - x.cos()), ("bent", &bent)];
    for (name, function) in functions {
        let what = format!("root of a {name} function to 1e-12");
        let mut asked = 0;
        let (ms, mb, at) = measured(1, || {
            bracket::root((0.0, 1.0), (function(0.0), function(1.0)), 1e-12, |x| {
                asked += 1;
                Ok::<_, ()>(function(x))
            })
        });
        row(&what, "ours", (ms, mb), &format!("{asked} values, {at:?}; an error of the function ends it"));
        asked = 0;
        let mut convergency = roots::SimpleConvergency { eps: 1e-12, max_iter: 120 };
        let (ms, mb, at) = measured(1, || {
            let counted = |x: f64| {
                asked += 1;
                function(x)
            };
            roots::find_root_brent(0.0, 1.0, counted, &mut convergency)
        });
        row(&what, "roots 0.0.8", (ms, mb), &format!("{asked} values, {at:?}"));
    }
}

/// The place of a row in the order of a Latin hypercube of 10⁷ rows and 4 factors.
fn permutations() {
    let what = "first row of a Latin hypercube, 10⁷ rows, 4 factors";
    let mut random = rand_chacha::ChaCha8Rng::seed_from_u64(1);
    let (ms, mb, _) = measured(1, || {
        let orders: Vec<Vec<u64>> = (0..4)
            .map(|_| {
                let mut order: Vec<u64> = (0..COUNT as u64).collect();
                order.shuffle(&mut random);
                order
            })
            .collect();
        orders.iter().map(|order| order[0]).sum::<u64>()
    });
    row(what, "rand 0.10, shuffled", (ms, mb), "kept for as long as rows are made");
    let plan = sim_core::study::SamplingPlan::LatinHypercube { rows: COUNT as u64, seed: 1 };
    let factor = sim_core::study::PlannedFactor {
        name: "a".to_owned(),
        distribution: sim_core::study::Distribution::of(&sim_core::study::Values::Uniform { min: 0.0, max: 1.0 }).expect("a range"),
        base: None,
    };
    let (ms, mb, _) = measured(3, || {
        let design = sim_core::study::SamplingDesign::new(&plan, vec![factor.clone(); 4], Vec::new())
            .expect("a design");
        let mut values = [0.0; 4];
        design.row(0, &mut values);
        values
    });
    row(what, "ours, computed", (ms, mb), "any row alone");
}

fn sequences() {
    let (ms, mb, _) = measured(3, || (0..1_u32 << 16).map(|at| sobol_burley::sample(at, 3, 1)).sum::<f32>());
    row("2¹⁶ scrambled Sobol’ points", "sobol_burley 0.5.0", (ms, mb), &format!(
        "24 digits of f32; the last point is number {}", sobol_burley::NUM_DIMENSIONS.max((1 << 16) - 1)));
}

/// A least change of five angles under four linear wants, as the planner asks it at every step.
fn programmes() {
    let identity = CscMatrix::identity(5);
    let wants = CscMatrix::from(&[
        [-0.05, -0.02, -0.01, 0.0, 0.0],
        [-0.02, -0.05, 0.0, -0.01, 0.0],
        [-0.03, -0.03, -0.01, -0.01, -0.02],
        [0.0, 0.0, -0.04, -0.04, -0.01],
    ]);
    let settings = DefaultSettingsBuilder::default().verbose(false).build().expect("settings");
    let (ms, mb, change) = measured(20, || {
        let mut solver = DefaultSolver::new(
            &identity,
            &[0.0; 5],
            &wants,
            &[-0.3, -0.2, -0.3, -0.1],
            &[NonnegativeConeT(4)],
            settings.clone(),
        )
        .expect("a problem");
        solver.solve();
        solver.solution.x.clone()
    });
    let slack = 0.05 * change[0] + 0.02 * change[1] + 0.01 * change[2] - 0.3;
    row("least change of five settings under four wants", "clarabel 0.11.1", (ms, mb), &format!(
        "its first want is off by {slack:.1e}"));
}

fn words() {
    for seconds in [0.4, 100.0, 7_100.0] {
        let ours = words::number::duration(seconds);
        let other = indicatif::HumanDuration(Duration::from_secs_f64(seconds));
        println!("| {seconds} s in words | ours; indicatif 0.18.6 | | | {ours}; {other} |");
    }
    let (ours, other) = (words::number::bytes(31_415_926.0), indicatif::DecimalBytes(31_415_926));
    println!("| 31,415,926 bytes in words | ours; indicatif 0.18.6 | | | {ours}; {other} |");
    println!("| −0.004 with two decimals | ours; indicatif 0.18.6 | | | {}; {} |",
        words::number::decimals(-0.004, 2), indicatif::HumanFloatCount(-0.004));
    black_box(());
}

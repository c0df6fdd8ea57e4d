//! Quantiles of a study's distributions against SciPy's, and bins of histograms against NumPy's.
//! `outside/scipy_distributions.py` made the tables and says how.

// The rest of it reads the tables of jaw poses.
use sim_core::study::statistics::histogram;
use sim_core::study::{Distribution, PUBLISHED, Published, Values, normal_probability, normal_quantile};
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Table};

/// A quantile of a probability is a place of some units: rounded a few times on the way there and back.
const THERE_AND_BACK: f64 = 1e-13;
/// What cutting a distribution off at its range may move its mean by, as a part of its deviation.
const CUT_OFF: f64 = 0.1;
/// The range of the published samples in standard deviations of a normal distribution (from memory).
const RANGE_IN_DEVIATIONS: f64 = 5.1;

/// Of the quantile's own size or of the distribution's width, whichever is greater: both sides invert
/// the normal distribution to about 1e-15, which a probability with few digits left beside its cut
/// magnifies some hundred times.
const RELATIVE: f64 = 1e-12;
/// Edges are reckoned from both ends here and by a step there.
const EDGE: f64 = 1e-12;

#[test]
fn every_quantile_is_the_one_that_scipy_finds() -> Outcome<()> {
    let table = Table::read("scipy_distributions.csv")?;
    let mut apart = Apart::new("quantiles, relative", RELATIVE);
    let mut kinds = std::collections::BTreeSet::new();
    for row in table.rows() {
        let [a, b] = [row.number("a")?, row.number("b")?];
        let more = |column: &str| row.number(column);
        let kind = row.text("kind")?;
        kinds.insert(kind.to_owned());
        let values = match kind {
            "uniform" => Values::Uniform { min: a, max: b },
            "normal" => Values::Normal { mean: a, sd: b },
            "truncated_normal" => {
                Values::TruncatedNormal { mean: a, sd: b, min: more("c")?, max: more("d")? }
            }
            "triangular" => Values::Triangular { min: a, mode: b, max: more("c")? },
            other => return Err(format!("no distribution is called {other}").into()),
        };
        let distribution = Distribution::of(&values).ok_or("values")?;
        let (quantile, expected) = (distribution.quantile(row.number("part")?), row.number("value")?);
        let size = expected.abs().max(b.abs());
        apart.note(&[(quantile - expected) / size], row);
    }
    assert_eq!(kinds.len(), 4);
    apart.check()
}

#[test]
fn probability_and_quantile_undo_each_other() {
    for tenths in -80..=80 {
        let z = f64::from(tenths) / 10.0;
        // By the tail that has the digits.
        let back = if z < 0.0 {
            normal_quantile(normal_probability(z))
        } else {
            -normal_quantile(normal_probability(-z))
        };
        assert!((back - z).abs() < THERE_AND_BACK, "{z}: {back}");
    }
    assert_eq!(normal_probability(0.0), 0.5);
}

#[test]
fn every_histogram_has_the_bins_of_numpy() -> Outcome<()> {
    let table = Table::read("numpy_bins.csv")?;
    let mut apart = Apart::new("edges", EDGE);
    for row in table.rows() {
        let list = |column: &str| -> Outcome<Vec<f64>> {
            Ok(row.text(column)?.split(';').map(str::parse).collect::<Result<_, _>>()?)
        };
        let bins = histogram(&list("numbers")?).ok_or("numbers")?;
        let (edges, counts) = (list("edges")?, list("counts")?);
        assert_eq!(bins.counts.iter().map(|count| *count as f64).collect::<Vec<_>>(), counts);
        for (edge, expected) in bins.edges.iter().zip(&edges) {
            apart.note(&[(edge - expected) / expected.abs().max(1.0)], row);
        }
    }
    apart.check()
}

#[test]
fn every_published_range_gives_values_within_it_of_about_its_mean() {
    for published in PUBLISHED {
        assert_eq!(Published::named(published.name), Some(&published));
        let distribution = Distribution::of(&Values::Published(published.name.to_owned())).expect("values");
        // A normal distribution has no ends; it is looked at between its quantiles of one in a thousand.
        let (least, greatest) = published
            .figures
            .range()
            .unwrap_or([0.001, 0.999].map(|part| distribution.quantile(part)).into());
        if published.figures.range().is_some() {
            assert_eq!(distribution.ends(), (least, greatest));
        }
        let steps = 10_000;
        let mean = (0..steps)
            .map(|step| distribution.quantile((f64::from(step) + 0.5) / f64::from(steps)))
            .sum::<f64>()
            / f64::from(steps);
        let expected = published.figures.mean().unwrap_or(f64::midpoint(least, greatest));
        assert!(
            (mean - expected).abs() < CUT_OFF * (greatest - least) / RANGE_IN_DEVIATIONS,
            "{}: {mean}",
            published.name
        );
    }
}

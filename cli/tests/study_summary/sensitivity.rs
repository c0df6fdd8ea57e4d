//! Sobol' indices, tornado and coefficients: passed through as the core gives them for the same rows,
//! and by a second derivation where there is one.

use serde_json::Value;
use sim_core::study::GroupSensitivity;
use sim_core::study::statistics::{Resampling, sobol_indices, sobol_indices_of};

use crate::helpers::{Folder, assert_near, number};
use crate::tables::{CLEARANCE, GRID, column, computed, loaded, of, piece, summary, table, written};

const NAME: &str = "protrusive.3mm.36.mesiobuccal.clearance_mm";

const ERRORS: &str = "(setting: \"left_guide.horizontal_inclination_deg\", values: Normal(mean: 40.0, sd: 2.0)), \
    (setting: \"occlusal_plane_inclination_deg\", values: Normal(mean: 9.0, sd: 1.0)), \
    (setting: \"left_guide.lateral_angle_deg\", values: Uniform(min: 5.0, max: 25.0))";

fn factor<'s>(sensitivity: &'s Value, name: &str) -> &'s Value {
    let all = sensitivity["factors"].as_array().unwrap();
    all.iter().find(|own| own["factor"] == name).unwrap_or_else(|| panic!("{name} in {sensitivity}"))
}

#[test]
fn indices_and_their_intervals_are_those_of_the_rows() {
    let folder = Folder::new();
    for (points, resamples, seed) in [("Random", 200, 7), ("Random", 40, 1), ("Sobol", 200, 7)] {
        let plan = format!("plan: Indices(groups: 64, seed: 5, points: {points}, second_order: true)");
        let study = written(&folder, "s.ron", ERRORS, &plan, CLEARANCE);
        let table = table(&folder, &study, &format!("{points}{resamples}.parquet"));
        let (columns, _) = computed(&loaded(&study));
        let more = ["--resamples", &resamples.to_string(), "--seed", &seed.to_string()];
        let told = summary(&table, &more);
        assert_eq!((&told["resamples"], &told["seed"]), (&resamples.into(), &seed.into()));
        let (resampling, by, words) = if points == "Sobol" {
            let resampling = Resampling::Replicates { replicates: 8, first_group: 0 };
            (resampling, "replicates", "over 8 independent scramblings")
        } else {
            (Resampling::Bootstrap { resamples, seed }, "bootstrap", "bootstrap resamples of whole groups")
        };
        let found = sobol_indices_of(column(&columns, NAME), 3, true, resampling).unwrap();
        let own = &of(&told, "measures", NAME)["sensitivity"];
        assert_eq!((&own["kind"], &own["groups"]), (&"sobol_indices".into(), &64.into()));
        assert_eq!(own["intervals"]["by"], by);
        assert!(told["intervals"]["of_sensitivity"].as_str().unwrap().contains(words), "{told}");
        let check = |told: &Value, estimate: &sim_core::study::statistics::Estimate| {
            for (name, should_be) in
                [("value", estimate.value), ("low", estimate.low), ("high", estimate.high)]
            {
                assert_eq!(number(told, name), should_be + 0.0, "{told}");
            }
        };
        for (index, indices) in found.factors.iter().enumerate() {
            check(&own["factors"][index]["first_order"], &indices.first);
            check(&own["factors"][index]["total"], &indices.total);
        }
        assert_eq!(own["pairs"].as_array().unwrap().len(), 3);
        for (told, pair) in own["pairs"].as_array().unwrap().iter().zip(&found.pairs) {
            check(&told["index"], &pair.index);
        }
        let text = crate::helpers::run(&["study", "summary", &table]).out;
        for words in
            [words, "Second-order Sobol’ indices", "1+2", "95 % from", "Are the groups enough?", "digit"]
        {
            assert!(text.contains(words), "{words} in {text}");
        }
    }
}

/// A lateral angle changes nothing in a straight protrusion; the rest is shared out whole.
#[test]
fn indices_share_the_variance_out_among_the_factors_that_act() {
    let folder = Folder::new();
    let plan = "plan: Indices(groups: 256, seed: 2, points: Sobol)";
    let study = written(&folder, "s.ron", ERRORS, plan, CLEARANCE);
    let told = summary(&table(&folder, &study, "t.parquet"), &[]);
    let own = &of(&told, "measures", NAME)["sensitivity"];
    assert_eq!(number(&factor(own, "left_guide.lateral_angle_deg")["total"], "value"), 0.0);
    let totals = own["factors"].as_array().unwrap().iter().map(|own| number(&own["total"], "value"));
    // 256 groups of even points: a few hundredths.
    assert_near(totals.sum(), 1.0, 0.1);
}

/// Shares and effects as the core gives them, each with its interval, in JSON, CSV and words.
#[test]
fn shares_and_effects_are_those_of_the_rows() {
    let folder = Folder::new();
    for (plan, kind, caption) in [
        ("Shapley(groups: 64, seed: 5, points: Sobol)", "shapley_effects", "Shapley effects, by factor"),
        (
            "ElementaryEffects(trajectories: 40, seed: 5)",
            "elementary_effects",
            "Elementary effects, by factor",
        ),
    ] {
        let study = written(&folder, "s.ron", ERRORS, &format!("plan: {plan}"), CLEARANCE);
        let table = table(&folder, &study, &format!("{kind}.parquet"));
        let loaded = loaded(&study);
        let (columns, _) = computed(&loaded);
        let found = loaded.prepared.group_sensitivity(column(&columns, NAME), 0, (20, 1)).unwrap().unwrap();
        let told = summary(&table, &[]);
        let own = &of(&told, "measures", NAME)["sensitivity"];
        assert_eq!(own["kind"], kind);
        let estimates = match &found {
            GroupSensitivity::Shares(shares) => shares
                .factors
                .iter()
                .map(|own| [("share", own.share), ("known_alone", own.alone), ("not_known_alone", own.last)])
                .collect::<Vec<_>>(),
            GroupSensitivity::Effects(effects) => effects
                .factors
                .iter()
                .map(|own| [("mean_size", own.size), ("mean", own.mean), ("sd", own.spread)])
                .collect(),
            GroupSensitivity::Indices(_) => panic!("{kind}"),
        };
        for (factor, numbers) in estimates.iter().enumerate() {
            for (name, estimate) in numbers {
                let told = &own["factors"][factor][*name];
                for (end, should_be) in
                    [("value", estimate.value), ("low", estimate.low), ("high", estimate.high)]
                {
                    assert_eq!(number(told, end), should_be + 0.0, "{name} {told}");
                }
            }
        }
        let text = crate::helpers::run(&["study", "summary", &table]).out;
        assert!(text.contains(caption) && text.contains("95 % from"), "{text}");
        let csv = crate::helpers::run(&["study", "summary", &table, "--format", "csv"]).out;
        let statistic = if kind == "shapley_effects" { "shapley_effect" } else { "effect_mean_size" };
        assert!(csv.contains(&format!("{statistic},occlusal_plane_inclination_deg")), "{csv}");
    }
}

#[test]
fn groups_that_are_there_in_full_have_indices_wherever_a_run_was_stopped() {
    let folder = Folder::new();
    let plan = "plan: Indices(groups: 64, seed: 5, points: Random)";
    let study = written(&folder, "s.ron", ERRORS, plan, CLEARANCE);
    let loaded = loaded(&study);
    let (columns, _) = computed(&loaded);
    // Groups of five rows; whole ones are rows 15 to 149.
    let told = summary(&piece(&folder, &loaded, "t.parquet", 12..153, 50), &[]);
    let found = sobol_indices(&column(&columns, NAME)[15..150], 3, 1000, 1).unwrap();
    let own = &of(&told, "measures", NAME)["sensitivity"];
    assert_eq!(own["groups"], 27);
    assert_eq!(number(&own["factors"][1]["first_order"], "value"), found.factors[1].first.value);
    assert!(told["notes"].to_string().contains("groups of rows that are there in full"));
}

/// In a full grid factors are not correlated, so that each coefficient is the measure's correlation
/// with its factor and R² the sum of their squares.
#[test]
fn coefficients_of_a_grid_are_its_correlations() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", GRID, "plan: FullGrid", CLEARANCE);
    let told = summary(&table(&folder, &study, "t.parquet"), &[]);
    let (columns, _) = computed(&loaded(&study));
    let own = &of(&told, "measures", NAME)["sensitivity"];
    assert_eq!(own["kind"], "standardised_coefficients");
    let mut explained = 0.0;
    for name in ["horizontal_inclination_deg", "anterior_guide.sagittal_inclination_deg"] {
        let correlation = correlation(column(&columns, name), column(&columns, NAME));
        assert_near(number(factor(own, name), "coefficient"), correlation, 1e-12);
        explained += correlation.powi(2);
    }
    assert_near(number(own, "r_squared"), explained, 1e-12);
    assert!(own["caution"].is_null(), "a nearly straight relation needs no caution: {own}");
}

fn correlation(xs: &[f64], ys: &[f64]) -> f64 {
    let count = xs.len() as f64;
    let (x, y) = (xs.iter().sum::<f64>() / count, ys.iter().sum::<f64>() / count);
    let sum = |f: &dyn Fn(f64, f64) -> f64| xs.iter().zip(ys).map(|(a, b)| f(a - x, b - y)).sum::<f64>();
    sum(&|a, b| a * b) / (sum(&|a, _| a * a) * sum(&|_, b| b * b)).sqrt()
}

/// The jaw leans to one side as its guide is flatter than the other, and to the other as it is
/// steeper: the cosine of the lean falls either way, which no straight line shows.
#[test]
fn straight_lines_that_do_not_tell_are_said_not_to() {
    let folder = Folder::new();
    let factor = "(setting: \"left_guide.horizontal_inclination_deg\", values: Range(from: 30.0, to: 50.0, steps: 20))";
    let study = written(
        &folder,
        "s.ron",
        factor,
        "plan: FullGrid",
        "measures: [Pose, Clearance], advances_mm: [3.0]",
    );
    let table = table(&folder, &study, "t.parquet");
    let told = summary(&table, &[]);
    let own = &of(&told, "measures", "protrusive.3mm.r11")["sensitivity"];
    assert!(number(own, "r_squared") < 0.3, "{own}");
    assert!(own["caution"].as_str().unwrap().contains("response curves"), "{own}");
    let straight = &of(&told, "measures", NAME)["sensitivity"];
    assert!(number(straight, "r_squared") > 0.9 && straight["caution"].is_null(), "{straight}");
    let text = crate::helpers::run(&["study", "summary", &table]).out;
    assert!(text.contains("R² is low for rotation matrix"), "{text}");
}

#[test]
fn a_tornado_has_each_factor_s_own_least_and_greatest() {
    let folder = Folder::new();
    let factors = "(setting: \"left_guide.horizontal_inclination_deg\", values: List([30.0, 45.0, 50.0])), \
        (setting: \"anterior_guide.sagittal_inclination_deg\", values: List([30.0])), \
        (setting: \"left_guide.lateral_angle_deg\", values: List([5.0, 25.0]))";
    let study = written(&folder, "s.ron", factors, "plan: OneAtATime", CLEARANCE);
    let told = summary(&table(&folder, &study, "t.parquet"), &[]);
    let (columns, _) = computed(&loaded(&study));
    let rows = column(&columns, NAME);
    assert_eq!(rows.len(), 1 + 3 + 1 + 2);
    let own = &of(&told, "measures", NAME)["sensitivity"];
    assert_eq!((own["kind"].as_str(), number(own, "base")), (Some("tornado"), rows[0] + 0.0));
    let bar = factor(own, "left_guide.horizontal_inclination_deg");
    assert_eq!(
        [&bar["least"], &bar["greatest"]].map(|end| (number(end, "value"), number(end, "factor"))),
        [(rows[1] + 0.0, 30.0), (rows[3] + 0.0, 50.0)]
    );
    let table_bar = factor(own, "anterior_guide.sagittal_inclination_deg");
    assert_eq!(
        (number(&table_bar["greatest"], "value"), number(&table_bar["greatest"], "factor")),
        (rows[4], 30.0)
    );
    // The base is the least: the factor stands there as in the base scene, level.
    assert_eq!(
        (number(&table_bar["least"], "value"), number(&table_bar["least"], "factor")),
        (rows[0] + 0.0, 0.0)
    );
    let first = &own["factors"][0];
    assert_eq!(first["factor"], "anterior_guide.sagittal_inclination_deg", "the farthest first");
    let notes = told["notes"].to_string();
    assert!(notes.contains("no population") && notes.contains("plan Indices"), "{notes}");
}

#[test]
fn what_a_plan_or_a_table_does_not_tell_is_said() {
    let folder = Folder::new();
    let study = written(
        &folder,
        "grid.ron",
        GRID,
        "plan: FullGrid",
        "measures: [CondylarAdvance], advances_mm: [3.0]",
    );
    let told = summary(&table(&folder, &study, "grid.parquet"), &[]);
    assert!(told["notes"].to_string().contains("Indices"), "{}", told["notes"]);
    // Both condyles advance as far as they are told to.
    let own = &of(&told, "measures", "protrusive.3mm.left_condyle_advance_mm")["sensitivity"];
    assert_eq!(own["kind"], "not_told");
    assert!(own["why"].as_str().unwrap().contains("the same in every row"), "{own}");
    let factors = "(setting: \"left_guide.horizontal_inclination_deg\", values: List([30.0, 45.0]))";
    let study = written(&folder, "one.ron", factors, "plan: OneAtATime", CLEARANCE);
    let told = summary(&piece(&folder, &loaded(&study), "one.parquet", 0..2, 10), &[]);
    let own = &of(&told, "measures", NAME)["sensitivity"];
    assert!(own["why"].as_str().unwrap().contains("not all there"), "{own}");
}

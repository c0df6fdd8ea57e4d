//! What a study leaves out of its table, told before it is run and after: values out of range by the distributions
//! alone, excursions without a pose, arcs past their lowest point.

use proptest::prelude::*;
use sim_core::scene::Scene;
use sim_core::study::{ArcPassed, Cell, ColumnRole, Distribution, Prepared, Study, StudyWarning, Values};
use whole_checks::random;

/// Points at which a distribution is cut into equal parts to be counted.
const POINTS: u32 = 20_000;
/// Parts that are counted are off by less than one at each end.
const COUNTED: f64 = 2.0 / POINTS as f64;
/// Deviations of a count by chance that one study in some 10,000 goes beyond, since seeds stand fixed.
const BY_CHANCE: f64 = 4.0;

fn study(factors: &str, rest: &str, record: &str) -> Prepared {
    let text = format!(
        "(title: \"Left out (invented)\", scene: \"thirty_degree.ron\", factors: [{factors}], {rest}, record: ({record}))"
    );
    prepared(&text, &Scene::thirty_degree())
}

fn prepared(text: &str, scene: &Scene) -> Prepared {
    let study = Study::from_ron(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
    Prepared::new(&study, scene, |_, _| Err(String::new())).unwrap_or_else(|error| panic!("{error}"))
}

/// Whether each row is whole.
fn are_whole(study: &Prepared) -> Vec<bool> {
    let mut row = study.row_buffer();
    let whole = |number| {
        study.compute(number, &mut row).expect("a row");
        row.reason().is_none()
    };
    (0..study.row_count()).map(whole).collect()
}

#[allow(clippy::cast_precision_loss)]
fn part_lost(whole: &[bool]) -> f64 {
    whole.iter().filter(|whole| !**whole).count() as f64 / whole.len() as f64
}

fn any_values() -> impl Strategy<Value = Values> {
    let number = || -50.0..50.0;
    let width = || 0.1..60.0;
    prop_oneof![
        prop::collection::vec(number(), 1..8).prop_map(Values::List),
        (number(), width()).prop_map(|(min, width)| Values::Uniform { min, max: min + width }),
        (number(), width()).prop_map(|(mean, sd)| Values::Normal { mean, sd }),
        (number(), width(), 0.0..1.0).prop_map(|(min, width, at)| Values::Triangular {
            min,
            mode: min + at * width,
            max: min + width
        }),
        (number(), width(), -3.0..3.0, 0.1..4.0).prop_map(|(mean, sd, from, width)| {
            Values::TruncatedNormal { mean, sd, min: mean + from * sd, max: mean + (from + width) * sd }
        }),
    ]
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    /// By drawing the distribution at equal steps and counting.
    #[test]
    fn the_part_outside_an_interval_is_what_is_counted(
        values in any_values(), least in -60.0..60.0, width in 0.0..80.0,
    ) {
        let distribution = Distribution::of(&values).expect("values");
        let most = least + width;
        let drawn = |point: u32| distribution.quantile((f64::from(point) + 0.5) / f64::from(POINTS));
        let outside = (0..POINTS).map(drawn).filter(|value| *value < least || *value > most).count();
        let levels = f64::from(u32::try_from(distribution.levels().map_or(0, <[f64]>::len)).unwrap());
        let counted = f64::from(u32::try_from(outside).unwrap()) / f64::from(POINTS);
        let told = distribution.part_outside(least, most);
        // Each level's share of the points is off by one at the most.
        prop_assert!((told - counted).abs() <= COUNTED + levels / f64::from(POINTS), "{told}, counted {counted}");
    }

    /// The range of H ends at 85° and at −30°; L follows by a line that may end before.
    #[test]
    fn as_many_rows_fall_out_as_was_told(
        mean in 60.0..84.0, sd in 2.0..20.0, times in -1.0..1.0, plus in -20.0..50.0, seed in 0_u64..1000,
    ) {
        let factor = format!("(setting: \"horizontal_inclination_deg\", values: Normal(mean: {mean}, sd: {sd}))");
        let follows = format!("constraints: [Derived(setting: \"lateral_angle_deg\", by: \
            Linear(of: \"horizontal_inclination_deg\", times: {times}, plus: {plus}))]");
        let study = study(
            &factor,
            &format!("{follows}, plan: Sobol(rows: 1024, seed: {seed}, replicates: 1)"),
            "measures: [CondylarAdvance], advances_mm: [0.5], excursions: [Protrusive(advance_mm: 0.5)]",
        );
        let (least, most) = study.left_out().rows;
        prop_assert_eq!(least, most);
        let lost = study_range_lost(&study);
        // One scrambling of Sobol' points of one dimension puts one row into each of 1024 equal parts; two ends, two settings.
        prop_assert!((lost - least).abs() <= 4.0 / 1024.0, "{lost} lost, {least} told");
    }
}

/// Part of the rows whose reason is a value out of range.
#[allow(clippy::cast_precision_loss)]
fn study_range_lost(study: &Prepared) -> f64 {
    let mut row = study.row_buffer();
    let mut lost = 0;
    for number in 0..study.row_count() {
        study.compute(number, &mut row).expect("a row");
        lost += u64::from(row.reason().is_some_and(|why| why.contains("allowed are")));
    }
    lost as f64 / study.row_count() as f64
}

const STEEP: &str = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 80.0, sd: 5.0))";
const ADVANCE: &str =
    "measures: [CondylarAdvance], advances_mm: [0.5], excursions: [Protrusive(advance_mm: 0.5)]";

/// Normal(80, 5) is above 85 with the probability of one deviation, 0.158655 (any table of the normal distribution).
#[test]
fn groups_that_lose_a_row_are_told_before() {
    const ABOVE: f64 = 0.158_655_253_931_457;
    for points in ["Random", "Sobol"] {
        let study = study(STEEP, &format!("plan: Indices(groups: 1024, seed: 1, points: {points})"), ADVANCE);
        let told = study.left_out();
        assert!(
            (told.tails[0].part - ABOVE).abs() < 1e-12 && (told.rows.0 - ABOVE).abs() < 1e-12,
            "{told:?}"
        );
        let groups = told.groups.expect("a plan with groups");
        assert!((groups - (1.0 - (1.0 - ABOVE).powi(2))).abs() < 1e-12, "{groups}");
        let whole = are_whole(&study);
        let group_is_whole: Vec<bool> =
            whole.chunks(3).map(|group| group.iter().all(|whole| *whole)).collect();
        let chance = (groups * (1.0 - groups) / 1024.0).sqrt();
        let lost = part_lost(&group_is_whole);
        assert!((lost - groups).abs() < BY_CHANCE * chance, "{points}: {lost} lost, {groups} told");
        let warned = study.warnings().iter().any(|warning| {
            matches!(warning, StudyWarning::GroupsOutOfRange { part, groups: 1024 } if *part == groups)
        });
        assert!(warned, "{:?}", study.warnings());
    }
}

#[test]
fn of_correlated_factors_the_rows_lost_lie_between_what_is_told() {
    let sides = ["right", "left"].map(|side| {
        format!("(setting: \"{side}_guide.horizontal_inclination_deg\", values: Normal(mean: 80.0, sd: 5.0))")
    });
    for correlation in [-0.9, 0.0, 0.9] {
        let tie = format!(
            "constraints: [Correlated(between: [\"right_guide.horizontal_inclination_deg\", \
             \"left_guide.horizontal_inclination_deg\"], matrix: [[1.0, {correlation:?}], [{correlation:?}, 1.0]])]"
        );
        let study = study(&sides.join(", "), &format!("{tie}, plan: Sobol(rows: 4096, seed: 2)"), ADVANCE);
        let (least, most) = study.left_out().rows;
        assert!(least < most);
        let lost = study_range_lost(&study);
        // A share of 512 even points, eight times over, is off by about one of them.
        assert!((least - 2e-3..=most + 2e-3).contains(&lost), "{correlation}: {lost}, not {least} to {most}");
        assert_eq!(study.warnings().len(), 3, "{:?}", study.warnings());
    }
}

#[test]
fn of_a_grid_and_of_one_factor_at_a_time_it_is_exact() {
    // L = 2H − 20 leaves its range, −30° to 60°, above 40°: at three levels of seven.
    let factor = "(setting: \"horizontal_inclination_deg\", values: Range(from: 10.0, to: 70.0, steps: 6)), \
        (setting: \"occlusal_plane_inclination_deg\", values: List([5.0, 10.0]))";
    let follows = "constraints: [Derived(setting: \"lateral_angle_deg\", by: \
        Linear(of: \"horizontal_inclination_deg\", times: 2.0, plus: -20.0))]";
    let grid = study(factor, &format!("{follows}, plan: FullGrid"), ADVANCE);
    let (least, most) = grid.left_out().rows;
    assert!(least == most && (least - 3.0 / 7.0).abs() < 1e-12, "{least} to {most}");
    assert!((part_lost(&are_whole(&grid)) - 3.0 / 7.0).abs() < 1e-12);
    let [tail] = &grid.left_out().tails[..] else { panic!("{:?}", grid.left_out()) };
    assert!(tail.is_derived && tail.setting.written() == "lateral_angle_deg");

    let one = study(factor, &format!("{follows}, plan: OneAtATime"), ADVANCE);
    assert!((one.left_out().rows.0 - 3.0 / 10.0).abs() < 1e-12, "{:?}", one.left_out());
    assert!((part_lost(&are_whole(&one)) - 3.0 / 10.0).abs() < 1e-12);
}

#[test]
fn a_tail_that_no_row_will_meet_is_not_worth_a_word() {
    // Eleven deviations from the end.
    let factor = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 30.0, sd: 5.0))";
    let study = study(factor, "plan: MonteCarlo(rows: 1000000, seed: 1)", ADVANCE);
    assert_eq!(study.left_out().tails, []);
    assert_eq!(study.warnings(), []);
}

/// The definition's arc: v = r(√(1−k²) − cos H), k = sin H − a/r. It rises where the next v is less.
fn rises_at(h_deg: f64, radius_mm: f64, advance_mm: f64) -> bool {
    const STEP_MM: f64 = 1e-4;
    let (sin, cos) = h_deg.to_radians().sin_cos();
    let drop = |a: f64| radius_mm * ((1.0 - (sin - a / radius_mm).powi(2)).sqrt() - cos);
    drop(advance_mm) < drop(advance_mm - STEP_MM)
}

#[test]
fn a_row_notes_which_condyle_has_passed_the_lowest_point_of_its_arc() {
    let mut scene = Scene::thirty_degree();
    for side in ["right", "left"] {
        let change: sim_core::setting::Change = format!("{side}_guide.path=Arc").parse().expect("a change");
        change.make(&mut scene).expect("an arc");
    }
    let study = prepared(
        "(title: \"Arcs (invented)\", scene: \"arcs.ron\", factors: [
            (setting: \"right_guide.path.radius_mm\", values: Uniform(min: 6.0, max: 40.0)),
            (setting: \"left_guide.path.radius_mm\", values: Uniform(min: 6.0, max: 40.0)),
            (setting: \"horizontal_inclination_deg\", values: Uniform(min: 5.0, max: 60.0))],
            plan: Sobol(rows: 512, seed: 3),
            record: (measures: [CondylarAdvance], advances_mm: [1.0, 4.0], excursions: [LeftLateral(advance_mm: 4.0)]))",
        &scene,
    );
    let place = study.columns().iter().position(|column| column.role == ColumnRole::Note).expect("a note");
    let mut row = study.row_buffer();
    let mut met = [0; 4];
    for number in 0..study.row_count() {
        study.compute(number, &mut row).expect("a row");
        let [right, _, h] = row.numbers()[..3] else { panic!("three factors") };
        if row.reason().is_some() {
            assert_eq!(row.cell(place), Some(Cell::Text(None)));
            met[3] += 1;
            continue;
        }
        // The right condyle orbits; the left one stays where its path begins.
        let wanted = rises_at(h, right, 4.0).then_some(ArcPassed::Right.name());
        assert_eq!(row.cell(place), Some(Cell::Text(wanted)), "row {number}: H {h}, radius {right}");
        met[usize::from(wanted.is_some())] += 1;
    }
    assert!(met[0] > 50 && met[1] > 50, "{met:?}");

    let straight = prepared(
        "(title: \"Straight (invented)\", scene: \"s.ron\", factors: [
            (setting: \"horizontal_inclination_deg\", values: List([30.0]))], plan: FullGrid,
            record: (measures: [CondylarAdvance]))",
        &Scene::thirty_degree(),
    );
    assert!(straight.columns().iter().all(|column| column.role != ColumnRole::Note));
}

//! The plan `Rows`: the lines of a file as they are.

use std::fs;

use crate::support::{Folder, SCENE, run};

const PAIRS: &str = "patient,h,l\n1,31.5,14\n2,40,12.5\n3,22.25,18\n4,36,9\n";

fn study(folder: &Folder, factors: &str, rest: &str) -> String {
    folder.file("scene.ron", SCENE.replace("CASTS", ""));
    folder.file(
        "pairs.ron",
        format!(
            "(title: \"Pairs (invented)\", scene: \"scene.ron\",\nfactors: [{factors}],\n{rest},\n\
             record: (measures: [Clearance], advances_mm: [2.0]))"
        ),
    )
}

fn column(setting: &str, file: &str, column: &str) -> String {
    format!("\n(setting: \"{setting}\", values: Column(file: \"{file}\", column: \"{column}\")),")
}

fn pairs(file: &str) -> String {
    column("horizontal_inclination_deg", file, "h") + &column("right_guide.lateral_angle_deg", file, "l")
}

/// The lines of a table with their factors alone, without caution and names.
fn factors_of(table: &str, factors: usize) -> Vec<Vec<f64>> {
    let lines = table.lines().skip(2);
    lines
        .map(|line| line.split(',').skip(1).take(factors).map(|cell| cell.parse().unwrap()).collect())
        .collect()
}

#[test]
fn lines_of_a_file_stay_together_and_fixed_and_derived_settings_go_with_them() {
    let folder = Folder::new();
    folder.file("pairs.csv", PAIRS);
    let more = "\n(setting: \"occlusal_plane_inclination_deg\", values: List([12.0])),";
    let derived = "constraints: [Derived(setting: \"left_guide.lateral_angle_deg\", by: \
                   Linear(of: \"right_guide.lateral_angle_deg\", times: 1.0, plus: 2.0))], plan: Rows";
    let study = study(&folder, &(pairs("pairs.csv") + more), derived);
    let whole = run(&["study", "run", &study, "--out", "-"]);
    whole.ended(0, &[]);
    assert_eq!(
        factors_of(&whole.out, 4),
        [
            [31.5, 14.0, 12.0, 16.0],
            [40.0, 12.5, 12.0, 14.5],
            [22.25, 18.0, 12.0, 20.0],
            [36.0, 9.0, 12.0, 11.0]
        ]
    );
    let plan = run(&["study", "plan", &study]);
    plan.ended(0, &[]);
    assert!(plan.out.contains("4, by the plan Rows"), "{}", plan.out);
    // A part is those lines, and a table of them is summed up from itself alone.
    let table = folder.shell("t.csv");
    run(&["study", "run", &study, "--out", &table, "--part", "2/2"]).ended(0, &[]);
    let part = fs::read_to_string(folder.path("t.part-2-of-2.csv")).unwrap();
    assert_eq!(factors_of(&part, 4), factors_of(&whole.out, 4)[2..]);
    let table = folder.shell("t.parquet");
    run(&["study", "run", &study, "--out", &table]).ended(0, &[]);
    fs::remove_file(folder.path("pairs.csv")).unwrap();
    let summary = run(&["study", "summary", &table]);
    summary.ended(0, &[]);
    assert!(summary.out.contains("4 rows as given"), "{}", summary.out);
    assert!(summary.out.contains("if the rows are independent draws"), "{}", summary.out);
}

/// The table of a study is a Parquet file with columns of its own.
#[test]
fn columns_of_parquet_are_those_of_the_same_csv() {
    let folder = Folder::new();
    folder.file("pairs.csv", PAIRS);
    let of_csv = study(&folder, &pairs("pairs.csv"), "plan: Rows");
    let made = folder.shell("made.parquet");
    run(&["study", "run", &of_csv, "--out", &made]).ended(0, &[]);
    let first = run(&["study", "run", &of_csv, "--out", "-"]).out;
    let again = column("horizontal_inclination_deg", "made.parquet", "horizontal_inclination_deg")
        + &column("right_guide.lateral_angle_deg", "made.parquet", "right_guide.lateral_angle_deg");
    let of_parquet = study(&folder, &again, "plan: Rows");
    let left = run(&["study", "run", &of_parquet, "--out", "-"]);
    left.ended(0, &[]);
    assert_eq!(left.out, first);
    let whole_numbers =
        study(&folder, &column("horizontal_inclination_deg", "made.parquet", "row"), "plan: Rows");
    // Rows are counted from 0, below what an inclination may be or not; what counts is that they are read.
    assert_eq!(run(&["study", "run", &whole_numbers, "--out", "-"]).out.lines().count(), 2 + 4);
    for (name, words) in
        [("nothing", "no column is called so; the file has \"row\""), ("reason", "holds no numbers")]
    {
        let study = study(&folder, &column("horizontal_inclination_deg", "made.parquet", name), "plan: Rows");
        run(&["study", "run", &study]).refused(&[words, "made.parquet"]);
    }
}

#[test]
fn what_cannot_stand_side_by_side_or_would_be_torn_apart_is_refused_with_its_place() {
    let folder = Folder::new();
    folder.file("pairs.csv", PAIRS);
    folder.file("short.csv", "l\n10\n12\n");
    let unequal = column("horizontal_inclination_deg", "pairs.csv", "h")
        + &column("right_guide.lateral_angle_deg", "short.csv", "l");
    run(&["study", "run", &study(&folder, &unequal, "plan: Rows")]).refused(&[
        "pairs.ron:4:",
        "`horizontal_inclination_deg` has 4 while `right_guide.lateral_angle_deg` has 2",
    ]);
    for plan in [
        "FullGrid",
        "MonteCarlo(rows: 50, seed: 1)",
        "Sobol(rows: 64, seed: 1)",
        "LatinHypercube(rows: 50, seed: 1)",
        "Indices(groups: 64, seed: 1, points: Sobol)",
    ] {
        let study = study(&folder, &pairs("pairs.csv"), &format!("plan: {plan}"));
        run(&["study", "run", &study]).refused(&["pairs.ron:4:", "pairs.csv", "tear apart", "`plan: Rows`"]);
    }
    // One factor at a time crosses nothing, nor do columns of different files.
    let alone = study(&folder, &pairs("pairs.csv"), "plan: OneAtATime");
    run(&["study", "plan", &study(&folder, &unequal, "plan: FullGrid")]).ended(0, &[]);
    run(&["study", "plan", &alone]);
    let spread = pairs("pairs.csv")
        + "\n(setting: \"occlusal_plane_inclination_deg\", values: Normal(mean: 9.0, sd: 1.0)),";
    run(&["study", "run", &study(&folder, &spread, "plan: Rows")]).refused(&["Rows needs levels"]);
    folder.file("pairs.csv", PAIRS.replace("22.25", "95"));
    run(&["study", "run", &study(&folder, &pairs("pairs.csv"), "plan: Rows")])
        .refused(&["95", "row 2 would be the first"]);
    folder.file("pairs.csv", PAIRS.replace("12.5", ""));
    run(&["study", "run", &study(&folder, &pairs("pairs.csv"), "plan: Rows")])
        .refused(&["line 3 has ``", "finite number"]);
}

#[test]
fn scramblings_that_cannot_be_are_refused() {
    let folder = Folder::new();
    let factor = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 30.0, sd: 2.0))";
    for (plan, words) in [
        ("Sobol(rows: 64, seed: 1, replicates: 0)", "0 is given; allowed are 1 to 64"),
        ("Sobol(rows: 64, seed: 1, replicates: 65)", "65 is given; allowed are 1 to 64"),
        (
            "Indices(groups: 4, seed: 1, points: Sobol, replicates: 8)",
            "replicates is 8, and there are 4 points",
        ),
        ("Indices(groups: 64, seed: 1, points: Random, replicates: 8)", "random points are independent"),
    ] {
        run(&["study", "run", &study(&folder, factor, &format!("plan: {plan}"))]).refused(&[words]);
    }
}

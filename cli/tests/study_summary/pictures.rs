//! Plots: well-formed, with their words apart from each other and on the page, whatever the names.

use std::fs;
use std::path::Path;

use resvg::usvg::{Node, Options, Rect, Tree, roxmltree};

use crate::helpers::{Folder, Parts, run};
use crate::tables::{CLEARANCE, GRID, table, written};

/// Names as long as a conscientious person gives them, and with what markup would trip over.
const LONG_CUSPS: &str = "(tooth: 36, name: \"mesiobuccal cusp of the first molar as worn & restored in the year before\", \
    at_mm: (58.0, 25.0, -38.0), opposing: (protrusive_deg: 20.0, retrusive_deg: 21.0, working_deg: 22.0, \
    nonworking_deg: 23.0)), (tooth: 16, name: \"<tip>\", at_mm: (57.0, -22.0, -37.0), opposing: \
    (protrusive_deg: 15.0, retrusive_deg: 16.0, working_deg: 17.0, nonworking_deg: 18.0))";

const SEVEN: &str = "(setting: \"right_guide.horizontal_inclination_deg\", values: Normal(mean: 30.0, sd: 2.0)), \
    (setting: \"left_guide.horizontal_inclination_deg\", values: Normal(mean: 30.0, sd: 2.0)), \
    (setting: \"occlusal_plane_inclination_deg\", values: Normal(mean: 10.0, sd: 1.0)), \
    (setting: \"cusps.36.mesiobuccal cusp of the first molar as worn & restored in the year before.protrusive_deg\", \
    values: Uniform(min: 10.0, max: 30.0)), \
    (setting: \"incisal_point_mm.z\", values: Normal(mean: -42.0, sd: 0.5)), \
    (setting: \"anterior_guide.sagittal_inclination_deg\", values: Uniform(min: 0.0, max: 50.0)), \
    (setting: \"intercondylar_distance_mm\", values: Uniform(min: 95.0, max: 120.0))";

/// Two boxes of words may meet by this much: room about the letters that a typeface counts in.
const MEETING: f32 = 0.5;

/// The picture, which must be well-formed, with every place a number.
fn tree(path: &Path) -> Tree {
    let text = fs::read_to_string(path).unwrap();
    assert!(!text.contains("NaN") && !text.contains("inf\"") && !text.contains("inf "), "{}", path.display());
    roxmltree::Document::parse(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut options = Options { font_family: "DejaVu Sans".to_owned(), ..Options::default() };
    options.fontdb_mut().load_font_data(dejavu::sans::regular().to_vec());
    options.fontdb_mut().load_font_data(dejavu::sans::bold().to_vec());
    Tree::from_str(&text, &options).unwrap()
}

fn words(nodes: &[Node], found: &mut Vec<(String, Rect)>) {
    for node in nodes {
        match node {
            Node::Group(group) => words(group.children(), found),
            Node::Text(text) => {
                let own: String = text.chunks().iter().map(|chunk| chunk.text().to_owned()).collect();
                found.push((own, text.abs_bounding_box()));
            }
            Node::Path(_) | Node::Image(_) => {}
        }
    }
}

fn check_words(path: &Path) {
    let tree = tree(path);
    let mut all = Vec::new();
    words(tree.root().children(), &mut all);
    assert!(all.len() > 5, "{}", path.display());
    let (width, height) = (tree.size().width(), tree.size().height());
    for (index, (own, at)) in all.iter().enumerate() {
        let inside = at.left() >= 0.0 && at.top() >= 0.0 && at.right() <= width && at.bottom() <= height;
        assert!(inside, "{own:?} runs off {}", path.display());
        for (other, there) in &all[..index] {
            let across = at.right().min(there.right()) - at.left().max(there.left());
            let down = at.bottom().min(there.bottom()) - at.top().max(there.top());
            assert!(
                across <= MEETING || down <= MEETING,
                "{own:?} runs into {other:?} in {}",
                path.display()
            );
        }
    }
}

/// Plots of a study with long names; gives the endings of the pictures' names.
fn plotted(folder: &Folder, factors: &str, plan: &str, record: &str, more: &[&str]) -> Vec<String> {
    let study = written(folder, "s.ron", factors, plan, record);
    folder.scene(&Parts { cusps: LONG_CUSPS, ..Parts::default() });
    let table = table(folder, &study, "t.parquet");
    let plots = folder.shell("plots");
    let left = run(&[&["study", "summary", &table, "--plots", &plots], more].concat());
    assert_eq!(left.status, 0, "{}", left.err);
    let mut kinds = Vec::new();
    for entry in fs::read_dir(&plots).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        assert!(
            name.len() < 130
                && name.chars().all(|letter| letter.is_ascii_alphanumeric() || "._-".contains(letter))
        );
        if name.ends_with(".svg") {
            check_words(&path);
            assert!(path.with_extension("png").exists() && path.with_extension("pdf").exists(), "{name}");
            kinds.push(name.trim_end_matches(".svg").rsplit('.').next().unwrap().to_owned());
        }
    }
    kinds.sort();
    kinds
}

#[test]
fn words_stand_apart_under_every_plan_and_whatever_the_names() {
    for (factors, plan, kinds) in [
        (
            SEVEN,
            "plan: Indices(groups: 32, seed: 1, points: Sobol)",
            "convergence heat_map histogram indices response",
        ),
        (
            SEVEN,
            "plan: LatinHypercube(rows: 200, seed: 1)",
            "coefficients convergence heat_map histogram response",
        ),
        (
            SEVEN,
            "plan: ElementaryEffects(trajectories: 20, seed: 1)",
            "convergence effects heat_map histogram response",
        ),
        (
            SEVEN,
            "plan: Shapley(groups: 16, seed: 1, points: Sobol)",
            "convergence heat_map histogram response shapley",
        ),
        (SEVEN, "plan: OneAtATime", "histogram tornado"),
        (GRID, "plan: FullGrid", "coefficients heat_map histogram response"),
    ] {
        // With a title and without, on both columns of a page and on one.
        for more in [&["--plot-title"][..], &[], &["--plot-width-mm", "80", "--plot-dpi", "72"]] {
            let folder = Folder::new();
            assert_eq!(plotted(&folder, factors, plan, CLEARANCE, more).join(" "), kinds, "{plan}");
        }
    }
}

/// A title goes into the caption, and is on the picture only where that is asked for.
#[test]
fn what_to_say_under_a_picture_stands_beside_it() {
    let folder = Folder::new();
    let kinds = plotted(&folder, GRID, "plan: FullGrid", CLEARANCE, &[]);
    let captions = fs::read_to_string(folder.path("plots/captions.txt")).unwrap();
    for kind in &kinds {
        assert!(captions.contains(&format!("clearance_mm.{kind}\n")), "{captions}");
    }
    assert!(captions.contains("Dashed: median") && captions.contains("Settings are verified on the patient"));
    let histogram = fs::read_dir(folder.path("plots")).unwrap().map(|entry| entry.unwrap().path());
    let histogram =
        histogram.into_iter().find(|path| path.to_str().is_some_and(|name| name.ends_with("histogram.svg")));
    let text = fs::read_to_string(histogram.unwrap()).unwrap();
    assert!(!text.contains("Dashed: median") && text.contains("P(clearance &lt; 0) = "), "{text}");
}

/// Two factors that hardly differ from the base scene and a row for each of many random ones: as many rows stand in
/// every row of cells, and none is left empty.
#[test]
fn a_heat_map_of_random_rows_has_no_empty_cells() {
    let factors = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 30.0, sd: 4.0)), \
        (setting: \"anterior_guide.sagittal_inclination_deg\", values: Normal(mean: 20.0, sd: 5.0))";
    for rows in ["50", "64", "1000"] {
        let folder = Folder::new();
        let plan = format!("plan: LatinHypercube(rows: {rows}, seed: 3)");
        plotted(&folder, factors, &plan, CLEARANCE, &[]);
        let captions = fs::read_to_string(folder.path("plots/captions.txt")).unwrap();
        let (_, told) = captions.split_once("Mean of all rows in each cell, n = ").unwrap();
        let least: u64 = told.split([' ', '.']).next().unwrap().parse().unwrap();
        let map = fs::read_dir(folder.path("plots")).unwrap().map(|entry| entry.unwrap().path());
        let map =
            map.into_iter().find(|path| path.to_str().is_some_and(|name| name.ends_with("heat_map.svg")));
        // What is hatched has a pale line of this width.
        assert!(!fs::read_to_string(map.unwrap()).unwrap().contains("stroke-width=\"0.8\""), "{rows}");
        assert!(least >= 5, "{rows} rows: {told}");
    }
}

/// One factor, a measure that hardly varies, and one that does not vary at all.
#[test]
fn small_and_constant_numbers_are_drawn_too() {
    let one = "(setting: \"horizontal_inclination_deg\", values: Range(from: 30.0, to: 30.001, steps: 400))";
    let folder = Folder::new();
    let record = "measures: [Clearance, CondylarAdvance], advances_mm: [3.0]";
    let kinds =
        plotted(&folder, one, "plan: FullGrid", record, &["--measure", "tip", "--measure", "left_condyle"]);
    // Two excursions of each; what does not vary has no coefficients.
    assert_eq!(kinds.iter().filter(|kind| *kind == "histogram").count(), 4);
    assert_eq!(kinds.iter().filter(|kind| *kind == "response").count(), 4);
    assert!(kinds.iter().any(|kind| kind == "coefficients") && !kinds.iter().any(|kind| kind == "heat_map"));
}

#[test]
fn factors_and_measures_are_chosen_by_name_and_a_default_is_said() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", GRID, "plan: FullGrid", CLEARANCE);
    let table = table(&folder, &study, "t.parquet");
    let plots = folder.shell("plots");
    let left = run(&["study", "summary", &table, "--plots", &plots]);
    assert!(left.err.contains("Drawn: clearance at 36 mesiobuccal, protrusive, 3 mm"), "{}", left.err);
    let chosen = folder.shell("chosen");
    let left = run(&[
        "study",
        "summary",
        &table,
        "--plots",
        &chosen,
        "--measure",
        "right_lateral.3mm.16",
        "--factor",
        "sagittal",
    ]);
    assert!(
        !left.err.contains("Drawn:") && left.err.contains("No heat map: it needs two factors"),
        "{}",
        left.err
    );
    assert!(left.out.contains("clearance at 16 mesiopalatal") && !left.out.contains("at 36 mesiobuccal"));
    let response = folder.path("chosen/right_lateral.3mm.16.mesiopalatal.clearance_mm.response.svg");
    let svg = fs::read_to_string(response).unwrap();
    assert!(svg.contains("incisal guide inclination, °") && !svg.contains("horizontal"), "{svg}");
}

/// The heat map's colours are the means': the darkest cell is where the steepest of both meet.
#[test]
fn a_heat_map_is_darkest_where_the_measure_is_greatest() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", GRID, "plan: FullGrid", CLEARANCE);
    let table = table(&folder, &study, "t.parquet");
    let plots = folder.shell("plots");
    let order = ["--factor", "horizontal_inclination_deg", "--factor", "sagittal"];
    let left = run(&[&["study", "summary", &table, "--plots", &plots][..], &order].concat());
    assert_eq!(left.status, 0, "{}", left.err);
    let path = folder.path("plots/protrusive.3mm.36.mesiobuccal.clearance_mm.heat_map.png");
    let picture = image::open(path).unwrap().to_luma8();
    let (width, height) = picture.dimensions();
    let column = |x: u32| (0..height).map(move |y| (x, y));
    let darkest = (width / 8..width * 3 / 4).flat_map(column).filter(|at| {
        // Solid colour, not a letter or a line: the eight pixels around are alike.
        let own = picture.get_pixel(at.0, at.1).0[0];
        own < 120 && own > 17 && [3, 6].iter().all(|off| picture.get_pixel(at.0 + off, at.1).0[0] == own)
    });
    let (x, y) = darkest.min_by_key(|at| picture.get_pixel(at.0, at.1).0[0]).unwrap();
    assert!(x > width / 2 && y < height / 2, "{x} of {width}, {y} of {height}");
}

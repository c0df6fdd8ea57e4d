//! The template, measured in the printed page: its content is unpacked and its paths are followed
//! through their transformations, to points of 1/72 inch.

use std::io::Read as _;

use flate2::read::ZlibDecoder;

use crate::drawn::{self, Chance};
use crate::helpers::{Folder, json, number, run};

/// A point of 1/72 inch, in millimetres.
const POINT_MM: f64 = 25.4 / 72.0;
/// A place on the page is right to this; a drill is no better.
const PLACED_MM: f64 = 0.01;

/// A path drawn, its places in millimetres from the page's lower left.
#[derive(Default)]
struct Drawn {
    points: Vec<(f64, f64)>,
    curved: bool,
}

impl Drawn {
    /// The middle of the box about it, and the box's sides.
    fn bounds(&self) -> ((f64, f64), (f64, f64)) {
        let of = |part: fn(&(f64, f64)) -> f64| {
            let low = self.points.iter().map(part).fold(f64::INFINITY, f64::min);
            let high = self.points.iter().map(part).fold(f64::NEG_INFINITY, f64::max);
            (f64::midpoint(low, high), high - low)
        };
        let ((x, wide), (y, high)) = (of(|at| at.0), of(|at| at.1));
        ((x, y), (wide, high))
    }
}

/// a, b, c, d, e, f of a transformation: (ax + cy + e, bx + dy + f).
type Transformation = [f64; 6];

fn after(first: Transformation, then: Transformation) -> Transformation {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = then;
    [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]
}

/// The content of the page: the packed stream that draws most.
fn content(pdf: &[u8]) -> String {
    let mut contents = Vec::new();
    let mut rest = pdf;
    while let Some(start) = find(rest, b"stream\n") {
        rest = &rest[start + 7..];
        let end = find(rest, b"endstream").expect("a stream ends");
        let mut unpacked = Vec::new();
        if ZlibDecoder::new(&rest[..end]).read_to_end(&mut unpacked).is_ok() {
            contents.push(String::from_utf8_lossy(&unpacked).into_owned());
        }
        rest = &rest[end + 9..];
    }
    contents.into_iter().max_by_key(|text| text.matches(" cm").count()).expect("a page")
}

fn find(text: &[u8], what: &[u8]) -> Option<usize> {
    text.windows(what.len()).position(|window| window == what)
}

/// Every path that is stroked.
fn stroked(content: &str) -> Vec<Drawn> {
    let mut stack = Vec::new();
    let mut now: Transformation = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut numbers, mut path, mut all): (Vec<f64>, Drawn, Vec<Drawn>) =
        (Vec::new(), Drawn::default(), Vec::new());
    for token in content.split_ascii_whitespace() {
        if let Ok(number) = token.parse() {
            numbers.push(number);
            continue;
        }
        let to_page = |x: f64, y: f64| {
            let [a, b, c, d, e, f] = now;
            ((a * x + c * y + e) * POINT_MM, (b * x + d * y + f) * POINT_MM)
        };
        match (token, numbers.as_slice()) {
            ("q", _) => stack.push(now),
            ("Q", _) => now = stack.pop().expect("as many as were put"),
            ("cm", &[a, b, c, d, e, f]) => now = after([a, b, c, d, e, f], now),
            ("m" | "l", &[x, y]) => path.points.push(to_page(x, y)),
            ("c", &[.., x, y]) => {
                path.points.push(to_page(x, y));
                path.curved = true;
            }
            ("S" | "s", _) => all.push(std::mem::take(&mut path)),
            ("n" | "f" | "f*" | "B", _) => path = Drawn::default(),
            _ => {}
        }
        numbers.clear();
    }
    all
}

/// The four holes, the apex first, as forward and left of it.
fn holes(paths: &[Drawn]) -> Vec<(f64, f64)> {
    let round = paths.iter().filter(|path| path.curved).map(Drawn::bounds);
    let mut middles: Vec<(f64, f64)> = round
        .inspect(|(_, (wide, high))| {
            assert!((wide - 1.5).abs() < PLACED_MM && (high - 1.5).abs() < PLACED_MM);
        })
        .map(|(middle, _)| middle)
        .collect();
    // Front is up, so that the apex of a plate on the lower member is the highest.
    middles.sort_by(|one, other| other.1.total_cmp(&one.1));
    let apex = middles[0];
    middles.iter().map(|at| (at.1 - apex.1, apex.0 - at.0)).collect()
}

fn check(paths: &[Drawn], wanted: &[(f64, f64)]) {
    let straight = paths.iter().filter(|path| path.points.len() == 2).map(|path| path.bounds().1);
    let long: Vec<(f64, f64)> = straight.filter(|(wide, high)| wide.max(*high) > 10.0).collect();
    assert_eq!(long.len(), 2, "one bar across and one down: {long:?}");
    for (wide, high) in long {
        // 50 mm are 141.73 points.
        let points = wide.hypot(high) / POINT_MM;
        assert!((points - 141.732).abs() < 0.01, "{points} points");
    }
    let found = holes(paths);
    assert_eq!(found.len(), 4);
    for (forward, left) in wanted {
        let near = |hole: &&(f64, f64)| (hole.0 - forward).hypot(hole.1 - left) < PLACED_MM;
        assert_eq!(found.iter().filter(near).count(), 1, "{forward}, {left}: {found:?}");
    }
}

fn page(folder: &Folder) -> Vec<Drawn> {
    stroked(&content(&std::fs::read(folder.shell("template.pdf")).unwrap()))
}

#[test]
fn the_holes_of_a_scene_stand_on_paper_where_its_tracer_draws_them_and_the_bars_are_50_mm() {
    let folder = Folder::new();
    let scene = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/unequal_sides.ron");
    for (distance, paper) in [("6", "a4"), ("4", "letter")] {
        let out = folder.shell("template.pdf");
        let made = run(&[
            "tracing",
            "template",
            "--scene",
            scene,
            "--out",
            &out,
            "--distance",
            distance,
            "--paper",
            paper,
        ]);
        assert_eq!(made.status, 0, "{}", made.err);
        let setup = json(&["tracing", "setup", scene, "--distance", distance, "--format", "json"]);
        assert!(setup["caution"].as_str().unwrap().contains("verified on the patient"));
        let hole = |leg: &serde_json::Value| {
            let place = &leg["hole_forward_left_mm"];
            (place[0].as_f64().unwrap(), place[1].as_f64().unwrap())
        };
        let wanted: Vec<(f64, f64)> = setup["legs"].as_array().unwrap().iter().map(hole).collect();
        let wished: f64 = distance.parse().unwrap();
        assert!(wanted.iter().all(|(forward, left)| (forward.hypot(*left) - wished).abs() < 1e-9));
        check(&page(&folder), &wanted);
    }
}

#[test]
fn the_holes_of_a_recorded_tracing_stand_where_its_legs_meet_the_arc() {
    let folder = Folder::new();
    let drawn = drawn::of(&drawn::rims(15.0), 9.0, 80);
    let mut legs = sim_core::tracing::Leg::ALL.map(|leg| drawn::laid(&drawn, leg, (5.0, -3.0)));
    drawn::scattered(&mut legs, 0.04, &mut Chance(1));
    let file = folder.file("points.csv", drawn::csv("Made by a test", &legs));
    let made = run(&["tracing", "template", &file, "--out", &folder.shell("template.pdf")]);
    assert_eq!(made.status, 0, "{}", made.err);
    let found = json(&["tracing", &file, "--format", "json"]);
    let apex = |way: &str| number(&found["apex"][way], "value");
    let wanted: Vec<(f64, f64)> = found["legs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|leg| &leg["meets"])
        .map(|meets| {
            (number(meets, "forward_mm") - apex("forward_mm"), number(meets, "left_mm") - apex("left_mm"))
        })
        .collect();
    check(&page(&folder), &wanted);
}

#[test]
fn the_svg_is_as_large_as_the_paper_and_says_how_it_is_to_be_printed() {
    let folder = Folder::new();
    let scene = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/thirty_degree.ron");
    let out = folder.shell("template.svg");
    assert_eq!(run(&["tracing", "template", "--scene", scene, "--out", &out]).status, 0);
    let svg = std::fs::read_to_string(&out).unwrap();
    for words in [
        "width=\"210.0016mm\"",
        "height=\"297.0001mm\"",
        "50 mm",
        "Print at 100 %",
        "verified on the patient",
    ] {
        assert!(svg.contains(words), "{words}");
    }
}

#[test]
fn a_tracing_to_be_repeated_gives_no_template_and_wrong_calls_say_what_would_do() {
    let folder = Folder::new();
    let tracing = |name: &str| format!("{}/../scenes/tracings/{name}", env!("CARGO_MANIFEST_DIR"));
    let out = folder.shell("template.pdf");
    let double = run(&["tracing", "template", &tracing("double.csv"), "--out", &out]);
    assert_eq!(double.status, 1, "{}", double.err);
    assert!(double.err.contains("Repeat the tracing"), "{}", double.err);
    assert!(folder.names().is_empty(), "{:?}", folder.names());
    let sharp = tracing("sharp.csv");
    for (arguments, said) in [
        (vec!["tracing", "template", &sharp, "--out", "template.png"], ".pdf or .svg"),
        (vec!["tracing", "template", "--out", "template.pdf"], "FILE"),
        (vec!["tracing", "template", &sharp, "--out", "t.pdf", "--distance", "0"], "1 to 20 mm"),
        (vec!["tracing", "setup", "--distance", "inf"], "1 to 20 mm"),
        (vec!["tracing"], "FILE"),
    ] {
        let refused = run(&arguments);
        assert_eq!(refused.status, 2, "{arguments:?}: {}", refused.err);
        assert!(refused.err.contains(said), "{arguments:?}: {}", refused.err);
    }
}

#[test]
fn a_set_up_tells_its_faults_and_is_no_failure() {
    let scene = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/thirty_degree.ron");
    let left = run(&["tracing", "setup", scene]);
    assert_eq!(left.status, 0, "{}", left.err);
    for said in
        ["parallel to the occlusal plane within 5°", "! At 6 mm", "make the bearing", "stays on its plate"]
    {
        let line = left.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains(said), "{said}: {}", left.out);
    }
}

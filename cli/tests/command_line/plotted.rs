//! `--plot` of `excursion` and `compare`: what is drawn is what is read.

use resvg::usvg::roxmltree::{Document, Node};
use serde_json::Value;

use crate::helpers::{Folder, Parts, TWO_CUSPS, assert_near, json, number, run};

/// One panel of a plot, found by its numbers: from places on the page to what they stand for.
struct Axes {
    /// Left and right edge, upper and lower edge.
    frame: [f64; 4],
    across: Line,
    up: Line,
}

/// A straight line through two places.
struct Line {
    from: (f64, f64),
    to: (f64, f64),
}

impl Line {
    fn at(&self, place: f64) -> f64 {
        self.from.1 + (place - self.from.0) / (self.to.0 - self.from.0) * (self.to.1 - self.from.1)
    }
}

fn length(node: &Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or(f64::NAN)
}

/// The panels of a plot, in the order in which they are drawn.
fn panels(document: &Document<'_>) -> Vec<Axes> {
    let frames =
        document.descendants().filter(|node| node.has_tag_name("rect") && node.attribute("stroke").is_some());
    frames.map(|frame| axes_of(document, &frame)).collect()
}

fn axes_of(document: &Document<'_>, frame: &Node<'_, '_>) -> Axes {
    let (left, top) = (length(frame, "x"), length(frame, "y"));
    let (right, bottom) = (left + length(frame, "width"), top + length(frame, "height"));
    let words = document.descendants().filter(|node| node.has_tag_name("text"));
    let numbers: Vec<(f64, f64, &str, f64)> = words
        .filter_map(|node| {
            let number = node.text()?.replace('−', "-").parse().ok()?;
            Some((length(&node, "x"), length(&node, "y"), node.attribute("text-anchor")?, number))
        })
        .collect();
    // Numbers stand at the left of their lines, 5 from the frame and 3.5 below the line, and 12 below the frame.
    let up: Vec<_> = (numbers.iter())
        .filter(|(x, y, anchor, _)| {
            *anchor == "end" && (x - (left - 5.0)).abs() < 0.02 && (top..=bottom + 4.0).contains(y)
        })
        .map(|(_, y, _, number)| (y - 3.5, *number))
        .collect();
    let across: Vec<_> = (numbers.iter())
        .filter(|(x, y, anchor, _)| {
            *anchor == "middle"
                && (y - (bottom + 12.0)).abs() < 0.02
                && (left - 1.0..=right + 1.0).contains(x)
        })
        .map(|(x, _, _, number)| (*x, *number))
        .collect();
    let line = |numbers: &[(f64, f64)]| Line { from: numbers[0], to: *numbers.last().unwrap() };
    assert!(up.len() > 1 && across.len() > 1, "{up:?} {across:?}");
    Axes { frame: [left, right, top, bottom], across: line(&across), up: line(&up) }
}

/// A curve: the points, whether dashed, how thick.
type Drawn = (Vec<(f64, f64)>, bool, String);

/// Curves of a panel, in the order in which they are drawn.
fn curves(document: &Document<'_>, axes: &Axes) -> Vec<Drawn> {
    let group = document
        .descendants()
        .filter(|node| node.has_tag_name("g") && node.attribute("clip-path").is_some())
        .find(|group| {
            let url = group.attribute("clip-path").unwrap();
            let id = &url["url(#".len()..url.len() - 1];
            let clip = document.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
            let rect = clip.first_element_child().unwrap();
            (length(&rect, "x"), length(&rect, "y")) == (axes.frame[0], axes.frame[2])
        });
    let paths = group.unwrap().children().filter(|node| node.has_tag_name("path"));
    let drawn = paths.filter(|path| matches!(path.attribute("stroke-width"), Some("1.8" | "0.9")));
    drawn
        .map(|path| {
            let data = path.attribute("d").unwrap();
            let points = data[1..].split('L').map(|point| {
                let (x, y) = point.split_once(' ').unwrap();
                (axes.across.at(x.parse().unwrap()), axes.up.at(y.parse().unwrap()))
            });
            let dashed = path.attribute("stroke-dasharray").is_some();
            (points.collect(), dashed, path.attribute("stroke-width").unwrap().to_owned())
        })
        .collect()
}

/// Places are written to hundredths of a unit of the page, and a panel has some 40 units a millimetre.
const TO_A_HUNDREDTH: f64 = 0.002;

fn assert_drawn(drawn: &[(f64, f64)], samples: &[Value], cusp: usize, quantity: &str, along: &str) {
    assert_eq!(drawn.len(), samples.len());
    for ((x, y), sample) in drawn.iter().zip(samples) {
        assert_near(*x, number(sample, along), TO_A_HUNDREDTH);
        assert_near(*y, number(&sample["cusps"][cusp], quantity), TO_A_HUNDREDTH);
    }
}

fn samples(run: &Value, excursion: usize) -> &[Value] {
    run["excursions"][excursion]["samples"].as_array().unwrap()
}

#[test]
fn the_curves_of_an_excursion_go_through_what_is_read() {
    let folder = Folder::new();
    // A guide that takes the jaw sideways before it advances, and one excursion that is an opening.
    let scene = folder.scene(&Parts {
        left_guide: "(horizontal_inclination_deg: 25.0, lateral_angle_deg: 10.0, immediate_translation_mm: 0.5)",
        excursions: "Protrusive(advance_mm: 6.0), RightLateral(advance_mm: 5.0), Opening(angle_deg: 4.0)",
        ..Parts::default()
    });
    let plot = folder.shell("plot.svg");
    let read = json(&["excursion", &scene, "--format", "json", "--plot", &plot]);
    let text = std::fs::read_to_string(&plot).unwrap();
    let document = Document::parse(&text).unwrap();
    let panels = panels(&document);
    assert_eq!(panels.len(), 3);
    for (excursion, axes) in panels.iter().enumerate() {
        let along = if excursion == 2 { "opening_deg" } else { "advance_mm" };
        let curves = curves(&document, axes);
        assert_eq!(curves.len(), 4, "two cusps, two curves each");
        for (index, (drawn, dashed, _)) in curves.iter().enumerate() {
            let quantity = if *dashed { "clearance_mm" } else { "separation_mm" };
            assert_eq!(*dashed, index % 2 == 1);
            assert_drawn(drawn, samples(&read, excursion), index / 2, quantity, along);
        }
        // All panels are as high in millimetres, so that steeper looks steeper.
        let of = |axes: &Axes| (axes.up.at(axes.frame[2]), axes.up.at(axes.frame[3]));
        assert_near(of(axes).0, of(&panels[0]).0, TO_A_HUNDREDTH);
        assert_near(of(axes).1, of(&panels[0]).1, TO_A_HUNDREDTH);
    }
    assert!(!text.contains("Written by a test"), "a title is for the caption");
    for words in ["condylar advance, mm", "opening, °", "36 mesiobuccal", "interference"] {
        assert!(text.contains(words), "{words:?} is not in the plot");
    }
    assert!(!text.contains("NaN") && !text.contains("inf\""), "every place is a number");
}

#[test]
fn held_axes_stay_and_a_curve_that_leaves_them_says_so() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let plot = folder.shell("plot.svg");
    for (inclination, leaves) in [("20", false), ("60", true)] {
        let with = format!("horizontal_inclination_deg={inclination}");
        let left = run(&["excursion", &scene, "--with", &with, "--plot", &plot, "--plot-range", "-0.5:2"]);
        assert_eq!(left.status, 0, "{}", left.err);
        let text = std::fs::read_to_string(&plot).unwrap();
        assert!(text.contains(&format!("Changed: horizontal_inclination_deg={inclination}.")), "{text}");
        let document = Document::parse(&text).unwrap();
        for axes in panels(&document) {
            assert_near(axes.up.at(axes.frame[2]), 2.0, TO_A_HUNDREDTH);
            assert_near(axes.up.at(axes.frame[3]), -0.5, TO_A_HUNDREDTH);
        }
        assert_eq!(text.contains('↑'), leaves, "{inclination}");
    }
}

#[test]
fn two_set_ups_are_drawn_on_the_same_axes() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let plot = folder.shell("plot.svg");
    let change = ["--with", "horizontal_inclination_deg=25"];
    let compared = run(&[&["compare", &scene, "--plot", &plot], &change[..]].concat());
    assert_eq!(compared.status, 0, "{}", compared.err);
    let first = json(&["excursion", &scene, "--format", "json"]);
    let second = json(&[&["excursion", &scene, "--format", "json"], &change[..]].concat());
    let text = std::fs::read_to_string(&plot).unwrap();
    let document = Document::parse(&text).unwrap();
    let panels = panels(&document);
    assert_eq!(panels.len(), 2);
    for (excursion, axes) in panels.iter().enumerate() {
        let curves = curves(&document, axes);
        assert_eq!(curves.len(), 8, "two cusps of two set-ups, two curves each");
        for (index, (drawn, dashed, thick)) in curves.iter().enumerate() {
            let quantity = if *dashed { "clearance_mm" } else { "separation_mm" };
            let of = if index < 4 { &first } else { &second };
            assert_eq!(thick, if index < 4 { "1.8" } else { "0.9" });
            assert_drawn(drawn, samples(of, excursion), index % 4 / 2, quantity, "advance_mm");
        }
    }
    for words in ["36 A", "36 B", "with horizontal_inclination_deg=25"] {
        assert!(text.contains(words), "{words:?} is not in the plot");
    }
}

#[test]
fn an_excursion_that_stops_short_is_drawn_as_far_as_it_goes() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts {
        left_guide: "(horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0, path: Arc(radius_mm: 3.0))",
        ..Parts::default()
    });
    let plot = folder.shell("plot.svg");
    let left = run(&["excursion", &scene, "--plot", &plot]);
    assert_eq!(left.status, 1, "{}", left.err);
    let text = std::fs::read_to_string(&plot).unwrap();
    assert!(text.contains("stops short"), "{text}");
    let document = Document::parse(&text).unwrap();
    let axes = &panels(&document)[0];
    let reached = curves(&document, axes)[0].0.last().unwrap().0;
    assert!(reached > 0.5 && reached < 5.0, "{reached}");
}

#[test]
fn a_plot_that_cannot_be_is_refused_before_anything_is_written() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let (gif, svg) = (folder.shell("plot.gif"), folder.shell("plot.svg"));
    let nowhere = folder.shell("no/plot.svg");
    let before = folder.names();
    for (more, words) in [
        (vec!["--plot", &gif], ".svg, .png or .pdf"),
        (vec!["--plot", &nowhere], "cannot be written"),
        (vec!["--plot", &scene], ".svg, .png or .pdf"),
        (vec!["--plot", &svg, "--out", &svg], "same file"),
        (vec!["--plot", &svg, "--plot-range", "5:1"], "the lower one first"),
        (vec!["--plot-range", "0:1"], "--plot"),
        (vec!["--plot-width-mm", "100"], "--plot"),
        (vec!["--plot", &svg, "--plot-width-mm", "79"], "80 to 420 millimetres"),
        (vec!["--plot", &svg, "--plot-dpi", "50"], "allowed are 72 to 1200"),
    ] {
        for command in [&["excursion"][..], &["compare", "--with", "horizontal_inclination_deg=25"]] {
            let left = run(&[&command[..1], &[&scene], &command[1..], &more].concat());
            assert_eq!(left.status, 2, "{more:?}: {}", left.err);
            assert!(left.err.contains(words) && left.out.is_empty(), "{more:?}: {}", left.err);
        }
    }
    assert_eq!(folder.names(), before);
}

/// Cusps of one tooth are told apart by name at their curves' ends; a scene without cusps has axes all the same.
#[test]
fn the_ends_of_curves_name_tooth_and_where_needed_cusp() {
    let folder = Folder::new();
    let plot = folder.shell("plot.svg");
    let again = TWO_CUSPS.replace("mesiopalatal", "distobuccal").replace("tooth: 16", "tooth: 36");
    let again = again.replace("(57.0, -22.0, -37.0)", "(54.0, 25.0, -38.0)");
    let scene = folder.scene(&Parts { cusps: again.leak(), ..Parts::default() });
    assert_eq!(run(&["excursion", &scene, "--plot", &plot]).status, 0);
    let text = std::fs::read_to_string(&plot).unwrap();
    // Twice in each panel, and in the list of marks.
    assert!(text.matches("36 distobuccal").count() >= 3, "{text}");
    let scene = folder.scene(&Parts { cusps: "", ..Parts::default() });
    assert_eq!(run(&["excursion", &scene, "--plot", &plot]).status, 0);
    let text = std::fs::read_to_string(&plot).unwrap();
    assert!(!text.contains("NaN") && text.contains("condylar advance"), "{text}");
}

/// The picture's own size is what was asked for; letters keep theirs, so that a narrow one is laid out anew.
#[test]
fn a_plot_is_as_wide_as_asked_and_has_its_title_where_asked() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let plot = folder.shell("plot.svg");
    let asked = ["--plot", &plot, "--plot-width-mm", "84", "--plot-title"];
    assert_eq!(run(&[&["excursion", &scene][..], &asked].concat()).status, 0);
    let text = std::fs::read_to_string(&plot).unwrap();
    assert!(text.contains("width=\"84mm\"") && text.contains("Written by a test"), "{text}");
    let document = Document::parse(&text).unwrap();
    let sizes = document.descendants().filter_map(|node| node.attribute("font-size")?.parse::<f64>().ok());
    assert!(sizes.into_iter().all(|size| size >= 9.0), "{text}");
    let units: Vec<f64> = document
        .root_element()
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    assert_near(units[2], 84.0 / 25.4 * 96.0, 1e-6);
    let pdf = folder.shell("plot.pdf");
    assert_eq!(run(&["excursion", &scene, "--plot", &pdf]).status, 0);
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
    // What is not laid out anew is refused where nobody could read it.
    let left = run(&["plan", "--plot", &plot, "--plot-width-mm", "80"]);
    assert_eq!(left.status, 2, "{}", left.err);
    assert!(left.err.contains("from 115 mm on they can be"), "{}", left.err);
}

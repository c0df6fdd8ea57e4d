//! Plots are pictures of what was found, written whole or not at all.

use crate::helpers::{Folder, run};

fn scene(name: &str) -> String {
    format!("{}/../scenes/{name}", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn an_svg_has_the_words_that_a_reader_needs() {
    let folder = Folder::new();
    let plot = folder.shell("plot.svg");
    let left =
        run(&["tracing", &scene("tracings/rounded.csv"), "--over", &scene("flat_rims.ron"), "--plot", &plot]);
    assert_eq!(left.status, 1, "a rounded apex is still drawn: {}", left.err);
    let svg = std::fs::read_to_string(&plot).unwrap();
    assert!(svg.starts_with("<svg") && svg.ends_with("</svg>\n"));
    for words in [
        "apex",
        "right lateral leg",
        "left lateral leg",
        "protrusive leg",
        "patient’s front",
        "Repeat the tracing",
        "6 mm from the apex",
        "Flat rims",
        "For teaching and research",
    ] {
        assert!(svg.contains(words), "{words:?} is not in the plot");
    }
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "every place is a number");
}

/// The words of a PNG need a typeface; this one is drawn without any of the machine's, and has ink
/// where the title stands.
#[test]
fn a_png_is_drawn_with_its_words() {
    let folder = Folder::new();
    let plot = folder.shell("plot.png");
    assert_eq!(run(&["tracing", &scene("tracings/sharp.csv"), "--plot", &plot]).status, 0);
    let picture = image::open(&plot).unwrap().to_luma8();
    assert!(picture.width() > 1500 && picture.height() > 1000);
    let dark = |x: std::ops::Range<u32>, y: std::ops::Range<u32>| {
        y.flat_map(|y| x.clone().map(move |x| (x, y)))
            .filter(|(x, y)| picture.get_pixel(*x, *y).0[0] < 100)
            .count()
    };
    assert!(dark(120..900, 20..75) > 1500, "title");
    assert!(dark(120..900, 1520..1560) > 1000, "caution");
    assert!(dark(0..20, 0..1500) == 0, "margin");
}

#[test]
fn a_plot_of_no_known_kind_or_in_the_way_is_refused() {
    let folder = Folder::new();
    let tracing = folder.file("points.svg", std::fs::read(scene("tracings/sharp.csv")).unwrap());
    for (plot, words) in [
        (folder.shell("plot.gif"), ".svg, .png or .pdf"),
        (folder.shell("plot"), ".svg, .png or .pdf"),
        (tracing.clone(), "is the tracing that is read"),
        (folder.shell("no/such/plot.svg"), "cannot be written"),
    ] {
        let left = run(&["tracing", &tracing, "--plot", &plot]);
        assert_eq!(left.status, 2, "{plot}: {}", left.err);
        assert!(left.err.contains("--plot") && left.err.contains(words), "{}", left.err);
        assert!(left.out.is_empty(), "nothing is written when the plot cannot be");
    }
    assert_eq!(folder.names(), ["points.svg"]);
}

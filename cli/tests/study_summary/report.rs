//! The report: one page that needs nothing else.

use std::fs;

use resvg::usvg::roxmltree::{Document, Node};

use crate::helpers::{Folder, assert_near, number, run};
use crate::tables::{CLEARANCE, GRID, of, summary, table, written};

const CAUTION: &str = "Settings are verified on the patient";

/// The page of a table, which must be well-formed but for its first line.
fn page(folder: &Folder, table: &str, more: &[&str]) -> String {
    let out = folder.shell("report.html");
    let left = run(&[&["study", "summary", table, "--report", &out], more].concat());
    assert_eq!(left.status, 0, "{}", left.err);
    let text = fs::read_to_string(&out).unwrap();
    text.strip_prefix("<!DOCTYPE html>\n").unwrap_or_else(|| panic!("{text}")).to_owned()
}

fn named<'d>(document: &'d Document<'d>, name: &'static str) -> Vec<Node<'d, 'd>> {
    document.descendants().filter(|node| node.tag_name().name() == name).collect()
}

fn text_of(node: Node<'_, '_>) -> String {
    node.descendants().filter_map(|node| if node.is_text() { node.text() } else { None }).collect()
}

#[test]
fn a_page_is_well_formed_and_asks_for_nothing_from_outside() {
    let folder = Folder::new();
    let study = written(
        &folder,
        "s.ron",
        GRID,
        "plan: FullGrid",
        "measures: [Clearance, Guidance, Interference], advances_mm: [3.0]",
    );
    let text = page(&folder, &table(&folder, &study, "t.parquet"), &[]);
    let document = Document::parse(&text).unwrap();
    for name in ["script", "link", "img", "iframe", "object"] {
        assert!(named(&document, name).is_empty(), "{name}");
    }
    for node in document.descendants() {
        for attribute in node.attributes() {
            assert!(!["src", "href", "data"].contains(&attribute.name()), "{attribute:?}");
            assert!(!attribute.name().starts_with("on"), "{attribute:?}");
        }
    }
    // The one address is the name of SVG, which nobody fetches.
    assert_eq!(text.matches("http").count(), text.matches("http://www.w3.org/2000/svg").count());
    assert!(!text.contains("url(") && !text.contains("@import"));
    assert_eq!(text.matches(CAUTION).count(), 1);
    assert_eq!(named(&document, "svg").len(), 4);
}

#[test]
fn a_page_says_what_it_is_of_and_its_tables_can_be_read_out() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", GRID, "plan: FullGrid", CLEARANCE);
    let table = table(&folder, &study, "t.parquet");
    let text = page(&folder, &table, &[]);
    let told = summary(&table, &[]);
    let document = Document::parse(&text).unwrap();
    let whole = text_of(document.root());
    for words in ["A check <of> summaries (invented)", "full grid of 3 × 4 levels", "eminentia 0.1.0"] {
        assert!(whole.contains(words), "{words}");
    }
    assert!(whole.contains(told["study_sha256"].as_str().unwrap()));
    assert!(whole.contains("Sobol’ indices need the plan Indices"), "what the plan does not tell");
    let tables = named(&document, "table");
    assert!(tables.len() >= 3);
    for table in &tables {
        let own = |name: &str| {
            table.descendants().filter(|node| node.tag_name().name() == name).collect::<Vec<_>>()
        };
        assert_eq!(own("caption").len(), 1);
        assert!(own("th").iter().all(|head| head.attribute("scope").is_some()));
        let wide = own("thead")[0]
            .descendants()
            .filter(|node| ["td", "th"].contains(&node.tag_name().name()))
            .count();
        for row in own("tr").iter().skip(1) {
            let cells: Vec<_> = row.children().filter(Node::is_element).collect();
            let spanned = cells[0].attribute("colspan").map_or(1, |count| count.parse().unwrap());
            assert_eq!(cells.len() + spanned - 1, wide, "{}", text_of(*row));
        }
    }
    for figure in named(&document, "figure") {
        let image = figure.descendants().find(|node| node.attribute("role") == Some("img")).unwrap();
        assert!(image.attribute("aria-label").unwrap().contains("clearance at 36 mesiobuccal"));
    }
    let rows = named(&document, "tr");
    let row = rows.iter().find(|row| text_of(**row).contains("clearance at 36 mesiobuccal, mm")).unwrap();
    let cells: Vec<String> = row.children().filter(Node::is_element).map(text_of).collect();
    let mean: f64 = cells[2].replace('−', "-").parse().unwrap();
    // Two decimals are written.
    assert_near(
        mean,
        number(of(&told, "measures", "protrusive.3mm.36.mesiobuccal.clearance_mm"), "mean"),
        0.005,
    );
}

#[test]
fn warnings_of_the_study_and_gaps_of_the_table_stand_in_the_page() {
    let folder = Folder::new();
    let factor = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 75.0, sd: 10.0))";
    let study = written(&folder, "s.ron", factor, "plan: Sobol(rows: 100, seed: 1)", CLEARANCE);
    let text = page(&folder, &table(&folder, &study, "t.parquet"), &[]);
    for words in [
        "Warnings",
        "not 8 times a power of two",
        "Rows not whole",
        "by their reasons",
        "No heat map",
        "leaves its range",
        "in the rows that are whole",
    ] {
        assert!(text.contains(words), "{words}");
    }
}

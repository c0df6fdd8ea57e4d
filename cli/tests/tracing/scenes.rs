//! The invented tracings that people open are made here, as their first lines say.

use sim_core::tracing::Leg;

use crate::drawn::{self, Chance};
use crate::helpers::{number, run};
use serde_json::Value;

/// Standard deviation of the points, forward and left.
const SCATTER_MM: f64 = 0.04;
const APEX: (f64, f64) = (21.4, 18.2);

fn legs(reach_mm: f64) -> [Vec<(f64, f64)>; 3] {
    let tracing = drawn::of(&drawn::rims(22.0), reach_mm, 121);
    Leg::ALL.map(|leg| drawn::laid(&tracing, leg, APEX))
}

const MADE: &str = "Invented: no patient's. Drawn by the instrument of scenes/flat_rims.ron with its left lateral angle \
at 22°,\nstylus 20 mm ahead of the incisal point, every point moved by chance with 0.04 mm standard deviation.";

fn sharp() -> String {
    let mut legs = legs(9.0);
    drawn::scattered(&mut legs, SCATTER_MM, &mut Chance(21));
    let comment = format!(
        "What it teaches: a single sharp apex, to be accepted; one side longer drawn out than the other.\n{MADE}"
    );
    drawn::csv(&comment, &legs)
}

fn rounded() -> String {
    let mut legs = legs(9.0);
    drawn::rounded(&mut legs, APEX, 2.5);
    drawn::scattered(&mut legs, SCATTER_MM, &mut Chance(22));
    let comment = format!(
        "What it teaches: a rounded apex; the jaw was not fully back, and the tracing is repeated.\n{MADE}\n\
         The lateral legs then run into an arc of 2.5 mm radius at the apex."
    );
    drawn::csv(&comment, &legs)
}

fn double() -> String {
    let mut legs = legs(9.0);
    let moved = legs.clone().map(|leg| leg.iter().map(|p| (p.0 - 0.7, p.1 + 0.4)).collect::<Vec<_>>());
    for (leg, again) in legs.iter_mut().zip(&moved) {
        leg.extend(again.iter().rev().step_by(2));
    }
    drawn::scattered(&mut legs, SCATTER_MM, &mut Chance(23));
    let comment = format!(
        "What it teaches: a double apex; two tracings on one plate show that the jaw came back to two places.\n{MADE}\n\
         Every leg is gone over once more, 0.7 mm farther back and 0.4 mm to the left."
    );
    drawn::csv(&comment, &legs)
}

fn made() -> [(&'static str, String); 3] {
    [("sharp", sharp()), ("rounded", rounded()), ("double", double())]
}

fn path(name: &str) -> String {
    format!("{}/../scenes/tracings/{name}.csv", env!("CARGO_MANIFEST_DIR"))
}

/// With `WRITE_TRACINGS` set the files are written anew.
#[test]
fn the_files_are_made_as_they_say() {
    for (name, text) in made() {
        if std::env::var_os("WRITE_TRACINGS").is_some() {
            std::fs::write(path(name), &text).unwrap();
        }
        let file = std::fs::read_to_string(path(name)).unwrap();
        // Rounding in the last digit differs between machines' mathematics.
        let same = |a: &str, b: &str| match (a.parse::<f64>(), b.parse::<f64>()) {
            (Ok(a), Ok(b)) => (a - b).abs() < 0.0015,
            _ => a == b,
        };
        assert_eq!(file.lines().count(), text.lines().count(), "{name}");
        for (is, should_be) in file.lines().zip(text.lines()) {
            let whole = is == should_be || is.split(',').zip(should_be.split(',')).all(|(a, b)| same(a, b));
            assert!(whole, "{name}: {is} should be {should_be}");
        }
    }
}

#[test]
fn each_shows_what_it_teaches() {
    for (name, status, objections) in
        [("sharp", 0, vec![]), ("rounded", 1, vec!["rounded"]), ("double", 1, vec!["double"])]
    {
        let left = run(&["tracing", &path(name), "--format", "json"]);
        assert_eq!(left.status, status, "{name}: {}", left.err);
        let found: Value = serde_json::from_str(&left.out).unwrap();
        let names: Vec<&str> =
            found["objections"].as_array().unwrap().iter().map(|o| o["name"].as_str().unwrap()).collect();
        assert_eq!(names, objections, "{name}");
        let apex =
            (number(&found["apex"]["forward_mm"], "value"), number(&found["apex"]["left_mm"], "value"));
        let off = (apex.0 - APEX.0).hypot(apex.1 - APEX.1);
        assert!(off < 0.15, "{name}: apex {off} mm off");
    }
    let text = run(&["tracing", &path("rounded")]).err;
    assert!(text.contains("Repeat the tracing: the apex is rounded"), "{text}");
}

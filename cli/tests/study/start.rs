//! What a study starts from: examples and published distributions.

use std::fs;

use serde_json::Value;

use crate::support::{Folder, run};

#[test]
fn every_example_that_is_listed_can_be_planned_wherever_it_is_saved() {
    let listed = run(&["study", "example"]);
    assert_eq!(listed.status, Some(0), "{}", listed.err);
    let names: Vec<&str> = listed.out.lines().filter(|line| !line.starts_with(' ')).collect();
    assert!(names.len() >= 4, "{names:?}");
    for name in names {
        let folder = Folder::new();
        let path = folder.shell("mine.ron");
        assert_eq!(run(&["study", "example", name, "--out", &path]).status, Some(0));
        let printed = run(&["study", "example", name]);
        assert_eq!(printed.out, fs::read_to_string(&path).unwrap());
        assert!(printed.out.starts_with("// What it teaches"), "{}", printed.out);
        let left = run(&["study", "plan", &path, "--threads", "1"]);
        assert_eq!(left.status, Some(0), "{name}: {}", left.err);
        let searches = printed.out.contains("FirstInterference");
        assert_eq!(left.out.contains("measured up to 6 mm"), searches, "{name}: {}", left.out);
    }
    run(&["study", "example", "nothing"]).refused(&["no study is called `nothing`", "inclination"]);
}

#[test]
fn published_distributions_are_listed_with_source_and_use() {
    let left = run(&["study", "published"]);
    assert_eq!(left.status, Some(0), "{}", left.err);
    let in_one_line: String = left.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for published in sim_core::study::PUBLISHED {
        assert!(left.out.lines().any(|line| line == published.name), "{}", published.name);
        assert!(in_one_line.contains(published.source), "{}", published.source);
    }
    for words in [
        "mean 41.9°, sd 7.8°, from 26.1 to 61.8°",
        "may stand for: horizontal_inclination_deg",
        "may stand for: no setting",
        "taken as: Normal, mean 11.96, sd 4.36",
        "lateral_angle_deg: 7.7° (both sides); 98 participants",
    ] {
        assert!(in_one_line.contains(words), "{words}: {}", left.out);
    }
    let json: Value = serde_json::from_str(&run(&["study", "published", "--format", "json"]).out).unwrap();
    let all = json["published"].as_array().unwrap();
    let plane = all.iter().find(|one| one["name"] == "occlusal_plane_inclination").unwrap();
    assert_eq!((&plane["sd"], &plane["people"], &plane["least"]), (&4.36.into(), &150.into(), &Value::Null));
    assert_eq!(plane["stands_for"][0], "occlusal_plane_inclination_deg");
    let csv = run(&["study", "published", "--format", "csv"]).out;
    assert_eq!(csv.lines().filter(|line| line.starts_with("bonwill_")).count(), 3);
}

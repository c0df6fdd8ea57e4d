//! `eminentia study from`: a case's own uncertainty as a study.

use serde_json::Value;
use sim_core::study::{Constraint, Study, Values};

use crate::support::{Folder, run};

const CASE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/cases/edentulous.ron");

#[test]
fn a_case_s_study_has_the_deviations_that_doubt_tells_and_runs() {
    let folder = Folder::new();
    let out = folder.shell("case.ron");
    run(&["study", "from", CASE, "--draws", "500", "--seed", "4", "--out", &out]).ended(0, &[]);
    let text = std::fs::read_to_string(folder.path("case.ron")).unwrap();
    assert!(
        text.contains("500 draws, seed 4") && text.contains("Settings are verified on the patient"),
        "{text}"
    );
    let study = Study::from_ron(&text).unwrap();
    let doubt = run(&["doubt", CASE, "--draws", "500", "--seed", "4", "--format", "json"]);
    let doubt: Value = serde_json::from_str(&doubt.out).unwrap();
    let settings = doubt["settings"].as_array().unwrap();
    assert!(study.factors.len() >= 2);
    for factor in &study.factors {
        let Values::Normal { mean, sd } = factor.values else { panic!("{factor:?}") };
        let is_same = |own: &Value, name: &str, number: f64| {
            own[name].as_f64().is_some_and(|told| (told - number).abs() < 1e-9)
        };
        let told = settings.iter().find(|own| {
            factor.setting.written()
                == format!("{}_guide.{}", own["side"].as_str().unwrap(), own["name"].as_str().unwrap())
        });
        let told = told.unwrap_or_else(|| panic!("{} in {doubt}", factor.setting.written()));
        assert!(is_same(told, "value", mean) && is_same(told, "sd", sd), "{told} {mean} {sd}");
    }
    let correlated = study.constraints.iter().any(|own| matches!(own, Constraint::Correlated { .. }));
    assert!(correlated, "{text}");
    let plan = run(&["study", "plan", &out]);
    plan.ended(0, &[]);
    assert!(plan.out.contains("4096, by the plan Sobol"), "{}", plan.out);
}

#[test]
fn a_case_without_settings_has_no_study() {
    let folder = Folder::new();
    let faulty = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/cases/faulty_centric.ron");
    run(&["study", "from", faulty, "--out", &folder.shell("none.ron")])
        .ended(1, &["the centric record is not confirmed"]);
    run(&["study", "from", CASE, "--draws", "1"]).refused(&["draws is 1"]);
}

//! Poses in a browser are those that the same settings have natively, and those that a general minimiser
//! finds. The same tests run natively, where the first of them holds the table to the code.

use std::collections::HashMap;

use browser_maths::set_up::{SetUp, expected};
use browser_maths::{MINIMISED, POSES, TOOTH_GUIDED, tooth_guided};
use sim_core::cusp::Gauges;
use sim_core::frame::Side;
use sim_core::guide::GuidePath;
use sim_core::units::Angle;
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Row, Table};

#[cfg(target_arch = "wasm32")]
use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};
#[cfg(target_arch = "wasm32")]
wasm_bindgen_test_configure!(run_in_browser);

/// Coordinates of a hundred millimetres are kept to 1e-14; libraries of sines differ by one such step, and
/// a pose is some ten operations deep.
const SAME_MM: f64 = 1e-12;
/// As the minimiser's residuals allow; `tests/tests/against_scipy.rs` has the reason.
const MINIMISED_MM: f64 = 1e-10;
const SET_UPS: usize = 400;
/// Of the settings of an angle the least step that must show.
const STEP_DEG: f64 = 1e-9;

/// Says what was compared, in the console of the browser or on the terminal.
fn say(what: &str) {
    #[cfg(target_arch = "wasm32")]
    wasm_bindgen_test::console_log!("{what}");
    #[cfg(not(target_arch = "wasm32"))]
    println!("{what}");
}

#[test]
fn every_set_up_has_the_poses_of_the_table() -> Outcome<()> {
    let table = Table::parse(POSES)?;
    let mut apart = Apart::new("poses and cusps natively and here, mm", SAME_MM);
    for row in table.rows() {
        apart.note(&differences(&SetUp::read(&row)?, &row)?, row);
    }
    say(&format!("{} set-ups, {}", table.rows().len(), apart.checked()?));
    Ok(())
}

#[test]
fn every_set_up_of_the_minimiser_has_its_pose() -> Outcome<()> {
    let table = Table::parse(MINIMISED)?;
    let mut apart = Apart::new("poses and cusps of the minimiser and here, mm", MINIMISED_MM);
    for row in table.rows() {
        let placement = row.solved()?;
        let jaw = placement.jaw;
        apart.note(&(jaw.translation() - row.vector("t", "_mm")?), row);
        apart.note(&(placement.incisal_point.coords() - row.vector("incisal_point_", "_mm")?), row);
        for arch in ["lower", "upper"] {
            let cusps = [row.cusp(&format!("{arch}_cusp"))?];
            for reading in Gauges::new(row.occlusal_plane()?, &cusps).read(&jaw) {
                let given = |what: &str| row.number(&format!("{arch}_cusp_{what}_mm"));
                let apart_mm = reading.separation.mm() - given("separation")?;
                apart.note(&[apart_mm, reading.clearance.mm() - given("clearance")?], row);
            }
        }
    }
    assert!(table.rows().len() >= SET_UPS, "{} rows", table.rows().len());
    say(&format!("{} set-ups, {}", table.rows().len(), apart.checked()?));
    Ok(())
}

#[test]
fn teeth_hold_the_jaw_where_they_hold_it_natively() -> Outcome<()> {
    let table = Table::parse(TOOTH_GUIDED)?;
    let samples = tooth_guided::samples()?;
    assert_eq!(table.rows().len(), samples.len());
    let mut apart = Apart::new("poses on teeth natively and here, mm", SAME_MM);
    let mut on_teeth = 0;
    for (row, sample) in table.rows().zip(&samples) {
        let (name, guidance, places) = tooth_guided::expected(&row)?;
        assert_eq!((&*name, &*guidance), (&*sample.name, sample.guidance));
        assert_eq!(places.len(), sample.places.len());
        let apart_mm: Vec<_> = places.iter().zip(&sample.places).map(|(there, here)| here - there).collect();
        apart.note(&apart_mm, row);
        on_teeth += usize::from(sample.guidance == "teeth");
    }
    assert!(on_teeth > samples.len() / 4, "{on_teeth} of {}", samples.len());
    say(&format!("{} poses of scenes with casts, {}", samples.len(), apart.checked()?));
    Ok(())
}

#[test]
fn a_guide_turned_by_the_billionth_part_of_a_degree_is_noticed() -> Outcome<()> {
    let table = Table::parse(POSES)?;
    let mut looked_at = 0;
    for row in table.rows() {
        let mut set_up = SetUp::read(&row)?;
        // A recorded path has no one inclination, and an opening about the hinge leaves the guides alone.
        let orbiting = set_up.excursion.movement().orbiting_side().unwrap_or(Side::Right);
        let guide = set_up.instrument.guide_mut(orbiting);
        if matches!(guide.path, GuidePath::Profile(_)) || row.text("movement")? == "opening" {
            continue;
        }
        guide.horizontal_inclination = guide.horizontal_inclination + Angle::from_degrees(STEP_DEG);
        let worst = differences(&set_up, &row)?.into_iter().map(f64::abs).fold(0.0, f64::max);
        assert!(worst > 2.0 * SAME_MM, "{worst:e} mm at {row}");
        looked_at += 1;
    }
    assert!(looked_at > SET_UPS / 2, "{looked_at} set-ups");
    Ok(())
}

#[test]
fn the_table_holds_every_design_guide_movement_path_and_drive() -> Outcome<()> {
    let table = Table::parse(POSES)?;
    assert_eq!(table.rows().len(), SET_UPS);
    let mut together = HashMap::new();
    let mut drives = HashMap::new();
    for row in table.rows() {
        let orbiting = row.movement()?.orbiting_side().unwrap_or(Side::Right);
        let path = row.text(&format!("{orbiting}_path"))?.to_owned();
        *drives.entry(row.text("driven_by")?.to_owned()).or_insert(0) += 1;
        if row.text("movement")? != "opening" {
            let kind =
                ["design", "anterior_guide", "movement"].map(|column| row.text(column).map(str::to_owned));
            let [design, guide, movement] = kind;
            *together.entry((design?, guide?, movement?, path)).or_insert(0) += 1;
        }
    }
    assert_eq!(together.len(), 2 * 3 * 5 * 3);
    assert!(together.values().all(|rows| *rows >= 3), "{together:?}");
    assert!(drives.len() == 4 && drives.values().all(|rows| *rows >= 10), "{drives:?}");
    Ok(())
}

fn differences(set_up: &SetUp, row: &Row<'_>) -> Outcome<Vec<f64>> {
    let here = set_up.numbers().map_err(|error| format!("{error} at {row}"))?;
    let given = expected(row)?;
    if here.len() != given.len() {
        return Err(format!("{} numbers, and {} in the table, at {row}", here.len(), given.len()).into());
    }
    Ok(here.iter().zip(given).map(|(here, given)| here - given).collect())
}

//! The solver against SciPy's general minimiser on the same six equations, for several hundred
//! invented settings. `outside/scipy_poses.py` made the table and says how.

use std::collections::HashMap;

use sim_core::cusp::Gauges;
use sim_core::frame::Side;
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Table};

const TABLE: &str = "scipy_poses.csv";
/// Both sides leave residuals near 1e-14 mm; two levers of a hundred millimetres and the conditioning
/// of steep settings may cost three digits of that, and two different libraries of sines one more.
const POSE_MM: f64 = 1e-10;
/// A rotation's entries, without unit: the same over a lever of a hundred millimetres.
const ROTATION: f64 = 1e-12;
/// Fewer rows could not hold every design, guide, movement and path several times over.
const FEWEST_ROWS: usize = 300;

#[test]
fn every_pose_is_the_one_that_the_general_minimiser_finds() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut rotation = Apart::new("rotation entries", ROTATION);
    let mut translation = Apart::new("translation, mm", POSE_MM);
    let mut incisal = Apart::new("incisal point, mm", POSE_MM);
    for row in table.rows() {
        let placement = row.solved()?;
        rotation.note(&(placement.jaw.rotation() - row.rotation()?), row);
        translation.note(&(placement.jaw.translation() - row.vector("t", "_mm")?), row);
        incisal.note(&(placement.incisal_point.coords() - row.vector("incisal_point_", "_mm")?), row);
    }
    rotation.check()?;
    translation.check()?;
    incisal.check()
}

#[test]
fn the_condyles_read_what_they_read_in_the_minimisers_pose() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut apart = Apart::new("condyle readings, mm", POSE_MM);
    for row in table.rows() {
        let placement = row.solved()?;
        for side in Side::BOTH {
            let read = placement.condyle(side);
            for (name, length) in [("advance", read.advance), ("medial", read.medial), ("drop", read.drop)] {
                let expected = row.number(&format!("{side}_condyle_{name}_mm"))?;
                apart.note(&[length.mm() - expected], row);
            }
        }
    }
    apart.check()
}

#[test]
fn the_plane_named_as_guiding_is_one_that_holds_the_point() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    for row in table.rows() {
        let guidance = row.solved()?.guidance;
        assert_eq!(guidance.name(), row.text("anterior_guide")?.to_lowercase(), "{row}");
        let plane = guidance.plane().ok_or("an excursion without a guide")?.name();
        assert!(row.text("touching")?.split(';').any(|touching| touching == plane), "{plane} at {row}");
    }
    Ok(())
}

#[test]
fn separation_and_clearance_agree_at_a_lower_and_an_upper_cusp() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut separation = Apart::new("separation, mm", POSE_MM);
    let mut clearance = Apart::new("clearance, mm", POSE_MM);
    for row in table.rows() {
        let cusps = [row.cusp("lower_cusp")?, row.cusp("upper_cusp")?];
        let readings =
            Gauges::new(row.occlusal_plane()?, &cusps).read(&row.solved()?.jaw).collect::<Vec<_>>();
        assert_eq!(readings.len(), cusps.len());
        for (arch, reading) in ["lower", "upper"].into_iter().zip(readings) {
            let expected = |what: &str| row.number(&format!("{arch}_cusp_{what}_mm"));
            separation.note(&[reading.separation.mm() - expected("separation")?], row);
            clearance.note(&[reading.clearance.mm() - expected("clearance")?], row);
        }
    }
    separation.check()?;
    clearance.check()
}

#[test]
fn the_table_holds_every_design_guide_movement_and_path_together() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    assert!(table.rows().len() >= FEWEST_ROWS, "{} rows", table.rows().len());
    let mut counted = HashMap::new();
    for row in table.rows() {
        let orbiting = row.movement()?.orbiting_side().unwrap_or(Side::Right);
        let path = row.text(&format!("{orbiting}_path"))?.to_owned();
        let kind = ["design", "anterior_guide", "movement"].map(|column| row.text(column).map(str::to_owned));
        let [design, guide, movement] = kind;
        *counted.entry((design?, guide?, movement?, path)).or_insert(0) += 1;
    }
    assert_eq!(counted.len(), 2 * 2 * 5 * 3);
    assert!(counted.values().all(|rows| *rows >= 5), "{counted:?}");
    Ok(())
}

#[test]
fn a_difference_that_is_not_a_number_fails_the_comparison() {
    for bad in [f64::NAN, -f64::NAN, f64::INFINITY, 2.0 * POSE_MM] {
        let mut apart = Apart::new("made up", POSE_MM);
        apart.note(&[0.0], "good");
        apart.note(&[0.0, bad], "bad");
        apart.note(&[0.0], "good");
        let checked = apart.check().map_err(|error| error.to_string());
        assert!(checked.is_err_and(|message| message.ends_with("worst: bad")), "{bad}");
    }
    assert!(Apart::<&str>::new("nothing", POSE_MM).check().is_err());
}

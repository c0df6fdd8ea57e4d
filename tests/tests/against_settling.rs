//! The solver against a rigid-body engine in which the upper member, a heavy body with frictionless
//! walls, comes to rest on the spheres and the table. `outside/settling.py` made the table and says
//! how, and how far the engine's own rest is from exact.

use sim_core::frame::{LowerPoint, Side};
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Table};

const TABLE: &str = "settling.csv";
/// The engine lets six closed contacts overlap by up to 1e-6 mm each, and from the condyles to the
/// incisal point the levers at most double a wall's error; the rest is margin for another version of
/// it. Anything that could be seen or felt on an instrument is a thousand times larger.
const RESTED_MM: f64 = 1e-5;
/// The softer contacts of the third run are forty times softer, so the pose of the table is off by
/// about a fortieth of what they move it by.
const TIMES_SOFTER: f64 = 40.0;
/// A dozen settings, protrusive and lateral, were asked of the engine at least.
const FEWEST_ROWS: usize = 12;

#[test]
fn the_upper_member_comes_to_rest_where_the_solver_puts_it() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    assert!(table.rows().len() >= FEWEST_ROWS, "{} rows", table.rows().len());
    let mut apart = Apart::new("condyles and incisal point at rest, mm", RESTED_MM);
    for row in table.rows() {
        let jaw = row.solved()?.jaw;
        let (rotation, translation) = (row.rotation()?, row.vector("t", "_mm")?);
        let half = row.number("intercondylar_distance_mm")? / 2.0;
        let incisal = row.vector("incisal_point_at_rest_", "_mm")?;
        let condyle = |side: Side| LowerPoint::mm(0.0, side.outward_y() * half, 0.0);
        for point in [condyle(Side::Right), condyle(Side::Left), LowerPoint::from_coords(incisal)] {
            let rested = rotation * point.coords() + translation;
            apart.note(&[(jaw.to_upper(&point).coords() - rested).norm()], row);
        }
    }
    apart.check()
}

#[test]
fn the_plane_that_carries_the_pin_is_the_one_that_guides() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    for row in table.rows() {
        let plane = row.solved()?.guidance.plane().ok_or("an excursion without a guide")?.name();
        assert!(row.text("carrying")?.split(';').any(|wall| wall == plane), "{plane} at {row}");
    }
    Ok(())
}

#[test]
fn the_engine_itself_rests_more_closely_than_the_tolerance() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut apart = Apart::new("overlaps, gaps and changes of the engine, mm", RESTED_MM);
    for row in table.rows() {
        for column in ["deepest_overlap_mm", "widest_gap_mm", "moved_by_half_time_step_mm"] {
            apart.note(&[row.number(column)?], row);
        }
        apart.note(&[row.number("moved_by_softer_contacts_mm")? / TIMES_SOFTER], row);
    }
    apart.check()
}

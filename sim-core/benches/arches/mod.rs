//! Invented arches of any fineness for benches: rows of bumps along a curve, the upper following the lower so that
//! they are in even contact at rest, which is the hardest case for a search.

use std::f64::consts::TAU;
use std::sync::Arc;

use nalgebra::Vector3;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::{Casts, Surface, ToothPlaces};
use sim_core::cusp::{Arch, Cusp, OpposingInclines, Tooth};
use sim_core::excursion::Mechanism;
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::instrument::Instrument;
use sim_core::units::Angle;

/// The plane that gaps are measured along the normal of.
pub(crate) const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };
/// Half the arch's turn in radians, and its teeth.
const HALF_TURN: f64 = 1.7;
const TEETH: f64 = 14.0;

/// Where a part of the arch's length and breadth lies in plan.
fn plan(along: f64, across: f64) -> (f64, f64) {
    let (sin, cos) = ((along - 0.5) * 2.0 * HALF_TURN).sin_cos();
    let out = 1.0 + (across - 0.5) * 0.35;
    (50.0 + 48.0 * cos * out, 27.0 * sin * out)
}

/// An arch of about so many triangles, with cusps and a rougher grain upon them.
pub(crate) fn arch(triangles: usize, which: Arch) -> Surface {
    let rows = (triangles as f64 / 26.0).sqrt().round();
    let columns = (triangles as f64 / 2.0 / rows).round();
    let (rows, columns) = (rows as u32, columns as u32);
    let mut vertices = Vec::new();
    for row in 0..=rows {
        for column in 0..=columns {
            let (along, across) = (f64::from(column) / f64::from(columns), f64::from(row) / f64::from(rows));
            let (x, y) = plan(along, across);
            let cusps = 1.2 * (along * TEETH * TAU).cos() * (across * TAU).cos();
            let grain = 0.05 * (along * 210.0).sin() * (across * 17.0).cos();
            let gap = 0.3 * (1.0 + (along * 60.0).cos() * (across * 9.0).cos());
            let lift = if which == Arch::Upper { gap } else { 0.0 };
            vertices.push(Vector3::new(x, y, -40.0 + cusps + grain + lift));
        }
    }
    let at = |row: u32, column: u32| row * (columns + 1) + column;
    let mut faces = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let [a, b] = [at(row, column), at(row, column + 1)];
            let [c, d] = [at(row + 1, column), at(row + 1, column + 1)];
            let seen_from_below = [[a, b, d], [a, d, c]];
            faces.extend(match which {
                Arch::Upper => seen_from_below,
                Arch::Lower => seen_from_below.map(|[p, q, r]| [p, r, q]),
            });
        }
    }
    Surface::new(vertices, faces).expect("a surface")
}

/// A cusp in the middle of each tooth.
pub(crate) fn places() -> ToothPlaces {
    let incline = Angle::from_degrees(20.0);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let mut cusps = Vec::new();
    for position in 1..=7 {
        for quadrant in 1..=4 {
            let tooth = Tooth::new(quadrant * 10 + position).expect("a tooth number");
            let away = (f64::from(tooth.position()) - 0.5) / TEETH * tooth.side().outward_y();
            let (x, y) = plan(0.5 + away, 0.5);
            cusps.push(Cusp::new(tooth, "middle", [x, y, -40.0], opposing).expect("a cusp"));
        }
    }
    ToothPlaces::of(&cusps)
}

/// Guided by these teeth.
pub(crate) fn mechanism(casts: &Arc<Casts>) -> Mechanism {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(30.0);
        instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
    }
    instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    Mechanism::new(&instrument).with_casts(Arc::clone(casts))
}

//! The tracer in the picture: its plate with millimetre rules, its stylus, and the arch that is drawn.

use nalgebra::Vector3;
use sim_core::tracing::{Leg, Member, PlatePoint, Tracer};

use super::mesh::{Mesh, to_f32};
use crate::geometry::poses::MemberPoses;
use crate::material::Lines;
use crate::palette::{self, Tint};
use crate::plate::{ARC_MM, leg_of};
use crate::state::State;

/// How thick the plate is drawn.
const THICKNESS_MM: f64 = 1.6;
/// Length of the marks of its rules: of a millimetre, of five, of ten.
const MARKS_MM: [f64; 3] = [1.0, 1.8, 2.8];
/// How far from the apex its rules are scribed, where the plate reaches so far.
const RULES_AT_MM: f64 = 13.0;
/// Width of a mark of the rules.
const MARK_WIDTH_MM: f64 = 0.12;
/// How far lines stand above the plate, so that they are seen.
const LIFT_MM: f64 = 0.08;
/// How long the stylus is above the plate, and its sleeve below its member.
const STYLUS_MM: f64 = 9.0;
/// Widths of lines in pixels: what has been drawn, what is still to be, the arc, the stylus.
const WIDTHS: [f32; 4] = [7.0, 3.0, 2.0, 5.0];

/// The plate and its rules, in the frame of the member that carries it.
#[derive(Clone, Debug, Default)]
pub struct PlateMeshes {
    /// The plate.
    pub plate: Mesh,
    /// Its rules, a mark each millimetre: one to the left of the arch, one behind it.
    pub rules: Mesh,
}

/// Away from the plate, to the side of the stylus.
fn off(tracer: &Tracer) -> Vector3<f64> {
    match tracer.plate_on {
        Member::Lower => tracer.plate.normal(),
        Member::Upper => -tracer.plate.normal(),
    }
}

/// The plate of a tracer.
#[must_use]
pub fn plate_meshes(tracer: &Tracer) -> PlateMeshes {
    let mut meshes = PlateMeshes::default();
    let off = off(tracer);
    let [a, b, c, d] = tracer.corners();
    let face = |by: f64| vec![vec![a + off * by, b + off * by], vec![d + off * by, c + off * by]];
    meshes.plate.plate(&face(0.0), &face(-THICKNESS_MM));
    let (half_ahead, half_left) = tracer.half_mm;
    let (ahead, left) = tracer.centre_mm;
    // Counted from the tip at rest, so that the rules read the distance from the apex.
    for (edge, along, low, high) in [
        ((left + half_left).min(RULES_AT_MM), true, ahead - half_ahead, ahead + half_ahead),
        ((ahead - half_ahead).max(-RULES_AT_MM), false, left - half_left, left + half_left),
    ] {
        for mm in whole_between(low, high) {
            let length = MARKS_MM[if mm % 10 == 0 { 2 } else { usize::from(mm % 5 == 0) }];
            let half = MARK_WIDTH_MM / 2.0;
            let at = |across: f64, inward: f64| {
                let (forward, aside) = if along {
                    (f64::from(mm) + across, edge - inward)
                } else {
                    (edge + inward, f64::from(mm) + across)
                };
                tracer.on_plate(&PlatePoint::mm(forward, aside)) + off * (LIFT_MM / 2.0)
            };
            meshes.rules.polygon(&[at(-half, 0.0), at(half, 0.0), at(half, length), at(-half, length)]);
        }
    }
    meshes
}

/// The whole numbers from one length to another.
#[allow(clippy::cast_possible_truncation, reason = "a plate's millimetres")]
fn whole_between(low: f64, high: f64) -> std::ops::RangeInclusive<i32> {
    low.ceil() as i32..=high.floor() as i32
}

/// Draws the arch and the stylus for the coming frame.
pub fn draw_arch(lines: &mut Lines, state: &State) {
    let Some(drawn) = &state.plate.drawn else { return };
    let Ok(setup) = &drawn.setup else { return };
    let tracer = &setup.tracer;
    let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
    let (plate, stylus) = match tracer.plate_on {
        Member::Lower => (&poses.lower, &poses.upper),
        Member::Upper => (&poses.upper, &poses.lower),
    };
    let off = off(tracer);
    let on_plate = |at: &PlatePoint| plate.place(&(tracer.on_plate(at) + off * LIFT_MM));
    let mut line = |points: Vec<Vector3<f64>>, width: f32, tint: Tint| {
        lines.add(&points.iter().map(to_f32).collect::<Vec<_>>(), width, tint);
    };
    let movement = state.shown.solved.excursion.movement();
    let now = drawn.stylus(&state.shown.scene, movement, &state.sample().placement);
    for leg in Leg::ALL {
        let points = setup.drawn.leg(leg);
        let is_shown = leg_of(movement) == Some(leg);
        line(points.iter().map(on_plate).collect(), WIDTHS[1], tint(leg));
        if let (true, Some(now)) = (is_shown, now) {
            // What has been drawn so far: as far from the apex as the stylus stands.
            let reached = now.distance(&PlatePoint::APEX);
            let mut so_far: Vec<Vector3<f64>> = points
                .iter()
                .take_while(|point| point.distance(&PlatePoint::APEX) < reached)
                .map(on_plate)
                .collect();
            so_far.push(on_plate(&now));
            line(so_far, WIDTHS[0], tint(leg));
        }
    }
    line(arc().map(|point| on_plate(&point)).collect(), WIDTHS[2], palette::INK);
    let tip = plate.place(&tracer.on_plate(&now.unwrap_or(PlatePoint::APEX)));
    let up = match tracer.plate_on {
        Member::Lower => Vector3::z(),
        Member::Upper => -Vector3::z(),
    };
    let sleeve = stylus.place(&(tracer.stylus_mm + up * STYLUS_MM));
    line(vec![tip, sleeve], WIDTHS[3], palette::PENCIL);
}

/// The arc of a record's distance, behind the apex, from leg to leg and a little beyond.
pub fn arc() -> impl Iterator<Item = PlatePoint> {
    const STEPS: i32 = 60;
    const REACH_DEG: f64 = 85.0;
    (-STEPS..=STEPS).map(|step| {
        let (sin, cos) = (REACH_DEG * f64::from(step) / f64::from(STEPS)).to_radians().sin_cos();
        PlatePoint::mm(-ARC_MM * cos, ARC_MM * sin)
    })
}

/// The colour of a leg, which its name stands beside wherever it matters.
#[must_use]
pub const fn tint(leg: Leg) -> Tint {
    match leg {
        Leg::Protrusive => palette::INK,
        Leg::RightLateral => palette::KEY,
        Leg::LeftLateral => palette::GROOVE,
    }
}

#[cfg(test)]
mod tests {
    use sim_core::scene::Scene;

    use super::*;

    /// The stylus rests on the face of the plate, and the plate lies on the other side of it.
    #[test]
    fn the_tip_rests_on_the_face_and_the_marks_of_the_rules_are_a_millimetre_apart() {
        let mut scene = Scene::thirty_degree();
        for plate_on in [Member::Lower, Member::Upper] {
            let fields = sim_core::tracing::TracerFields { plate_on: Some(plate_on), ..Default::default() };
            scene.tracer = Some(fields);
            let tracer = scene.completed_tracer();
            let meshes = plate_meshes(&tracer);
            let depth = |at: &Vector3<f64>| (at - tracer.stylus_mm).dot(&off(&tracer));
            let (mut high, mut low) = (f64::NEG_INFINITY, f64::INFINITY);
            for point in meshes.plate.points() {
                (high, low) = (high.max(depth(point)), low.min(depth(point)));
            }
            assert!(high.abs() < 1e-9 && (low + THICKNESS_MM).abs() < 1e-9, "{low} {high}");
            // Along one edge: the marks' middles, sorted, a millimetre apart.
            let middles: Vec<f64> = meshes
                .rules
                .points()
                .chunks(4)
                .map(|mark| (mark[0] + mark[1]) / 2.0 - tracer.stylus_mm)
                // The marks of the other edge come after them, and begin at the corner.
                .take(41)
                .filter(|at| (at.y - RULES_AT_MM).abs() < 1e-9)
                .map(|at| at.dot(&tracer.plate.anterior()))
                .collect();
            assert_eq!(middles.len(), 41);
            assert!(middles.windows(2).all(|pair| (pair[1] - pair[0] - 1.0).abs() < 1e-9), "{middles:?}");
        }
    }

    #[test]
    fn the_arc_keeps_its_distance_from_the_apex() {
        assert!(arc().all(|point| (point.distance(&PlatePoint::APEX).mm() - ARC_MM).abs() < 1e-12));
    }
}

//! The angles of guides and planes, as arcs between two directions.
//!
//! An arc is kept in the frame of the member that carries the wall. Laid beside a path it is turned about
//! its vertex where that member is not the one the path is seen from: the jaw goes down a table's plate
//! forward as the pin goes up it backward.

use nalgebra::Vector3;
use sim_core::anterior::GuidePlane;
use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::Design;
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};
use words::number;

use super::Plane;
use crate::geometry::landmarks::{rest_centre, rest_point};

/// Angles below this have no arc that could be seen, in degrees.
const LEAST_DEG: f64 = 0.05;
/// An arc is drawn in so many straight pieces.
const PIECES: u32 = 16;

/// What an angle is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AngleOf {
    /// The superior wall at the seat, to the horizontal reference plane.
    Horizontal(Side),
    /// The medial wall, to the sagittal plane.
    Lateral(Side),
    /// A plane of the anterior guide.
    Anterior(GuidePlane),
    /// The occlusal plane, to the horizontal reference plane.
    OcclusalPlane,
}

/// An angle between two directions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AngleArc {
    /// What it is of.
    pub of: AngleOf,
    /// The angle.
    pub value: Angle,
    /// The member in whose frame it stands.
    pub carrier: Arch,
    /// Where its legs meet, in millimetres.
    pub vertex: Vector3<f64>,
    /// The unit direction that it is measured from.
    pub from: Vector3<f64>,
    /// The unit direction of the wall.
    pub to: Vector3<f64>,
    /// +1 where the point that the wall guides goes as the jaw does, −1 where it goes the opposite way.
    pub sense: f64,
}

impl AngleArc {
    /// The plane in which it is seen.
    #[must_use]
    pub const fn plane(&self) -> Plane {
        match self.of {
            AngleOf::Horizontal(_) | AngleOf::OcclusalPlane | AngleOf::Anterior(GuidePlane::Plate) => {
                Plane::Sagittal
            }
            AngleOf::Lateral(_) => Plane::Horizontal,
            AngleOf::Anterior(GuidePlane::Wing(_)) => Plane::Frontal,
        }
    }

    /// The same beside the path of the jaw that the wall steers.
    #[must_use]
    pub fn beside_path(&self) -> Self {
        Self { from: self.from * self.sense, to: self.to * self.sense, sense: 1.0, ..*self }
    }

    /// Places along the arc at a radius, and the ends of its two legs as far again as `leg`, in millimetres.
    #[must_use]
    pub fn lines(&self, radius_mm: f64, leg_mm: f64) -> (Vec<Vector3<f64>>, [Vector3<f64>; 2]) {
        let across = (self.to - self.from * self.from.dot(&self.to)).try_normalize(1e-12);
        let turn = self.from.dot(&self.to).clamp(-1.0, 1.0).acos();
        let place = |part: f64| {
            let (sin, cos) = (turn * part).sin_cos();
            self.vertex + (self.from * cos + across.unwrap_or_default() * sin) * radius_mm
        };
        let arc = (0..=PIECES).map(|piece| place(f64::from(piece) / f64::from(PIECES))).collect();
        (arc, [self.vertex + self.from * leg_mm, self.vertex + self.to * leg_mm])
    }

    /// The angle as it is seen in its plane: less or more than its value where a wing stands on an
    /// inclined plate.
    #[must_use]
    pub fn as_seen(&self) -> Angle {
        let turn = |direction: &Vector3<f64>| {
            let [across, up] = self.plane().flat(direction);
            up.atan2(across)
        };
        let between = (turn(&self.to) - turn(&self.from)).rem_euclid(std::f64::consts::TAU);
        Angle::from_radians(between.min(std::f64::consts::TAU - between))
    }

    /// What is written beside it on the sheet of its plane.
    #[must_use]
    pub fn words(&self) -> String {
        let said = self.name_and_value();
        if (self.as_seen().degrees() - self.value.degrees().abs()).abs() < LEAST_DEG {
            said
        } else {
            format!("{said}, seen as {}°", number::decimals(self.as_seen().degrees(), 1))
        }
    }

    /// What is written beside it where it is seen in space.
    #[must_use]
    pub fn name_and_value(&self) -> String {
        let name = match self.of {
            AngleOf::Horizontal(side) => format!("H {side}"),
            AngleOf::Lateral(side) => format!("L {side}"),
            AngleOf::Anterior(GuidePlane::Plate) => "incisal guide".to_owned(),
            AngleOf::Anterior(GuidePlane::Wing(side)) => format!("{side} wing"),
            AngleOf::OcclusalPlane => "occlusal plane".to_owned(),
        };
        format!("{name} {}°", number::decimals(self.value.degrees(), 1))
    }
}

/// Every angle of a scene that is large enough to be seen.
#[must_use]
pub fn angles(scene: &Scene) -> Vec<AngleArc> {
    let mut arcs: Vec<AngleArc> = Side::BOTH.into_iter().flat_map(|side| condylar(scene, side)).collect();
    arcs.extend(anterior(scene));
    arcs.push(occlusal_plane(scene));
    arcs.retain(|arc| arc.value.degrees().abs() > LEAST_DEG);
    arcs
}

fn condylar(scene: &Scene, side: Side) -> [AngleArc; 2] {
    let instrument = &scene.instrument;
    let guide = instrument.guide(side);
    let sense = instrument.design.sense();
    // At the seat every path has a slope; for a recorded one it is the tangent there.
    let horizontal = Angle::from_radians(guide.slope_at(Length::ZERO).unwrap_or(0.0).atan());
    let medial = -Vector3::y() * side.outward_y();
    let carrier = match instrument.design {
        Design::Arcon => Arch::Upper,
        Design::NonArcon => Arch::Lower,
    };
    let arc = |of, value: Angle, across: Vector3<f64>| {
        let (sin, cos) = value.sin_cos();
        let to = (Vector3::x() * cos + across * sin) * sense;
        AngleArc {
            of,
            value,
            carrier,
            vertex: rest_centre(instrument, side),
            from: Vector3::x() * sense,
            to,
            sense,
        }
    };
    [
        arc(AngleOf::Horizontal(side), horizontal, -Vector3::z()),
        arc(AngleOf::Lateral(side), guide.lateral_angle, medial),
    ]
}

fn anterior(scene: &Scene) -> Vec<AngleArc> {
    let instrument = &scene.instrument;
    let guide = &instrument.anterior_guide;
    let Some(trough) = guide.trough() else { return Vec::new() };
    // A table is on the lower member and its pin goes up it; the lower incisal edge goes down the incisors.
    let (carrier, sense) = if guide.has_pin() { (Arch::Lower, -1.0) } else { (Arch::Upper, 1.0) };
    let rest = rest_point(instrument);
    let (sin, cos) = trough.sagittal_inclination.sin_cos();
    let forward = Vector3::new(cos, 0.0, -sin);
    let normal = Vector3::new(sin, 0.0, cos);
    let plate = AngleArc {
        of: AngleOf::Anterior(GuidePlane::Plate),
        value: trough.sagittal_inclination,
        carrier,
        vertex: rest,
        from: Vector3::x() * sense,
        to: forward * sense,
        sense,
    };
    let wing = |side: Side, value: Angle| {
        let outward = Vector3::y() * side.outward_y();
        let (sin, cos) = value.sin_cos();
        // Of a table the wings rise outward, of the incisors they fall outward.
        let to = outward * cos - normal * (sin * sense);
        let hinge = rest + outward * trough.flat_half_width.mm();
        AngleArc {
            of: AngleOf::Anterior(GuidePlane::Wing(side)),
            value,
            carrier,
            vertex: hinge,
            from: outward,
            to,
            sense,
        }
    };
    vec![plate, wing(Side::Right, trough.right_wing), wing(Side::Left, trough.left_wing)]
}

/// Laid through the middle of the cusps, or through the incisal point where there are none.
fn occlusal_plane(scene: &Scene) -> AngleArc {
    #[allow(clippy::cast_precision_loss, reason = "a handful of cusps")]
    let count = scene.cusps.len() as f64;
    let sum: Vector3<f64> = scene.cusps.iter().map(sim_core::cusp::Cusp::at_mm).sum();
    let vertex = if scene.cusps.is_empty() { rest_point(&scene.instrument) } else { sum / count };
    AngleArc {
        of: AngleOf::OcclusalPlane,
        value: scene.occlusal_plane.inclination,
        carrier: Arch::Upper,
        vertex: Vector3::new(vertex.x, 0.0, vertex.z),
        from: Vector3::x(),
        to: scene.occlusal_plane.anterior(),
        sense: 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::anterior::{AnteriorGuide, Trough};
    use sim_core::excursion::{Followed, Mechanism, Movement, Station};
    use sim_core::frame::OcclusalPlane;
    use sim_core::guide::CondylarGuide;

    fn deg(degrees: f64) -> Angle {
        Angle::from_degrees(degrees)
    }

    fn scene(design: Design, incisors: bool, alpha: f64) -> Scene {
        let mut scene = Scene::thirty_degree();
        scene.occlusal_plane = OcclusalPlane { inclination: deg(9.0) };
        let instrument = &mut scene.instrument;
        instrument.design = design;
        instrument.right_guide = CondylarGuide::straight(deg(41.0), deg(13.0));
        instrument.left_guide = CondylarGuide::straight(deg(27.0), deg(19.0));
        let trough = Trough {
            sagittal_inclination: deg(alpha),
            right_wing: deg(17.0),
            left_wing: deg(24.0),
            flat_half_width: Length::from_mm(1.0),
        };
        instrument.anterior_guide =
            if incisors { AnteriorGuide::Incisors(trough) } else { AnteriorGuide::Table(trough) };
        scene
    }

    fn all() -> Vec<Scene> {
        let mut all = Vec::new();
        for design in [Design::Arcon, Design::NonArcon] {
            for incisors in [false, true] {
                all.extend([0.0, 33.0].map(|alpha| scene(design, incisors, alpha)));
            }
        }
        all
    }

    #[test]
    fn the_legs_of_every_arc_are_at_the_angle_that_is_written() {
        for scene in all() {
            for arc in angles(&scene) {
                for arc in [arc, arc.beside_path()] {
                    let between = arc.from.angle(&arc.to).to_degrees();
                    assert!((between - arc.value.degrees()).abs() < 1e-9, "{:?}: {between}", arc.of);
                    let (places, [from, to]) = arc.lines(5.0, 8.0);
                    let first = (places[0] - arc.vertex).normalize();
                    let last = (places[places.len() - 1] - arc.vertex).normalize();
                    assert!((first - (from - arc.vertex).normalize()).norm() < 1e-9);
                    assert!((last - (to - arc.vertex).normalize()).norm() < 1e-9);
                    assert!(places.iter().all(|place| ((place - arc.vertex).norm() - 5.0).abs() < 1e-9));
                }
            }
        }
    }

    #[test]
    fn in_its_plane_an_angle_is_seen_true_and_a_wing_on_an_inclined_plate_says_that_it_is_not() {
        for scene in all() {
            let level = scene.instrument.anterior_guide.trough().unwrap().sagittal_inclination == Angle::ZERO;
            for arc in angles(&scene) {
                let is_wing = matches!(arc.of, AngleOf::Anterior(GuidePlane::Wing(_)));
                let is_true = (arc.as_seen().degrees() - arc.value.degrees()).abs() < 1e-9;
                assert_eq!(is_true, !is_wing || level, "{:?}", arc.of);
                assert_eq!(arc.words().contains("seen as"), !is_true);
            }
        }
    }

    #[test]
    fn every_arc_lies_on_the_wall_that_it_names() {
        for scene in all() {
            let guide = &scene.instrument.anterior_guide;
            let planes = guide.planes(rest_point(&scene.instrument)).unwrap();
            for arc in angles(&scene) {
                let AngleOf::Anterior(which) = arc.of else { continue };
                let plane = planes.iter().find(|plane| plane.which == which).unwrap();
                for along in [0.0, 3.0] {
                    let off = plane.normal.dot(&(arc.vertex + arc.to * along)) - plane.offset_mm;
                    assert!(off.abs() < 1e-9, "{which:?}: {off}");
                }
            }
        }
    }

    /// The arc lies beside the path: the solver takes condyle and incisal point along its second leg.
    #[test]
    fn beside_its_path_an_arc_points_where_the_solver_goes() {
        for scene in all() {
            let mechanism = Mechanism::new(&scene.instrument);
            for arc in angles(&scene) {
                let arc = arc.beside_path();
                let (movement, followed) = match arc.of {
                    AngleOf::Horizontal(side) => {
                        (Movement::Protrusive, Followed::condyle(&scene.instrument, side))
                    }
                    AngleOf::Lateral(side) => (
                        Movement::Lateral { working: side.opposite() },
                        Followed::condyle(&scene.instrument, side),
                    ),
                    _ => continue,
                };
                let place = |mm: f64| {
                    let placed = mechanism.at(movement, Station::advanced(Length::from_mm(mm))).unwrap();
                    *followed.place(&placed).coords()
                };
                let [across, up] = arc.plane().flat(&(place(5.0) - place(0.0)));
                let [to_across, to_up] = arc.plane().flat(&arc.to);
                // Unlike sides shift the condyles in protrusion, not within this plane.
                let turned = across * to_up - up * to_across;
                assert!(turned.abs() < 1e-9 && across * to_across + up * to_up > 0.0, "{:?}", arc.of);
            }
        }
    }
}

//! The walls of a condylar guide: where a sphere's surface touches when its centre goes where the
//! maths sends it.

use nalgebra::Vector3;
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::instrument::Instrument;
use sim_core::units::Length;

use super::mesh::Mesh;
use crate::geometry::landmarks::rest_centre;

/// Radius of the drawn spheres. The maths knows their centres only.
pub const SPHERE_RADIUS_MM: f64 = 5.0;
/// How far forward the walls are drawn at least, where the path goes so far.
pub(super) const REACH_MM: f64 = 12.0;
/// How far the superior wall is carried back behind the seat, along its tangent.
const BACK_MM: f64 = 3.0;
/// How far the superior wall reaches outward and toward the midline: the sphere is left in sight.
const WIDTH_MM: (f64, f64) = (-3.0, 9.0);
/// How far a wall reaches below the sphere's centre.
const SKIRT_MM: f64 = 2.0;
/// Thickness of what is drawn behind a wall.
const THICKNESS_MM: f64 = 1.6;
/// How far outward the working walls are drawn.
const WORKING_MM: f64 = 8.0;
/// Steps along a wall.
const STEPS: u32 = 28;

/// The walls of one guide, in the frame of the member that carries the housing.
#[derive(Clone, Debug, Default)]
pub struct GuideMeshes {
    /// Above the sphere (below it where the sphere is on the upper member): v = f(a) + m·tan τ.
    pub superior: Mesh,
    /// Medial wall: m = i + e(a) + a·tan L.
    pub medial: Mesh,
    /// What the working condyle meets as it shifts outward: the wall of lateroretrusion, and that of
    /// laterosurtrusion where it differs from the superior one.
    pub working: Mesh,
}

/// Maps what the maths measures at a guide to places of the sphere's centre in its housing.
///
/// With the spheres on the lower member the centre goes as the jaw does; with the spheres on the
/// upper member it goes the opposite way in the lower housing: the same guide, turned about a point.
#[derive(Clone, Copy, Debug)]
pub struct Seat {
    centre: Vector3<f64>,
    medial: Vector3<f64>,
    sense: f64,
}

impl Seat {
    /// The seat of one side.
    #[must_use]
    pub fn of(instrument: &Instrument, side: Side) -> Self {
        let centre = rest_centre(instrument, side);
        Self { centre, medial: -Vector3::y() * side.outward_y(), sense: instrument.design.sense() }
    }

    /// The place of the centre at an advance, a medial shift and a drop.
    #[must_use]
    pub fn place(&self, advance: f64, medial: f64, drop: f64) -> Vector3<f64> {
        self.centre + self.direction(advance, medial, drop)
    }

    fn direction(&self, advance: f64, medial: f64, drop: f64) -> Vector3<f64> {
        (Vector3::x() * advance + self.medial * medial - Vector3::z() * drop) * self.sense
    }
}

/// The walls of one side, so far forward as a sphere goes.
#[must_use]
pub fn guide_meshes(instrument: &Instrument, side: Side, reach_mm: f64) -> GuideMeshes {
    let seat = Seat::of(instrument, side);
    let guide = instrument.guide(side);
    let mut meshes = GuideMeshes::default();
    let along = advances(guide, reach_mm);
    superior(&mut meshes.superior, &seat, guide, &along);
    medial(&mut meshes.medial, &seat, guide, &along);
    working(&mut meshes.working, &seat, guide);
    meshes
}

/// Advances at which the walls are sampled: as far as the path goes, and close to each side of the
/// place where the early translation is spent, for the medial wall has an edge there.
fn advances(guide: &CondylarGuide, reach_mm: f64) -> Vec<f64> {
    const BESIDE_EDGE: f64 = 2e-4;
    let edge = guide.early_translation.over.mm();
    let mut advances: Vec<f64> = (0..=STEPS)
        .map(|step| reach_mm * f64::from(step) / f64::from(STEPS))
        .chain([edge - BESIDE_EDGE, edge + BESIDE_EDGE])
        .filter(|advance| (0.0..=reach_mm).contains(advance))
        .filter(|advance| *advance == 0.0 || guide.slope_at(Length::from_mm(*advance)).is_ok())
        .collect();
    advances.sort_by(f64::total_cmp);
    advances
}

/// Drop at an advance and the slope there; behind the seat the tangent is carried on.
fn profile(guide: &CondylarGuide, advance: f64) -> (f64, f64) {
    let on_wall = Length::from_mm(advance.max(0.0));
    // Only advances that the path reaches are drawn.
    let drop = guide.drop_at(on_wall).map_or(0.0, Length::mm);
    let slope = guide.slope_at(on_wall).unwrap_or(0.0);
    (drop + advance.min(0.0) * slope, slope)
}

/// The edge of the superior wall, for views in which it would hide its sphere.
#[must_use]
pub fn superior_edge(instrument: &Instrument, side: Side, reach_mm: f64) -> Vec<Vector3<f64>> {
    let (seat, guide) = (Seat::of(instrument, side), instrument.guide(side));
    let mut along = vec![-BACK_MM];
    along.extend(advances(guide, reach_mm));
    let place = |advance: f64, medial: f64| seat.place(advance, medial, profile(guide, advance).0);
    let out = along.iter().map(|advance| place(*advance, WIDTH_MM.0));
    let back = along.iter().rev().map(|advance| place(*advance, WIDTH_MM.1));
    let mut edge: Vec<Vector3<f64>> = out.chain(back).collect();
    edge.extend(edge.first().copied());
    edge
}

/// Sheets are offset from the centre's surface by the radius along its normal, so that the sphere
/// touches them.
fn superior(mesh: &mut Mesh, seat: &Seat, guide: &CondylarGuide, advances: &[f64]) {
    let tilt = guide.wall_tilt.tan();
    let mut along = vec![-BACK_MM];
    along.extend_from_slice(advances);
    let sheet = |offset: f64| -> Vec<Vec<Vector3<f64>>> {
        along
            .iter()
            .map(|&advance| {
                let (drop, slope) = profile(guide, advance);
                [WIDTH_MM.0, 0.0, WIDTH_MM.1]
                    .map(|medial| {
                        // Normal to v = f(a) + m·tan τ, toward lesser drop.
                        let away = Vector3::new(slope, tilt, -1.0).normalize() * offset;
                        seat.place(advance + away.x, medial + away.y, drop + medial * tilt + away.z)
                    })
                    .to_vec()
            })
            .collect()
    };
    mesh.plate(&sheet(SPHERE_RADIUS_MM), &sheet(SPHERE_RADIUS_MM + THICKNESS_MM));
}

fn medial(mesh: &mut Mesh, seat: &Seat, guide: &CondylarGuide, advances: &[f64]) {
    const NEAR: f64 = 1e-4;
    let shift = |a: f64| guide.medial_shift_at(Length::from_mm(a)).mm();
    let sheet = |offset: f64| -> Vec<Vec<Vector3<f64>>> {
        advances
            .iter()
            .map(|&advance| {
                let slope = (shift(advance + NEAR) - shift(advance)) / NEAR;
                // Normal to m = g(a), toward greater shift.
                let away = Vector3::new(-slope, 1.0, 0.0).normalize() * offset;
                let drop = profile(guide, advance).0;
                [drop - SPHERE_RADIUS_MM, drop + SKIRT_MM]
                    .map(|drop| seat.place(advance + away.x, shift(advance) + away.y, drop))
                    .to_vec()
            })
            .collect()
    };
    mesh.plate(&sheet(SPHERE_RADIUS_MM), &sheet(SPHERE_RADIUS_MM + THICKNESS_MM));
}

fn working(mesh: &mut Mesh, seat: &Seat, guide: &CondylarGuide) {
    let (back, up) = (guide.lateroretrusion.tan(), guide.laterosurtrusion.tan());
    let outward = [0.0, WORKING_MM];
    let behind = |offset: f64| -> Vec<Vec<Vector3<f64>>> {
        // Normal to a = −s·tan ρ, toward lesser advance; s is outward, against the medial shift.
        let away = Vector3::new(-1.0, back, 0.0).normalize() * offset;
        outward
            .iter()
            .map(|&s| {
                [-SKIRT_MM, SKIRT_MM]
                    .map(|drop| seat.place(away.x - s * back, away.y - s, drop - s * up))
                    .to_vec()
            })
            .collect()
    };
    mesh.plate(&behind(SPHERE_RADIUS_MM), &behind(SPHERE_RADIUS_MM + THICKNESS_MM));
    if guide.laterosurtrusion != guide.wall_tilt {
        let away = Vector3::new(0.0, up, -1.0).normalize() * SPHERE_RADIUS_MM;
        let strip: Vec<Vec<_>> = outward
            .iter()
            .map(|&s| {
                [-SKIRT_MM, SKIRT_MM].map(|a| seat.place(a - s * back, away.y - s, away.z - s * up)).to_vec()
            })
            .collect();
        mesh.grid(&strip);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::excursion::Mechanism;
    use sim_core::instrument::Design;
    use sim_core::scene::Scene;
    use sim_core::setting::Change;

    /// A wall is drawn in flat pieces: a chord of 12/28 mm under an arc of 20 mm sags by 0.001 mm, and
    /// the piece across the edge where the early translation is spent by 5 mm·(1 − cos 4°) = 0.012 mm.
    const FLAT_PIECES_MM: f64 = 0.02;

    /// Distance of a point from a triangle, by projection onto its plane and its three edges.
    fn distance(p: &Vector3<f64>, [a, b, c]: [Vector3<f64>; 3]) -> f64 {
        let edge = |from: Vector3<f64>, to: Vector3<f64>| {
            let along = to - from;
            let part = ((p - from).dot(&along) / along.norm_squared()).clamp(0.0, 1.0);
            (p - from - along * part).norm()
        };
        let edges = edge(a, b).min(edge(b, c)).min(edge(c, a));
        let normal = (b - a).cross(&(c - a));
        let foot = p - normal * ((p - a).dot(&normal) / normal.norm_squared());
        let turns = |from: Vector3<f64>, to: Vector3<f64>| (to - from).cross(&(foot - from)).dot(&normal);
        let inside = turns(a, b) >= 0.0 && turns(b, c) >= 0.0 && turns(c, a) >= 0.0;
        if inside { (p - foot).norm() } else { edges }
    }

    fn gap(mesh: &Mesh, centre: &Vector3<f64>) -> f64 {
        mesh.triangles().map(|triangle| distance(centre, triangle)).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn the_spheres_touch_the_walls_that_steer_them_all_along_an_excursion() {
        for design in ["Arcon", "NonArcon"] {
            for changes in [
                vec![],
                vec!["horizontal_inclination_deg=45", "lateral_angle_deg=25", "wall_tilt_deg=8"],
                vec!["path=Arc", "immediate_translation_mm=0.7", "early_translation.amount_mm=0.6"],
            ] {
                let mut scene = Scene::thirty_degree();
                let design = format!("design={design}");
                for change in std::iter::once(design.as_str()).chain(changes) {
                    change.parse::<Change>().unwrap().make(&mut scene).unwrap();
                }
                let instrument = &scene.instrument;
                let mechanism = Mechanism::new(instrument);
                for side in Side::BOTH {
                    let meshes = guide_meshes(instrument, side, REACH_MM);
                    for excursion in &scene.excursions {
                        let orbits = excursion.movement().orbiting_side() == Some(side);
                        let works = excursion.movement().working_side() == Some(side);
                        for (number, placed) in mechanism.samples(excursion, scene.samples).enumerate() {
                            let placed = placed.unwrap();
                            let centre = rest_centre(instrument, side);
                            // In the frame of the housing, which is the member without spheres.
                            let centre = match instrument.design {
                                Design::Arcon => placed.jaw.rotation() * centre + placed.jaw.translation(),
                                Design::NonArcon => {
                                    placed.jaw.rotation().transpose() * (centre - placed.jaw.translation())
                                }
                            };
                            let off = |mesh: &Mesh| (gap(mesh, &centre) - SPHERE_RADIUS_MM).abs();
                            // The working sphere goes by its own walls.
                            if !works {
                                assert!(off(&meshes.superior) < FLAT_PIECES_MM, "{excursion:?} {number}");
                            }
                            // With immediate translation the first sample is before the shift.
                            if orbits
                                && (number > 0
                                    || instrument.guide(side).immediate_translation == Length::ZERO)
                            {
                                assert!(off(&meshes.medial) < FLAT_PIECES_MM, "{excursion:?} {number}");
                            }
                            if works {
                                assert!(off(&meshes.working) < FLAT_PIECES_MM, "{excursion:?} {number}");
                            }
                        }
                    }
                }
            }
        }
    }
}

//! The anterior guide: a table of three planes and the pin, or the upper incisors' inclines.

use nalgebra::Vector3;
use sim_core::anterior::{AnteriorGuide, GuidePlane};
use sim_core::frame::Side;
use sim_core::instrument::Instrument;

use super::mesh::Mesh;
use crate::geometry::landmarks::rest_point;

/// Half length of the planes along the plate, and width of a wing, for a table.
const TABLE_MM: (f64, f64) = (10.0, 11.0);
/// The same for the incisors' inclines, carried on to the front of the teeth so that they are seen.
const INCISORS_MM: (f64, f64) = (10.0, 9.0);
/// Thickness of what is drawn behind the planes.
const THICKNESS_MM: f64 = 1.6;

/// The planes, in the frame of the member that carries them.
#[derive(Clone, Debug, Default)]
pub struct AnteriorMeshes {
    /// The plate in the middle.
    pub plate: Mesh,
    /// The two wings.
    pub wings: Mesh,
}

/// The three planes about the rest point.
#[must_use]
pub fn anterior_meshes(instrument: &Instrument) -> AnteriorMeshes {
    let rest = rest_point(instrument);
    let guide = &instrument.anterior_guide;
    let mut meshes = AnteriorMeshes::default();
    let (Some(angles), Some(planes)) = (guide.trough(), guide.planes(rest)) else {
        if let AnteriorGuide::CustomTable(field) = guide {
            for triangle in field.triangles() {
                meshes.plate.polygon(&triangle.map(|corner| rest + Vector3::from(corner)));
            }
        }
        return meshes;
    };
    let half_plate = angles.flat_half_width.mm();
    // A table is below its point, the incisors above theirs.
    let ((half_length, wing_width), behind) =
        if guide.has_pin() { (TABLE_MM, -THICKNESS_MM) } else { (INCISORS_MM, THICKNESS_MM) };
    let along = Vector3::y().cross(&planes[0].normal);
    for plane in planes {
        let (from, to, mesh) = match plane.which {
            GuidePlane::Plate if half_plate > 0.0 => {
                (Vector3::y() * -half_plate, Vector3::y() * half_plate, &mut meshes.plate)
            }
            GuidePlane::Plate => continue,
            GuidePlane::Wing(side) => {
                let outward = match side {
                    Side::Left => plane.normal.cross(&along),
                    Side::Right => along.cross(&plane.normal),
                };
                let hinge = Vector3::y() * (side.outward_y() * half_plate);
                (hinge, hinge + outward * wing_width, &mut meshes.wings)
            }
        };
        let sheet = |offset: f64| -> Vec<Vec<Vector3<f64>>> {
            [-half_length, half_length]
                .map(|a| [from, to].map(|b| rest + along * a + b + plane.normal * offset).to_vec())
                .to_vec()
        };
        mesh.plate(&sheet(0.0), &sheet(behind));
    }
    meshes
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::anterior::Trough;
    use sim_core::setting::Setting;

    #[test]
    fn every_drawn_point_lies_on_its_plane_or_behind_it() {
        let text = |name: &str| sim_core::scene::THIRTY_DEGREE.replace("Table(", &format!("{name}("));
        for name in ["Table", "Incisors"] {
            let mut scene = sim_core::scene::Scene::from_ron(&text(name)).unwrap();
            for (entry, value) in [
                (&Trough::SAGITTAL_INCLINATION, 20.0),
                (&Trough::RIGHT_WING, 30.0),
                (&Trough::LEFT_WING, 15.0),
                (&Trough::FLAT_HALF_WIDTH, 3.0),
            ] {
                Setting::Anterior(entry).set(&mut scene, Side::Right, value).unwrap();
            }
            let instrument = &scene.instrument;
            let planes = instrument.anterior_guide.planes(rest_point(instrument)).unwrap();
            let meshes = anterior_meshes(instrument);
            for (mesh, planes) in [(&meshes.plate, &planes[..1]), (&meshes.wings, &planes[1..])] {
                for point in mesh.points() {
                    let off = planes
                        .iter()
                        .map(|plane| (plane.normal.dot(point) - plane.offset_mm).abs())
                        .map(|off| off.min((off - THICKNESS_MM).abs()))
                        .fold(f64::INFINITY, f64::min);
                    assert!(off < 1e-9, "{name}: {point:?} is {off} mm off");
                }
            }
        }
    }
}

//! From sections to closed surfaces of both sides.

use nalgebra::Vector3;

use super::InventedError;
use super::curves::CompensatingCurves;
use super::frame::PlaneFrame;
use super::layout::Layout;
use super::occlusal::OcclusalSurfaces;
use super::section::Sections;
use super::stations::{DISTAL_FALL_MM, Stations, from_middle};
use super::teeth::TEETH;
use crate::cast::Surface;
use crate::cusp::{Arch, Tooth};

/// The upper and the lower arch.
pub(super) fn arches(
    layout: &Layout,
    stations: &Stations,
    surfaces: &OcclusalSurfaces,
    curves: &CompensatingCurves,
    frame: &PlaneFrame,
    fineness_mm: f64,
) -> Result<[Surface; 2], InventedError> {
    let [upper, lower] = [Arch::Upper, Arch::Lower].map(|arch| {
        let sections = Sections::new(arch, layout, stations, surfaces, curves, fineness_mm);
        Shell::new(arch, layout, stations, &sections, frame).surface()
    });
    Ok([upper?, lower?])
}

/// Number of a left or right tooth.
pub(super) const fn tooth(arch: Arch, left: bool, place: usize) -> Option<Tooth> {
    let quadrant = match (arch, left) {
        (Arch::Upper, false) => 1,
        (Arch::Upper, true) => 2,
        (Arch::Lower, true) => 3,
        (Arch::Lower, false) => 4,
    };
    #[allow(clippy::cast_possible_wrap)] // 1 to 7
    match Tooth::new(quadrant * 10 + place as i64) {
        Ok(tooth) => Some(tooth),
        Err(_) => None,
    }
}

/// A closed surface as it is put together.
struct Shell {
    vertices: Vec<Vector3<f64>>,
    triangles: Vec<[u32; 3]>,
    teeth: Vec<Option<Tooth>>,
    /// The upper arch is seen from below, so its triangles run the other way round.
    upper: bool,
}

impl Shell {
    /// Columns of vertices run from the right end over the midline to the left end, then come the
    /// middles of the two ends.
    fn new(
        arch: Arch,
        layout: &Layout,
        stations: &Stations,
        sections: &Sections<'_>,
        frame: &PlaneFrame,
    ) -> Self {
        let (count, points) = (stations.along.len(), sections.points());
        let crowns = match arch {
            Arch::Upper => &layout.upper,
            Arch::Lower => &layout.lower,
        };
        let mut shell = Self {
            vertices: Vec::new(),
            triangles: Vec::new(),
            teeth: Vec::new(),
            upper: arch == Arch::Upper,
        };
        let place = |station: usize, [outward, height]: [f64; 2]| {
            let [anterior, left] = stations.places[station].off(outward);
            frame.place(anterior, left, height)
        };
        let left: Vec<Vec<Vector3<f64>>> = (0..count)
            .map(|station| sections.at(station).into_iter().map(|point| place(station, point)).collect())
            .collect();
        let middle_of_end = place(count - 1, sections.middle(count - 1));
        let right = left[1..].iter().rev().flatten().map(mirrored);
        shell.vertices = right.chain(left.iter().flatten().copied()).collect();
        for on_left in [false, true] {
            let column = |station: usize| {
                let column = if on_left { count - 1 + station } else { count - 1 - station };
                column * points
            };
            for station in 0..count - 1 {
                let middle = f64::midpoint(stations.along[station], stations.along[station + 1]);
                let (before, fall) = DISTAL_FALL_MM;
                let behind = middle > crowns.borders[TEETH] - before + fall;
                let on_tooth =
                    if behind { None } else { tooth(arch, on_left, from_middle(&crowns.borders, middle).0) };
                let (near, far) = (column(station), column(station + 1));
                for point in 0..points {
                    let next = (point + 1) % points;
                    let label = if sections.on_crown(point) { on_tooth } else { None };
                    shell.triangle([near + point, near + next, far + next], on_left, label);
                    shell.triangle([near + point, far + next, far + point], on_left, label);
                }
            }
            let end = column(count - 1);
            let middle = shell.vertices.len();
            shell.vertices.push(if on_left { middle_of_end } else { mirrored(&middle_of_end) });
            for point in 0..points {
                shell.triangle([end + point, end + (point + 1) % points, middle], on_left, None);
            }
        }
        shell
    }

    /// Adds a triangle that is seen counter-clockwise from outside on the left of the lower arch.
    fn triangle(&mut self, [a, b, c]: [usize; 3], on_left: bool, tooth: Option<Tooth>) {
        let corners = if on_left == self.upper { [a, c, b] } else { [a, b, c] };
        // At the finest there are some million vertices.
        #[allow(clippy::cast_possible_truncation)]
        self.triangles.push(corners.map(|index| index as u32));
        self.teeth.push(tooth);
    }

    fn surface(self) -> Result<Surface, InventedError> {
        Ok(Surface::new(self.vertices, self.triangles)?.with_teeth(self.teeth)?)
    }
}

/// The mirror image on the right side.
pub(super) fn mirrored(point: &Vector3<f64>) -> Vector3<f64> {
    Vector3::new(point.x, -point.y, point.z)
}

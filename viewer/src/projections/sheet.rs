//! Millimetres to points of the screen, the same for all three views.

use nalgebra::Vector3;

use super::Plane;

/// Distances that the lines of the grid may have, in millimetres.
const GRID_MM: [f64; 8] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0];
/// The widest, where even that is narrow on the screen.
const WIDEST_MM: f64 = 50.0;
/// Least distance of two of them, in points.
const LEAST_POINTS: f64 = 26.0;
/// Least size of what is shown, in millimetres: a jaw at rest is not looked at through a microscope.
const LEAST_MM: f64 = 4.0;

/// One scale for three views, and the place of the world at the middle of each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Points of the screen a millimetre.
    pub points_per_mm: f64,
    /// The place that comes to lie at the middle of each view.
    pub centre: Vector3<f64>,
}

impl Fit {
    /// The largest scale at which all of these places fit each view's width and height, in points.
    #[must_use]
    pub fn of<'p>(places: impl Iterator<Item = &'p Vector3<f64>>, views: [[f64; 2]; 3]) -> Self {
        let mut bounds: Option<(Vector3<f64>, Vector3<f64>)> = None;
        for place in places {
            let (low, high) = bounds.get_or_insert((*place, *place));
            (*low, *high) = (low.inf(place), high.sup(place));
        }
        let (low, high) = bounds.unwrap_or_default();
        let size = high - low;
        let mut points_per_mm = f64::INFINITY;
        for (plane, [width, height]) in Plane::ALL.into_iter().zip(views) {
            let [across, up] = plane.flat(&size).map(|mm| mm.abs().max(LEAST_MM));
            points_per_mm = points_per_mm.min(width.max(1.0) / across).min(height.max(1.0) / up);
        }
        Self { points_per_mm, centre: (low + high) / 2.0 }
    }

    /// Distance of the grid's lines in millimetres: round, and wide enough apart to be counted.
    #[must_use]
    pub fn grid_mm(&self) -> f64 {
        GRID_MM.into_iter().find(|mm| mm * self.points_per_mm >= LEAST_POINTS).unwrap_or(WIDEST_MM)
    }
}

/// One view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// The plane projected on.
    pub plane: Plane,
    /// The scale that all views share.
    pub fit: Fit,
    /// The middle of the view, in points from the top left of the window.
    pub middle: [f64; 2],
}

impl Sheet {
    /// Where a place of the world falls, in points from the top left of the window.
    #[must_use]
    pub fn place(&self, world: &Vector3<f64>) -> [f64; 2] {
        let [across, up] = self.plane.flat(&(world - self.fit.centre));
        let scale = self.fit.points_per_mm;
        [self.middle[0] + across * scale, self.middle[1] - up * scale]
    }

    /// Where a ruler has a mark: millimetres of the patient's axis, and points from the top left. Along
    /// the width, then along the height.
    #[must_use]
    pub fn marks(&self, half: [f64; 2]) -> [Vec<(f64, f64)>; 2] {
        let step = self.fit.grid_mm();
        let centre = self.plane.flat(&self.fit.centre);
        let scale = self.fit.points_per_mm;
        [(0, 1.0), (1, -1.0)].map(|(axis, sign)| {
            let reach = half[axis] / scale;
            let first = ((centre[axis] - reach) / step).ceil();
            let count = (((centre[axis] + reach) / step).floor() - first).max(-1.0);
            let mut marks = Vec::new();
            let mut number = 0.0;
            while number <= count {
                let mm = (first + number) * step;
                marks.push((mm, self.middle[axis] + sign * (mm - centre[axis]) * scale));
                number += 1.0;
            }
            marks
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const VIEWS: [[f64; 2]; 3] = [[240.0, 200.0], [180.0, 200.0], [180.0, 260.0]];

    fn place() -> impl Strategy<Value = Vector3<f64>> {
        (-60.0..110.0_f64, -60.0..60.0_f64, -80.0..30.0_f64).prop_map(|(x, y, z)| Vector3::new(x, y, z))
    }

    proptest! {
        #[test]
        fn everything_fits_every_view_and_lengths_keep_one_scale(
            places in proptest::collection::vec(place(), 1..20),
        ) {
            let fit = Fit::of(places.iter(), VIEWS);
            for (plane, [width, height]) in Plane::ALL.into_iter().zip(VIEWS) {
                let sheet = Sheet { plane, fit, middle: [500.0, 300.0] };
                for (number, world) in places.iter().enumerate() {
                    let [x, y] = sheet.place(world);
                    prop_assert!((x - 500.0).abs() <= width / 2.0 + 1e-6);
                    prop_assert!((y - 300.0).abs() <= height / 2.0 + 1e-6);
                    // A length within the plane is so many points as its millimetres times the scale.
                    let other = &places[number / 2];
                    let [u, v] = sheet.place(other);
                    let [across, up] = plane.flat(&(world - other));
                    let mm = across.hypot(up);
                    prop_assert!(((x - u).hypot(y - v) - mm * fit.points_per_mm).abs() < 1e-6);
                }
            }
        }

        #[test]
        fn a_ruler_reads_the_millimetres_of_a_place(world in place(), other in place()) {
            let fit = Fit::of([world, other].iter(), VIEWS);
            for plane in Plane::ALL {
                let sheet = Sheet { plane, fit, middle: [120.0, 90.0] };
                let marks = sheet.marks([100.0, 80.0]);
                let at = sheet.place(&world);
                let read = plane.flat(&world);
                for axis in [0, 1] {
                    let [(mm, place), (next_mm, next), ..] = marks[axis][..] else { continue };
                    let by_ruler = mm + (at[axis] - place) * (next_mm - mm) / (next - place);
                    prop_assert!((by_ruler - read[axis]).abs() < 1e-6, "{by_ruler} {}", read[axis]);
                }
            }
        }
    }

    #[test]
    fn the_patients_directions_are_where_the_view_says() {
        let fit = Fit { points_per_mm: 2.0, centre: Vector3::zeros() };
        let at = |plane, world| Sheet { plane, fit, middle: [0.0, 0.0] }.place(&world);
        assert_eq!(at(Plane::Sagittal, Vector3::new(3.0, 9.0, 1.0)), [6.0, -2.0]);
        assert_eq!(at(Plane::Frontal, Vector3::new(9.0, 3.0, 1.0)), [6.0, -2.0]);
        assert_eq!(at(Plane::Horizontal, Vector3::new(1.0, 3.0, 9.0)), [-6.0, -2.0]);
    }

    #[test]
    fn lines_of_the_grid_are_round_and_apart() {
        for scale in [0.6, 1.0, 3.0, 12.0, 40.0, 300.0] {
            let fit = Fit { points_per_mm: scale, centre: Vector3::zeros() };
            assert!(fit.grid_mm() * scale >= LEAST_POINTS);
        }
    }
}

//! From millimetres to pixels: parallel projection, so that lengths and angles read true.
//!
//! The world has the axes of the frames: x anterior, y left, z up. A [`Look`] says from where one
//! looks and how much of the world is seen; with a [`Window`] it makes a [`Projection`].

use nalgebra::{Matrix3, Vector3};

/// Distance in millimetres from the eye to the point looked at; nothing of an articulator is
/// farther from that point than this.
pub const EYE_DISTANCE_MM: f64 = 500.0;

/// Steepest elevation: straight down.
const STRAIGHT_DOWN_DEG: f64 = 90.0;

/// Least and greatest height of the world seen in the picture, in millimetres.
const HEIGHT_RANGE_MM: (f64, f64) = (8.0, 400.0);

/// A direction to look from, by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Viewpoint {
    /// From the front, the right and a little above.
    Oblique,
    /// From the patient's right.
    Right,
    /// From the patient's left.
    Left,
    /// From the front.
    Front,
    /// From above, anterior up.
    Above,
    /// From below, anterior up.
    Below,
    /// Along the line through the two sphere centres as they stand: closing is a turn about a point.
    Axis,
}

impl Viewpoint {
    /// Every viewpoint, in the order of their buttons and keys.
    pub const ALL: [Self; 7] =
        [Self::Oblique, Self::Right, Self::Left, Self::Front, Self::Above, Self::Below, Self::Axis];

    /// The word on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Oblique => "oblique",
            Self::Right => "right",
            Self::Left => "left",
            Self::Front => "front",
            Self::Above => "above",
            Self::Below => "below",
            Self::Axis => "axis",
        }
    }

    /// Azimuth and elevation of the eye in degrees.
    const fn angles_deg(self) -> (f64, f64) {
        match self {
            Self::Oblique => (-58.0, 15.0),
            Self::Right | Self::Axis => (-90.0, 0.0),
            Self::Left => (90.0, 0.0),
            Self::Front => (0.0, 0.0),
            Self::Above => (180.0, STRAIGHT_DOWN_DEG),
            Self::Below => (0.0, -STRAIGHT_DOWN_DEG),
        }
    }
}

/// From where one looks, at what, and how much is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// The named viewpoint, until the picture is turned by hand.
    pub viewpoint: Option<Viewpoint>,
    /// Turn of the eye about z in degrees: 0 looks from the front, −90 from the right.
    pub azimuth_deg: f64,
    /// Height of the eye above the horizon in degrees.
    pub elevation_deg: f64,
    /// Point looked at, in millimetres of the world.
    pub focus: Vector3<f64>,
    /// Height of the world that fits the picture, in millimetres.
    pub height_mm: f64,
    /// Width of the world that must fit the picture as well, in millimetres.
    pub width_mm: f64,
}

impl Look {
    /// The view from a named viewpoint of a box of the world.
    #[must_use]
    pub fn at(viewpoint: Viewpoint, (low, high): (Vector3<f64>, Vector3<f64>)) -> Self {
        let (azimuth_deg, elevation_deg) = viewpoint.angles_deg();
        let mut look = Self {
            viewpoint: Some(viewpoint),
            azimuth_deg,
            elevation_deg,
            focus: Vector3::zeros(),
            height_mm: 0.0,
            width_mm: 0.0,
        };
        look.fit((low, high));
        look
    }

    /// Shows a box of the world, from where one looks already.
    pub fn fit(&mut self, (low, high): (Vector3<f64>, Vector3<f64>)) {
        let (right, up) = (self.basis(None).row(0).abs(), self.basis(None).row(1).abs());
        let size = high - low;
        self.focus = (low + high) / 2.0;
        (self.width_mm, self.height_mm) = ((right * size)[0], (up * size)[0]);
    }

    /// Turns the picture by hand, in degrees.
    pub fn turn(&mut self, azimuth_deg: f64, elevation_deg: f64) {
        self.viewpoint = None;
        self.azimuth_deg = (self.azimuth_deg + azimuth_deg).rem_euclid(360.0);
        self.elevation_deg =
            (self.elevation_deg + elevation_deg).clamp(-STRAIGHT_DOWN_DEG, STRAIGHT_DOWN_DEG);
    }

    /// Shows less of the world (factor below one) or more of it.
    pub fn zoom(&mut self, factor: f64) {
        let (least, most) = HEIGHT_RANGE_MM;
        let factor = factor.clamp(least / self.height_mm, (most / self.height_mm).max(1.0));
        self.height_mm *= factor;
        self.width_mm *= factor;
    }

    /// Rows: to the right of the picture, up in it, and toward the eye. `axis` is the direction
    /// from the left sphere centre to the right one, for [`Viewpoint::Axis`].
    fn basis(&self, axis: Option<Vector3<f64>>) -> Matrix3<f64> {
        if let (Some(Viewpoint::Axis), Some(axis)) = (self.viewpoint, axis) {
            let eye = axis.normalize();
            let right = Vector3::z().cross(&eye).normalize();
            return Matrix3::from_rows(&[right.transpose(), eye.cross(&right).transpose(), eye.transpose()]);
        }
        let (sin_a, cos_a) = self.azimuth_deg.to_radians().sin_cos();
        let (sin_e, cos_e) = self.elevation_deg.to_radians().sin_cos();
        Matrix3::new(
            -sin_a,
            cos_a,
            0.0, //
            -sin_e * cos_a,
            -sin_e * sin_a,
            cos_e, //
            cos_e * cos_a,
            cos_e * sin_a,
            sin_e,
        )
    }

    /// The projection onto a part of a window.
    #[must_use]
    pub fn projection(&self, window: Window, axis: Option<Vector3<f64>>) -> Projection {
        let fit = |pixels: f32, mm: f64| f64::from(pixels) / mm.max(1.0);
        Projection {
            basis: self.basis(axis),
            focus: self.focus,
            pixels_per_mm: fit(window.height, self.height_mm).min(fit(window.width, self.width_mm)),
            centre: [
                f64::from(window.left + window.width / 2.0),
                f64::from(window.top + window.height / 2.0),
            ],
        }
    }
}

/// The part of the picture that shows the instrument, in pixels from the top left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Left edge.
    pub left: f32,
    /// Top edge.
    pub top: f32,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
}

/// A parallel projection of the world onto the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    /// Rows: right of the picture, up in it, toward the eye.
    pub basis: Matrix3<f64>,
    /// The point that comes to lie at the centre.
    pub focus: Vector3<f64>,
    /// Scale.
    pub pixels_per_mm: f64,
    /// Where the focus comes to lie, in pixels from the top left.
    pub centre: [f64; 2],
}

impl Projection {
    /// Pixel (from the top left) at which a point of the world is seen.
    #[must_use]
    pub fn pixel(&self, point: &Vector3<f64>) -> [f64; 2] {
        let seen = self.basis * (point - self.focus) * self.pixels_per_mm;
        [self.centre[0] + seen.x, self.centre[1] - seen.y]
    }

    /// The ray that is seen as one pixel (from the top left): from the eye, and the direction in which it
    /// looks.
    #[must_use]
    pub fn ray(&self, [x, y]: [f64; 2]) -> (Vector3<f64>, Vector3<f64>) {
        let toward_eye = self.basis.row(2).transpose();
        let beside = self.shift_mm(x - self.centre[0], y - self.centre[1]);
        (self.focus + beside + toward_eye * EYE_DISTANCE_MM, -toward_eye)
    }

    /// The move within the picture's plane, in millimetres, that a move in pixels stands for.
    #[must_use]
    pub fn shift_mm(&self, right_px: f64, down_px: f64) -> Vector3<f64> {
        self.basis.transpose() * Vector3::new(right_px, -down_px, 0.0) / self.pixels_per_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Window = Window { left: 0.0, top: 0.0, width: 400.0, height: 200.0 };

    fn look(viewpoint: Viewpoint) -> Look {
        Look::at(viewpoint, (Vector3::new(-100.0, -100.0, -100.0), Vector3::new(100.0, 100.0, 100.0)))
    }

    fn assert_seen(viewpoint: Viewpoint, point: Vector3<f64>, expected: [f64; 2]) {
        let [x, y] = look(viewpoint).projection(WINDOW, Some(-Vector3::y())).pixel(&point);
        let off = (x - expected[0]).hypot(y - expected[1]);
        assert!(off < 1e-9, "{viewpoint:?}: ({x}, {y}) instead of {expected:?}");
    }

    #[test]
    fn each_view_puts_the_directions_of_the_patient_where_they_belong() {
        // One pixel a millimetre, centre (200, 100).
        let (anterior, left, up) = (Vector3::x() * 10.0, Vector3::y() * 10.0, Vector3::z() * 10.0);
        assert_seen(Viewpoint::Right, anterior, [210.0, 100.0]);
        assert_seen(Viewpoint::Right, up, [200.0, 90.0]);
        assert_seen(Viewpoint::Left, anterior, [190.0, 100.0]);
        assert_seen(Viewpoint::Front, left, [210.0, 100.0]);
        assert_seen(Viewpoint::Above, anterior, [200.0, 90.0]);
        assert_seen(Viewpoint::Above, left, [190.0, 100.0]);
        assert_seen(Viewpoint::Below, anterior, [200.0, 90.0]);
        assert_seen(Viewpoint::Below, left, [210.0, 100.0]);
        assert_seen(Viewpoint::Axis, anterior, [210.0, 100.0]);
    }

    #[test]
    fn along_a_turned_axis_both_sphere_centres_fall_on_one_pixel() {
        let (right, left) = (Vector3::new(0.5, -55.0, -1.0), Vector3::new(5.0, 54.0, -3.0));
        let projection = look(Viewpoint::Axis).projection(WINDOW, Some(right - left));
        let (a, b) = (projection.pixel(&right), projection.pixel(&left));
        assert!((a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9, "{a:?} {b:?}");
    }

    #[test]
    fn every_place_along_a_ray_is_seen_at_its_pixel() {
        let mut turned = look(Viewpoint::Oblique);
        turned.turn(-31.0, 12.0);
        let projection = turned.projection(WINDOW, None);
        let (from, toward) = projection.ray([170.0, 131.0]);
        for along in [0.0, 300.0, 700.0] {
            let [x, y] = projection.pixel(&(from + toward * along));
            assert!((x - 170.0).abs() < 1e-9 && (y - 131.0).abs() < 1e-9, "({x}, {y})");
        }
        assert!((toward.norm() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_shift_in_pixels_is_undone_by_the_projection() {
        let mut turned = look(Viewpoint::Oblique);
        turned.turn(17.0, -11.0);
        let projection = turned.projection(WINDOW, None);
        let [x, y] = projection.pixel(&(turned.focus + projection.shift_mm(12.0, -7.0)));
        assert!((x - 212.0).abs() < 1e-9 && (y - 93.0).abs() < 1e-9);
    }
}

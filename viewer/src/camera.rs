//! The projection handed to the graphics crate. Events are not the camera's business here.

use kiss3d::camera::Camera3d;
use kiss3d::event::WindowEvent;
use kiss3d::glamx::{Mat4, Pose3, Quat, Vec3, Vec4};
use kiss3d::window::Canvas;

use crate::drawing::to_f32;
use crate::projection::{EYE_DISTANCE_MM, Projection};

/// A camera that shows exactly what its [`Projection`] says.
#[derive(Debug)]
pub struct Camera {
    view: Pose3,
    projection: Mat4,
    eye: Vec3,
}

impl Camera {
    /// A camera for a picture of `width` × `height` pixels.
    #[must_use]
    pub fn new(projection: &Projection, width: f32, height: f32) -> Self {
        let basis = projection.basis;
        let columns = basis.column_iter().map(|column| to_f32(&column.into_owned())).collect::<Vec<_>>();
        let rotation = kiss3d::glamx::Mat3::from_cols(columns[0], columns[1], columns[2]);
        let eye = projection.focus + basis.row(2).transpose() * EYE_DISTANCE_MM;
        let view = Pose3::from_parts(to_f32(&-(basis * eye)), Quat::from_mat3(&rotation));
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let [scale, x, y] = [projection.pixels_per_mm, projection.centre[0], projection.centre[1]]
            .map(|number| number as f32);
        #[allow(clippy::cast_possible_truncation, reason = "a constant of three digits")]
        let depth = 1.0 / (2.0 * EYE_DISTANCE_MM) as f32;
        Self {
            view,
            projection: Mat4::from_cols(
                Vec4::new(2.0 * scale / width, 0.0, 0.0, 0.0),
                Vec4::new(0.0, 2.0 * scale / height, 0.0, 0.0),
                Vec4::new(0.0, 0.0, -depth, 0.0),
                Vec4::new(2.0 * x / width - 1.0, 1.0 - 2.0 * y / height, 0.0, 1.0),
            ),
            eye: to_f32(&eye),
        }
    }
}

impl Camera3d for Camera {
    fn handle_event(&mut self, _canvas: &Canvas, _event: &WindowEvent) {}

    fn eye(&self) -> Vec3 {
        self.eye
    }

    fn view_transform(&self) -> Pose3 {
        self.view
    }

    fn transformation(&self) -> Mat4 {
        self.projection * self.view.to_mat4()
    }

    fn inverse_transformation(&self) -> Mat4 {
        self.transformation().inverse()
    }

    #[allow(clippy::cast_possible_truncation, reason = "a constant of three digits")]
    fn clip_planes(&self) -> (f32, f32) {
        (0.0, 2.0 * EYE_DISTANCE_MM as f32)
    }

    fn update(&mut self, _canvas: &Canvas) {}

    fn view_transform_pair(&self, _pass: usize) -> (Pose3, Mat4) {
        (self.view, self.projection)
    }
}

//! Lines in the picture, drawn anew for each frame.

use bytemuck::{Pod, Zeroable};
use kiss3d::context::Context;
use kiss3d::glamx::{Mat4, Pose3, Vec3};
use kiss3d::resource::RenderContext;

use super::pipeline::{Kind, Pipeline};
use super::uniforms::uniform;
use crate::palette::Tint;

/// Pieces that there is room for at first.
const ROOM: usize = 1024;

/// A piece of a line, as the shader has it.
#[repr(C)]
#[derive(Clone, Copy, Debug, Pod, Zeroable)]
struct Piece {
    start: [f32; 3],
    /// In pixels.
    width: f32,
    end: [f32; 3],
    unused: f32,
    colour: [f32; 4],
}

/// `Look` of the shader.
#[repr(C)]
#[derive(Clone, Copy, Pod, Zeroable)]
struct Look {
    view: [[f32; 4]; 4],
    projection: [[f32; 4]; 4],
    pixels: [f32; 4],
}

/// The lines of the coming frame.
#[derive(Clone, Debug, Default)]
pub struct Lines(Vec<Piece>);

impl Lines {
    /// Adds a line through these points, so many pixels wide.
    pub fn add(&mut self, points: &[Vec3], width: f32, tint: Tint) {
        let colour = tint.linear();
        let colour = [colour.r, colour.g, colour.b, 1.0];
        self.0.extend(points.windows(2).map(|ends| Piece {
            start: ends[0].into(),
            width,
            end: ends[1].into(),
            unused: 0.0,
            colour,
        }));
    }

    /// Takes all away.
    pub fn clear(&mut self) {
        self.0.clear();
    }
}

/// What draws lines.
pub struct LinePen {
    pipeline: Pipeline,
    look: (wgpu::Buffer, wgpu::BindGroup),
    pieces: wgpu::Buffer,
}

impl LinePen {
    /// A new one. The graphics crate must have been started.
    #[must_use]
    pub fn new() -> Self {
        let pipeline = Pipeline::new(Kind::Lines);
        let look = uniform(&pipeline, size_of::<Look>());
        Self { pipeline, look, pieces: room_for(ROOM) }
    }

    /// Draws lines as a camera sees them.
    #[allow(clippy::cast_precision_loss, reason = "pixels")]
    pub fn draw(
        &mut self,
        lines: &Lines,
        (view, projection): (Pose3, Mat4),
        pass: &mut wgpu::RenderPass<'_>,
        context: &RenderContext,
    ) {
        let pieces: &[u8] = bytemuck::cast_slice(&lines.0);
        let Ok(count) = u32::try_from(lines.0.len()) else { return };
        if count == 0 {
            return;
        }
        if self.pieces.size() < pieces.len() as u64 {
            self.pieces = room_for(lines.0.len().next_power_of_two());
        }
        let look = Look {
            view: view.to_mat4().to_cols_array_2d(),
            projection: projection.to_cols_array_2d(),
            pixels: [context.viewport_width as f32, context.viewport_height as f32, 0.0, 0.0],
        };
        let graphics = Context::get();
        graphics.write_buffer(&self.look.0, 0, bytemuck::bytes_of(&look));
        graphics.write_buffer(&self.pieces, 0, pieces);
        pass.set_pipeline(&self.pipeline.fitting(context));
        pass.set_bind_group(0, &self.look.1, &[]);
        pass.set_vertex_buffer(0, self.pieces.slice(..));
        pass.draw(0..6, 0..count);
    }
}

impl Default for LinePen {
    fn default() -> Self {
        Self::new()
    }
}

fn room_for(pieces: usize) -> wgpu::Buffer {
    Context::get().create_buffer(&wgpu::BufferDescriptor {
        label: Some("lines"),
        size: (pieces * size_of::<Piece>()) as u64,
        usage: wgpu::BufferUsages::VERTEX | wgpu::BufferUsages::COPY_DST,
        mapped_at_creation: false,
    })
}

//! What the shader is given for each object.

use std::any::Any;

use bytemuck::{Pod, Zeroable};
use kiss3d::context::Context;
use kiss3d::glamx::{Mat4, Pose3};
use kiss3d::resource::GpuData;

use super::pipeline::Pipeline;

/// `Thing` of the shader.
#[repr(C)]
#[derive(Clone, Copy, PartialEq, Pod, Zeroable)]
struct Thing {
    view: [[f32; 4]; 4],
    projection: [[f32; 4]; 4],
    pose: [[f32; 4]; 4],
    colour: [f32; 4],
}

/// The buffer of one object.
pub(super) struct Uniforms {
    buffer: wgpu::Buffer,
    group: wgpu::BindGroup,
    written: Option<Thing>,
}

impl Uniforms {
    pub(super) fn new(pipeline: &Pipeline) -> Self {
        let (buffer, group) = uniform(pipeline, size_of::<Thing>());
        Self { buffer, group, written: None }
    }

    /// Writes where the camera is and how it projects, where the object is, and its colour.
    pub(super) fn write(&mut self, (view, projection): (Pose3, Mat4), pose: Pose3, colour: [f32; 4]) {
        let thing = Thing {
            view: view.to_mat4().to_cols_array_2d(),
            projection: projection.to_cols_array_2d(),
            pose: pose.to_mat4().to_cols_array_2d(),
            colour,
        };
        if self.written != Some(thing) {
            Context::get().write_buffer(&self.buffer, 0, bytemuck::bytes_of(&thing));
            self.written = Some(thing);
        }
    }

    pub(super) fn group(&self) -> &wgpu::BindGroup {
        &self.group
    }
}

/// A buffer of that many bytes that the shader of a pipeline reads, and how it is bound.
pub(super) fn uniform(pipeline: &Pipeline, size: usize) -> (wgpu::Buffer, wgpu::BindGroup) {
    let context = Context::get();
    let buffer = context.create_buffer(&wgpu::BufferDescriptor {
        label: Some("uniform"),
        size: size as u64,
        usage: wgpu::BufferUsages::UNIFORM | wgpu::BufferUsages::COPY_DST,
        mapped_at_creation: false,
    });
    let group = context.create_bind_group(&wgpu::BindGroupDescriptor {
        label: Some("uniform"),
        layout: pipeline.layout(),
        entries: &[wgpu::BindGroupEntry { binding: 0, resource: buffer.as_entire_binding() }],
    });
    (buffer, group)
}

impl GpuData for Uniforms {
    fn as_any(&self) -> &dyn Any {
        self
    }

    fn as_any_mut(&mut self) -> &mut dyn Any {
        self
    }
}

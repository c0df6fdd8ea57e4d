//! What the shader is given: once a frame, and once for each object.

use std::any::Any;

use bytemuck::{Pod, Zeroable};
use kiss3d::context::Context;
use kiss3d::glamx::{Mat4, Pose3};
use kiss3d::resource::GpuData;

use super::pipeline::Pipeline;

/// `Frame` of the shader.
#[repr(C)]
#[derive(Clone, Copy, Pod, Zeroable)]
struct FrameUniform {
    view: [[f32; 4]; 4],
    projection: [[f32; 4]; 4],
}

/// `Thing` of the shader.
#[repr(C)]
#[derive(Clone, Copy, Pod, Zeroable)]
struct ThingUniform {
    pose: [[f32; 4]; 4],
    colour: [f32; 4],
}

/// The buffers of one object.
pub(super) struct Uniforms {
    frame: (wgpu::Buffer, wgpu::BindGroup),
    thing: (wgpu::Buffer, wgpu::BindGroup),
}

impl Uniforms {
    pub(super) fn new(pipeline: &Pipeline) -> Self {
        let context = Context::get();
        let make = |label, size: usize| {
            let buffer = context.create_buffer(&wgpu::BufferDescriptor {
                label: Some(label),
                size: size as u64,
                usage: wgpu::BufferUsages::UNIFORM | wgpu::BufferUsages::COPY_DST,
                mapped_at_creation: false,
            });
            let group = context.create_bind_group(&wgpu::BindGroupDescriptor {
                label: Some(label),
                layout: pipeline.layout(),
                entries: &[wgpu::BindGroupEntry { binding: 0, resource: buffer.as_entire_binding() }],
            });
            (buffer, group)
        };
        Self {
            frame: make("matte frame", size_of::<FrameUniform>()),
            thing: make("matte thing", size_of::<ThingUniform>()),
        }
    }

    /// Writes where the camera is and how it projects, where the object is, and its colour.
    pub(super) fn write(&self, (view, projection): (Pose3, Mat4), pose: Pose3, colour: [f32; 4]) {
        let frame = FrameUniform {
            view: view.to_mat4().to_cols_array_2d(),
            projection: projection.to_cols_array_2d(),
        };
        let thing = ThingUniform { pose: pose.to_mat4().to_cols_array_2d(), colour };
        let context = Context::get();
        context.write_buffer(&self.frame.0, 0, bytemuck::bytes_of(&frame));
        context.write_buffer(&self.thing.0, 0, bytemuck::bytes_of(&thing));
    }

    pub(super) fn frame(&self) -> &wgpu::BindGroup {
        &self.frame.1
    }

    pub(super) fn thing(&self) -> &wgpu::BindGroup {
        &self.thing.1
    }
}

impl GpuData for Uniforms {
    fn as_any(&self) -> &dyn Any {
        self
    }

    fn as_any_mut(&mut self) -> &mut dyn Any {
        self
    }
}

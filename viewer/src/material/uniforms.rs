//! What the shader is told: once a frame, and once for each object.

use std::any::Any;

use bytemuck::{Pod, Zeroable};
use kiss3d::context::Context;
use kiss3d::resource::GpuData;

use super::pipeline::Pipeline;

/// `Frame` of the shader.
#[repr(C)]
#[derive(Clone, Copy, Pod, Zeroable)]
pub(super) struct FrameUniform {
    pub(super) view: [[f32; 4]; 4],
    pub(super) projection: [[f32; 4]; 4],
}

/// `Thing` of the shader.
#[repr(C)]
#[derive(Clone, Copy, Pod, Zeroable)]
pub(super) struct ThingUniform {
    pub(super) pose: [[f32; 4]; 4],
    pub(super) colour: [f32; 4],
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

    pub(super) fn write(&self, frame: &FrameUniform, thing: &ThingUniform) {
        let context = Context::get();
        context.write_buffer(&self.frame.0, 0, bytemuck::bytes_of(frame));
        context.write_buffer(&self.thing.0, 0, bytemuck::bytes_of(thing));
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

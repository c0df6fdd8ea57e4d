//! The render pipeline of the material, one for each number of samples asked for.

use std::rc::Rc;

use kiss3d::context::Context;
use kiss3d::resource::{PipelineCache, multisample_state};

/// The pipelines and the layout of their one kind of uniform.
pub(super) struct Pipeline {
    cache: PipelineCache,
    layout: wgpu::BindGroupLayout,
}

impl Pipeline {
    pub(super) fn new() -> Self {
        let context = Context::get();
        let layout = context.create_bind_group_layout(&wgpu::BindGroupLayoutDescriptor {
            label: Some("matte uniform"),
            entries: &[wgpu::BindGroupLayoutEntry {
                binding: 0,
                visibility: wgpu::ShaderStages::VERTEX_FRAGMENT,
                ty: wgpu::BindingType::Buffer {
                    ty: wgpu::BufferBindingType::Uniform,
                    has_dynamic_offset: false,
                    min_binding_size: None,
                },
                count: None,
            }],
        });
        let pipeline_layout = context.create_pipeline_layout(&wgpu::PipelineLayoutDescriptor {
            label: Some("matte"),
            bind_group_layouts: &[Some(&layout), Some(&layout)],
            immediate_size: 0,
        });
        let shader = context.create_shader_module(Some("matte"), include_str!("shader.wgsl"));
        let cache = PipelineCache::new(move |samples| build(&pipeline_layout, &shader, samples));
        Self { cache, layout }
    }

    pub(super) fn layout(&self) -> &wgpu::BindGroupLayout {
        &self.layout
    }

    pub(super) fn for_samples(&self, samples: u32) -> Rc<wgpu::RenderPipeline> {
        self.cache.get(samples)
    }
}

fn build(layout: &wgpu::PipelineLayout, shader: &wgpu::ShaderModule, samples: u32) -> wgpu::RenderPipeline {
    let attributes = [0, 1].map(|shader_location| wgpu::VertexAttribute {
        offset: 0,
        shader_location,
        format: wgpu::VertexFormat::Float32x3,
    });
    let buffers = [0, 1].map(|which| {
        Some(wgpu::VertexBufferLayout {
            array_stride: size_of::<[f32; 3]>() as u64,
            step_mode: wgpu::VertexStepMode::Vertex,
            attributes: &attributes[which..=which],
        })
    });
    Context::get().create_render_pipeline(&wgpu::RenderPipelineDescriptor {
        label: Some("matte"),
        layout: Some(layout),
        vertex: wgpu::VertexState {
            module: shader,
            entry_point: Some("vertex"),
            buffers: &buffers,
            compilation_options: wgpu::PipelineCompilationOptions::default(),
        },
        fragment: Some(wgpu::FragmentState {
            module: shader,
            entry_point: Some("fragment"),
            targets: &[Some(wgpu::ColorTargetState {
                format: Context::render_format(),
                blend: None,
                write_mask: wgpu::ColorWrites::ALL,
            })],
            compilation_options: wgpu::PipelineCompilationOptions::default(),
        }),
        // Sheets are seen from both sides, so nothing is culled.
        primitive: wgpu::PrimitiveState { cull_mode: None, ..wgpu::PrimitiveState::default() },
        depth_stencil: Some(wgpu::DepthStencilState {
            format: Context::depth_format(),
            depth_write_enabled: Some(true),
            depth_compare: Some(wgpu::CompareFunction::Less),
            stencil: wgpu::StencilState::default(),
            bias: wgpu::DepthBiasState::default(),
        }),
        multisample: multisample_state(samples),
        multiview_mask: None,
        cache: None,
    })
}

//! The render pipeline of a material, one for each number of samples asked for.

use std::rc::Rc;

use kiss3d::context::Context;
use kiss3d::resource::{PipelineCache, multisample_state};

/// What a material puts on the screen and from which buffers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// One colour an object; positions and normals.
    Matte,
    /// The same, every second pixel left out.
    Ghost,
    /// One colour without light, a little behind.
    Outline,
    /// A colour at each vertex; positions, normals and colours.
    Relief,
}

impl Kind {
    const fn label(self) -> &'static str {
        match self {
            Self::Matte => "matte",
            Self::Ghost => "ghost",
            Self::Outline => "outline",
            Self::Relief => "relief",
        }
    }

    const fn shader(self) -> &'static str {
        match self {
            Self::Matte => include_str!("shader.wgsl"),
            Self::Ghost => include_str!("ghost.wgsl"),
            Self::Outline => include_str!("outline.wgsl"),
            Self::Relief => include_str!("relief.wgsl"),
        }
    }

    /// Format and size in bytes of what each vertex buffer holds.
    const fn buffers(self) -> &'static [(wgpu::VertexFormat, u64)] {
        const VECTOR: (wgpu::VertexFormat, u64) = (wgpu::VertexFormat::Float32x3, 12);
        const PAINT: (wgpu::VertexFormat, u64) = (wgpu::VertexFormat::Unorm8x4, 4);
        match self {
            Self::Matte | Self::Ghost | Self::Outline => &[VECTOR, VECTOR],
            Self::Relief => &[VECTOR, VECTOR, PAINT],
        }
    }
}

/// The pipelines and the layout of their one kind of uniform.
pub(super) struct Pipeline {
    cache: PipelineCache,
    layout: wgpu::BindGroupLayout,
}

impl Pipeline {
    pub(super) fn new(kind: Kind) -> Self {
        let context = Context::get();
        let layout = context.create_bind_group_layout(&wgpu::BindGroupLayoutDescriptor {
            label: Some(kind.label()),
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
            label: Some(kind.label()),
            bind_group_layouts: &[Some(&layout), Some(&layout)],
            immediate_size: 0,
        });
        let shader = context.create_shader_module(Some(kind.label()), kind.shader());
        let cache = PipelineCache::new(move |samples| build(kind, &pipeline_layout, &shader, samples));
        Self { cache, layout }
    }

    pub(super) fn layout(&self) -> &wgpu::BindGroupLayout {
        &self.layout
    }

    pub(super) fn for_samples(&self, samples: u32) -> Rc<wgpu::RenderPipeline> {
        self.cache.get(samples)
    }
}

fn build(
    kind: Kind,
    layout: &wgpu::PipelineLayout,
    shader: &wgpu::ShaderModule,
    samples: u32,
) -> wgpu::RenderPipeline {
    let attributes: Vec<wgpu::VertexAttribute> = (0..)
        .zip(kind.buffers())
        .map(|(shader_location, &(format, _))| wgpu::VertexAttribute { offset: 0, shader_location, format })
        .collect();
    let buffers: Vec<_> = attributes
        .iter()
        .zip(kind.buffers())
        .map(|(attribute, &(_, array_stride))| {
            Some(wgpu::VertexBufferLayout {
                array_stride,
                step_mode: wgpu::VertexStepMode::Vertex,
                attributes: std::slice::from_ref(attribute),
            })
        })
        .collect();
    Context::get().create_render_pipeline(&wgpu::RenderPipelineDescriptor {
        label: Some(kind.label()),
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

//! The render pipeline of a material, one for each kind of picture that it is drawn into.

use std::cell::RefCell;

use kiss3d::context::Context;
use kiss3d::resource::{RenderContext, multisample_state};

use super::film;

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
    /// Lines; an instance for each piece.
    Lines,
}

/// Each with what all begin with.
macro_rules! shader {
    ($($part:literal),*) => {
        concat!(include_str!("coded.wgsl"), $(include_str!($part)),*)
    };
}

impl Kind {
    const fn label(self) -> &'static str {
        match self {
            Self::Matte => "matte",
            Self::Ghost => "ghost",
            Self::Outline => "outline",
            Self::Relief => "relief",
            Self::Lines => "lines",
        }
    }

    const fn shader(self) -> &'static str {
        match self {
            Self::Matte => shader!("thing.wgsl", "matte.wgsl"),
            Self::Ghost => shader!("thing.wgsl", "ghost.wgsl"),
            Self::Outline => shader!("thing.wgsl", "outline.wgsl"),
            Self::Relief => shader!("thing.wgsl", "relief.wgsl"),
            Self::Lines => shader!("lines.wgsl"),
        }
    }

    /// Formats of what each vertex buffer holds, one after the other.
    const fn buffers(self) -> &'static [&'static [wgpu::VertexFormat]] {
        use wgpu::VertexFormat::{Float32x3, Float32x4, Unorm8x4};
        match self {
            Self::Matte | Self::Ghost | Self::Outline => &[&[Float32x3], &[Float32x3]],
            Self::Relief => &[&[Float32x3], &[Float32x3], &[Unorm8x4]],
            Self::Lines => &[&[Float32x4, Float32x4, Float32x4]],
        }
    }

    const fn step(self) -> wgpu::VertexStepMode {
        match self {
            Self::Lines => wgpu::VertexStepMode::Instance,
            _ => wgpu::VertexStepMode::Vertex,
        }
    }

    const fn compare(self) -> wgpu::CompareFunction {
        match self {
            Self::Lines => wgpu::CompareFunction::LessEqual,
            _ => wgpu::CompareFunction::Less,
        }
    }
}

/// What a picture is made of: the format of its pixels, and how many samples each has.
type Picture = (wgpu::TextureFormat, u32);

/// The pipelines and the layout of their one kind of uniform.
pub(super) struct Pipeline {
    kind: Kind,
    shader: wgpu::ShaderModule,
    pipeline_layout: wgpu::PipelineLayout,
    layout: wgpu::BindGroupLayout,
    built: RefCell<Vec<(Picture, wgpu::RenderPipeline)>>,
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
            bind_group_layouts: &[Some(&layout)],
            immediate_size: 0,
        });
        let shader = context.create_shader_module(Some(kind.label()), kind.shader());
        Self { kind, shader, pipeline_layout, layout, built: RefCell::default() }
    }

    pub(super) fn layout(&self) -> &wgpu::BindGroupLayout {
        &self.layout
    }

    /// The pipeline for the picture that is being drawn.
    pub(super) fn fitting(&self, context: &RenderContext) -> wgpu::RenderPipeline {
        let picture = (context.surface_format, context.sample_count);
        let mut built = self.built.borrow_mut();
        if let Some((_, pipeline)) = built.iter().find(|(of, _)| *of == picture) {
            return pipeline.clone();
        }
        let pipeline = self.build(picture);
        built.push((picture, pipeline.clone()));
        pipeline
    }

    fn build(&self, (format, samples): Picture) -> wgpu::RenderPipeline {
        let kind = self.kind;
        let mut shader_location = 0;
        let attributes: Vec<Vec<wgpu::VertexAttribute>> = kind
            .buffers()
            .iter()
            .map(|formats| {
                let mut offset = 0;
                let attribute = |&format: &wgpu::VertexFormat| {
                    let attribute = wgpu::VertexAttribute { format, offset, shader_location };
                    offset += format.size();
                    shader_location += 1;
                    attribute
                };
                formats.iter().map(attribute).collect()
            })
            .collect();
        let buffers: Vec<_> = attributes
            .iter()
            .map(|attributes| {
                Some(wgpu::VertexBufferLayout {
                    array_stride: attributes.iter().map(|attribute| attribute.format.size()).sum(),
                    step_mode: kind.step(),
                    attributes,
                })
            })
            .collect();
        Context::get().create_render_pipeline(&wgpu::RenderPipelineDescriptor {
            label: Some(kind.label()),
            layout: Some(&self.pipeline_layout),
            vertex: wgpu::VertexState {
                module: &self.shader,
                entry_point: Some("vertex"),
                buffers: &buffers,
                compilation_options: wgpu::PipelineCompilationOptions::default(),
            },
            fragment: Some(wgpu::FragmentState {
                module: &self.shader,
                entry_point: Some("fragment"),
                targets: &[Some(wgpu::ColorTargetState {
                    format,
                    blend: None,
                    write_mask: wgpu::ColorWrites::ALL,
                })],
                compilation_options: wgpu::PipelineCompilationOptions {
                    constants: &[("code", film::code(format))],
                    ..wgpu::PipelineCompilationOptions::default()
                },
            }),
            // Sheets are seen from both sides, so nothing is culled.
            primitive: wgpu::PrimitiveState { cull_mode: None, ..wgpu::PrimitiveState::default() },
            depth_stencil: Some(wgpu::DepthStencilState {
                format: Context::depth_format(),
                depth_write_enabled: Some(true),
                depth_compare: Some(kind.compare()),
                stencil: wgpu::StencilState::default(),
                bias: wgpu::DepthBiasState::default(),
            }),
            multisample: multisample_state(samples),
            multiview_mask: None,
            cache: None,
        })
    }
}

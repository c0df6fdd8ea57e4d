//! The picture of many samples a pixel: drawn as light is reckoned, then written for the screen.
//!
//! Edges are the mean of their samples as light, which only works before colours are written for the screen. Where each
//! pixel has one sample the picture is drawn on the screen at once: a software driver spends less on it.

use kiss3d::context::Context;

use crate::palette::GAMMA;

/// The format of the picture before it is written for the screen.
const LIGHT: wgpu::TextureFormat = wgpu::TextureFormat::Rgba16Float;

/// The power to which a shader takes light to write it into pixels of a format.
pub(super) fn code(format: wgpu::TextureFormat) -> f64 {
    if format == LIGHT { 1.0 } else { 1.0 / f64::from(GAMMA) }
}

/// The film and the way from it to the screen.
pub struct Film {
    samples: u32,
    sides: [u32; 2],
    layers: [wgpu::TextureView; 2],
    group: wgpu::BindGroup,
    layout: wgpu::BindGroupLayout,
    pipeline: wgpu::RenderPipeline,
}

impl Film {
    /// A film of so many samples a pixel for a screen of that format; none where the picture is drawn on it at once.
    #[must_use]
    pub fn of(samples: u32, screen: wgpu::TextureFormat) -> Option<Self> {
        if samples <= 1 {
            return None;
        }
        let context = Context::get();
        let layout = context.create_bind_group_layout(&wgpu::BindGroupLayoutDescriptor {
            label: Some("film"),
            entries: &[wgpu::BindGroupLayoutEntry {
                binding: 0,
                visibility: wgpu::ShaderStages::FRAGMENT,
                ty: wgpu::BindingType::Texture {
                    sample_type: wgpu::TextureSampleType::Float { filterable: false },
                    view_dimension: wgpu::TextureViewDimension::D2,
                    multisampled: false,
                },
                count: None,
            }],
        });
        let pipeline = pipeline(&layout, screen);
        let sides = [1, 1];
        let (layers, group) = layers(&layout, samples, sides);
        Some(Self { samples, sides, layers, group, layout, pipeline })
    }

    /// Fits it to a screen of that many pixels.
    pub fn fit(&mut self, sides: [u32; 2]) {
        if self.sides != sides {
            self.sides = sides;
            (self.layers, self.group) = layers(&self.layout, self.samples, sides);
        }
    }

    /// The format of its pixels.
    #[must_use]
    pub const fn format(&self) -> wgpu::TextureFormat {
        LIGHT
    }

    /// What is drawn into, of many samples, and their mean.
    #[must_use]
    pub const fn layers(&self) -> &[wgpu::TextureView; 2] {
        &self.layers
    }

    /// Writes the film onto the screen, all of which it covers.
    pub fn develop(&self, pass: &mut wgpu::RenderPass<'_>) {
        pass.set_pipeline(&self.pipeline);
        pass.set_bind_group(0, &self.group, &[]);
        pass.draw(0..3, 0..1);
    }
}

fn layers(
    layout: &wgpu::BindGroupLayout,
    samples: u32,
    [width, height]: [u32; 2],
) -> ([wgpu::TextureView; 2], wgpu::BindGroup) {
    use wgpu::TextureUsages as Usages;
    let context = Context::get();
    let layers =
        [(samples, Usages::RENDER_ATTACHMENT), (1, Usages::RENDER_ATTACHMENT | Usages::TEXTURE_BINDING)].map(
            |(sample_count, usage)| {
                let texture = context.create_texture(&wgpu::TextureDescriptor {
                    label: Some("film"),
                    size: wgpu::Extent3d { width, height, depth_or_array_layers: 1 },
                    mip_level_count: 1,
                    sample_count,
                    dimension: wgpu::TextureDimension::D2,
                    format: LIGHT,
                    usage,
                    view_formats: &[],
                });
                texture.create_view(&wgpu::TextureViewDescriptor::default())
            },
        );
    let group = context.create_bind_group(&wgpu::BindGroupDescriptor {
        label: Some("film"),
        layout,
        entries: &[wgpu::BindGroupEntry {
            binding: 0,
            resource: wgpu::BindingResource::TextureView(&layers[1]),
        }],
    });
    (layers, group)
}

fn pipeline(layout: &wgpu::BindGroupLayout, screen: wgpu::TextureFormat) -> wgpu::RenderPipeline {
    let context = Context::get();
    let shader = concat!(include_str!("coded.wgsl"), include_str!("film.wgsl"));
    let shader = context.create_shader_module(Some("film"), shader);
    let layout = context.create_pipeline_layout(&wgpu::PipelineLayoutDescriptor {
        label: Some("film"),
        bind_group_layouts: &[Some(layout)],
        immediate_size: 0,
    });
    context.create_render_pipeline(&wgpu::RenderPipelineDescriptor {
        label: Some("film"),
        layout: Some(&layout),
        vertex: wgpu::VertexState {
            module: &shader,
            entry_point: Some("vertex"),
            buffers: &[],
            compilation_options: wgpu::PipelineCompilationOptions::default(),
        },
        fragment: Some(wgpu::FragmentState {
            module: &shader,
            entry_point: Some("fragment"),
            targets: &[Some(screen.into())],
            compilation_options: wgpu::PipelineCompilationOptions {
                constants: &[("code", code(screen))],
                ..wgpu::PipelineCompilationOptions::default()
            },
        }),
        primitive: wgpu::PrimitiveState::default(),
        depth_stencil: None,
        multisample: wgpu::MultisampleState::default(),
        multiview_mask: None,
        cache: None,
    })
}

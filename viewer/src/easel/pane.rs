//! The panels as pixels.

use egui_wgpu::{Renderer, RendererOptions, ScreenDescriptor};
use kiss3d::context::Context as Graphics;
use kiss3d::egui::epaint::ClippedShape;
use kiss3d::egui::{ClippedPrimitive, Context, RawInput, TexturesDelta};

/// The panels, and what draws them.
pub(super) struct Pane {
    context: Context,
    renderer: Renderer,
    textures: TexturesDelta,
    scale: f32,
    /// What was laid out and not drawn yet.
    laid_out: Option<Vec<ClippedShape>>,
    /// The triangles of what was drawn last.
    triangles: Vec<ClippedPrimitive>,
}

impl Pane {
    /// Panels to be drawn on a screen of that format; `in_picture` says that it is done in the pass of the picture, which
    /// has a depth.
    pub(super) fn new(screen: wgpu::TextureFormat, in_picture: bool) -> Self {
        let options = RendererOptions {
            msaa_samples: 1,
            depth_stencil_format: in_picture.then(Graphics::depth_format),
            // There are no gradients in the panels that would show bands.
            dithering: false,
            ..RendererOptions::default()
        };
        Self {
            context: Context::default(),
            renderer: Renderer::new(&Graphics::get().device, screen, options),
            textures: TexturesDelta::default(),
            scale: 1.0,
            laid_out: None,
            triangles: Vec::new(),
        }
    }

    pub(super) const fn context(&self) -> &Context {
        &self.context
    }

    /// Lays out the panels.
    #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
    pub(super) fn show(&mut self, input: RawInput, scale: f64, show: impl FnOnce(&Context)) {
        self.context.set_pixels_per_point(scale as f32);
        self.context.begin_pass(input);
        show(&self.context);
        let output = self.context.end_pass();
        // Of a layout that is not drawn the faces are still needed.
        self.textures.append(output.textures_delta);
        self.scale = output.pixels_per_point;
        self.laid_out = Some(output.shapes);
    }

    fn screen(&self, size_in_pixels: [u32; 2]) -> ScreenDescriptor {
        ScreenDescriptor { size_in_pixels, pixels_per_point: self.scale }
    }

    /// Hands over what the driver needs for them. What is returned goes to it before the rest.
    pub(super) fn load(
        &mut self,
        encoder: &mut wgpu::CommandEncoder,
        sides: [u32; 2],
    ) -> Vec<wgpu::CommandBuffer> {
        if let Some(shapes) = self.laid_out.take() {
            self.triangles = self.context.tessellate(shapes, self.scale);
        }
        let Graphics { device, queue, .. } = Graphics::get();
        for (id, parts) in &self.textures.set {
            for part in parts {
                self.renderer.update_texture(&device, &queue, *id, part);
            }
        }
        self.textures.set.clear();
        let screen = self.screen(sides);
        self.renderer.update_buffers(&device, &queue, encoder, &self.triangles, &screen)
    }

    /// Draws them.
    pub(super) fn draw(&self, pass: &mut wgpu::RenderPass<'static>, sides: [u32; 2]) {
        self.renderer.render(pass, &self.triangles, &self.screen(sides));
    }

    /// Throws away the textures that are no longer needed, once what used them was handed over.
    pub(super) fn drop_textures(&mut self) {
        for id in std::mem::take(&mut self.textures.free) {
            self.renderer.free_texture(&id);
        }
    }
}

impl Drop for Pane {
    fn drop(&mut self) {
        // What was never drawn is needed no more; dropped as it is, it would be taken for a mistake.
        self.textures.clear();
    }
}

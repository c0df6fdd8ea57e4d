//! What draws the picture and the panels over it: onto a window, or off screen.
//!
//! The graphics crate opens the window and keeps the objects. Its own way from objects to pixels (kiss3d 0.47) goes
//! over a film of light, over which every tone operator that it knows is reckoned for each pixel, whichever is chosen:
//! seven tenths of a frame on a software driver. Here a picture of one sample a pixel is drawn at once where it is seen,
//! and the panels in the same pass; [`Film`] does for one of several samples what is needed of the rest.

mod feed;
mod pane;

use std::path::PathBuf;

use kiss3d::camera::Camera3d;
use kiss3d::context::Context as Graphics;
use kiss3d::egui::Context;
use kiss3d::event::WindowEvent;
use kiss3d::light::LightCollection;
use kiss3d::resource::{MaterialManager2d, RenderContext, RenderPhase};
use kiss3d::scene::SceneNode3d;
use kiss3d::window::{CanvasSetup, NumSamples, Window};

use crate::camera::Camera;
use crate::material::{Film, LinePen, Lines};
use crate::palette::Tint;
use feed::Feed;
use pane::Pane;

/// A window or a sheet off screen, and what draws on it.
pub struct Easel {
    /// What is drawn on where there is no window.
    sheet: Option<wgpu::Texture>,
    film: Option<Film>,
    pen: LinePen,
    pane: Pane,
    feed: Feed,
    held_back: Vec<WindowEvent>,
    is_to_close: bool,
    /// The last to go: what draws belongs to its driver.
    window: Window,
}

impl Easel {
    /// Opens a window.
    pub async fn in_window(title: &str, (width, height): (u32, u32), samples: NumSamples) -> Self {
        let setup = CanvasSetup { samples, ..CanvasSetup::default() };
        Self::on(Window::new_with_setup(title, width, height, setup).await)
    }

    /// Without a window; [`Easel::snap`] gives what was drawn.
    pub async fn off_screen((width, height): (u32, u32), samples: NumSamples) -> Self {
        let setup = CanvasSetup { samples, ..CanvasSetup::default() };
        let mut easel = Self::on(Window::new_headless_with_setup(width, height, setup).await);
        easel.sheet = Some(easel.new_sheet());
        easel
    }

    fn on(window: Window) -> Self {
        // A window that goes away without a frame of its own having been drawn looks for these, and they need what is
        // gone by then.
        MaterialManager2d::get_global_manager(|_| ());
        let screen = window.canvas().surface_format();
        let film = Film::of(window.samples(), screen);
        // The panels are drawn in the pass of the picture, if that is drawn on the screen.
        let pane = Pane::new(screen, film.is_none());
        Self {
            sheet: None,
            film,
            pen: LinePen::new(),
            pane,
            feed: Feed::default(),
            held_back: Vec::new(),
            is_to_close: false,
            window,
        }
    }

    fn new_sheet(&self) -> wgpu::Texture {
        let [width, height] = self.sides();
        Graphics::get().create_texture(&wgpu::TextureDescriptor {
            label: Some("sheet"),
            size: wgpu::Extent3d { width, height, depth_or_array_layers: 1 },
            mip_level_count: 1,
            sample_count: 1,
            dimension: wgpu::TextureDimension::D2,
            format: self.window.canvas().surface_format(),
            usage: wgpu::TextureUsages::RENDER_ATTACHMENT | wgpu::TextureUsages::COPY_SRC,
            view_formats: &[],
        })
    }

    /// Width and height in pixels.
    #[must_use]
    pub fn sides(&self) -> [u32; 2] {
        [self.window.width(), self.window.height()]
    }

    /// Pixels to a point.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.window.scale_factor()
    }

    /// The panels.
    #[must_use]
    pub const fn panels(&self) -> &Context {
        self.pane.context()
    }

    /// Events that are not to be looked at before the panels have been shown again.
    pub fn hold_back(&mut self, events: impl IntoIterator<Item = WindowEvent>) {
        self.held_back.extend(events);
    }

    /// What happened at the window since this was last asked, behind what was held back.
    pub fn events(&mut self) -> Vec<WindowEvent> {
        self.window.canvas_mut().poll_events();
        let mut events = std::mem::take(&mut self.held_back);
        for mut event in self.window.events().iter() {
            // Nobody else is to be told of it.
            event.inhibited = true;
            events.push(event.value);
        }
        self.is_to_close |= events.contains(&WindowEvent::Close);
        events
    }

    /// Tells the panels of what happened, for when they are next shown.
    pub fn tell(&mut self, event: &WindowEvent) {
        self.feed.take(event, self.window.scale_factor());
    }

    /// Files that were dropped on the window since this was last asked.
    #[must_use]
    pub fn dropped_files(&self) -> Vec<PathBuf> {
        self.window.dropped_files()
    }

    /// Whether the window was asked to close.
    #[must_use]
    pub const fn is_to_close(&self) -> bool {
        self.is_to_close
    }

    /// Sets the title of the window.
    pub fn set_title(&mut self, title: &str) {
        self.window.set_title(title);
    }

    /// Lays out the panels at so many seconds from any beginning; [`Easel::draw`] draws what was laid out last.
    pub fn show_panels(&mut self, seconds: f64, show: impl FnOnce(&Context)) {
        let input = self.feed.given(self.sides(), self.scale(), seconds);
        self.pane.show(input, self.scale(), show);
    }

    /// Draws objects and lines as a camera sees them, before paper of that colour, and the panels over them. Whether the
    /// screen took it: a window that is just opening may not yet.
    pub fn draw(
        &mut self,
        objects: &mut SceneNode3d,
        lines: &Lines,
        camera: &mut Camera,
        paper: Tint,
    ) -> bool {
        let frame = match &self.sheet {
            Some(_) => None,
            None => match self.window.canvas().get_current_texture() {
                Some(frame) => Some(frame),
                None => return false,
            },
        };
        // Asked after the frame was had, which may have fitted the screen to its window.
        let sides = self.sides();
        if self.sheet.as_ref().is_some_and(|sheet| [sheet.width(), sheet.height()] != sides) {
            self.sheet = Some(self.new_sheet());
        }
        let Some(screen) = frame.as_ref().map(|frame| &frame.texture).or(self.sheet.as_ref()) else {
            return false;
        };
        let screen = screen.create_view(&wgpu::TextureViewDescriptor::default());
        if let Some(film) = &mut self.film {
            film.fit(sides);
        }
        let [viewport_width, viewport_height] = sides;
        let context = RenderContext {
            phase: RenderPhase::Opaque,
            surface_format: self
                .film
                .as_ref()
                .map_or_else(|| self.window.canvas().surface_format(), Film::format),
            sample_count: self.window.samples(),
            viewport_width,
            viewport_height,
            render_layers: camera.render_layers(),
            force_no_cull: false,
            shadow: None,
        };
        let mut lights = LightCollection::with_ambient(0.0);
        objects.prepare(0, camera, &mut lights, viewport_width, viewport_height);
        let graphics = Graphics::get();
        let mut encoder = graphics.create_command_encoder(Some("frame"));
        let before = self.pane.load(&mut encoder, sides);
        {
            let colour = if self.film.is_some() { light(paper) } else { coded(paper) };
            let (view, resolve_target, store) = match &self.film {
                Some(film) => {
                    let [samples, mean] = film.layers();
                    (samples, Some(mean), wgpu::StoreOp::Discard)
                }
                None => (&screen, None, wgpu::StoreOp::Store),
            };
            let mut pass = encoder
                .begin_render_pass(&wgpu::RenderPassDescriptor {
                    label: Some("picture"),
                    color_attachments: &[Some(wgpu::RenderPassColorAttachment {
                        view,
                        depth_slice: None,
                        resolve_target,
                        ops: wgpu::Operations { load: wgpu::LoadOp::Clear(colour), store },
                    })],
                    depth_stencil_attachment: Some(wgpu::RenderPassDepthStencilAttachment {
                        view: self.window.canvas().depth_view(),
                        depth_ops: Some(wgpu::Operations {
                            load: wgpu::LoadOp::Clear(1.0),
                            store: wgpu::StoreOp::Discard,
                        }),
                        stencil_ops: None,
                    }),
                    ..wgpu::RenderPassDescriptor::default()
                })
                .forget_lifetime();
            self.pen.draw(lines, camera.view_transform_pair(0), &mut pass, &context);
            objects.render(0, camera, &lights, &mut pass, &context);
            if self.film.is_none() {
                self.pane.draw(&mut pass, sides);
            }
        }
        if let Some(film) = &self.film {
            let mut pass = encoder
                .begin_render_pass(&wgpu::RenderPassDescriptor {
                    label: Some("panels"),
                    color_attachments: &[Some(wgpu::RenderPassColorAttachment {
                        view: &screen,
                        depth_slice: None,
                        resolve_target: None,
                        ops: wgpu::Operations {
                            load: wgpu::LoadOp::Clear(wgpu::Color::BLACK),
                            store: wgpu::StoreOp::Store,
                        },
                    })],
                    ..wgpu::RenderPassDescriptor::default()
                })
                .forget_lifetime();
            film.develop(&mut pass);
            self.pane.draw(&mut pass, sides);
        }
        graphics.submit(before.into_iter().chain([encoder.finish()]));
        self.pane.drop_textures();
        if let Some(frame) = frame {
            self.window.canvas().present(frame);
        }
        true
    }

    /// What was drawn last off screen, as rows of red, green and blue from the lowest up.
    #[cfg(not(target_arch = "wasm32"))]
    #[must_use]
    pub fn snap(&self) -> Vec<u8> {
        let mut pixels = Vec::new();
        if let Some(sheet) = &self.sheet {
            self.window.canvas().copy_texture_to_readback(sheet);
            self.window.snap(&mut pixels);
        }
        pixels
    }

    /// Waits until the last picture has been drawn.
    pub fn wait(&self) {
        // What fails here fails at the next picture, with words.
        let _ = Graphics::get().device.poll(wgpu::PollType::wait_indefinitely());
    }
}

/// A colour as light.
fn light(tint: Tint) -> wgpu::Color {
    let colour = tint.linear();
    wgpu::Color { r: colour.r.into(), g: colour.g.into(), b: colour.b.into(), a: 1.0 }
}

/// A colour as the screen takes it.
fn coded(Tint(channels): Tint) -> wgpu::Color {
    let [r, g, b] = channels.map(|channel| f64::from(channel) / 255.0);
    wgpu::Color { r, g, b, a: 1.0 }
}

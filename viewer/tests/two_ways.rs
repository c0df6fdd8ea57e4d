//! The picture as the viewer draws it, beside the graphics crate's own way from the same objects to pixels: over a film
//! of light and its tone operators, which takes a software driver several times as long.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::Path;

use image::RgbImage;
use image::imageops::flip_vertical;
use kiss3d::glamx::Vec3;
use kiss3d::pollster::block_on;
use kiss3d::post_processing::Tonemap;
use kiss3d::renderer::Polyline3d;
use kiss3d::scene::SceneNode3d;
use kiss3d::window::{CanvasSetup, NumSamples, OffscreenSurface};
use nalgebra::Vector3;
use sim_core::scene::Scene;
use viewer::camera::Camera;
use viewer::drawing::Drawing;
use viewer::easel::Easel;
use viewer::frame;
use viewer::material::Lines;
use viewer::palette;
use viewer::projection::Projection;
use viewer::state::State;

const SIDES: (u32, u32) = (1280, 800);

/// Channels may differ by the rounding of either way: a film of half precision, and eight bits.
const ROUNDING: u8 = 2;

/// Both ways, each with a surface of its own.
struct Ways {
    own: Easel,
    other: OffscreenSurface,
}

impl Ways {
    fn with(samples: NumSamples) -> Self {
        let setup = CanvasSetup { samples, ..CanvasSetup::default() };
        let mut other = block_on(OffscreenSurface::with_setup(SIDES.0, SIDES.1, setup));
        let window = other.window_mut();
        window.set_shadows_enabled(false);
        window.set_tonemap(Tonemap::None);
        window.set_background_color(palette::PAPER.linear());
        Self { own: block_on(Easel::off_screen(SIDES, samples)), other }
    }

    fn own(&mut self, objects: &mut SceneNode3d, lines: &Lines, projection: &Projection) -> RgbImage {
        assert!(self.own.draw(objects, lines, &mut camera(projection), palette::PAPER));
        flip_vertical(&RgbImage::from_vec(SIDES.0, SIDES.1, self.own.snap()).unwrap())
    }

    fn other(&mut self, objects: &mut SceneNode3d, projection: &Projection) -> RgbImage {
        block_on(self.other.render_3d(objects, &mut camera(projection)));
        self.other.snap_image()
    }
}

fn camera(projection: &Projection) -> Camera {
    Camera::new(projection, SIDES.0 as f32, SIDES.1 as f32)
}

/// The state of a scene halfway through its first excursion, and how it is looked at.
fn state(name: &str) -> (State, Projection) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes").join(name);
    let mut state = State::open(Scene::from_ron(&std::fs::read_to_string(path).unwrap()).unwrap()).unwrap();
    state.stand_at(3.0).unwrap();
    let (_, projection) = frame::lay_out(&state, [SIDES.0, SIDES.1].map(f64::from), 1.0);
    (state, projection)
}

/// How many pixels differ by more than rounding, and how many are not paper.
fn differing(own: &RgbImage, other: &RgbImage) -> (usize, usize) {
    let differs = own
        .pixels()
        .zip(other.pixels())
        .filter(|(a, b)| a.0.iter().zip(b.0).any(|(a, b)| a.abs_diff(b) > ROUNDING));
    let drawn = own.pixels().filter(|pixel| pixel.0 != palette::PAPER.0);
    (differs.count(), drawn.count())
}

fn objects_look_the_same(samples: NumSamples) {
    let mut ways = Ways::with(samples);
    for name in ["thirty_degree.ron", "dentate_casts.ron"] {
        let (state, projection) = state(name);
        let mut drawing = Drawing::new();
        drawing.update(&state, Vector3::zeros());
        let own = ways.own(&mut drawing.root, &Lines::default(), &projection);
        let other = ways.other(&mut drawing.root, &projection);
        let (differs, drawn) = differing(&own, &other);
        assert!(drawn > 20_000, "{name}: {drawn} pixels drawn");
        assert_eq!(differs, 0, "{name}, {samples:?} samples");
    }
}

fn lines_look_the_same(samples: NumSamples) {
    let (_, projection) = state("thirty_degree.ron");
    let mut ways = Ways::with(samples);
    let mut lines = Lines::default();
    for (width, tint, first) in [(2.0, palette::INK, 0.0), (6.0, palette::KEY, 1.2)] {
        let corners: Vec<Vec3> = (0..24u8)
            .map(|step| {
                let (sin, cos) = (first + f64::from(step) * 2.4).sin_cos();
                let along = 2.0 * f64::from(step) - 24.0 + first;
                viewer::drawing::to_f32(&(projection.focus + Vector3::new(40.0 * cos, 30.0 * sin, along)))
            })
            .collect();
        lines.add(&corners, width, tint);
        let line = Polyline3d::new(corners).with_color(tint.linear()).with_width(width);
        // As much to the front of surfaces as the viewer puts its lines.
        ways.other.window_mut().draw_polyline(&line.with_depth_bias(0.004));
    }
    let mut nothing = SceneNode3d::empty();
    let own = ways.own(&mut nothing, &lines, &projection);
    let other = ways.other(&mut nothing, &projection);
    let (differs, drawn) = differing(&own, &other);
    assert!(drawn > 5_000, "{drawn} pixels drawn");
    // Where lines cross, and at their rims, the last bit decides.
    assert!(differs * 100 < drawn, "{differs} of {drawn} pixels differ, {samples:?} samples");
}

// Each in a thread of its own: the graphics crate opens surfaces once a thread.

#[test]
fn objects_of_one_sample_look_the_same_by_either_way() {
    objects_look_the_same(NumSamples::One);
}

#[test]
fn objects_of_four_samples_look_the_same_by_either_way() {
    objects_look_the_same(NumSamples::Four);
}

#[test]
fn lines_of_one_sample_look_the_same_by_either_way() {
    lines_look_the_same(NumSamples::One);
}

#[test]
fn lines_of_four_samples_look_the_same_by_either_way() {
    lines_look_the_same(NumSamples::Four);
}

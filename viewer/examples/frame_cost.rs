//! What a frame costs while a hand turns the picture: all of it, without panels, without the instrument.
//!
//!     cargo run --release -p viewer --example frame_cost [SCENE]
//!
//! Draws into a surface of its own at 1280 × 800, so that no display is needed; a window's frames cost the same and the
//! copy to the screen. Prints processor time as well as time by the clock: a software driver shares the cores with others.

use std::error::Error;
use std::time::Instant;

use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, OffscreenSurface};
use sim_core::scene::Scene;
use viewer::action::Action;
use viewer::drawing::Drawing;
use viewer::frame;
use viewer::state::State;

const FRAMES: u32 = 40;

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).unwrap_or_else(|| "scenes/thirty_degree.ron".to_owned());
    let mut state = State::open(Scene::from_ron(&std::fs::read_to_string(&path)?)?)?;
    let setup = CanvasSetup { samples: NumSamples::One, ..CanvasSetup::default() };
    let mut surface = block_on(OffscreenSurface::with_setup(1280, 800, setup));
    frame::prepare(surface.window_mut());
    let mut drawing = Drawing::new();
    for what in ["all", "picture without panels", "panels without picture", "nothing"] {
        let (mut begun, mut spent) = (Instant::now(), processor());
        for frame in 0..FRAMES + 3 {
            if frame == 3 {
                (begun, spent) = (Instant::now(), processor());
            }
            state.act(Action::Turn(1.0, 0.0));
            let (mut camera, _) = match what {
                "all" | "panels without picture" => {
                    frame::compose(surface.window_mut(), &mut drawing, &state)
                }
                _ => {
                    let composed = frame::compose(surface.window_mut(), &mut drawing, &state);
                    surface.window_mut().draw_ui(|_| ());
                    composed
                }
            };
            if what == "all" || what == "picture without panels" {
                block_on(surface.render_3d(&mut drawing.root, &mut camera));
            } else {
                let mut none = kiss3d::scene::SceneNode3d::empty();
                block_on(surface.render_3d(&mut none, &mut camera));
            }
        }
        let each = |seconds: f64| seconds * 1000.0 / f64::from(FRAMES);
        println!(
            "{what}: {:.1} ms a frame, {:.1} ms of processor time",
            each(begun.elapsed().as_secs_f64()),
            each(processor() - spent)
        );
        if let Some(timings) = surface.window_mut().render_timings() {
            println!("{timings}");
        }
    }
    Ok(())
}

/// Seconds of processor time that this process has had, by all cores.
fn processor() -> f64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let rest = text.rsplit(')').next().unwrap_or_default();
    let ticks: f64 =
        rest.split_whitespace().skip(11).take(2).filter_map(|field| field.parse::<f64>().ok()).sum();
    // A hundred ticks a second on every Linux.
    ticks / 100.0
}

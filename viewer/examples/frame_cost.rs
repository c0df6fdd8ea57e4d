//! What a frame costs while a hand turns the picture: all of it, without panels, without the instrument.
//!
//!     cargo run --release -p viewer --example frame_cost [SCENE]
//!
//! Draws off screen at 1280 × 800, so that no display is needed, with one sample a pixel as a window does on a software
//! driver; each picture is waited for. A window's frames cost the copy to the screen more: `viewer/tests/frames.py`.
//! Processor time is told too: a software driver shares the cores with others.

use std::error::Error;
use std::time::Instant;

use kiss3d::pollster::block_on;
use kiss3d::window::NumSamples;
use sim_core::scene::Scene;
use viewer::action::Action;
use viewer::drawing::Drawing;
use viewer::easel::Easel;
use viewer::frame;
use viewer::state::State;

const FRAMES: u32 = 60;
/// The first ones build what the others use.
const WARM: u32 = 3;

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).unwrap_or_else(|| "scenes/thirty_degree.ron".to_owned());
    let mut state = State::open(Scene::from_ron(&std::fs::read_to_string(&path)?)?)?;
    let mut easel = block_on(Easel::off_screen((1280, 800), NumSamples::One));
    frame::prepare(&easel);
    let mut drawing = Drawing::new();
    for (what, has_panels, has_picture) in [
        ("all", true, true),
        ("without panels", false, true),
        ("without the instrument", true, false),
        ("neither", false, false),
    ] {
        let (mut begun, mut spent) = (Instant::now(), processor());
        for frame in 0..WARM + FRAMES {
            if frame == WARM {
                (begun, spent) = (Instant::now(), processor());
            }
            state.act(Action::Turn(1.0, 0.0));
            if has_panels {
                frame::show_panels(&mut easel, &state, f64::from(frame) / 60.0);
            } else {
                easel.show_panels(f64::from(frame) / 60.0, |_| ());
            }
            drawing.root.set_visible(has_picture);
            frame::draw(&mut easel, &mut drawing, &state);
            easel.wait();
        }
        let each = |seconds: f64| seconds * 1000.0 / f64::from(FRAMES);
        println!(
            "{what}: {:.1} ms a frame, {:.1} ms of processor time",
            each(begun.elapsed().as_secs_f64()),
            each(processor() - spent)
        );
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

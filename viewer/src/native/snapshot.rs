//! The picture that the window would show, without a window.

use image::RgbImage;
use kiss3d::pollster::block_on;
use kiss3d::window::NumSamples;

use super::error::ViewerError;
use super::surroundings;
use crate::drawing::Drawing;
use crate::easel::Easel;
use crate::frame;
use crate::state::State;

/// Panels need one frame to find their size, and the faces of the type another.
const FRAMES: u32 = 3;
/// What of time passes between them, in seconds.
const FRAME: f64 = 1.0 / 60.0;

/// Draws the states one after the other, and hands each picture on. On a thread of its own, for the graphics crate
/// keeps what it draws with by thread, and a window may be open on this one.
///
/// # Errors
/// [`ViewerError::Surroundings`] when nothing draws, and what `each` refuses.
pub(super) fn pictures(
    states: impl Iterator<Item = State> + Send,
    size: (u32, u32),
    each: impl FnMut(RgbImage) -> Result<(), ViewerError> + Send,
) -> Result<(), ViewerError> {
    surroundings::adapter()?;
    surroundings::guarded("drawing the picture", || {
        let drawn = std::thread::scope(|scope| scope.spawn(|| draw(states, size, each)).join());
        drawn.unwrap_or_else(|said| std::panic::resume_unwind(said))
    })?
}

fn draw(
    states: impl Iterator<Item = State>,
    size: (u32, u32),
    mut each: impl FnMut(RgbImage) -> Result<(), ViewerError>,
) -> Result<(), ViewerError> {
    // A picture need not be quick: smooth edges, whatever the driver.
    let mut easel = block_on(Easel::off_screen(size, NumSamples::Four));
    frame::prepare(&easel);
    let mut drawing = Drawing::new();
    let mut seconds = 0.0;
    for state in states {
        for _ in 0..FRAMES {
            frame::show_panels(&mut easel, &state, seconds);
            seconds += FRAME;
        }
        frame::draw(&mut easel, &mut drawing, &state);
        let [width, height] = easel.sides();
        let upward = RgbImage::from_vec(width, height, easel.snap());
        each(upward.as_ref().map(image::imageops::flip_vertical).unwrap_or_default())?;
    }
    Ok(())
}

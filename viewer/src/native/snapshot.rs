//! The picture that the window would show, without a window.

use image::RgbImage;
use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, OffscreenSurface};

use super::error::ViewerError;
use super::surroundings;
use crate::drawing::Drawing;
use crate::frame;
use crate::state::State;

/// Panels need one frame to find their size, and the faces of the type another.
const FRAMES: u32 = 3;

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
    (width, height): (u32, u32),
    mut each: impl FnMut(RgbImage) -> Result<(), ViewerError>,
) -> Result<(), ViewerError> {
    // A picture need not be quick: smooth edges, whatever the driver.
    let setup = CanvasSetup { samples: NumSamples::Four, ..CanvasSetup::default() };
    let mut surface = block_on(OffscreenSurface::with_setup(width, height, setup));
    frame::prepare(surface.window_mut());
    let mut drawing = Drawing::new();
    for state in states {
        for _ in 0..FRAMES {
            let (mut camera, _) = frame::compose(surface.window_mut(), &mut drawing, &state);
            block_on(surface.render_3d(&mut drawing.root, &mut camera));
        }
        each(surface.snap_image())?;
    }
    Ok(())
}

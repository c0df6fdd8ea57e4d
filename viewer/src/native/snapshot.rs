//! The picture that the window would show, without a window.

use std::path::Path;

use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, OffscreenSurface};

use super::error::ViewerError;
use super::{png, surroundings};
use crate::drawing::Drawing;
use crate::frame;
use crate::state::State;

/// Panels need one frame to find their size, and the faces of the type another.
const FRAMES: u32 = 3;

/// Draws the state and writes it as a PNG file.
///
/// # Errors
/// [`ViewerError::Surroundings`] when nothing draws, [`ViewerError::Unwritable`] when the file
/// cannot be written.
pub(super) fn snapshot(state: &State, (width, height): (u32, u32), path: &Path) -> Result<(), ViewerError> {
    surroundings::adapter()?;
    let picture = surroundings::guarded("drawing the picture", || {
        // A picture need not be quick: smooth edges, whatever the driver.
        let setup = CanvasSetup { samples: NumSamples::Four, ..CanvasSetup::default() };
        let mut surface = block_on(OffscreenSurface::with_setup(width, height, setup));
        frame::prepare(surface.window_mut());
        let mut drawing = Drawing::new();
        for _ in 0..FRAMES {
            let (mut camera, _) = frame::compose(surface.window_mut(), &mut drawing, state);
            block_on(surface.render_3d(&mut drawing.root, &mut camera));
        }
        surface.snap_image()
    })?;
    png::write(&picture, path)
}

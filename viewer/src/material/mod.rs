//! The materials of the viewer: two lamps, no shadows.
//!
//! Why not kiss3d's own (0.47): the viewer must be of use where only a software driver draws. Frames a
//! second at 1280 × 800 on Mesa's software Vulkan, two cores, two sheets of 50,000 triangles:
//!
//! | material | frames/s |
//! | --- | --- |
//! | kiss3d's, multisampled, with shadows | 0.6 |
//! | kiss3d's, without both | 2 |
//! | this one, four samples | 9 |
//! | this one, one sample | 15 |
//! | no meshes at all | 39 |
//!
//! It also carries a colour at each vertex, which kiss3d's meshes do not.

mod buffers;
mod film;
mod lines;
mod matte;
mod pipeline;
mod relief;
mod uniforms;

pub use film::Film;
pub use lines::{LinePen, Lines};
pub use matte::{Shared, ghost, outline, shared};
pub use relief::{Paint, SharedPaint, relief};

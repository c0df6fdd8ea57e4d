//! How much a cast's file may hold.

use sim_core::cast::MOST_TRIANGLES;

/// The most bytes that a file may have: 2 GB, five times what two million triangles take as text.
pub const MOST_BYTES: u64 = 2_000_000_000;

/// The most corners that a face may have. Time to cut one grows with the square.
pub const MOST_CORNERS: usize = 4096;

/// Every triangle may have corners of its own.
pub(super) const MOST_VERTICES: usize = 3 * MOST_TRIANGLES;

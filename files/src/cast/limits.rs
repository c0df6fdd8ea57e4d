//! How much a cast's file may hold.

use sim_core::cast::MOST_TRIANGLES;

/// The most bytes that a file may have: 2 GB, five times what two million triangles take as text.
pub const MOST_BYTES: u64 = 2_000_000_000;

/// The most corners that a face may have. Time to cut one grows with its corners times those at which it is
/// hollow.
pub const MOST_CORNERS: usize = 4096;

/// How often a corner is compared with a triangle while all faces of a file are cut: some seconds. A face of
/// 4,096 corners, half of them hollow, takes a twentieth of it.
pub(crate) const MOST_COMPARED: u64 = 500_000_000;

/// Every triangle may have corners of its own.
pub(super) const MOST_VERTICES: usize = 3 * MOST_TRIANGLES;

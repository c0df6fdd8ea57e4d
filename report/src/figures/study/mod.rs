//! Pictures of what a study comes to. They share a width, a heading and their axes.

mod axis;
mod contour;
mod convergence;
mod heat_map;
mod histogram;
mod influence;
pub(super) mod layout;
mod response;
mod tornado;

pub use convergence::{Followed, figure as convergence};
pub use heat_map::figure as heat_map;
pub use histogram::{BelowZero, figure as histogram};
pub use influence::{Bar, coefficients, effects, indices, shares};
pub use layout::Quantity;
pub use response::{Curve, figure as response};
pub use tornado::{TornadoBar, figure as tornado};

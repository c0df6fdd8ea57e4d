//! The anterior guide: what stops the closing.

mod anterior_guide;
mod facets;
mod height_field;
mod trough;

pub use anterior_guide::AnteriorGuide;
pub(crate) use facets::Facets;
pub use height_field::{HeightField, NoHeightField};
pub use trough::{GuidePlane, Plane, Trough};

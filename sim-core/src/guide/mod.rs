//! Condylar guides: the walls that steer one sphere.

mod condylar;
mod past_end;
mod path;
mod profile;
mod walls;

pub use condylar::{CondylarGuide, EarlyTranslation};
pub use past_end::PastEnd;
pub use path::{ArcPath, GuidePath};
pub use profile::{Profile, ProfileError};
pub(crate) use walls::Walls;

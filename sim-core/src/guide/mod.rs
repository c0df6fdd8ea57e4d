//! Condylar guides: the walls that steer one sphere.
//!
//! ```
//! use sim_core::guide::{ArcPath, CondylarGuide, GuidePath};
//! use sim_core::units::{Angle, Length};
//!
//! let straight = CondylarGuide::straight(Angle::from_degrees(30.0), Angle::from_degrees(15.0));
//! let arc = CondylarGuide {
//!     path: GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) }),
//!     ..straight.clone()
//! };
//! // Both set out at 30°; the arc flattens forward and leaves the condyle higher.
//! let tan_h = Angle::from_degrees(30.0).tan();
//! let five = Length::from_mm(5.0);
//! assert!((straight.slope_at(Length::ZERO)? - tan_h).abs() < 1e-12);
//! assert!((arc.slope_at(Length::ZERO)? - tan_h).abs() < 1e-12);
//! assert!(arc.slope_at(five)? < straight.slope_at(five)?);
//! assert!(arc.drop_at(five)? < straight.drop_at(five)?);
//! // An arc ends at r·(1 + sin H), here 30 mm.
//! let past = arc.drop_at(Length::from_mm(31.0)).unwrap_err();
//! assert!((past.ends_at_mm - 30.0).abs() < 1e-9);
//! # Ok::<(), sim_core::guide::PastEnd>(())
//! ```

mod condylar;
mod past_end;
mod path;
mod profile;
mod wall_lanes;
mod walls;

pub use condylar::{CondylarGuide, EarlyTranslation};
pub use past_end::PastEnd;
pub use path::{ArcPath, GuidePath};
pub use profile::{Profile, ProfileError};
pub(crate) use wall_lanes::WallLanes;
pub(crate) use walls::Walls;

//! The end of a path.

/// A superior wall asked for its drop beyond its end.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("the {path} path ends at {ends_at_mm:.3} mm of advance")]
pub struct PastEnd {
    /// `arc` or `profile`.
    pub path: &'static str,
    /// The last advance that the path reaches, in millimetres.
    pub ends_at_mm: f64,
}

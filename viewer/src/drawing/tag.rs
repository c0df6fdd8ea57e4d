//! Words that stand beside a place of the picture.

use kiss3d::egui::Pos2;

use crate::palette::Tint;

/// A reading to be written beside its cusp.
pub(super) struct Tag {
    pub(super) at: Pos2,
    pub(super) words: String,
    pub(super) tint: Tint,
    pub(super) interferes: bool,
}

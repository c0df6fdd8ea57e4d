//! How large words over the picture are.

use kiss3d::egui::{Context, FontId, Id, Painter};

/// Where the size of words is kept for whoever draws.
#[must_use]
pub fn scale_id() -> Id {
    Id::new("size of words")
}

/// Size of the words, as a multiple of the usual one.
#[must_use]
pub fn scale(ctx: &Context) -> f32 {
    ctx.data(|data| data.get_temp(scale_id())).unwrap_or(1.0)
}

/// The face of words over the picture, by their usual size in points.
#[must_use]
pub fn face(painter: &Painter, size: f32) -> FontId {
    FontId::proportional(size * scale(painter.ctx()))
}

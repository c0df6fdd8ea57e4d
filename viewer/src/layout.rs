//! Where the panels lie, in points from the top left; the picture gets what is left.

use kiss3d::egui::{Rect, pos2};

use crate::projection::Window;

/// Height of the line with the title.
const HEADER: f32 = 40.0;
/// Width of the settings.
const SETTINGS: f32 = 316.0;
/// Width of plot and numbers.
const READINGS: f32 = 372.0;
/// Height of the excursion's controls.
const TRANSPORT: f32 = 90.0;
/// Height of the line with the caution.
const FOOTER: f32 = 24.0;
/// The picture keeps at least this part of the width.
const PICTURE_SHARE: f32 = 0.3;

/// The parts of the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Title, file, help.
    pub header: Rect,
    /// Sliders.
    pub settings: Rect,
    /// Plot and numbers.
    pub readings: Rect,
    /// Play, step, scrub.
    pub transport: Rect,
    /// The caution.
    pub footer: Rect,
    /// The instrument.
    pub picture: Rect,
    /// Views and members, at the top of the picture.
    pub strip: Rect,
    /// What the colours mean, at its bottom; of no height where there is nothing to say.
    pub legend: Rect,
}

impl Layout {
    /// The layout of a window of this size in points, with a strip of buttons and a legend so high.
    #[must_use]
    pub fn of(width: f32, height: f32, strip: f32, legend: f32) -> Self {
        // In a narrow window the panels give way evenly.
        let share = (width * (1.0 - PICTURE_SHARE) / (SETTINGS + READINGS)).min(1.0);
        let (left, right) = (SETTINGS * share, width - READINGS * share);
        let (top, bottom) = (HEADER, (height - FOOTER).max(HEADER));
        let low = (bottom - TRANSPORT).max(top);
        let rect = |x0, y0, x1, y1| Rect::from_min_max(pos2(x0, y0), pos2(x1, y1));
        Self {
            header: rect(0.0, 0.0, width, top),
            settings: rect(0.0, top, left, bottom),
            readings: rect(right, top, width, bottom),
            transport: rect(left, low, right, bottom),
            footer: rect(0.0, bottom, width, height),
            picture: rect(left, top, right, low),
            strip: rect(left, top, right, (top + strip).min(low)),
            legend: rect(left, (low - legend).max(top), right, low),
        }
    }

    /// The picture's part in pixels, without the strip of buttons at its top.
    #[must_use]
    pub fn window(&self, pixels_per_point: f32) -> Window {
        /// Space under the strip, and a margin all round.
        const UNDER_STRIP: f32 = 6.0;
        const MARGIN: f32 = 10.0;
        let picture = self.picture;
        let (strip, legend) = (self.strip.height() + UNDER_STRIP, self.legend.height());
        Window {
            left: (picture.left() + MARGIN) * pixels_per_point,
            top: (picture.top() + strip) * pixels_per_point,
            width: (picture.width() - 2.0 * MARGIN).max(1.0) * pixels_per_point,
            height: (picture.height() - strip - legend - MARGIN).max(1.0) * pixels_per_point,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_fill_the_window_and_do_not_overlap() {
        for (width, height) in [(1280.0, 800.0), (1600.0, 1000.0), (900.0, 560.0)] {
            let layout = Layout::of(width, height, 58.0, 30.0);
            assert!(layout.picture.contains_rect(layout.strip));
            assert!(layout.picture.contains_rect(layout.legend));
            let parts = [
                layout.header,
                layout.settings,
                layout.readings,
                layout.transport,
                layout.footer,
                layout.picture,
            ];
            let area: f32 = parts.iter().map(|part| part.area()).sum();
            assert!((area - width * height).abs() < 1.0);
            for (place, a) in parts.iter().enumerate() {
                for b in &parts[..place] {
                    assert!(!a.shrink(0.5).intersects(b.shrink(0.5)));
                }
            }
            assert!(layout.picture.width() >= width * PICTURE_SHARE - 1.0);
        }
    }
}

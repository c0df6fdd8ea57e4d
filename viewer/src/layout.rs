//! Where the panels lie, in points from the top left; the picture gets what is left.

use kiss3d::egui::{Rect, pos2};

use crate::projection::Window;
use crate::projections::Arrangement;

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
    /// Everything between the panels: the instrument, the projections, or both.
    pub picture: Rect,
    /// Where the instrument is drawn; of no size where only the projections are.
    pub instrument: Rect,
    /// The sagittal, frontal and horizontal projections; of no size where they are not shown.
    pub projections: [Rect; 3],
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
        let picture = rect(left, top, right, low);
        let strip = rect(left, top, right, (top + strip).min(low));
        let legend = rect(left, (low - legend).max(top), right, low);
        Self {
            header: rect(0.0, 0.0, width, top),
            settings: rect(0.0, top, left, bottom),
            readings: rect(right, top, width, bottom),
            transport: rect(left, low, right, bottom),
            footer: rect(0.0, bottom, width, height),
            picture,
            strip,
            legend,
            instrument: rect(left, strip.bottom(), right, legend.top().max(strip.bottom())),
            projections: [Rect::NOTHING; 3],
        }
    }

    /// The same with the middle arranged: of four quarters the instrument has the last, beside the
    /// horizontal projection and under the frontal one. Projections alone leave that quarter empty.
    #[must_use]
    pub fn arranged(mut self, arrangement: Arrangement) -> Self {
        if !arrangement.has_projections() {
            return self;
        }
        let whole = self.instrument;
        let (middle, centre) = (whole.center().x, whole.center().y);
        let quarter = |x0, y0, x1, y1| Rect::from_min_max(pos2(x0, y0), pos2(x1, y1));
        let wide = arrangement == Arrangement::Projections;
        let end = if wide { whole.right() } else { middle };
        self.projections = [
            quarter(whole.left(), whole.top(), middle, centre),
            quarter(middle, whole.top(), whole.right(), centre),
            quarter(whole.left(), centre, end, whole.bottom()),
        ];
        self.instrument = quarter(end, centre, whole.right(), whole.bottom());
        self
    }

    /// The instrument's part in pixels, without its margin.
    #[must_use]
    pub fn window(&self, pixels_per_point: f32) -> Window {
        const MARGIN: f32 = 10.0;
        let within = self.instrument;
        Window {
            left: (within.left() + MARGIN) * pixels_per_point,
            top: (within.top() + MARGIN) * pixels_per_point,
            width: (within.width() - 2.0 * MARGIN).max(1.0) * pixels_per_point,
            height: (within.height() - 2.0 * MARGIN).max(1.0) * pixels_per_point,
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

    #[test]
    fn the_quarters_of_the_middle_fill_it_and_do_not_overlap() {
        let plain = Layout::of(1280.0, 800.0, 80.0, 38.0);
        for arrangement in [Arrangement::Both, Arrangement::Projections] {
            let layout = plain.arranged(arrangement);
            let parts: Vec<Rect> = layout.projections.into_iter().chain([layout.instrument]).collect();
            let area: f32 = parts.iter().map(|part| part.area()).sum();
            assert!((area - plain.instrument.area()).abs() < 1.0, "{arrangement:?}");
            for (place, a) in parts.iter().enumerate() {
                assert!(plain.instrument.contains_rect(*a));
                assert!(parts[..place].iter().all(|b| !a.shrink(0.5).intersects(b.shrink(0.5))));
            }
        }
        assert_eq!(plain.arranged(Arrangement::Picture), plain);
    }
}

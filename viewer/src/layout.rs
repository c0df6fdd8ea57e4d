//! Where the panels lie, in points from the top left; the picture gets what is left.

use kiss3d::egui::{Rect, pos2};

use crate::appearance::Appearance;
use crate::projection::Window;
use crate::projections::Arrangement;

/// Height of the line with the title.
const HEADER: f32 = 40.0;
/// Width of the settings, in a wide window and in a narrow one.
const SETTINGS: [f32; 2] = [316.0, 272.0];
/// Width of plot and numbers.
const READINGS: [f32; 2] = [372.0, 348.0];
/// Width of a panel that is folded away: room for the button that shows it again.
const FOLDED: f32 = 30.0;
/// A window of this width in points of usual words is wide.
const WIDE: f32 = 1200.0;
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
    /// Where B is drawn beside it; of no size where B is not.
    pub beside: Rect,
    /// The sagittal, frontal and horizontal projections; of no size where they are not shown.
    pub projections: [Rect; 3],
    /// Views and members, at the top of the picture.
    pub strip: Rect,
    /// What the colours mean, at its bottom; of no height where there is nothing to say.
    pub legend: Rect,
}

/// The rows of words in the middle of the window, whose height follows from their width.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    /// The words on the buttons over the picture, a line for each group.
    pub strip: Vec<Vec<String>>,
    /// The words on the buttons of the excursions.
    pub excursions: Vec<String>,
    /// Height of the legend at usual words.
    pub legend: f32,
}

impl Layout {
    /// The layout of a window of this size in points.
    #[must_use]
    pub fn of(width: f32, height: f32, rows: &Rows, appearance: Appearance) -> Self {
        /// Height of a row of small buttons, of the row with the scrub, and the margins of a panel.
        const ROW: f32 = 24.0;
        const SCRUB: f32 = 28.0;
        const MARGINS: f32 = 12.0;
        let scale = appearance.text_scale;
        let kind = usize::from(width < WIDE * scale);
        let wanted = |panel: [f32; 2], folded: bool| {
            if appearance.picture_alone {
                0.0
            } else if folded {
                FOLDED * scale
            } else {
                panel[kind] * scale
            }
        };
        let (left, right) =
            (wanted(SETTINGS, appearance.settings_folded), wanted(READINGS, appearance.readings_folded));
        // In a window that is too narrow even so the panels give way evenly.
        let share = (width * (1.0 - PICTURE_SHARE) / (left + right).max(1.0)).min(1.0);
        let (left, right) = (left * share, width - right * share);
        let lines = |words: &[String]| lines(words, (right - left) / scale);
        let strip: f32 = rows.strip.iter().map(|group| lines(group) * ROW).sum();
        let transport = SCRUB * 2.0 + lines(&rows.excursions) * ROW + MARGINS;
        let [header, strip, transport] = match (appearance.picture_alone, appearance.transport_too) {
            (true, false) => [0.0; 3],
            (true, true) => [0.0, 0.0, transport],
            (false, _) => [HEADER, strip + MARGINS, transport],
        }
        .map(|height| height * scale);
        let (top, bottom) = (header, (height - FOOTER * scale).max(header));
        let low = (bottom - transport).max(top);
        let rect = |x0, y0, x1, y1| Rect::from_min_max(pos2(x0, y0), pos2(x1, y1));
        let picture = rect(left, top, right, low);
        let strip = rect(left, top, right, (top + strip).min(low));
        let legend = rect(left, (low - rows.legend * scale).max(top), right, low);
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
            beside: Rect::NOTHING,
            projections: [Rect::NOTHING; 3],
        }
    }

    /// The same with the middle arranged: of four quarters the instrument has the last, beside the
    /// horizontal projection and under the frontal one; without it the horizontal projection has both.
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

    /// The same with B to the right of A, each in half of the instrument's place.
    #[must_use]
    pub fn with_beside(mut self) -> Self {
        let whole = self.instrument;
        let middle = whole.center().x;
        self.beside = Rect::from_min_max(pos2(middle, whole.top()), whole.max);
        self.instrument = Rect::from_min_max(whole.min, pos2(middle, whole.bottom()));
        self
    }

    /// How far B stands to the right of A, in points; zero where it does not.
    #[must_use]
    pub fn to_beside(&self) -> f32 {
        if self.beside.is_positive() { self.beside.center().x - self.instrument.center().x } else { 0.0 }
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

/// In how many lines buttons with these words stand, in a panel of this width at usual words.
#[allow(clippy::cast_precision_loss, reason = "some letters")]
fn lines(words: &[String], width: f32) -> f32 {
    /// Width of a small letter on the wide side, of what is round a button's words, and a panel's margins.
    const LETTER: f32 = 6.7;
    const ROUND: f32 = 18.0;
    const MARGINS: f32 = 22.0;
    let room = width - MARGINS;
    let (mut lines, mut used) = (1.0, 0.0);
    for word in words {
        let wide = word.chars().count() as f32 * LETTER + ROUND;
        if used > 0.0 && used + wide > room {
            lines += 1.0;
            used = 0.0;
        }
        used += wide;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows() -> Rows {
        let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
        Rows {
            strip: vec![
                words(&["view", "oblique", "right", "left", "front", "above", "below"]),
                words(&["moving"]),
            ],
            excursions: words(&["protrusive", "right lateral", "left lateral"]),
            legend: 30.0,
        }
    }

    #[test]
    fn the_parts_fill_the_window_and_do_not_overlap() {
        for (width, height) in [(1280.0, 800.0), (1600.0, 1000.0), (1024.0, 640.0), (900.0, 560.0)] {
            for (text_scale, settings_folded, readings_folded) in
                [(1.0, false, false), (2.0, false, false), (1.3, true, false), (1.0, true, true)]
            {
                let appearance =
                    Appearance { text_scale, settings_folded, readings_folded, ..Appearance::default() };
                let layout = Layout::of(width, height, &rows(), appearance);
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

    #[test]
    fn on_a_small_projector_the_picture_has_four_tenths_of_the_width() {
        let layout = Layout::of(1024.0, 640.0, &rows(), Appearance::default());
        assert!(layout.picture.width() > 400.0, "{layout:?}");
        assert!(layout.window(1.0).height > 300.0, "{layout:?}");
    }

    #[test]
    fn more_buttons_than_fit_make_another_line() {
        let words: Vec<String> = (0..9).map(|number| format!("right lateroprotrusive {number}")).collect();
        assert!(lines(&words, 1400.0) < lines(&words, 500.0));
        assert!(lines(&[], 500.0) > 0.5);
    }

    #[test]
    fn the_quarters_of_the_middle_fill_it_and_do_not_overlap() {
        let plain = Layout::of(1280.0, 800.0, &rows(), Appearance::default());
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

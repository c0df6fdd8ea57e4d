//! How far each pixel stands out from its ground, whatever the light.

use image::Luma;
use imageproc::filter::gaussian_blur_f32;

use super::error::PhotoError;
use super::picture::Grey;
use super::place::Pixel;

/// Side of the squares whose median is the ground: wide enough that a line covers less than half.
const SQUARE_MM: f64 = 3.0;
/// What is taken for the marks themselves, not for the line.
const MARK_RADIUS_MM: f64 = 1.6;
/// Smoothing, so that single pixels' noise does not count: well below a line's width.
const SMOOTH_MM: f64 = 0.05;
/// Part of the pixels that a line covers at the least.
const LINE_PART: f64 = 0.001;
/// A line stands out by more than this many standard deviations of the noise.
const LEAST_DEPTH_SD: f32 = 6.0;
/// The standard deviation of a normal distribution, over its median absolute deviation.
const SD_OVER_MEDIAN: f64 = 1.4826;

/// How far the pixels stand out, with what does so by chance.
pub(super) struct Depth {
    /// Positive on the line, about 0 beside it.
    pub(super) picture: Grey,
    /// Standard deviation beside the line.
    pub(super) noise: f32,
}

/// Takes the light off and tells whether the line is darker or lighter than its ground.
pub(super) fn depth(picture: Grey, per_mm: f64, marks: [Pixel; 2]) -> Result<Depth, PhotoError> {
    let ground = Ground::of(&picture, (SQUARE_MM * per_mm).max(8.0));
    let radius = MARK_RADIUS_MM * per_mm;
    // In its own place: pictures are large.
    let mut flat = picture;
    for (x, y, Luma([shade])) in flat.enumerate_pixels_mut() {
        let here = Pixel::new(f64::from(x), f64::from(y));
        let marked = marks.iter().any(|mark| (mark - here).norm() < radius);
        *shade = if marked { 0.0 } else { *shade - ground.at(f64::from(x), f64::from(y)) };
    }
    let mut picture = gaussian_blur_f32(&flat, (SMOOTH_MM * per_mm).max(0.6) as f32);
    drop(flat);
    let mut shades: Vec<f32> = picture.pixels().map(|pixel| pixel.0[0]).collect();
    let count = shades.len();
    let mut quantile = |part: f64| {
        let place = ((count as f64 * part) as usize).min(count - 1);
        *shades.select_nth_unstable_by(place, f32::total_cmp).1
    };
    let (dark, light, middle) = (-quantile(LINE_PART), quantile(1.0 - LINE_PART), quantile(0.5));
    let mut apart = shades;
    apart.iter_mut().for_each(|shade| *shade = (*shade - middle).abs());
    let (_, median, _) = apart.select_nth_unstable_by(count / 2, f32::total_cmp);
    // Eight bits leave a noise of their own.
    let noise = (*median * SD_OVER_MEDIAN as f32).max(0.3);
    if dark.max(light) <= LEAST_DEPTH_SD * noise {
        return Err(PhotoError::NoLine);
    }
    let sign = if dark >= light { -1.0 } else { 1.0 };
    for Luma([shade]) in picture.pixels_mut() {
        *shade = sign * (*shade - middle);
    }
    Ok(Depth { picture, noise })
}

/// The median of each square, and between their middles what lies between.
struct Ground {
    side: f64,
    across: usize,
    down: usize,
    medians: Vec<f32>,
}

impl Ground {
    fn of(picture: &Grey, side: f64) -> Self {
        let (width, height) = picture.dimensions();
        let squares = |size: u32| ((f64::from(size) / side).floor() as usize).max(1);
        let (across, down) = (squares(width), squares(height));
        let edge = |index: usize, count: usize, size: u32| (index * size as usize / count) as u32;
        let mut medians = Vec::with_capacity(across * down);
        let mut shades = Vec::new();
        for row in 0..down {
            for column in 0..across {
                shades.clear();
                for y in edge(row, down, height)..edge(row + 1, down, height) {
                    for x in edge(column, across, width)..edge(column + 1, across, width) {
                        shades.push(picture.get_pixel(x, y).0[0]);
                    }
                }
                let middle = shades.len() / 2;
                medians.push(*shades.select_nth_unstable_by(middle, f32::total_cmp).1);
            }
        }
        Self { side: f64::from(width) / across as f64, across, down, medians }
            .with_height(f64::from(height) / down as f64)
    }

    /// Squares are as good as square; what is left over at the edges is shared out.
    fn with_height(self, height: f64) -> Self {
        Self { side: f64::midpoint(self.side, height), ..self }
    }

    fn at(&self, x: f64, y: f64) -> f32 {
        let place = |at: f64, count: usize| {
            let square = ((at + 0.5) / self.side - 0.5).clamp(0.0, (count - 1) as f64);
            let low = (square.floor() as usize).min(count.saturating_sub(2));
            (low, (low + 1).min(count - 1), (square - low as f64) as f32)
        };
        let (left, right, over) = place(x, self.across);
        let (top, bottom, down) = place(y, self.down);
        let median = |column: usize, row: usize| self.medians[row * self.across + column];
        let upper = median(left, top) * (1.0 - over) + median(right, top) * over;
        let lower = median(left, bottom) * (1.0 - over) + median(right, bottom) * over;
        upper * (1.0 - down) + lower * down
    }
}

impl Depth {
    /// Between the pixels; 0 outside of the picture.
    pub(super) fn at(&self, place: Pixel) -> f64 {
        let (x, y) = (place.x.floor(), place.y.floor());
        let (width, height) = self.picture.dimensions();
        if x < 0.0 || y < 0.0 || x + 1.0 >= f64::from(width) || y + 1.0 >= f64::from(height) {
            return 0.0;
        }
        let (over, down) = (place.x - x, place.y - y);
        let (x, y) = (x as u32, y as u32);
        let shade = |x: u32, y: u32| f64::from(self.picture.get_pixel(x, y).0[0]);
        let upper = shade(x, y) * (1.0 - over) + shade(x + 1, y) * over;
        let lower = shade(x, y + 1) * (1.0 - over) + shade(x + 1, y + 1) * over;
        upper * (1.0 - down) + lower * down
    }
}

//! The line of the tracing among all that stands out.

use std::collections::HashMap;

use image::{GrayImage, Luma};
use imageproc::definitions::Image;
use imageproc::distance_transform::Norm;
use imageproc::morphology::close;
use imageproc::region_labelling::{Connectivity, connected_components};

use super::error::PhotoError;
use super::ground::Depth;
use super::skeleton::{Skeleton, thinned};

/// What stands out by this many standard deviations of the noise belongs to a line.
const STANDS_OUT_SD: f32 = 6.0;
/// And by this part of the line's own depth.
const STANDS_OUT_PART: f32 = 0.4;
/// Gaps of the line up to this long are closed.
const GAP_MM: f64 = 0.5;
/// A line whose largest piece holds this part of its pixels has no gap to be closed.
const ONE_PIECE: f64 = 0.98;
/// Shortest extent of a tracing.
const LEAST_EXTENT_MM: f64 = 3.0;

/// The line that was found.
pub(super) struct Line {
    pub(super) skeleton: Skeleton,
    /// Width of the line, in pixels.
    pub(super) width: f64,
    /// How far the line's middle stands out.
    pub(super) depth: f64,
}

/// Finds the line of the greatest extent.
pub(super) fn find(depth: &Depth, per_mm: f64) -> Result<Line, PhotoError> {
    let any = mask(depth, STANDS_OUT_SD * depth.noise);
    let first = largest(&any, per_mm)?;
    let mut depths: Vec<f32> = pixels(&first).map(|(x, y)| depth.picture.get_pixel(x, y).0[0]).collect();
    let place = depths.len() * 8 / 10;
    let (_, deep, _) = depths.select_nth_unstable_by(place, f32::total_cmp);
    let deep = *deep;
    let line = largest(&mask(depth, (deep * STANDS_OUT_PART).max(STANDS_OUT_SD * depth.noise)), per_mm)?;
    let area = pixels(&line).count() as f64;
    let skeleton = thinned(&line);
    if skeleton.pixels().len() < 2 {
        return Err(PhotoError::NoLine);
    }
    let width = area / skeleton.length();
    Ok(Line { skeleton, width, depth: f64::from(deep) })
}

fn mask(depth: &Depth, least: f32) -> GrayImage {
    let (width, height) = depth.picture.dimensions();
    GrayImage::from_fn(width, height, |x, y| {
        Luma([if depth.picture.get_pixel(x, y).0[0] > least { 255 } else { 0 }])
    })
}

fn pixels(mask: &GrayImage) -> impl Iterator<Item = (u32, u32)> {
    mask.enumerate_pixels().filter(|(.., pixel)| pixel.0[0] > 0).map(|(x, y, _)| (x, y))
}

fn only(labels: &Image<Luma<u32>>, label: u32) -> GrayImage {
    GrayImage::from_fn(labels.width(), labels.height(), |x, y| {
        Luma([if labels.get_pixel(x, y).0[0] == label { 255 } else { 0 }])
    })
}

/// The part of a mask with the greatest extent, its gaps closed.
fn largest(mask: &GrayImage, per_mm: f64) -> Result<GrayImage, PhotoError> {
    let reach = (GAP_MM * per_mm / 2.0).round().clamp(1.0, 100.0) as u8;
    let closed = close(mask, Norm::L1, reach);
    let labels = connected_components(&closed, Connectivity::Eight, Luma([0]));
    let mut boxes: HashMap<u32, [u32; 4]> = HashMap::new();
    for (x, y, label) in labels.enumerate_pixels().filter(|(.., label)| label.0[0] > 0) {
        let bounds = boxes.entry(label.0[0]).or_insert([x, y, x, y]);
        *bounds = [bounds[0].min(x), bounds[1].min(y), bounds[2].max(x), bounds[3].max(y)];
    }
    let extent = |bounds: &[u32; 4]| f64::from(bounds[2] - bounds[0]).hypot(f64::from(bounds[3] - bounds[1]));
    let best = boxes
        .iter()
        .max_by(|(a_label, a), (b_label, b)| extent(a).total_cmp(&extent(b)).then(b_label.cmp(a_label)))
        .filter(|(_, bounds)| extent(bounds) >= LEAST_EXTENT_MM * per_mm)
        .ok_or(PhotoError::NoLine)?;
    let label = *best.0;
    let whole = only(&labels, label);
    // Closing also fills what lies between two lines: where there is no gap, it is not wanted.
    let open = GrayImage::from_fn(mask.width(), mask.height(), |x, y| {
        Luma([mask.get_pixel(x, y).0[0] & whole.get_pixel(x, y).0[0]])
    });
    let labels = connected_components(&open, Connectivity::Eight, Luma([0]));
    let mut counts: HashMap<u32, usize> = HashMap::new();
    for label in labels.pixels().filter(|label| label.0[0] > 0) {
        *counts.entry(label.0[0]).or_default() += 1;
    }
    let most = counts.iter().max_by_key(|(label, count)| (**count, u32::MAX - **label));
    let in_one_piece = most.filter(|(_, count)| **count as f64 >= ONE_PIECE * pixels(&open).count() as f64);
    Ok(in_one_piece.map_or(whole, |(label, _)| only(&labels, *label)))
}

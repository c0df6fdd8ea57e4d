//! The grid both arches are built on: stations along the arch line, grid lines along the crests.

use super::arch::{ArchLine, ArchPlace};
use super::crowns::Crowns;
use super::layout::Layout;
use super::lines::{LINES, eased, line};
use super::teeth::TEETH;

/// Part of the contour's distance from its crest that is left where two teeth meet.
const LEFT_AT_BORDER: f64 = 0.42;
/// Gingiva behind the last teeth.
const BEHIND_MM: f64 = 4.0;
/// From the border of a last tooth forward, where its distal side begins to fall, and how long the
/// fall is.
pub(super) const DISTAL_FALL_MM: (f64, f64) = (0.3, 1.0);
/// How much denser stations are on a distal side, which is steep.
const DISTAL_DENSITY: f64 = 3.0;
/// How much the grid lines crowd toward a contour, where the wall turns upright: 0 evenly, 1 as the
/// sine.
const CROWDING: f64 = 0.5;
/// How much longer the surface is than its plan from each line to the next: the walls are steep.
const STEEPNESS: [f64; LINES - 1] = [2.0, 1.1, 1.9, 1.15, 1.9, 1.15, 2.0];

/// The left half of the grid, as both arches share it.
#[derive(Clone, Debug)]
pub(super) struct Stations {
    /// Along the arch line from the midline.
    pub(super) along: Vec<f64>,
    pub(super) places: Vec<ArchPlace>,
    /// For each station the crests and full contours, without the narrowing between teeth.
    pub(super) crests: Vec<[f64; LINES]>,
    /// For each station how far outward each grid line runs.
    pub(super) outward: Vec<Vec<f64>>,
    /// Which grid line runs on each named line.
    pub(super) grid_lines: [usize; LINES],
}

impl Stations {
    pub(super) fn new(layout: &Layout, arch: &ArchLine, fineness_mm: f64) -> Self {
        let along = stations(layout, fineness_mm);
        let mut grid_lines = [0; LINES];
        for index in 1..LINES {
            let surface_mm = layout.lines.widest(index - 1) * STEEPNESS[index - 1];
            grid_lines[index] = grid_lines[index - 1] + pieces(surface_mm, fineness_mm);
        }
        let crests: Vec<_> = along.iter().map(|&along| layout.lines.at(along)).collect();
        let outward = along.iter().zip(&crests).map(|(&along, crests)| {
            let narrowed = narrowed(layout, along, crests);
            let mut outward = vec![narrowed[0]];
            for index in 1..LINES {
                let count = grid_lines[index] - grid_lines[index - 1];
                let (from, to) = (narrowed[index - 1], narrowed[index]);
                outward.extend((1..=count).map(|step| {
                    if step == count { to } else { from + (to - from) * crowded(index - 1, step, count) }
                }));
            }
            outward
        });
        let outward = outward.collect();
        let places = along.iter().map(|&along| arch.at(along)).collect();
        Self { along, places, crests, outward, grid_lines }
    }

    /// Grid line of a named line.
    pub(super) const fn line(&self, line: usize) -> usize {
        self.grid_lines[line]
    }

    /// First and last grid line of the lower occlusal surface.
    pub(super) const fn lower(&self) -> [usize; 2] {
        [self.line(line::LOWER_LINGUAL_CONTOUR), self.line(line::LOWER_BUCCAL_CONTOUR)]
    }

    /// First and last grid line of the upper occlusal surface.
    pub(super) const fn upper(&self) -> [usize; 2] {
        [self.line(line::UPPER_PALATAL_CONTOUR), self.line(line::UPPER_BUCCAL_CONTOUR)]
    }

    /// First and last grid line that both surfaces have.
    pub(super) const fn shared(&self) -> [usize; 2] {
        [self.upper()[0], self.lower()[1]]
    }

    /// Place in plan of a grid point: anterior of the incisal midpoint, left.
    pub(super) fn plan(&self, station: usize, grid_line: usize) -> [f64; 2] {
        self.places[station].off(self.outward[station][grid_line])
    }

    /// The station at a place that the grid was asked to hit, or the nearest behind it.
    pub(super) fn at(&self, along: f64) -> usize {
        self.along.partition_point(|&station| station < along).min(self.along.len() - 1)
    }
}

/// How many equal pieces no longer than the fineness.
pub(super) fn pieces(length_mm: f64, fineness_mm: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // at most some thousands
    let count = (length_mm / fineness_mm).ceil() as usize;
    count.max(1)
}

fn stations(layout: &Layout, fineness_mm: f64) -> Vec<f64> {
    let mut knots = layout.knots.clone();
    let ends = [layout.lower.borders[TEETH], layout.upper.borders[TEETH]];
    let (first, last) = (ends[0].min(ends[1]) - DISTAL_FALL_MM.0, ends[0].max(ends[1]));
    knots.retain(|&knot| knot <= first || ends.contains(&knot));
    let steep_to = last - DISTAL_FALL_MM.0 + DISTAL_FALL_MM.1;
    knots.extend([first, steep_to, last + BEHIND_MM]);
    knots.sort_by(f64::total_cmp);
    knots.dedup();
    let mut along = vec![knots[0]];
    for pair in knots.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let steep = from >= first && to <= steep_to;
        let count = pieces(to - from, if steep { fineness_mm / DISTAL_DENSITY } else { fineness_mm });
        #[allow(clippy::cast_precision_loss)] // some hundreds
        along.extend(
            (1..=count).map(
                |step| {
                    if step == count { to } else { from + (to - from) * step as f64 / count as f64 }
                },
            ),
        );
    }
    along
}

/// Part of the way from a named line to the next at which a grid line runs.
fn crowded(interval: usize, step: usize, count: usize) -> f64 {
    #[allow(clippy::cast_precision_loss)] // some tens
    let part = step as f64 / count as f64;
    let sine = |part: f64| (part * std::f64::consts::FRAC_PI_2).sin();
    let toward = match interval {
        line::LOWER_BUCCAL | line::UPPER_BUCCAL => sine(part),
        line::LOWER_LINGUAL_CONTOUR | line::UPPER_PALATAL_CONTOUR => 1.0 - sine(1.0 - part),
        _ => part,
    };
    part + (toward - part) * CROWDING
}

/// The lines with their contours drawn in where teeth meet.
fn narrowed(layout: &Layout, along: f64, crests: &[f64; LINES]) -> [f64; LINES] {
    let (lower, upper) = (kept(&layout.lower.borders, along), kept(&layout.upper.borders, along));
    let mut lines = *crests;
    let mut draw_in = |contour: usize, crest: usize, keep: f64, crowns: &Crowns| {
        let keep = keep * (1.0 - groove(crowns, crest, along));
        lines[contour] = crests[crest] + (crests[contour] - crests[crest]) * keep;
    };
    draw_in(line::LOWER_LINGUAL_CONTOUR, line::LOWER_LINGUAL, lower, &layout.lower);
    draw_in(line::LOWER_BUCCAL_CONTOUR, line::LOWER_BUCCAL, lower, &layout.lower);
    draw_in(line::UPPER_PALATAL_CONTOUR, line::UPPER_PALATAL, upper, &layout.upper);
    draw_in(line::UPPER_BUCCAL_CONTOUR, line::UPPER_BUCCAL, upper, &layout.upper);
    lines
}

/// What is left of a contour's distance from its crest beside its tooth's neighbours, grooves left out.
pub(super) fn kept(borders: &[f64; TEETH + 1], along: f64) -> f64 {
    // Behind the last tooth the gingiva is as broad as the crowns again.
    let behind = eased((along - borders[TEETH] - DISTAL_FALL_MM.1) / (BEHIND_MM - DISTAL_FALL_MM.1));
    1.0 - (1.0 - LEFT_AT_BORDER) * between(borders, along) * (1.0 - behind)
}

/// How much a place is one between two teeth: nothing at a tooth's middle, 1 where two teeth meet and
/// behind the last one.
pub(super) fn between(borders: &[f64; TEETH + 1], along: f64) -> f64 {
    from_middle(borders, along).1.powi(3)
}

/// What a groove between two cusps of a row takes off the wall beside them, as part of its distance
/// from the crest.
fn groove(crowns: &Crowns, crest: usize, along: f64) -> f64 {
    const DEPTH: f64 = 0.12;
    const HALF_WIDTH_MM: f64 = 1.3;
    let pairs = crowns.tips.iter().enumerate().filter_map(|(index, tip)| {
        let next = crowns.tips.get(index + 1)?;
        let one_row = tip.line == crest && next.line == crest && tip.place == next.place;
        one_row.then(|| f64::midpoint(tip.along, next.along))
    });
    pairs.map(|middle| DEPTH * (1.0 - eased((along - middle).abs() / HALF_WIDTH_MM))).fold(0.0, f64::max)
}

/// Place (1 to 7) of the tooth there, and how far from its middle: 0 to 1 at its borders, 1 behind
/// the last tooth.
pub(super) fn from_middle(borders: &[f64; TEETH + 1], along: f64) -> (usize, f64) {
    let place = borders.partition_point(|&border| border <= along).clamp(1, TEETH);
    let (from, to) = (borders[place - 1], borders[place]);
    (place, ((2.0 * along - from - to) / (to - from)).abs().min(1.0))
}

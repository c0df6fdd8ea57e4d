//! Both occlusal surfaces as heights over the shared grid, compensating curves left out.

use super::crowns::Crowns;
use super::layout::Layout;
use super::lines::{LINES, eased, line};
use super::seat;
use super::stations::{DISTAL_FALL_MM, Stations};
use super::teeth::{CANINE, TEETH};

/// Heights over the occlusal plane, station by station; the compensating curves come on top.
#[derive(Clone, Debug)]
pub(super) struct OcclusalSurfaces {
    lower: Vec<Vec<f64>>,
    upper: Vec<Vec<f64>>,
    first_upper: usize,
}

/// A cusp is let down onto what stands no farther than this along the arch.
const NEAR_MM: f64 = 4.5;

impl OcclusalSurfaces {
    /// Lower crowns, upper cusps let down onto them, and the gap between closed to contact.
    pub(super) fn carve(layout: &Layout, stations: &Stations) -> Self {
        let lower =
            Relief { crowns: &layout.lower, stations, edges: LOWER_EDGES, range: stations.lower() }.heights();
        let mut crowns = layout.upper.clone();
        for &(index, highest) in &layout.upper.let_down {
            crowns.rises[index].top = let_down(layout, stations, &lower, index).min(highest);
        }
        let mut upper =
            Relief { crowns: &crowns, stations, edges: UPPER_EDGES, range: stations.upper() }.heights();
        for height in upper.iter_mut().flatten() {
            *height = -*height;
        }
        let mut surfaces = Self { lower, upper, first_upper: stations.upper()[0] };
        surfaces.seat(layout, stations);
        surfaces
    }

    /// Height of the lower surface at a station and grid line.
    pub(super) fn lower(&self, station: usize, grid_line: usize) -> f64 {
        self.lower[station][grid_line]
    }

    /// Height of the upper surface at a station and grid line.
    pub(super) fn upper(&self, station: usize, grid_line: usize) -> f64 {
        self.upper[station][grid_line - self.first_upper]
    }

    fn seat(&mut self, layout: &Layout, stations: &Stations) {
        let [first, last] = stations.shared();
        let clearance = |along: f64| {
            let (from, to) = clearance_ends(layout);
            layout.front_clearance * (1.0 - eased((along - from) / (to - from)))
        };
        let gap: Vec<Vec<f64>> = (stations.along.iter().enumerate())
            .map(|(station, &along)| {
                let stays = clearance(along);
                (first..=last)
                    .map(|grid| self.upper(station, grid) - self.lower(station, grid) - stays)
                    .collect()
            })
            .collect();
        let layer = seat::layer(&gap, stations, layout.incline, &required(layout, stations));
        for (station, layer) in layer.iter().enumerate() {
            let along = stations.along[station];
            let present = 1.0 - fallen(&layout.lower, along).max(fallen(&layout.upper, along));
            for (index, &thickness) in layer.iter().enumerate() {
                let grid = first + index;
                // Behind the last teeth there is nothing to touch.
                let thickness = if thickness > 0.0 { thickness * present } else { thickness };
                let share = upper_share(stations, station, grid);
                self.upper[station][grid - self.first_upper] -= share * thickness;
                self.lower[station][grid] += (1.0 - share) * thickness;
            }
        }
    }
}

/// How far the distal side of an arch's last tooth has fallen to the gingiva: 0 on the tooth, 1
/// behind it.
fn fallen(crowns: &Crowns, along: f64) -> f64 {
    let (before, length) = DISTAL_FALL_MM;
    eased((along - (crowns.borders[TEETH] - before)) / length)
}

/// Between which places the clearance of the front teeth fades: from the lower canine's distal border
/// over a third of the first premolar.
fn clearance_ends(layout: &Layout) -> (f64, f64) {
    (layout.lower.borders[CANINE], layout.lower.along(CANINE + 1, 0.33))
}

/// Stations between which each tooth that must touch lies and no clearance is kept.
fn required(layout: &Layout, stations: &Stations) -> Vec<std::ops::Range<usize>> {
    let (first, least) = if layout.front_touches { (1, 0.0) } else { (CANINE + 1, clearance_ends(layout).1) };
    let of = |crowns: &Crowns| {
        let borders = crowns.borders;
        (first..=TEETH).map(move |place| (borders[place - 1], borders[place])).collect::<Vec<_>>()
    };
    (of(&layout.upper).into_iter().chain(of(&layout.lower)))
        .map(|(from, to)| stations.at(from.max(least)) + 1..stations.at(to))
        .collect()
}

/// What part of the layer goes onto the upper surface: all of it over the lower crests, none of it
/// on the upper ones, so that every tip keeps its place and the fossae take the layer.
fn upper_share(stations: &Stations, station: usize, grid: usize) -> f64 {
    let lines = [
        (line::UPPER_PALATAL_CONTOUR, 1.0),
        (line::UPPER_PALATAL, 0.0),
        (line::LOWER_BUCCAL, 1.0),
        (line::LOWER_BUCCAL_CONTOUR, 0.0),
    ];
    let outward = |grid: usize| stations.outward[station][grid];
    for pair in lines.windows(2) {
        let [from, to] = [pair[0], pair[1]].map(|(line, share)| (stations.line(line), share));
        if grid <= to.0 {
            let part = (outward(grid) - outward(from.0)) / (outward(to.0) - outward(from.0));
            return from.1 + (to.1 - from.1) * eased(part);
        }
    }
    0.0
}

/// The height that an upper cusp has when it is let down until it touches the lower surface.
fn let_down(layout: &Layout, stations: &Stations, lower: &[Vec<f64>], index: usize) -> f64 {
    let rise = &layout.upper.rises[index];
    let [first, last] = stations.shared();
    let from = stations.at(rise.stretch[0] - NEAR_MM);
    let to = stations.at(rise.stretch[1] + NEAR_MM);
    let mut top = f64::INFINITY;
    for (station, heights) in lower.iter().enumerate().take(to + 1).skip(from) {
        let (along, crest) = (stations.along[station], stations.crests[station][rise.line]);
        let outward = &stations.outward[station][first..=last];
        // The lower surface begins at the first grid line of all.
        for (&outward, height) in outward.iter().zip(&heights[first..=last]) {
            top = top.min(rise.drop(along, outward - crest) - height);
        }
    }
    top
}

/// Where a surface turns into a wall: (outermost crest, contour, fall from the one to the other).
type Edge = (usize, usize, f64);

const LOWER_EDGES: [Edge; 2] = [
    (line::LOWER_LINGUAL, line::LOWER_LINGUAL_CONTOUR, 2.5),
    (line::LOWER_BUCCAL, line::LOWER_BUCCAL_CONTOUR, 3.0),
];
const UPPER_EDGES: [Edge; 2] = [
    (line::UPPER_PALATAL, line::UPPER_PALATAL_CONTOUR, 2.5),
    (line::UPPER_BUCCAL, line::UPPER_BUCCAL_CONTOUR, 3.0),
];
/// A wall falls as 1 − (1 − q²)ⁿ over the part q of its way from crest to contour: upright at the
/// contour, where the crown is fullest.
const WALL_POWER: f64 = 0.62;

/// One arch's heights, toward the other arch.
struct Relief<'a> {
    crowns: &'a Crowns,
    stations: &'a Stations,
    edges: [Edge; 2],
    range: [usize; 2],
}

impl Relief<'_> {
    fn heights(&self) -> Vec<Vec<f64>> {
        (0..self.stations.along.len()).map(|station| self.section(station)).collect()
    }

    fn section(&self, station: usize) -> Vec<f64> {
        let [first, last] = self.range;
        let outward = &self.stations.outward[station];
        let crests = &self.stations.crests[station];
        let along = self.stations.along[station];
        let mut heights: Vec<f64> =
            (first..=last).map(|grid| self.highest(along, outward[grid], crests)).collect();
        for (crest, contour, fall) in self.edges {
            let (crest, contour) = (self.stations.line(crest), self.stations.line(contour));
            let top = heights[crest - first];
            for grid in crest.min(contour)..=crest.max(contour) {
                let part = (outward[grid] - outward[crest]) / (outward[contour] - outward[crest]);
                let wall = top - fall * (1.0 - (1.0 - part * part).max(0.0).powf(WALL_POWER));
                heights[grid - first] = heights[grid - first].min(wall);
            }
        }
        let fallen = fallen(self.crowns, along);
        let ground = self.crowns.margins[TEETH - 1];
        for height in &mut heights {
            *height += (ground - *height) * fallen;
        }
        heights
    }

    fn highest(&self, along: f64, outward: f64, crests: &[f64; LINES]) -> f64 {
        let heights =
            self.crowns.rises.iter().map(|rise| rise.top - rise.drop(along, outward - crests[rise.line]));
        heights.fold(f64::NEG_INFINITY, |highest, height| {
            // A groove between two inclines is rounded over this difference of their heights.
            let near = (self.crowns.groove - (highest - height).abs()).max(0.0);
            let fill = if near > 0.0 { near * near / (4.0 * self.crowns.groove) } else { 0.0 };
            highest.max(height) + fill
        })
    }
}

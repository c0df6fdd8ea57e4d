//! One closed section across an arch: occlusal surface, walls, gingiva, base.

use super::crowns::Crowns;
use super::curves::CompensatingCurves;
use super::layout::{GINGIVA_BEYOND_MM, Layout};
use super::lines::line;
use super::occlusal::OcclusalSurfaces;
use super::stations::{Stations, between, from_middle, kept, pieces};
use super::teeth::TEETH;
use crate::cusp::Arch;

/// From the fullest of the gingiva to the base, where that is least.
const BASE_MM: f64 = 4.0;
/// How far the gingiva reaches up between two teeth.
const PAPILLA_MM: f64 = 2.0;
/// Least height of a wall between contour and gingiva.
const LEAST_WALL_MM: f64 = 0.5;
/// How far a wall draws in from the contour to the gingival margin, at a tooth's middle.
const NECK_MM: f64 = 0.5;
/// The gingival margin's rim: outward, at a tooth's middle, and away from the tooth.
const RIM_MM: (f64, f64) = (0.35, 0.25);
/// From the gingival margin to the fullest of the gingiva.
const GINGIVA_MM: f64 = 3.5;
/// Gingiva and base are so much coarser than the crowns.
const COARSER: f64 = 2.5;
/// Heights for which pieces are counted: a wall, and the base's side and floor.
const WALL_MM: f64 = 6.0;
const BASE_SIDE_MM: f64 = 8.0;
const BASE_FLOOR_MM: f64 = 14.0;

/// Makes the sections of one arch, all with the same number of points.
pub(super) struct Sections<'a> {
    arch: Arch,
    layout: &'a Layout,
    stations: &'a Stations,
    surfaces: &'a OcclusalSurfaces,
    curves: &'a CompensatingCurves,
    /// Height of the base, toward the other arch.
    base: f64,
    wall: usize,
    gingiva: usize,
    side: usize,
    floor: usize,
}

impl<'a> Sections<'a> {
    pub(super) fn new(
        arch: Arch,
        layout: &'a Layout,
        stations: &'a Stations,
        surfaces: &'a OcclusalSurfaces,
        curves: &'a CompensatingCurves,
        fineness_mm: f64,
    ) -> Self {
        let mut sections = Self {
            arch,
            layout,
            stations,
            surfaces,
            curves,
            base: 0.0,
            wall: pieces(WALL_MM, fineness_mm),
            gingiva: pieces(GINGIVA_MM, fineness_mm * COARSER),
            side: pieces(BASE_SIDE_MM, fineness_mm * COARSER),
            floor: pieces(BASE_FLOOR_MM, fineness_mm * COARSER),
        };
        let [first, last] = sections.occlusal();
        let fullest = (0..stations.along.len()).flat_map(|station| {
            let contour = |grid: usize, out: f64| {
                sections.gingiva_of(station, sections.occlusal_point(station, grid), out)
            };
            [contour(first, -1.0).fullest[1], contour(last, 1.0).fullest[1]]
        });
        sections.base = fullest.fold(0.0, f64::min) - BASE_MM;
        sections
    }

    /// First and last grid line of the occlusal surface, with which a section begins.
    pub(super) const fn occlusal(&self) -> [usize; 2] {
        match self.arch {
            Arch::Lower => self.stations.lower(),
            Arch::Upper => self.stations.upper(),
        }
    }

    /// Points of a section.
    pub(super) const fn points(&self) -> usize {
        let [first, last] = self.occlusal();
        last - first + 1 + 2 * (self.wall + 1 + self.gingiva + self.side) + self.floor - 1
    }

    /// Whether the piece from this point of a section to the next is on the crown.
    pub(super) const fn on_crown(&self, point: usize) -> bool {
        let [first, last] = self.occlusal();
        point < last - first + self.wall || point >= self.points() - self.wall
    }

    /// The section at a station: (outward of the arch line, height), first along the occlusal
    /// surface outward, then round by the base.
    pub(super) fn at(&self, station: usize) -> Vec<[f64; 2]> {
        let [first, last] = self.occlusal();
        let mut points: Vec<[f64; 2]> =
            (first..=last).map(|grid| self.occlusal_point(station, grid)).collect();
        let lingual = self.side_of(station, points[0], -1.0);
        let buccal = self.side_of(station, points[last - first], 1.0);
        points.extend(&buccal);
        let (from, to) = (buccal[buccal.len() - 1], lingual[lingual.len() - 1]);
        #[allow(clippy::cast_precision_loss)] // some tens
        points.extend((1..self.floor).map(|step| {
            let part = step as f64 / self.floor as f64;
            [from[0] + (to[0] - from[0]) * part, from[1]]
        }));
        points.extend(lingual.iter().rev());
        points
    }

    /// A point from which the whole outline of the section behind the last tooth is seen: half-way from
    /// the base to the middle between the contours.
    pub(super) fn middle(&self, station: usize) -> [f64; 2] {
        let [lingual, buccal] = self.occlusal().map(|grid| self.occlusal_point(station, grid));
        let top = f64::midpoint(lingual[1], buccal[1]);
        [f64::midpoint(lingual[0], buccal[0]), f64::midpoint(top, self.up() * self.base)]
    }

    fn occlusal_point(&self, station: usize, grid: usize) -> [f64; 2] {
        let height = match self.arch {
            Arch::Lower => self.surfaces.lower(station, grid),
            Arch::Upper => self.surfaces.upper(station, grid),
        };
        let curve = self.curves.height(self.stations.plan(station, grid));
        [self.stations.outward[station][grid], height + curve]
    }

    /// From the contour, its point left out, to the base: wall, rim, gingiva, side.
    fn side_of(&self, station: usize, contour: [f64; 2], out: f64) -> Vec<[f64; 2]> {
        let [edge, top] = [contour[0], self.up() * contour[1]];
        let Gingiva { margin, fullest } = self.gingiva_of(station, contour, out);
        let (neck, rim) = self.neck_and_rim(station, edge, out);
        let mut points = Vec::with_capacity(self.wall + 1 + self.gingiva + self.side);
        for part in parts(self.wall) {
            points.push([edge - out * neck * part * part, top + (margin - top) * part]);
        }
        let rim = [edge + out * (rim - neck), margin - RIM_MM.1];
        points.push(rim);
        for part in parts(self.gingiva) {
            // Out along an arc of a parabola that ends upright.
            let spread = 1.0 - (1.0 - part) * (1.0 - part);
            points.push([rim[0] + (fullest[0] - rim[0]) * spread, rim[1] + (fullest[1] - rim[1]) * part]);
        }
        for part in parts(self.side) {
            points.push([fullest[0], fullest[1] + (self.base - fullest[1]) * part]);
        }
        for point in &mut points {
            point[1] *= self.up();
        }
        points
    }

    /// How far the wall below a contour draws in, and how far the rim comes out again.
    ///
    /// Only crowns have necks: where two teeth meet and behind the last one the wall is upright, and a
    /// groove between two cusps has run out at the neck. A neck as deep everywhere would hollow out what
    /// is narrow already, and sections would show closed holes below the contours there.
    fn neck_and_rim(&self, station: usize, edge: f64, out: f64) -> (f64, f64) {
        let along = self.stations.along[station];
        let borders = &self.crowns().borders;
        let (crest, full) = self.edge_lines(out);
        let [crest, full] = [crest, full].map(|line| self.stations.crests[station][line]);
        let groove = out * (crest + (full - crest) * kept(borders, along) - edge);
        let on_tooth = 1.0 - between(borders, along);
        ((NECK_MM * on_tooth - groove).max(0.0), RIM_MM.0 * on_tooth)
    }

    const fn crowns(&self) -> &'a Crowns {
        match self.arch {
            Arch::Lower => &self.layout.lower,
            Arch::Upper => &self.layout.upper,
        }
    }

    /// Outermost crest and full contour of a side.
    fn edge_lines(&self, out: f64) -> (usize, usize) {
        match (self.arch, out > 0.0) {
            (Arch::Lower, false) => (line::LOWER_LINGUAL, line::LOWER_LINGUAL_CONTOUR),
            (Arch::Lower, true) => (line::LOWER_BUCCAL, line::LOWER_BUCCAL_CONTOUR),
            (Arch::Upper, false) => (line::UPPER_PALATAL, line::UPPER_PALATAL_CONTOUR),
            (Arch::Upper, true) => (line::UPPER_BUCCAL, line::UPPER_BUCCAL_CONTOUR),
        }
    }

    /// The gingiva beside a contour.
    fn gingiva_of(&self, station: usize, contour: [f64; 2], out: f64) -> Gingiva {
        let (crowns, (_, full)) = (self.crowns(), self.edge_lines(out));
        let along = self.stations.along[station];
        let curve = self.up() * self.curves.height(self.stations.places[station].off(contour[0]));
        let level = self.layout.lines.by_tooth(&crowns.margins, along) + curve;
        let (place, aside) = from_middle(&crowns.borders, along);
        // Behind the last tooth there is no other to fill the corner to.
        let behind = place == TEETH && along > crowns.along(TEETH, 0.5);
        let papilla = if behind { 0.0 } else { PAPILLA_MM * aside * aside * aside };
        let margin = (level + papilla).min(self.up() * contour[1] - LEAST_WALL_MM);
        let beyond = self.stations.crests[station][full] + out * GINGIVA_BEYOND_MM;
        Gingiva { margin, fullest: [beyond, level.min(margin) - GINGIVA_MM] }
    }

    /// Which way an arch's heights toward the other arch are measured.
    const fn up(&self) -> f64 {
        match self.arch {
            Arch::Lower => 1.0,
            Arch::Upper => -1.0,
        }
    }
}

/// Where the gingiva begins and where it is fullest, heights toward the other arch.
struct Gingiva {
    margin: f64,
    fullest: [f64; 2],
}

/// Equal parts of 1, the last one 1 itself.
#[allow(clippy::cast_precision_loss)] // some tens
fn parts(count: usize) -> impl Iterator<Item = f64> {
    (1..=count).map(move |step| if step == count { 1.0 } else { step as f64 / count as f64 })
}

//! Which parts of which triangles films print on.
//!
//! A triangle is cut in two, and its parts again, until the distances at the corners of a part decide it: no
//! point's distance differs from a corner's by more than the way there. Only where the edge of a mark runs
//! are parts as small as the film needs them, so a triangle that spans the cast costs no more than many
//! small ones.

use nalgebra::Vector3;

use super::casts::Casts;
use super::film::Film;
use super::lowering::Lowering;
use super::map::Map;
use super::nearby::Nearby;
use super::nearness::{Nearness, is_behind, nearest_to};
use super::opening::FirstTouch;
use super::pieces::longest;
use super::quick::QuickMap;
use super::search::{self, Pair};
use crate::cusp::Arch;
use crate::frame::JawPose;

/// At the edge of a mark the distance is taken at points this far apart, in millimetres, for a film of a
/// millimetre, and in proportion to the square root of the thickness: so is the breadth of what a rounded
/// cusp prints. For the thinnest film sold that is 0.045 mm, and between such points the distance from a
/// cusp of 1 mm radius bends by a quarter of a micrometre.
const GRAIN_MM: f64 = 0.5;
/// Parts of a triangle smaller than this, in millimetres, or than their distance from the other surface, lie
/// behind it as a whole where their corners do. (Beyond the border of an open surface a place changes sides
/// without touching it.)
const ONE_SIDED_MM: f64 = 1.0;
/// The farthest that a point of a triangle is from the nearest corner, in parts of the longest edge.
const FROM_CORNER: f64 = 0.577_350_269_189_625_8;
/// So many films are looked at together at most.
pub(super) const MOST_FILMS: usize = 64;
/// Distances taken in one pose, at most: so many in all, and so many more for each triangle that may print. A
/// full arch in even contact takes a tenth of it; only surfaces that cross along metres need more, or meshes of
/// needles, which are cut along all their length. That is some seconds.
const MOST_DISTANCES: usize = 3_000_000;
const MOST_A_TRIANGLE: usize = 4;

/// From so many distances within a triangle on, what they may be nearest to is gathered first.
const GATHERED_FROM: usize = 4;
/// So many distances on edges are kept at most, until the triangle on the other side asks for them: some 50 MB.
const MOST_KEPT: usize = 1 << 20;

/// Casts that meet along lines too many and too long for marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "the casts meet along so many and long lines, or in so many needle-shaped triangles, that their marks take \
     more than {most} distances; a full arch of even triangles in contact takes a tenth of that: are both casts \
     mounted where they belong, and are their triangles even?"
)]
pub struct TooIntricate {
    /// How many distances are taken at most.
    pub most: usize,
}

/// What a film prints on one triangle.
#[derive(Clone, Debug)]
pub(super) struct Printed {
    pub(super) triangle: u32,
    /// Printed area, square millimetres.
    pub(super) area: f64,
    /// Area times centroid.
    pub(super) moment: Vector3<f64>,
    /// Where the distance is least, and how much that is.
    pub(super) deepest: Vector3<f64>,
    pub(super) least: f64,
    /// Whether it prints on each edge.
    pub(super) edges: [bool; 3],
}

/// Films between the casts in one pose.
pub(super) struct Print<'c> {
    casts: &'c Casts,
    jaw: Map,
    /// Thicknesses.
    films: Vec<f64>,
    /// Triangles of either arch that may print, in ascending order.
    triangles: [Vec<Candidate>; 2],
    /// How many distances were taken, and how many may be.
    pub(super) distances: usize,
    pub(super) most: usize,
}

/// A triangle that may print.
#[derive(Clone, Copy)]
struct Candidate {
    triangle: u32,
    /// None of its points has a lesser distance: −∞ where it may have come through.
    least: f64,
}

/// A distance from the other surface, and the triangle of that which is nearest.
#[derive(Clone, Copy)]
struct Known {
    distance: f64,
    nearest: Option<u32>,
}

/// The distances of an arch taken so far.
#[derive(Default)]
struct Taken {
    /// By vertex.
    corners: QuickMap<u32, Known>,
    /// On edges, by place: two triangles ask for each.
    edges: QuickMap<[u64; 3], Known>,
    /// Within the triangle that is looked at, by place.
    middles: QuickMap<[u64; 3], Known>,
    /// What that triangle has opposite, where that is little enough to be gathered.
    nearby: Nearby,
    /// The last of them.
    last: Option<u32>,
}

impl Taken {
    /// The distances at middles of the triangle's own edges, or within it.
    fn at_middles(&mut self, is_on_edge: bool) -> &mut QuickMap<[u64; 3], Known> {
        if self.edges.len() == MOST_KEPT {
            self.edges.clear();
        }
        if is_on_edge { &mut self.edges } else { &mut self.middles }
    }
}

/// A point of a triangle and its distance from the other surface.
#[derive(Clone, Copy)]
struct Sample {
    place: Vector3<f64>,
    distance: f64,
    nearest: Option<u32>,
}

/// A part of a triangle.
struct Part {
    corners: [Sample; 3],
    /// The edge of the whole that each edge of the part lies on.
    edges: [Option<usize>; 3],
    films: Films,
}

/// The films that are not done with a part, a bit each.
#[derive(Clone, Copy)]
struct Films {
    /// Those whose area on it is not counted yet.
    open: u64,
    /// Those that print on all of it, and may lie deeper within than was found so far.
    deep: u64,
}

/// What a look at a part says of a film.
#[derive(Clone, Copy, PartialEq)]
enum Outcome {
    Clear,
    Prints,
    Open,
}

impl<'c> Print<'c> {
    /// No more than [`MOST_FILMS`].
    pub(super) fn of(casts: &'c Casts, pose: &JawPose, films: &[Film]) -> Self {
        let jaw = Map::jaw(pose);
        let films: Vec<f64> = films.iter().map(|film| film.thickness().mm()).collect();
        let thickest = films.iter().copied().fold(0.0, f64::max);
        let mut leasts =
            [Arch::Upper, Arch::Lower].map(|arch| vec![f64::INFINITY; casts.surface(arch).triangles().len()]);
        let mut note = |(upper, lower): Pair, apart: f64| {
            for (leasts, triangle) in leasts.iter_mut().zip([upper, lower]) {
                let least = &mut leasts[triangle as usize];
                *least = least.min(apart);
            }
        };
        search::beyond(&mut Nearness::new(jaw), casts.sides(), -thickest, |pair, upper, lower| {
            note(pair, upper.apart(lower).max(0.0));
        });
        // What has come through, as seen along z.
        let mut lowering = FirstTouch::new(Lowering::new(), Map::identity(), jaw);
        search::beyond(&mut lowering, casts.sides(), 0.0, |pair, _, _| note(pair, f64::NEG_INFINITY));
        let triangles: [Vec<Candidate>; 2] = leasts.map(|leasts| {
            let candidates = (0..).zip(leasts).map(|(triangle, least)| Candidate { triangle, least });
            candidates.filter(|candidate| candidate.least <= thickest).collect()
        });
        let most = MOST_DISTANCES + MOST_A_TRIANGLE * triangles.iter().map(Vec::len).sum::<usize>();
        Self { casts, jaw, films, triangles, distances: 0, most }
    }

    /// What each film prints on an arch, in the order of triangles.
    pub(super) fn on(&mut self, arch: Arch) -> Result<Vec<Vec<Printed>>, TooIntricate> {
        let triangles = std::mem::take(&mut self.triangles[usize::from(arch == Arch::Lower)]);
        let mut taken = Taken::default();
        taken.corners.reserve(triangles.len());
        let mut printed = vec![Vec::new(); self.films.len()];
        for candidate in triangles {
            let of_films = self.triangle(arch, candidate, &mut taken)?;
            for (all, one) in printed.iter_mut().zip(of_films) {
                all.extend((one.area > 0.0).then_some(one));
            }
        }
        Ok(printed)
    }

    /// The distance of a point of an arch from the other surface, less than zero behind it. `within` is
    /// more than that distance, if known, and `near` a triangle that may be the nearest. Of a point about which
    /// all is gathered, that is gone through.
    fn distance(
        &mut self,
        arch: Arch,
        at: &Vector3<f64>,
        (within, near): (f64, Option<u32>),
        nearby: Option<&Nearby>,
    ) -> Result<Known, TooIntricate> {
        self.distances += 1;
        if self.distances > self.most {
            return Err(TooIntricate { most: self.most });
        }
        let opposite = self.casts.cast(arch.opposite());
        let point = self.opposite_to(arch, at);
        let near = match nearby {
            Some(nearby) => nearby.nearest_to(&opposite.surface, &point, within, near),
            None => nearest_to(&opposite.surface, &opposite.tree, &point, within, near),
        };
        let Some(near) = near else {
            return Ok(Known { distance: f64::INFINITY, nearest: None });
        };
        let is_behind = is_behind(&opposite.surface, &opposite.joins, &near, &point);
        let distance = if is_behind { -near.distance } else { near.distance };
        Ok(Known { distance, nearest: Some(near.triangle) })
    }

    /// A place of an arch in the frame of the other.
    fn opposite_to(&self, arch: Arch, at: &Vector3<f64>) -> Vector3<f64> {
        match arch {
            Arch::Upper => self.jaw.back(at),
            Arch::Lower => self.jaw.point(at),
        }
    }

    /// Gathers what any point of a part may be nearest to. Whether it is little enough.
    fn gather(&self, arch: Arch, corners: &[Sample; 3], nearby: &mut Nearby) -> bool {
        let opposite = self.casts.cast(arch.opposite());
        let place = corners.each_ref().map(|corner| self.opposite_to(arch, &corner.place));
        let (_, square) = longest(&place);
        let farthest = corners.iter().map(|corner| corner.distance.abs()).fold(0.0, f64::max);
        // No point is farther from the other surface than the nearest corner and the way there.
        let reach = (farthest + square.sqrt() * FROM_CORNER) * 1.0001 + 1e-9;
        nearby.gather(&opposite.surface, &opposite.tree, &place, reach)
    }

    /// What each film prints on a triangle.
    fn triangle(
        &mut self,
        arch: Arch,
        Candidate { triangle, least }: Candidate,
        taken: &mut Taken,
    ) -> Result<Vec<Printed>, TooIntricate> {
        let vertices = self.casts.surface(arch).triangles()[triangle as usize];
        let corners = self.casts.surface(arch).corners(triangle as usize);
        let mut samples: Vec<Sample> = Vec::with_capacity(3);
        for (vertex, place) in vertices.iter().zip(corners) {
            let known = match taken.corners.get(vertex) {
                Some(known) => *known,
                None => {
                    let within =
                        samples.iter().map(|known| within(known, &place)).fold(f64::INFINITY, f64::min);
                    let near = samples.last().and_then(|known| known.nearest).or(taken.last);
                    let known = self.distance(arch, &place, (within, near), None)?;
                    taken.corners.insert(*vertex, known);
                    known
                }
            };
            taken.last = known.nearest;
            samples.push(Sample { place, distance: known.distance, nearest: known.nearest });
        }
        let mut printed: Vec<Printed> = self
            .films
            .iter()
            .map(|_| Printed {
                triangle,
                area: 0.0,
                moment: Vector3::zeros(),
                deepest: corners[0],
                least: f64::INFINITY,
                edges: [false; 3],
            })
            .collect();
        let [a, b, c] = samples[..] else { return Ok(printed) };
        taken.middles.clear();
        let whole = Part {
            corners: [a, b, c],
            edges: [Some(0), Some(1), Some(2)],
            films: Films::from(&self.films, least),
        };
        let (mut asked, mut has_nearby) = (0, false);
        let mut open = vec![whole];
        while let Some(part) = open.pop() {
            let Some((films, edge)) = self.look(&part, least, &mut printed) else { continue };
            let [from, to, apex] = [0, 1, 2].map(|step| part.corners[(edge + step) % 3]);
            let place = (from.place + to.place) / 2.0;
            // Whichever part or triangle it is the middle for, of the same ends it is the same to the last bit.
            let key = place.map(f64::to_bits).into();
            let is_on_edge = part.edges[edge].is_some();
            let known = match taken.at_middles(is_on_edge).get(&key) {
                Some(known) => *known,
                None => {
                    let within = within(&from, &place).min(within(&to, &place)).min(within(&apex, &place));
                    let near = from.nearest.or(to.nearest);
                    asked += 1;
                    if asked == GATHERED_FROM {
                        has_nearby = self.gather(arch, &[a, b, c], &mut taken.nearby);
                    }
                    let nearby = has_nearby.then_some(&taken.nearby);
                    let known = self.distance(arch, &place, (within, near), nearby)?;
                    taken.at_middles(is_on_edge).insert(key, known);
                    known
                }
            };
            let middle = Sample { place, distance: known.distance, nearest: known.nearest };
            let [along, second, third] = [0, 1, 2].map(|step| part.edges[(edge + step) % 3]);
            open.push(Part { corners: [from, middle, apex], edges: [along, None, third], films });
            open.push(Part { corners: [middle, to, apex], edges: [along, second, None], films });
        }
        Ok(printed)
    }

    /// Counts a part for the films that it decides, and says for which others it must be cut, and across
    /// which edge. No distance on it is less than `least`.
    fn look(&self, part: &Part, least: f64, printed: &mut [Printed]) -> Option<(Films, usize)> {
        let (edge, square) = longest(&part.corners.map(|corner| corner.place));
        let length = square.sqrt();
        let reach = Reach::of(&part.corners.map(|corner| corner.distance), length, least);
        let mut left = Films { open: 0, deep: 0 };
        for (at, (&film, print)) in self.films.iter().zip(printed).enumerate() {
            let bit = 1 << at;
            let (is_open, is_deep) = (part.films.open & bit != 0, part.films.deep & bit != 0);
            let outcome = reach.outcome(film);
            if !(is_open || is_deep) || outcome == Outcome::Clear {
                continue;
            }
            print.deepen(part);
            let is_fine = length <= GRAIN_MM * film.sqrt();
            match outcome {
                Outcome::Open if is_open && !is_fine => left.open |= bit,
                Outcome::Open if is_open => print.add_part(part, film),
                Outcome::Prints if is_open => print.add_whole(part),
                _ => {}
            }
            if left.open & bit == 0 && !is_fine && reach.least < print.least {
                left.deep |= bit;
            }
        }
        (left.open | left.deep != 0).then_some((left, edge))
    }
}

impl Films {
    /// Those that a triangle with no lesser distance than this may print.
    fn from(films: &[f64], least: f64) -> Self {
        let may_print = films.iter().take(MOST_FILMS).map(|film| least <= *film);
        Self { open: (0..).zip(may_print).fold(0, |all, (at, may)| all | u64::from(may) << at), deep: 0 }
    }
}

/// Between which bounds the distance lies all over a part.
struct Reach {
    least: f64,
    most: f64,
    /// Whether all of it is on the side of the other surface on which its corners are, as far as it does not
    /// touch it.
    is_one_sided: bool,
}

impl Reach {
    /// From the distances at the corners and the longest edge, and what no distance is less than.
    fn of(distances: &[f64; 3], length: f64, floor: f64) -> Self {
        let [a, b, c] = *distances;
        let (least, most, near) = (a.min(b).min(c), a.max(b).max(c), a.abs().min(b.abs()).min(c.abs()));
        let middle = length * FROM_CORNER;
        // It was found among distances without a sign.
        let floor = if least < 0.0 { f64::NEG_INFINITY } else { floor };
        Self {
            least: (least - middle).max(most - length).max(floor),
            most: (most + middle).min(least + length),
            is_one_sided: length <= near.max(ONE_SIDED_MM),
        }
    }

    fn outcome(&self, film: f64) -> Outcome {
        if self.least > film && self.is_one_sided {
            Outcome::Clear
        } else if self.most <= film && (self.is_one_sided || -self.least <= film) {
            Outcome::Prints
        } else {
            Outcome::Open
        }
    }
}

/// More than the distance of a place, known that of another.
fn within(known: &Sample, place: &Vector3<f64>) -> f64 {
    (known.distance.abs() + (place - known.place).norm()) * 1.0001 + 1e-9
}

impl Printed {
    /// The deepest of the corners, if it is deeper than what was found so far.
    fn deepen(&mut self, part: &Part) {
        for corner in &part.corners {
            if corner.distance < self.least {
                (self.deepest, self.least) = (corner.place, corner.distance);
            }
        }
    }

    fn add(&mut self, [a, b, c]: [&Vector3<f64>; 3]) {
        let area = (b - a).cross(&(c - a)).norm() / 2.0;
        self.area += area;
        self.moment += (a + b + c) * (area / 3.0);
    }

    /// Adds all of a part.
    fn add_whole(&mut self, part: &Part) {
        self.add(part.corners.each_ref().map(|corner| &corner.place));
        for edge in part.edges.into_iter().flatten() {
            self.edges[edge] = true;
        }
    }

    /// Adds what of a part is within the film, the distance being linear over it.
    fn add_part(&mut self, part: &Part, film: f64) {
        let mut within: Vec<Vector3<f64>> = Vec::with_capacity(4);
        for (at, corner) in part.corners.iter().enumerate() {
            let next = &part.corners[(at + 1) % 3];
            let (here, there) = (corner.distance <= film, next.distance <= film);
            if here {
                within.push(corner.place);
            }
            if here != there {
                let along = (film - corner.distance) / (next.distance - corner.distance);
                within.push(corner.place + (next.place - corner.place) * along);
            }
            if let Some(edge) = part.edges[at].filter(|_| here || there) {
                self.edges[edge] = true;
            }
        }
        if let Some((first, rest)) = within.split_first() {
            for pair in rest.windows(2) {
                self.add([first, &pair[0], &pair[1]]);
            }
        }
    }
}

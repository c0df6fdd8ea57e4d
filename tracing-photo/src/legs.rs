//! Three legs of a skeleton, from where they join.

use super::error::PhotoError;
use super::line::Line;
use super::near::farthest;
use super::place::Pixel;

/// Shortest leg.
const LEAST_LEG_MM: f64 = 1.5;
/// The way of a leg is judged up to here.
const WAY_MM: f64 = 5.0;
/// A branch beside the legs that is shorter than this is a flaw of the thinning.
const LEAST_BRANCH_MM: f64 = 1.5;

/// Nearer to the join it is not clear to which leg a branch belongs.
const CLEAR_OF_JOIN_MM: f64 = 2.0;

/// The legs: pixels of the skeleton, from the join outward.
pub(super) struct Legs {
    /// Where they join.
    pub(super) join: Pixel,
    /// The way of each leg.
    pub(super) legs: [Vec<Pixel>; 3],
    /// Pixels of second lines beside each leg.
    pub(super) beside: [Vec<Pixel>; 3],
    per_mm: f64,
}

/// Two legs are the way between the two ends that lie farthest apart; the third goes to what lies
/// farthest from that way. As the crow flies: along the skeleton that may be a second line beside
/// the first.
pub(super) fn of(line: &Line, per_mm: f64) -> Result<Legs, PhotoError> {
    let skeleton = &line.skeleton;
    let far_from = |from: usize| {
        let distance = |pixel: usize| (skeleton.at(pixel) - skeleton.at(from)).norm_squared();
        let all = 0..skeleton.pixels().len();
        all.max_by(|a, b| distance(*a).total_cmp(&distance(*b))).unwrap_or(from)
    };
    let one_end = far_from(far_from(0));
    let across = skeleton.ways(&[one_end]);
    let spine = across.to(far_from(one_end));
    let from_spine = skeleton.ways(&spine);
    let reached = (0..skeleton.pixels().len()).filter(|pixel| from_spine.steps[*pixel] != usize::MAX);
    let reached: Vec<(usize, Pixel)> = reached.map(|pixel| (pixel, skeleton.at(pixel))).collect();
    let on_spine: Vec<Pixel> = spine.iter().map(|on| skeleton.at(*on)).collect();
    let third = from_spine.to(farthest(&reached, &on_spine).map_or(one_end, |(_, pixel)| pixel));
    let place = spine.iter().position(|pixel| *pixel == third[0]).unwrap_or(0);
    let mut first = spine[..=place].to_vec();
    first.reverse();
    let ways = [first, spine[place..].to_vec(), third];
    let join = skeleton.at(ways[2][0]);
    let shortest = ways.iter().map(|way| (skeleton.at(way[way.len() - 1]) - join).norm());
    let shortest_mm = shortest.fold(f64::INFINITY, f64::min) / per_mm;
    if shortest_mm < LEAST_LEG_MM {
        return Err(PhotoError::NoLegs { shortest_mm });
    }
    let places = |way: &Vec<usize>| way.iter().map(|pixel| skeleton.at(*pixel)).collect::<Vec<_>>();
    let mut legs =
        Legs { join, legs: ways.each_ref().map(places), beside: [const { Vec::new() }; 3], per_mm };
    legs.beside = beside(line, &ways, &legs);
    Ok(legs)
}

/// Branches beside the legs, their pixels given to the leg in whose direction they lie.
fn beside(line: &Line, ways: &[Vec<usize>; 3], legs: &Legs) -> [Vec<Pixel>; 3] {
    let skeleton = &line.skeleton;
    let all: Vec<usize> = ways.iter().flatten().copied().collect();
    let from_legs = skeleton.ways(&all);
    // In order of their steps, so that the pixel before each is known.
    let branches = |pixel: &usize| !matches!(from_legs.steps[*pixel], 0 | usize::MAX);
    let mut order: Vec<usize> = (0..skeleton.pixels().len()).filter(branches).collect();
    order.sort_by_key(|pixel| from_legs.steps[*pixel]);
    // How far each branch goes, told to its first pixel and from there to all.
    let mut reach = from_legs.steps.clone();
    for pixel in order.iter().rev() {
        let before = from_legs.before[*pixel];
        reach[before] = reach[before].max(reach[*pixel]);
    }
    let directions = legs.ways();
    let mut beside = [const { Vec::new() }; 3];
    for pixel in order {
        let before = from_legs.before[pixel];
        if from_legs.steps[before] > 0 {
            reach[pixel] = reach[before];
        }
        let place = skeleton.at(pixel);
        let from_join = place - legs.join;
        let long = reach[pixel] as f64 >= LEAST_BRANCH_MM * legs.per_mm;
        if long && from_join.norm() >= CLEAR_OF_JOIN_MM * legs.per_mm {
            let along = |leg: &usize| directions[*leg].dot(&from_join);
            let leg = (0..3).max_by(|a, b| along(a).total_cmp(&along(b))).unwrap_or(0);
            beside[leg].push(place);
        }
    }
    beside
}

impl Legs {
    /// Unit vectors from the join along the legs.
    pub(super) fn ways(&self) -> [Pixel; 3] {
        self.legs.each_ref().map(|leg| {
            let within = |pixel: &&Pixel| (*pixel - self.join).norm() <= WAY_MM * self.per_mm;
            let far = leg.iter().rfind(within).unwrap_or(&self.join);
            (far - self.join).try_normalize(0.0).unwrap_or_else(Pixel::x)
        })
    }

    /// Puts the legs into another order.
    pub(super) fn reorder(&mut self, order: [usize; 3]) {
        self.legs = order.map(|leg| std::mem::take(&mut self.legs[leg]));
        self.beside = order.map(|leg| std::mem::take(&mut self.beside[leg]));
    }
}

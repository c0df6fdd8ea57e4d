//! A line thinned to one pixel.

use std::collections::{HashMap, VecDeque};

use image::GrayImage;

/// Pixels of a thinned line, and which are neighbours.
pub(super) struct Skeleton {
    pixels: Vec<(u32, u32)>,
    neighbours: Vec<Vec<usize>>,
}

/// Thins a mask until every line is one pixel wide, its ends and joins kept (Zhang TY, Suen CY,
/// Commun ACM 1984;27:236–239, from memory).
pub(super) fn thinned(mask: &GrayImage) -> Skeleton {
    let (width, height) = (mask.width() as usize, mask.height() as usize);
    // With a border of empty pixels, so that every pixel has eight neighbours.
    let stride = width + 2;
    let mut set = vec![false; stride * (height + 2)];
    let mut live: Vec<usize> = Vec::new();
    for (x, y, pixel) in mask.enumerate_pixels() {
        if pixel.0[0] > 0 {
            let place = (y as usize + 1) * stride + x as usize + 1;
            set[place] = true;
            live.push(place);
        }
    }
    // From the top, clockwise.
    let around = |place: usize| {
        [
            place - stride,
            place - stride + 1,
            place + 1,
            place + stride + 1,
            place + stride,
            place + stride - 1,
            place - 1,
            place - stride - 1,
        ]
    };
    // A pixel's fate hangs on the ring about it: it is looked at again only when that has changed. A blot as wide as the
    // picture would else be gone through once for each of its rings.
    let mut to_see = [live.clone(), live.clone()];
    let mut listed = [set.clone(), set.clone()];
    while !(to_see[0].is_empty() && to_see[1].is_empty()) {
        for second in [false, true] {
            let goes = |place: &usize| {
                let ring = around(*place).map(|neighbour| set[neighbour]);
                let count = ring.iter().filter(|on| **on).count();
                let starts = (0..8).filter(|index| !ring[*index] && ring[(index + 1) % 8]).count();
                let [top, _, right, _, bottom, _, left, _] = ring;
                let side = if second {
                    !(top && left && (right || bottom))
                } else {
                    !(right && bottom && (top || left))
                };
                (2..=6).contains(&count) && starts == 1 && side
            };
            let seen = std::mem::take(&mut to_see[usize::from(second)]);
            seen.iter().for_each(|place| listed[usize::from(second)][*place] = false);
            let gone: Vec<usize> = seen.into_iter().filter(|place| set[*place] && goes(place)).collect();
            gone.iter().for_each(|place| set[*place] = false);
            for near in gone.iter().flat_map(|place| around(*place)).filter(|near| set[*near]) {
                for (to_see, listed) in to_see.iter_mut().zip(&mut listed) {
                    if !std::mem::replace(&mut listed[near], true) {
                        to_see.push(near);
                    }
                }
            }
        }
    }
    live.retain(|place| set[*place]);
    let index: HashMap<usize, usize> =
        live.iter().enumerate().map(|(index, place)| (*place, index)).collect();
    let neighbours =
        live.iter().map(|place| around(*place).iter().filter_map(|near| index.get(near).copied()).collect());
    let pixel = |place: &usize| ((place % stride - 1) as u32, (place / stride - 1) as u32);
    Skeleton { neighbours: neighbours.collect(), pixels: live.iter().map(pixel).collect() }
}

impl Skeleton {
    pub(super) fn pixels(&self) -> &[(u32, u32)] {
        &self.pixels
    }

    /// Middle of a pixel.
    pub(super) fn at(&self, index: usize) -> super::place::Pixel {
        let (x, y) = self.pixels[index];
        super::place::Pixel::new(f64::from(x), f64::from(y))
    }

    /// Length along the pixels: between neighbours 1, or √2 aslant where there is no way round.
    pub(super) fn length(&self) -> f64 {
        let way = |from: usize, to: usize| (self.at(to) - self.at(from)).norm();
        let mut length = 0.0;
        for (from, near) in self.neighbours.iter().enumerate() {
            for to in near.iter().filter(|to| **to > from) {
                let round = |by: &usize| way(from, *by) < 1.1 && way(*by, *to) < 1.1;
                let aslant = way(from, *to) > 1.1;
                if !(aslant && near.iter().any(round)) {
                    length += way(from, *to);
                }
            }
        }
        length.max(1.0)
    }

    /// Steps from the nearest of some pixels to every one, and the pixel before each on the way.
    pub(super) fn ways(&self, starts: &[usize]) -> Ways {
        let mut ways =
            Ways { steps: vec![usize::MAX; self.pixels.len()], before: vec![usize::MAX; self.pixels.len()] };
        let mut queue: VecDeque<usize> = starts.iter().copied().collect();
        for start in starts {
            ways.steps[*start] = 0;
        }
        while let Some(here) = queue.pop_front() {
            for next in &self.neighbours[here] {
                if ways.steps[*next] == usize::MAX {
                    ways.steps[*next] = ways.steps[here] + 1;
                    ways.before[*next] = here;
                    queue.push_back(*next);
                }
            }
        }
        ways
    }
}

/// Ways along a skeleton from where they start.
pub(super) struct Ways {
    /// `usize::MAX` where no way leads.
    pub(super) steps: Vec<usize>,
    pub(super) before: Vec<usize>,
}

impl Ways {
    /// From where it starts to a pixel.
    pub(super) fn to(&self, end: usize) -> Vec<usize> {
        let mut way = vec![end];
        let mut here = end;
        while self.before[here] != usize::MAX {
            here = self.before[here];
            way.push(here);
        }
        way.reverse();
        way
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::Luma;

    #[test]
    fn a_thick_cross_becomes_a_thin_one_of_the_same_reach() {
        let mask = GrayImage::from_fn(41, 41, |x, y| {
            let in_bar = |a: u32, b: u32| (18..=22).contains(&a) && (3..=37).contains(&b);
            Luma([if in_bar(x, y) || in_bar(y, x) { 255 } else { 0 }])
        });
        let skeleton = thinned(&mask);
        let middle = skeleton.pixels().iter().filter(|(x, _)| (19..=21).contains(x)).count();
        assert!((30..=38).contains(&middle), "{middle}");
        assert!(skeleton.length() < 75.0, "{}", skeleton.length());
        let ways = skeleton.ways(&[0]);
        assert!(ways.steps.iter().all(|steps| *steps != usize::MAX), "in one piece");
        assert!((28..=40).contains(ways.steps.iter().max().unwrap()));
    }
}

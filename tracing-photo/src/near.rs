//! Pixels that lie near a place, without going through all of them.

use std::collections::HashMap;

use super::place::Pixel;

/// Pixels in squares as wide as the reach asked for.
pub(super) struct Near<'p> {
    pixels: &'p [Pixel],
    reach: f64,
    squares: HashMap<(i64, i64), Vec<usize>>,
}

impl<'p> Near<'p> {
    /// For places within this reach.
    pub(super) fn of(pixels: &'p [Pixel], reach: f64) -> Self {
        let mut squares: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        for (index, pixel) in pixels.iter().enumerate() {
            squares.entry(square(pixel, reach)).or_default().push(index);
        }
        Self { pixels, reach, squares }
    }

    /// Those within the reach of a place, in their own order.
    pub(super) fn to(&self, place: &Pixel) -> Vec<Pixel> {
        let (column, row) = square(place, self.reach);
        let squares =
            (row - 1..=row + 1).flat_map(|row| (column - 1..=column + 1).map(move |column| (column, row)));
        let mut near: Vec<usize> = squares
            .filter_map(|square| self.squares.get(&square))
            .flatten()
            .copied()
            .filter(|index| (self.pixels[*index] - place).norm() <= self.reach)
            .collect();
        near.sort_unstable();
        near.into_iter().map(|index| self.pixels[index]).collect()
    }
}

#[allow(clippy::cast_possible_truncation)] // of a picture's size
fn square(place: &Pixel, side: f64) -> (i64, i64) {
    ((place.x / side).floor() as i64, (place.y / side).floor() as i64)
}

/// The place that lies farthest from all of some others, and how far from the nearest of them, squared; of several the
/// last. Squares that cannot hold it are passed over.
pub(super) fn farthest(places: &[(usize, Pixel)], others: &[Pixel]) -> Option<(f64, usize)> {
    /// Side of a square of places, in pixels.
    const SQUARE: f64 = 64.0;
    /// Side of a square of others, of which one stands for all.
    const COARSE: f64 = 16.0;
    let nearest = |place: &Pixel, others: &[Pixel]| {
        others.iter().map(|other| (other - place).norm_squared()).fold(f64::INFINITY, f64::min)
    };
    let mut coarse: HashMap<(i64, i64), Pixel> = HashMap::new();
    for other in others {
        coarse.entry(square(other, COARSE)).or_insert(*other);
    }
    // In an order of their own, whatever the map's.
    let mut stand_ins: Vec<Pixel> = coarse.into_values().collect();
    stand_ins.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
    let mut squares: HashMap<(i64, i64), Vec<(usize, Pixel)>> = HashMap::new();
    for place in places {
        squares.entry(square(&place.1, SQUARE)).or_default().push(*place);
    }
    let half_diagonal = SQUARE * std::f64::consts::FRAC_1_SQRT_2;
    let mut bounded: Vec<(f64, Vec<(usize, Pixel)>)> = squares
        .into_iter()
        .map(|((column, row), held)| {
            #[allow(clippy::cast_precision_loss)] // of a picture's size
            let middle = Pixel::new((column as f64 + 0.5) * SQUARE, (row as f64 + 0.5) * SQUARE);
            // What rounding takes is less than a pixel.
            let most = nearest(&middle, &stand_ins).sqrt() + half_diagonal + 1.0;
            (most * most, held)
        })
        .collect();
    bounded.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut best: Option<(f64, usize)> = None;
    for (most, held) in bounded {
        if best.is_some_and(|(distance, _)| most < distance) {
            break;
        }
        for (index, place) in held {
            let distance = nearest(&place, others);
            if best.is_none_or(|best| (distance, index) > best) {
                best = Some((distance, index));
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places that look thrown down.
    fn thrown(count: usize, seed: u64) -> Vec<Pixel> {
        let mut state = seed;
        let mut next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as f64 % 700.0
        };
        (0..count).map(|_| Pixel::new(next(), next())).collect()
    }

    #[test]
    fn near_ones_are_those_that_going_through_all_finds() {
        let pixels = thrown(2000, 1);
        let near = Near::of(&pixels, 23.5);
        for place in thrown(50, 2) {
            let wanted: Vec<Pixel> =
                pixels.iter().filter(|pixel| (*pixel - place).norm() <= 23.5).copied().collect();
            assert_eq!(near.to(&place), wanted);
        }
    }

    #[test]
    fn the_farthest_is_the_one_that_going_through_all_finds() {
        for seed in 0..20 {
            let places: Vec<(usize, Pixel)> = thrown(800, seed).into_iter().enumerate().collect();
            let others = thrown(30, 100 + seed);
            let distance = |place: &Pixel| {
                others.iter().map(|other| (other - place).norm_squared()).fold(f64::INFINITY, f64::min)
            };
            let wanted = places.iter().map(|(index, place)| (distance(place), *index));
            let wanted = wanted.max_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            assert_eq!(farthest(&places, &others), wanted);
        }
        assert_eq!(farthest(&[], &thrown(3, 1)), None);
    }
}

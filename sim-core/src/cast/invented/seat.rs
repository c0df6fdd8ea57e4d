//! Even contact: the greatest smooth layer that fits into the gap between two surfaces.

use std::ops::Range;

use super::stations::Stations;

/// How sharply the layer may bend at first, per millimetre: gently, and more so the flatter the cusps,
/// so that the crowns keep their form.
const FLAT_BEND: f64 = 0.002;
const BEND_FOR_INCLINE: f64 = 0.05;
/// How much more where a tooth would not touch.
const MORE_BEND: f64 = 1.5;
/// With so many increases the layer follows any gap, and everything touches.
const MOST_TRIES: usize = 60;
/// What is left of the gap where the layer fills it.
const FILLED_MM: f64 = 1e-12;

/// A layer nowhere thicker than the gap, and as thick as the gap somewhere in each of the ranges of
/// stations.
///
/// The layer at a point is the least, over all points, of the gap there plus bend times distance
/// squared: under the gap by its own point, smooth, and touching wherever the gap has a minimum
/// narrower than the bend. Distances are taken along the arch first and then across it, which keeps
/// both properties.
pub(super) fn layer(
    gap: &[Vec<f64>],
    stations: &Stations,
    incline: f64,
    touching: &[Range<usize>],
) -> Vec<Vec<f64>> {
    let mut bend = FLAT_BEND + BEND_FOR_INCLINE * incline;
    for _ in 0..MOST_TRIES {
        let layer = fitted(gap, stations, bend);
        let touches = |station: usize| {
            gap[station].iter().zip(&layer[station]).any(|(gap, layer)| gap - layer <= FILLED_MM)
        };
        if touching.iter().all(|range| range.clone().any(touches)) {
            return layer;
        }
        bend *= MORE_BEND;
    }
    gap.to_vec()
}

fn fitted(gap: &[Vec<f64>], stations: &Stations, bend: f64) -> Vec<Vec<f64>> {
    let count = stations.along.len();
    let width = gap[0].len();
    let mut layer = gap.to_vec();
    // Both sides of the arch, so that the layer crosses the midline smoothly.
    let along: Vec<f64> =
        stations.along[1..].iter().rev().map(|along| -along).chain(stations.along.iter().copied()).collect();
    let mut lower = Envelope::default();
    let mut row = vec![0.0; along.len()];
    for grid in 0..width {
        for station in 0..count {
            let value = gap[station][grid];
            row[count - 1 + station] = value;
            row[count - 1 - station] = value;
        }
        lower.under(&along, &mut row, bend);
        for station in 0..count {
            layer[station][grid] = row[count - 1 + station];
        }
    }
    let first = stations.shared()[0];
    for (layer, outward) in layer.iter_mut().zip(&stations.outward) {
        lower.under(&outward[first..first + width], layer, bend);
    }
    layer
}

/// The lower envelope of parabolas, in one pass over them and one over the points.
#[derive(Default)]
struct Envelope {
    /// Which parabolas take part, and from where on each is the lowest.
    parts: Vec<(usize, f64)>,
}

impl Envelope {
    /// Puts min over j of values\[j\] + bend·(x\[i\] − x\[j\])² in the place of each value; x rises.
    fn under(&mut self, x: &[f64], values: &mut [f64], bend: f64) {
        self.parts.clear();
        for index in 0..x.len() {
            let mut from = f64::NEG_INFINITY;
            while let Some(&(before, start)) = self.parts.last() {
                let rise = (values[index] - values[before]) / (bend * (x[index] - x[before]));
                let crossing = (rise + x[index] + x[before]) / 2.0;
                if crossing > start {
                    from = crossing;
                    break;
                }
                self.parts.pop();
            }
            self.parts.push((index, from));
        }
        let given = values.to_vec();
        let mut part = 0;
        for (index, value) in values.iter_mut().enumerate() {
            while self.parts.get(part + 1).is_some_and(|&(_, from)| from < x[index]) {
                part += 1;
            }
            let source = self.parts[part].0;
            let apart = x[index] - x[source];
            *value = (given[source] + bend * apart * apart).min(given[index]);
        }
    }
}

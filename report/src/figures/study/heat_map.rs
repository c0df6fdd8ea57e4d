//! A measure over two factors: darker is more, so that grey prints tell it too.

use sim_core::study::statistics::{Axis as Cut, HeatMap};

use super::axis::{Axis, as_given, three_digits, widest, width};
use super::layout::{EDGE, Heading, Quantity, TEXT, WIDTH, figure as whole, wrapped};
use crate::figures::colour::{BLACK, PALE};
use crate::figures::figure::Figure;
use crate::figures::svg::{Anchor, At, Stroke, Svg};

/// Left of the map at least.
const LEFT: f64 = 40.0;
const BAR: f64 = 18.0;
const HEIGHT: f64 = 330.0;
/// Steps of the bar; more cannot be told apart.
const STEPS: usize = 64;
/// Cells above this across or up have no number written in them.
const WRITTEN: usize = 12;

/// Distances of levels that differ by no more than this part are equal but for rounding.
const EVEN: f64 = 1e-6;

/// The scale from least to most: nearly white, over the blue of the lines, to nearly black. Lightness
/// falls all the way, which every kind of colour vision sees.
const SCALE: [[f64; 3]; 4] =
    [[244.0, 248.0, 252.0], [127.0, 178.0, 216.0], [0.0, 96.0, 168.0], [4.0, 24.0, 52.0]];

/// Draws it.
pub fn figure(of: &Quantity, across: &Quantity, up: &Quantity, map: &HeatMap) -> Figure {
    let under = "Mean of all rows in each cell. Hatched: no value there.";
    let heading = Heading::new(&format!("Over two factors: {}", of.words), under);
    let names_up = wrapped(&up.label(), WIDTH - LEFT - EDGE, TEXT, false);
    let names_across = wrapped(&across.label(), WIDTH - LEFT - EDGE, TEXT, false);
    let top = heading.height() + 8.0 + names_up.len() as f64 * super::layout::LINE;
    let height = top + HEIGHT + 22.0 + names_across.len() as f64 * super::layout::LINE + 6.0;
    let mut svg = Svg::new(WIDTH, height);
    heading.draw(&mut svg);
    let bottom = top + HEIGHT;
    let rows = Cells { cut: &map.up, from: bottom, to: top, apart: 18.0, across: false };
    let means: Vec<f64> = map.cells.iter().map(|cell| cell.mean()).collect();
    let bar = Axis::over(means.iter().copied(), (bottom, top), 40.0);
    let left = LEFT.max(widest(&rows.written()) + 14.0);
    let right = WIDTH - EDGE - widest(&bar.ticks()) - BAR - 28.0;
    super::layout::lines(&mut svg, (left, heading.height() + 8.0), false, Anchor::Start, &names_up);
    let columns = Cells { cut: &map.across, from: left, to: right, apart: 44.0, across: true };
    let part = |mean: f64| {
        let (low, high) = bar.ends();
        (mean - low) / (high - low)
    };
    let count = map.across.cells();
    let numbered = count <= WRITTEN && map.up.cells() <= WRITTEN;
    for (index, mean) in means.iter().enumerate() {
        let (x, y) = (columns.of(index % count.max(1)), rows.of(index / count.max(1)));
        let (corner, size): (At, At) = ((x.0, y.1), (x.1 - x.0, y.0 - y.1));
        if mean.is_nan() {
            svg.line((corner.0, corner.1 + size.1), (corner.0 + size.0, corner.1), Stroke::new(PALE, 0.8));
            continue;
        }
        // A hair wider, so that no white shows between cells.
        svg.block(corner, (size.0 + 0.6, size.1 + 0.6), &colour(part(*mean)));
        if numbered {
            let middle = (corner.0 + size.0 / 2.0, corner.1 + size.1 / 2.0 + 3.5);
            svg.words(middle, 9.5, false, Anchor::Middle, &three_digits(*mean));
        }
    }
    svg.frame((left, top), (right - left, HEIGHT), Stroke::new(BLACK, 0.9));
    for (y, words) in rows.written() {
        svg.line((left - 4.0, y), (left, y), Stroke::new(BLACK, 0.9));
        svg.words((left - 7.0, y + 3.5), 9.5, false, Anchor::End, &words);
    }
    for (x, words) in columns.written() {
        svg.line((x, bottom), (x, bottom + 4.0), Stroke::new(BLACK, 0.9));
        svg.words((x, bottom + 15.0), 9.5, false, Anchor::Middle, &words);
    }
    super::layout::lines(&mut svg, (left, bottom + 31.0), false, Anchor::Start, &names_across);
    draw_bar(&mut svg, &bar, (right + 18.0, top), of.unit);
    whole(svg, height)
}

/// The bar that tells what a colour means.
fn draw_bar(svg: &mut Svg, bar: &Axis, corner: At, unit: &str) {
    let step = HEIGHT / STEPS as f64;
    for index in 0..STEPS {
        let part = (index as f64 + 0.5) / STEPS as f64;
        let y = corner.1 + HEIGHT - (index as f64 + 1.0) * step;
        svg.block((corner.0, y), (BAR, step + 0.6), &colour(part));
    }
    svg.frame(corner, (BAR, HEIGHT), Stroke::new(BLACK, 0.9));
    for (value, words) in bar.ticks() {
        let y = bar.at(value);
        svg.line((corner.0 + BAR, y), (corner.0 + BAR + 4.0, y), Stroke::new(BLACK, 0.9));
        svg.words((corner.0 + BAR + 7.0, y + 3.5), 9.5, false, Anchor::Start, &words);
    }
    svg.words((corner.0, corner.1 - 7.0), TEXT, false, Anchor::Start, unit);
}

/// Cells along one side of the map.
struct Cells<'m> {
    cut: &'m Cut,
    from: f64,
    to: f64,
    /// Distance that two numbers keep at least.
    apart: f64,
    /// Whether numbers stand beside each other.
    across: bool,
}

impl Cells<'_> {
    fn place(&self, part: f64) -> f64 {
        self.from + (self.to - self.from) * part / self.cut.cells().max(1) as f64
    }

    /// Where a cell begins and ends.
    fn of(&self, cell: usize) -> At {
        (self.place(cell as f64), self.place(cell as f64 + 1.0))
    }

    /// The round ones among many levels at equal distances.
    fn rounded(&self, levels: &[f64]) -> Option<Vec<(f64, String)>> {
        let [first, second, .., last] = *levels else { return None };
        let step = second - first;
        let even = levels.windows(2).all(|pair| (pair[1] - pair[0] - step).abs() < EVEN * step);
        if !even || levels.len() <= WRITTEN {
            return None;
        }
        let axis = Axis::over([first, last], (self.from, self.to), self.apart).without_room();
        let axis = if self.across { axis.across() } else { axis };
        let is_level = |value: f64| ((value - first) / step - ((value - first) / step).round()).abs() < EVEN;
        let ticks: Vec<(f64, String)> =
            axis.ticks().into_iter().filter(|(value, _)| is_level(*value)).collect();
        let at = |value: f64| self.place((value - first) / step + 0.5);
        (ticks.len() > 1).then(|| ticks.into_iter().map(|(value, words)| (at(value), words)).collect())
    }

    /// Places with the numbers written there: the middles of levels, some left out where they would
    /// run into each other, or round numbers along edges.
    fn written(&self) -> Vec<(f64, String)> {
        let levels = match self.cut {
            Cut::Levels(levels) => levels,
            Cut::Edges(edges) => {
                let axis = Axis::over(edges.iter().copied(), (self.from, self.to), self.apart).without_room();
                let axis = if self.across { axis.across() } else { axis };
                return axis.ticks().into_iter().map(|(value, words)| (axis.at(value), words)).collect();
            }
        };
        if let Some(rounded) = self.rounded(levels) {
            return rounded;
        }
        let cell = (self.to - self.from).abs() / self.cut.cells().max(1) as f64;
        let longest = levels.iter().map(|level| width(&as_given(*level))).fold(0.0, f64::max);
        let apart = if self.across { self.apart.max(longest + 8.0) } else { self.apart };
        let every = (apart / cell).ceil().max(1.0) as usize;
        let all = levels.iter().enumerate().step_by(every);
        all.map(|(index, level)| (self.place(index as f64 + 0.5), as_given(*level))).collect()
    }
}

/// A colour of the scale, from 0 to 1.
fn colour(part: f64) -> String {
    let at = part.clamp(0.0, 1.0) * (SCALE.len() - 1) as f64;
    let below = (at.floor() as usize).min(SCALE.len() - 2);
    let between = at - below as f64;
    let channel = |index: usize| {
        let (low, high) = (SCALE[below][index], SCALE[below + 1][index]);
        (low + (high - low) * between).round() as u8
    };
    format!("#{:02x}{:02x}{:02x}", channel(0), channel(1), channel(2))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lightness as printed in grey (weights of ITU-R BT.601).
    fn grey(colour: &str) -> f64 {
        let channel = |from: usize| f64::from(u8::from_str_radix(&colour[from..from + 2], 16).unwrap());
        0.299 * channel(1) + 0.587 * channel(3) + 0.114 * channel(5)
    }

    #[test]
    fn more_is_darker_all_the_way() {
        let greys: Vec<f64> = (0..=20).map(|step| grey(&colour(f64::from(step) / 20.0))).collect();
        assert!(greys.windows(2).all(|pair| pair[0] > pair[1] + 4.0), "{greys:?}");
    }
}

//! A measure over two factors: darker is more, so that grey prints tell it too.

use sim_core::study::statistics::{Axis as Cut, HeatMap};

use super::axis::{Axis, as_given, three_digits, widest, width};
use super::contour;
use super::layout::{EDGE, Heading, LINE, Quantity, TEXT, lines, wrapped};
use crate::figures::colour::{BLACK, PALE, WHITE};
use crate::figures::figure::Figure;
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, At, Stroke, Svg};
use words::number::whole;

/// Left of the map at least.
const LEFT: f64 = 40.0;
const BAR: f64 = 18.0;
const HEIGHT: f64 = 330.0;
/// Steps of the bar; more cannot be told apart.
const STEPS: usize = 64;
/// Cells above this across or up have no number written in them.
const WRITTEN: usize = 12;
/// Nor have those that are narrower or lower.
const WRITTEN_SIZE: At = (38.0, 14.0);
/// Room for a piece of a line before its name.
const KEY: f64 = 34.0;
/// The line of clearance 0: white under black, to be seen on every colour.
const ZERO: [Stroke; 2] = [Stroke::new(WHITE, 4.2), Stroke::new(BLACK, 2.0)];

/// Distances of levels that differ by no more than this part are equal but for rounding.
const EVEN: f64 = 1e-6;

/// The scale from least to most: nearly white, over the blue of the lines, to nearly black. Lightness
/// falls all the way, which every kind of colour vision sees.
const SCALE: [[f64; 3]; 4] =
    [[244.0, 248.0, 252.0], [127.0, 178.0, 216.0], [0.0, 96.0, 168.0], [4.0, 24.0, 52.0]];

/// Draws it. `by_values`: a cell is a value of each factor, and not a stretch of them.
pub fn figure(
    of: &Quantity,
    across: &Quantity,
    up: &Quantity,
    map: &HeatMap,
    by_values: bool,
    print: &Print,
) -> Figure {
    let heading =
        Heading::new(&format!("Over two factors: {}", of.words), &explained(of, map, by_values), print);
    let page = heading.page;
    let names_up = up.label(page - LEFT - EDGE - 60.0);
    let names_across = across.label(page - LEFT - EDGE);
    let means: Vec<f64> = map.cells.iter().map(|cell| cell.mean()).collect();
    let key = if of.is_clearance { told_of_zero(&means) } else { "" };
    let keys = if key.is_empty() { Vec::new() } else { wrapped(key, page - LEFT - EDGE - KEY, TEXT, false) };
    let top = heading.height() + 8.0 + names_up.len() as f64 * LINE;
    let bottom = top + HEIGHT;
    let below = bottom + 31.0 + names_across.len() as f64 * LINE;
    let height = below + keys.len() as f64 * LINE - 3.0;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    let rows = Cells { cut: &map.up, from: bottom, to: top, apart: 18.0, across: false };
    let bar = Axis::over(means.iter().copied(), (bottom, top), 40.0);
    let left = LEFT.max(widest(&rows.written()) + 14.0);
    let right = page - EDGE - widest(&bar.ticks()) - BAR - 28.0;
    lines(&mut svg, (left, heading.height() + 8.0), false, Anchor::Start, &names_up);
    let columns = Cells { cut: &map.across, from: left, to: right, apart: 44.0, across: true };
    draw_cells(&mut svg, (&columns, &rows), &means, &bar);
    let mut zero = Vec::new();
    if of.is_clearance {
        let (xs, ys) = (columns.middles(&map.across_at), rows.middles(&map.up_at));
        zero = contour::zero(&xs, &ys, &padded(&means, map.across.cells()));
        for stroke in ZERO {
            zero.iter().for_each(|(from, to)| svg.path([*from, *to], stroke));
        }
    }
    write_numbers(&mut svg, (&columns, &rows), &means);
    svg.frame((left, top), (right - left, HEIGHT), Stroke::new(BLACK, 0.9));
    for (y, words) in rows.written() {
        svg.line((left - 4.0, y), (left, y), Stroke::new(BLACK, 0.9));
        svg.words((left - 7.0, y + 3.5), 9.5, false, Anchor::End, &words);
    }
    for (x, words) in columns.written() {
        svg.line((x, bottom), (x, bottom + 4.0), Stroke::new(BLACK, 0.9));
        svg.words((x, bottom + 15.0), 9.5, false, Anchor::Middle, &words);
    }
    lines(&mut svg, (left, bottom + 31.0), false, Anchor::Start, &names_across);
    // A piece of the line stands before its name where there is one.
    let indent = if zero.is_empty() { 0.0 } else { KEY };
    if !zero.is_empty() {
        ZERO.into_iter().for_each(|stroke| svg.line((left, below - 3.5), (left + 26.0, below - 3.5), stroke));
    }
    lines(&mut svg, (left + indent, below), false, Anchor::Start, &keys);
    draw_bar(&mut svg, &bar, (right + 18.0, top), of.unit);
    heading.figure(svg, height)
}

/// What stands under the figure in words.
fn explained(of: &Quantity, map: &HeatMap, by_values: bool) -> String {
    let counts = || map.cells.iter().map(|cell| cell.count()).filter(|count| *count > 0);
    let (least, most) = (counts().min().unwrap_or_default(), counts().max().unwrap_or_default());
    let rows = if least == most { whole(least) } else { format!("{} to {}", whole(least), whole(most)) };
    let cells = if by_values { "" } else { " Cells are cut at equal shares of each factor’s values." };
    let line = if of.is_clearance {
        " Line: mean clearance 0; below it the cusp interferes on the average."
    } else {
        ""
    };
    format!("Mean of all rows in each cell, n = {rows}.{cells}{line} Hatched: no value there.")
}

/// Of means of a clearance, on which side of zero they lie; empty where some of them lie on each.
fn told_of_zero(means: &[f64]) -> &'static str {
    let known = || means.iter().filter(|mean| !mean.is_nan());
    match (known().any(|mean| *mean < 0.0), known().any(|mean| *mean >= 0.0)) {
        (true, true) => "mean clearance 0; below 0: interference",
        (true, false) => "mean clearance 0 is nowhere reached: all means lie below it (interference)",
        (false, true) => "mean clearance 0 is nowhere reached: all means lie above it",
        (false, false) => "",
    }
}

/// Values with those at the border once more around them, so that the line goes on to the edge of the map.
fn padded(values: &[f64], columns: usize) -> Vec<f64> {
    let wider = |row: &[f64]| -> Vec<f64> {
        let ends = |end: Option<&f64>| end.copied();
        ends(row.first()).into_iter().chain(row.iter().copied()).chain(ends(row.last())).collect()
    };
    let rows: Vec<Vec<f64>> = values.chunks(columns.max(1)).map(wider).collect();
    let (first, last) = (rows.first().cloned(), rows.last().cloned());
    first.into_iter().chain(rows).chain(last).flatten().collect()
}

fn draw_cells(svg: &mut Svg, (columns, rows): (&Cells<'_>, &Cells<'_>), means: &[f64], bar: &Axis) {
    let part = |mean: f64| {
        let (low, high) = bar.ends();
        (mean - low) / (high - low)
    };
    let count = columns.cut.cells().max(1);
    for (index, mean) in means.iter().enumerate() {
        let (x, y) = (columns.of(index % count), rows.of(index / count));
        let (corner, size): (At, At) = ((x.0, y.1), (x.1 - x.0, y.0 - y.1));
        if mean.is_nan() {
            svg.line((corner.0, corner.1 + size.1), (corner.0 + size.0, corner.1), Stroke::new(PALE, 0.8));
        } else {
            // A hair wider, so that no white shows between cells.
            svg.block(corner, (size.0 + 0.6, size.1 + 0.6), &colour(part(*mean)));
        }
    }
}

/// The numbers in the cells, where all of them find room.
fn write_numbers(svg: &mut Svg, (columns, rows): (&Cells<'_>, &Cells<'_>), means: &[f64]) {
    let (across, up) = (columns.cut.cells().max(1), rows.cut.cells());
    let wide = (0..across).map(|cell| columns.of(cell)).all(|x| x.1 - x.0 >= WRITTEN_SIZE.0);
    let high = (0..up).map(|cell| rows.of(cell)).all(|y| y.0 - y.1 >= WRITTEN_SIZE.1);
    if across > WRITTEN || up > WRITTEN || !wide || !high {
        return;
    }
    for (index, mean) in means.iter().enumerate().filter(|(_, mean)| !mean.is_nan()) {
        let (x, y) = (columns.of(index % across), rows.of(index / across));
        let middle = ((x.0 + x.1) / 2.0, (y.0 + y.1) / 2.0 + 3.5);
        svg.words(middle, 9.5, false, Anchor::Middle, &three_digits(*mean));
    }
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

    /// Where a cell begins and ends: levels are as wide as each other, stretches as they are.
    fn of(&self, cell: usize) -> At {
        match self.cut {
            Cut::Levels(_) => (self.place(cell as f64), self.place(cell as f64 + 1.0)),
            Cut::Edges(edges) => {
                let axis = self.axis(edges);
                let at = |edge: usize| edges.get(edge).map_or(self.to, |edge| axis.at(*edge));
                (at(cell), at(cell + 1))
            }
        }
    }

    fn axis(&self, edges: &[f64]) -> Axis {
        let axis = Axis::over(edges.iter().copied(), (self.from, self.to), self.apart).without_room();
        if self.across { axis.across() } else { axis }
    }

    /// Where the factor's means in the cells are, and the ends of the map around them.
    fn middles(&self, means: &[f64]) -> Vec<f64> {
        let of = |(cell, mean): (usize, &f64)| match self.cut {
            Cut::Edges(edges) if !mean.is_nan() => self.axis(edges).at(*mean),
            _ => self.place(cell as f64 + 0.5),
        };
        std::iter::once(self.from).chain(means.iter().enumerate().map(of)).chain([self.to]).collect()
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
                let axis = self.axis(edges);
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

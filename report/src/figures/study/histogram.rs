//! How often a measure lies where.

use sim_core::study::statistics::Histogram;

use super::axis::{Axis, widest};
use super::layout::{EDGE, Heading, LINE, Quantity, TEXT, capital, lines, scale_below, wrapped};
use crate::figures::colour::{BLACK, MIDDLE_BLUE, PALE};
use crate::figures::figure::Figure;
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, Stroke, Svg};
use words::number::{decimals, whole as whole_number};

/// Left of the panel at least.
const LEFT: f64 = 40.0;
const HEIGHT: f64 = 200.0;
/// Zero is drawn where it is no farther from the values than they are from each other, times this.
const NEAR_ZERO: f64 = 1.0;

/// How many of the rows have a clearance below zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BelowZero {
    /// Rows below it.
    pub rows: u64,
    /// Rows with a value.
    pub of: u64,
    /// Where the share lies with 95 %, where that is known.
    pub interval: Option<(f64, f64)>,
}

impl BelowZero {
    /// `P(clearance < 0) = 12.6 % (95 %: 10.7 to 14.8 %), 131 of 1,040 rows`.
    fn told(&self) -> String {
        #[allow(clippy::cast_precision_loss)] // counts are below 2^53
        let share = self.rows as f64 / self.of as f64;
        let interval = self.interval.map_or_else(String::new, |(low, high)| {
            format!(" (95 %: {} to {} %)", decimals(100.0 * low, 1), decimals(100.0 * high, 1))
        });
        let rows = format!("{} of {} rows", whole_number(self.rows), whole_number(self.of));
        format!("P(clearance < 0) = {} %{interval}, {rows}", decimals(100.0 * share, 1))
    }
}

/// Draws it; quantiles are at 0.05, 0.25, 0.5, 0.75 and 0.95. Of a clearance it is told how often it is below zero.
pub fn figure(
    of: &Quantity,
    histogram: &Histogram,
    quantiles: &[f64; 5],
    below_zero: Option<&BelowZero>,
    print: &Print,
) -> Figure {
    let count: u64 = histogram.counts.iter().sum();
    let (least, greatest) = ends(&histogram.edges);
    let far = (least.max(-greatest)).max(0.0);
    let zero_drawn = below_zero.is_some() && far <= NEAR_ZERO * (greatest - least);
    let heading = Heading::new(&capital(&of.words), &explained(count, histogram.missing, zero_drawn), print);
    let page = heading.page;
    let told = below_zero.map(BelowZero::told).map(|told| wrapped(&told, page - LEFT - EDGE, TEXT, false));
    let told = told.unwrap_or_default();
    let label = of.label(page - LEFT - EDGE);
    let top = heading.height() + 18.0 + told.len() as f64 * LINE;
    let height = top + HEIGHT + 30.0 + label.len() as f64 * LINE - 5.0;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    let most = histogram.counts.iter().max().copied().unwrap_or_default();
    #[allow(clippy::cast_precision_loss)] // counts are below 2^53
    let up = Axis::over([0.0, most as f64], (top + HEIGHT, top), 40.0).standing_on_zero();
    let left = LEFT.max(widest(&up.ticks()) + 14.0);
    let with_zero = histogram.edges.iter().copied().chain(zero_drawn.then_some(0.0));
    let across = Axis::over(with_zero, (left, page - EDGE), 55.0);
    for (value, words) in up.ticks() {
        let y = up.at(value);
        svg.line((left, y), (page - EDGE, y), Stroke::new(PALE, 0.7));
        svg.words((left - 6.0, y + 3.5), 9.5, false, Anchor::End, &words);
    }
    scale_below(&mut svg, &across, (top, HEIGHT), page);
    // Many thin bars would be all edge.
    let edged = histogram.counts.len() <= 80;
    for (edges, count) in histogram.edges.windows(2).zip(&histogram.counts) {
        let (from, to) = (across.at(edges[0]), across.at(edges[1]));
        #[allow(clippy::cast_precision_loss)]
        let y = up.at(*count as f64);
        let (corner, size) = ((from, y), (to - from, top + HEIGHT - y));
        svg.block(corner, size, MIDDLE_BLUE);
        if edged && *count > 0 {
            svg.frame(corner, size, Stroke::new(BLACK, 0.5));
        }
    }
    let [low, .., high] = *quantiles;
    for (at, dashes) in [(low, "1.5 3"), (quantiles[2], "6 3"), (high, "1.5 3")] {
        if at.is_finite() {
            let x = across.at(at);
            svg.line((x, top), (x, top + HEIGHT), Stroke::new(BLACK, 1.4).dashed(dashes));
        }
    }
    if zero_drawn {
        let x = across.at(0.0);
        svg.line((x, top), (x, top + HEIGHT), Stroke::new(BLACK, 2.4));
    }
    svg.frame((left, top), (page - EDGE - left, HEIGHT), Stroke::new(BLACK, 0.9));
    lines(&mut svg, (left, heading.height() + 11.0), false, Anchor::Start, &told);
    svg.words((left, top - 7.0), TEXT, false, Anchor::Start, "rows in each bin");
    lines(&mut svg, (left, top + HEIGHT + 30.0), false, Anchor::Start, &label);
    heading.figure(svg, height)
}

fn ends(edges: &[f64]) -> (f64, f64) {
    let least = edges.first().copied().unwrap_or_default();
    (least, edges.last().copied().unwrap_or_default())
}

fn explained(count: u64, missing: u64, zero: bool) -> String {
    let left_out = match missing {
        0 => String::new(),
        missing => format!("; {} without a value are left out", whole_number(missing)),
    };
    let zero = if zero { "; whole: 0, and left of it interference" } else { "" };
    format!("{} rows{left_out}. Dashed: median; dotted: 5 % and 95 %{zero}.", whole_number(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(edges: [f64; 3]) -> String {
        let of = Quantity { words: "c".into(), what: "c".into(), unit: "mm", is_clearance: true };
        let histogram = Histogram { edges: edges.to_vec(), counts: vec![30, 70], missing: 0 };
        let below = BelowZero { rows: 30, of: 100, interval: Some((0.219, 0.3958)) };
        figure(
            &of,
            &histogram,
            &[edges[0], edges[1], edges[1], edges[1], edges[2]],
            Some(&below),
            &Print::USUAL,
        )
        .svg
    }

    #[test]
    fn zero_is_marked_where_it_is_near_and_its_share_is_told_wherever_it_is() {
        for (edges, is_drawn) in
            [([-1.0, 0.0, 2.0], true), ([0.5, 1.0, 2.0], true), ([20.0, 21.0, 22.0], false)]
        {
            let svg = drawn(edges);
            assert!(
                svg.contains("P(clearance &lt; 0) = 30.0 % (95 %: 21.9 to 39.6 %), 30 of 100 rows"),
                "{svg}"
            );
            assert_eq!(svg.contains("stroke-width=\"2.4\""), is_drawn, "{edges:?}");
        }
    }
}

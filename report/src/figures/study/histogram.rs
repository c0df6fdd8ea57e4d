//! How often a measure lies where.

use sim_core::study::statistics::Histogram;

use super::axis::{Axis, widest};
use super::layout::{EDGE, Heading, Quantity, TEXT, WIDTH, capital, figure as whole, scale_below};
use crate::figures::colour::{BLACK, MIDDLE_BLUE, PALE};
use crate::figures::figure::Figure;
use crate::figures::svg::{Anchor, Stroke, Svg};
use words::number::whole as whole_number;

/// Left of the panel at least.
const LEFT: f64 = 40.0;
const HEIGHT: f64 = 200.0;

/// Draws it; quantiles are at 0.05, 0.25, 0.5, 0.75 and 0.95.
pub fn figure(of: &Quantity, histogram: &Histogram, quantiles: &[f64; 5]) -> Figure {
    let count: u64 = histogram.counts.iter().sum();
    let under = match histogram.missing {
        0 => format!("{} rows. Dashed: median; dotted: 5 % and 95 %.", whole_number(count)),
        missing => format!(
            "{} rows; {} without a value are left out. Dashed: median; dotted: 5 % and 95 %.",
            whole_number(count),
            whole_number(missing)
        ),
    };
    let heading = Heading::new(&capital(&of.words), &under);
    let top = heading.height() + 18.0;
    let height = top + HEIGHT + 38.0;
    let mut svg = Svg::new(WIDTH, height);
    heading.draw(&mut svg);
    let most = histogram.counts.iter().max().copied().unwrap_or_default();
    #[allow(clippy::cast_precision_loss)] // counts are below 2^53
    let up = Axis::over([0.0, most as f64], (top + HEIGHT, top), 40.0).standing_on_zero();
    let left = LEFT.max(widest(&up.ticks()) + 14.0);
    let across = Axis::over(histogram.edges.iter().copied(), (left, WIDTH - EDGE), 55.0);
    for (value, words) in up.ticks() {
        let y = up.at(value);
        svg.line((left, y), (WIDTH - EDGE, y), Stroke::new(PALE, 0.7));
        svg.words((left - 6.0, y + 3.5), 9.5, false, Anchor::End, &words);
    }
    scale_below(&mut svg, &across, top, HEIGHT);
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
    svg.frame((left, top), (WIDTH - EDGE - left, HEIGHT), Stroke::new(BLACK, 0.9));
    svg.words((left, top - 7.0), TEXT, false, Anchor::Start, "rows in each bin");
    svg.words((left, top + HEIGHT + 30.0), TEXT, false, Anchor::Start, &of.label());
    whole(svg, height)
}

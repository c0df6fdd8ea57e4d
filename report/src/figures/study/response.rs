//! A measure against each of several factors, with bands over all that the others do.

use sim_core::study::statistics::ResponseBin;

use super::axis::{Axis, widest};
use super::layout::{EDGE, Heading, LINE, Quantity, capital, lines, scale_below};
use crate::figures::colour::{BLACK, MIDDLE_BLUE, PALE, PALE_BLUE};
use crate::figures::figure::Figure;
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, At, Stroke, Svg};
use words::number::whole;

/// Left of the panels at least.
const LEFT: f64 = 40.0;
/// Between panels, across.
const GAP: f64 = 18.0;
/// Between two numbers up the side.
const UP_APART: f64 = 32.0;
const MOST_ACROSS: usize = 3;
/// A panel is no narrower where fewer can stand beside each other.
const NARROWEST: f64 = 170.0;
/// A curve with no more points has a dot on each.
const DOTTED: usize = 60;

/// The measure against one factor.
pub struct Curve {
    /// The factor.
    pub factor: Quantity,
    /// The measure over it, from its least value to its greatest.
    pub bins: Vec<ResponseBin>,
}

impl Curve {
    /// What stands under it: the factor, and how many rows each point of the curve is of.
    fn told(&self, width: f64, alone: bool) -> Vec<String> {
        let mut lines = self.factor.label(width);
        let counts = || self.bins.iter().map(|bin| bin.output.count());
        if let (false, Some(least), Some(most)) = (alone, counts().min(), counts().max()) {
            let bins = match self.bins.len() {
                1 => "1 bin".to_owned(),
                bins => format!("{bins} bins"),
            };
            let rows =
                if least == most { whole(least) } else { format!("{} to {}", whole(least), whole(most)) };
            lines.push(format!("{bins}, n = {rows}"));
        }
        lines
    }
}

/// Draws the curves, all to the same scale.
pub fn figure(of: &Quantity, curves: &[Curve], alone: bool, print: &Print) -> Figure {
    let under = if alone {
        "The factor varies alone.".to_owned()
    } else {
        "Line: median over all that the other factors do. Dark band: the middle half; pale band: 5 % to 95 %. \
         n: rows in each bin."
            .to_owned()
    };
    let heading = Heading::new(&capital(&of.words), &under, print);
    let page = heading.page;
    let fitting = ((page - LEFT - EDGE) / (NARROWEST + GAP)) as usize;
    let across = curves.len().clamp(1, MOST_ACROSS.min(fitting.max(1)));
    let panel_height = if across == 1 { 230.0 } else { 130.0 };
    let all: Vec<f64> = curves.iter().flat_map(|curve| &curve.bins).flat_map(|bin| bin.quantiles).collect();
    let numbers = Axis::over(all.iter().copied(), (panel_height, 0.0), UP_APART).ticks();
    let left = LEFT.max(widest(&numbers) + 14.0);
    let width = (page - left - EDGE - GAP * (across as f64 - 1.0)) / across as f64;
    let names: Vec<Vec<String>> = curves.iter().map(|curve| curve.told(width, alone)).collect();
    let names_below = names.iter().map(Vec::len).max().unwrap_or_default();
    let row_height = panel_height + 24.0 + names_below as f64 * LINE + 8.0;
    let label = of.label(page - left - EDGE);
    let top = heading.height() + 5.0 + label.len() as f64 * LINE;
    let height = top + curves.len().div_ceil(across) as f64 * row_height;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    lines(&mut svg, (left, heading.height() + 11.0), false, Anchor::Start, &label);
    for (index, (curve, name)) in curves.iter().zip(&names).enumerate() {
        let corner =
            (left + (index % across) as f64 * (width + GAP), top + (index / across) as f64 * row_height);
        let up = Axis::over(all.iter().copied(), (corner.1 + panel_height, corner.1), UP_APART);
        panel(&mut svg, corner, (width, panel_height), (&up, index % across == 0), curve, page);
        let at = (corner.0, corner.1 + panel_height + 28.0);
        lines(&mut svg, at, false, Anchor::Start, name);
    }
    heading.figure(svg, height)
}

fn panel(svg: &mut Svg, corner: At, size: At, (up, numbered): (&Axis, bool), curve: &Curve, page: f64) {
    let ends = curve.bins.iter().map(|bin| bin.at);
    let across = Axis::over(ends, (corner.0, corner.0 + size.0), 36.0);
    for (value, words) in up.ticks() {
        let stroke = if value == 0.0 { Stroke::new(BLACK, 0.9) } else { Stroke::new(PALE, 0.7) };
        svg.line((corner.0, up.at(value)), (corner.0 + size.0, up.at(value)), stroke);
        if numbered {
            svg.words((corner.0 - 6.0, up.at(value) + 3.5), 9.5, false, Anchor::End, &words);
        }
    }
    scale_below(svg, &across, (corner.1, size.1), page);
    // Stretches in which nothing was measured break the curve.
    for run in curve.bins.chunk_by(|one, other| is_there(one) && is_there(other)) {
        let run: Vec<&ResponseBin> = run.iter().filter(|bin| is_there(bin)).collect();
        let at = |bin: &ResponseBin, quantile: usize| (across.at(bin.at), up.at(bin.quantiles[quantile]));
        for (low, high, colour) in [(0, 4, PALE_BLUE), (1, 3, MIDDLE_BLUE)] {
            let lower = run.iter().map(|bin| at(bin, low));
            let upper = run.iter().rev().map(|bin| at(bin, high));
            svg.area(lower.chain(upper), colour);
        }
        svg.path(run.iter().map(|bin| at(bin, 2)), Stroke::new(BLACK, 1.8));
        if curve.bins.len() <= DOTTED {
            let radius = if curve.bins.len() <= 25 { 2.4 } else { 1.6 };
            run.iter().for_each(|bin| svg.dot(at(bin, 2), radius, BLACK));
        }
    }
    svg.frame(corner, size, Stroke::new(BLACK, 0.9));
}

fn is_there(bin: &ResponseBin) -> bool {
    bin.quantiles[2].is_finite()
}

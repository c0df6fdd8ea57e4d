//! What a measure came to with more and more rows: whether there are enough.

use sim_core::study::statistics::Estimate;

use super::axis::{Axis, widest};
use super::layout::{EDGE, Heading, LINE, Quantity, TEXT, capital, lines, wrapped};
use crate::figures::colour::{BLACK, BLUE, PALE};
use crate::figures::figure::Figure;
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, At, Stroke, Svg};
use words::number::whole;

/// Between panels, across.
const GAP: f64 = 14.0;
const MOST_ACROSS: usize = 3;
/// A panel is no narrower where fewer can stand beside each other.
const NARROWEST: f64 = 150.0;
const PANEL: f64 = 96.0;
/// Between two numbers up the side.
const UP_APART: f64 = 26.0;
/// Half of an interval's end stroke.
const END: f64 = 3.5;
/// Room for a number of rows beside another.
const COUNT_APART: f64 = 44.0;

/// One number that a study tells, with fewer rows and with more.
pub struct Followed {
    /// What it is.
    pub words: String,
    /// Rows or groups, and what it came to with them; the fewest first.
    pub steps: Vec<(u64, Estimate)>,
}

/// Draws how numbers settle, each to its own scale: with twice the rows from point to point.
pub fn figure(of: &Quantity, followed: &[Followed], counted: &str, verdict: &str, print: &Print) -> Figure {
    let under = format!(
        "Each number with a part of the {counted} and with all, with its interval of 95 %; every panel has its own scale. \
         Below: how many {counted}. {verdict}"
    );
    let heading =
        Heading::new(&format!("Are the {counted} enough? {}", capital(&of.words)), under.trim_end(), print);
    let page = heading.page;
    let numbers =
        followed.iter().map(|own| widest(&up(own, (PANEL, 0.0)).ticks())).fold(0.0, f64::max) + 12.0;
    let fitting = ((page - 2.0 * EDGE + GAP) / (NARROWEST + GAP)) as usize;
    let across = followed.len().clamp(1, MOST_ACROSS.min(fitting.max(1)));
    let column = (page - 2.0 * EDGE - GAP * (across as f64 - 1.0)) / across as f64;
    let names: Vec<Vec<String>> =
        followed.iter().map(|own| wrapped(&own.words, column, TEXT, false)).collect();
    let above = names.iter().map(Vec::len).max().unwrap_or_default() as f64 * LINE + 9.0;
    let row = above + PANEL + 30.0;
    let top = heading.height() + 4.0;
    let height = top + followed.len().div_ceil(across) as f64 * row;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    for (index, (own, name)) in followed.iter().zip(&names).enumerate() {
        let corner = (EDGE + (index % across) as f64 * (column + GAP), top + (index / across) as f64 * row);
        let lowest = corner.1 + above - 10.0 - (name.len() as f64 - 1.0) * LINE;
        lines(&mut svg, (corner.0, lowest), false, Anchor::Start, name);
        panel(&mut svg, (corner.0 + numbers, corner.1 + above), column - numbers, own);
    }
    heading.figure(svg, height)
}

fn up(of: &Followed, places: (f64, f64)) -> Axis {
    let all = of.steps.iter().flat_map(|(_, estimate)| [estimate.value, estimate.low, estimate.high]);
    Axis::over(all, places, UP_APART)
}

fn panel(svg: &mut Svg, corner: At, width: f64, own: &Followed) {
    let bottom = corner.1 + PANEL;
    let up = up(own, (bottom, corner.1));
    for (value, words) in up.ticks() {
        svg.line((corner.0, up.at(value)), (corner.0 + width, up.at(value)), Stroke::new(PALE, 0.7));
        svg.words((corner.0 - 5.0, up.at(value) + 3.5), 9.5, false, Anchor::End, &words);
    }
    // Rows double from point to point, so that the points stand evenly.
    let apart = width / own.steps.len().max(1) as f64;
    let x = |place: usize| corner.0 + (place as f64 + 0.5) * apart;
    let path = own.steps.iter().enumerate().map(|(place, (_, estimate))| (x(place), up.at(estimate.value)));
    svg.path(path, Stroke::new(BLUE, 1.2));
    let written_every = (COUNT_APART / apart).ceil().max(1.0) as usize;
    for (place, (count, estimate)) in own.steps.iter().enumerate() {
        let at = x(place);
        if estimate.has_interval() {
            let (low, high) = (up.at(estimate.low), up.at(estimate.high));
            let stroke = Stroke::new(BLACK, 1.1);
            svg.line((at, low), (at, high), stroke);
            [low, high].into_iter().for_each(|y| svg.line((at - END, y), (at + END, y), stroke));
        }
        svg.dot((at, up.at(estimate.value)), 2.6, BLACK);
        // The last, of all rows, is always written.
        if (own.steps.len() - 1 - place).is_multiple_of(written_every) {
            svg.words((at, bottom + 13.0), 9.5, false, Anchor::Middle, &whole(*count));
        }
    }
    svg.frame(corner, (width, PANEL), Stroke::new(BLACK, 0.9));
}

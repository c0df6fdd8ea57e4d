//! Bars, one or two a factor: Sobol' indices with their intervals, or standardised coefficients.

use sim_core::study::statistics::{ElementaryEffects, Estimate, ShapleyEffects, SobolIndices, Standardised};

use super::axis::Axis;
use super::layout::{EDGE, Heading, LINE, Quantity, TEXT, lines, room_for_names, scale_below, wrapped};
use crate::figures::colour::{BLACK, BLUE, PALE_BLUE, WHITE};
use crate::figures::figure::Figure;
use crate::figures::letters::{LETTER, width};
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, At, Stroke, Svg};
use words::number::{decimals, whole as whole_number};

/// Room for the numbers at the right with their intervals, and without on a page that is narrower than this.
const NUMBERS: f64 = 150.0;
const NUMBERS_ALONE: f64 = 44.0;
const NARROW: f64 = 520.0;
const BAR: f64 = 11.0;

/// A factor's name and where it stands among the factors.
pub struct Bar {
    /// Its place among the factors, from 0.
    pub factor: usize,
    /// What it is.
    pub words: String,
}

/// A row of the picture.
struct Row {
    name: Vec<String>,
    bars: Vec<(Estimate, &'static str)>,
}

impl Row {
    fn new(words: &str, bars: Vec<(Estimate, &'static str)>, print: &Print) -> Self {
        Self { name: wrapped(words, room_for_names(print.units()) - 12.0, TEXT, false), bars }
    }

    fn height(&self) -> f64 {
        let bars = self.bars.len() as f64 * (BAR + 3.0);
        bars.max(self.name.len() as f64 * LINE) + 9.0
    }
}

/// A row for each factor, in the order given, with the bars that its part of the result has.
fn rows_of<T>(
    factors: &[Bar],
    results: &[T],
    print: &Print,
    bars: impl Fn(&T) -> Vec<(Estimate, &'static str)>,
) -> Vec<Row> {
    let row = |bar: &Bar| Some(Row::new(&bar.words, bars(results.get(bar.factor)?), print));
    factors.iter().filter_map(row).collect()
}

/// What the pictures of parts of a variance stand under.
fn of_the_spread(of: &Quantity, under: &str, print: &Print) -> Heading {
    Heading::new(&format!("Where the spread comes from: {}", of.words), under, print)
}

/// Sobol' indices, the factors in the order given.
pub fn indices(
    of: &Quantity,
    factors: &[Bar],
    indices: &SobolIndices,
    intervals: &str,
    print: &Print,
) -> Figure {
    let sum: f64 = indices.factors.iter().map(|factor| factor.first.value).sum();
    let of_groups = counted((indices.groups, indices.left_out), "groups of rows");
    let under = format!("Sobol’ indices of {of_groups}. {intervals} {}", together(sum));
    let rows =
        rows_of(factors, &indices.factors, print, |own| vec![(own.first, BLUE), (own.total, PALE_BLUE)]);
    let key = [("first order: the factor alone", BLUE), ("total: with all others", PALE_BLUE)];
    draw(of_the_spread(of, &under, print), &rows, "part of the variance", &key, &[0.0, 1.0])
}

/// How many groups there are, and of how many where some are left out.
fn counted((groups, left_out): (usize, usize), what: &str) -> String {
    let number = |count: usize| whole_number(count as u64);
    match left_out {
        0 => format!("{} {what}", number(groups)),
        _ => format!(
            "{} of {} {what} (the others have a row without a value)",
            number(groups),
            number(groups + left_out)
        ),
    }
}

/// Shapley effects, the factors in the order given.
pub fn shares(
    of: &Quantity,
    factors: &[Bar],
    shares: &ShapleyEffects,
    intervals: &str,
    print: &Print,
) -> Figure {
    let of_groups = counted((shares.groups, shares.left_out), "groups of rows");
    let under = format!("Shapley effects of {of_groups}; they add up to 1. {intervals}");
    let rows = rows_of(factors, &shares.factors, print, |own| vec![(own.share, BLUE), (own.last, PALE_BLUE)]);
    let key = [
        ("share, what is common shared out evenly", BLUE),
        ("what would stay if all but the factor were known", PALE_BLUE),
    ];
    draw(of_the_spread(of, &under, print), &rows, "part of the variance", &key, &[0.0, 1.0])
}

/// Elementary effects, the factors in the order given.
pub fn effects(
    of: &Quantity,
    factors: &[Bar],
    effects: &ElementaryEffects,
    intervals: &str,
    print: &Print,
) -> Figure {
    let of_groups = counted((effects.trajectories, effects.left_out), "trajectories");
    let under = format!("Elementary effects of {of_groups}. {intervals}");
    let rows =
        rows_of(factors, &effects.factors, print, |own| vec![(own.size, BLUE), (own.spread, PALE_BLUE)]);
    let heading = Heading::new(&format!("Which factors matter: {}", of.words), &under, print);
    let key = [
        ("mean size: how much it matters", BLUE),
        ("sd: how differently it acts from place to place", PALE_BLUE),
    ];
    let unit = if of.unit.is_empty() { String::new() } else { format!(", {}", of.unit) };
    let axis = format!("change over all of the factor’s distribution{unit}");
    draw(heading, &rows, &axis, &key, &[0.0])
}

/// What the sum of the first-order indices says. Estimates may add up to more than 1, which nothing can.
fn together(sum: f64) -> String {
    let rounded = (sum * 100.0).round() / 100.0;
    let says = if rounded < 1.0 {
        "what lacks to 1 comes of factors together."
    } else if rounded > 1.0 {
        "no more than 1 is possible, and the rest is the estimate’s error."
    } else {
        "each factor acts for itself."
    };
    format!("The first-order indices add up to {}; {says}", decimals(rounded, 2))
}

/// Standardised coefficients, the factors in the order given.
pub fn coefficients(
    of: &Quantity,
    factors: &[Bar],
    regression: &Standardised,
    caution: &str,
    print: &Print,
) -> Figure {
    let under = format!(
        "Standardised regression coefficients; straight lines explain {} of the variance (R²). {caution}",
        decimals(regression.r_squared, 3)
    );
    let rows = rows_of(factors, &regression.estimates, print, |own| vec![(*own, BLUE)]);
    let heading =
        Heading::new(&format!("How it goes with the factors: {}", of.words), under.trim_end(), print);
    let axis = "change in standard deviations, for one standard deviation of the factor";
    draw(heading, &rows, axis, &[], &[0.0, 1.0])
}

/// Draws the bars over a scale that holds these ends at least.
fn draw(heading: Heading, rows: &[Row], axis_words: &str, key: &[(&str, &str)], ends: &[f64]) -> Figure {
    let page = heading.page;
    let names = room_for_names(page);
    let (left, right) = (names, page - EDGE - if page < NARROW { NUMBERS_ALONE } else { NUMBERS });
    let key_width: f64 = key.iter().map(|(words, _)| 34.0 + width(words, TEXT, LETTER)).sum();
    // Beside each other, or one under the other.
    let (key_left, key_rows) = match key.len() {
        0 => (names, 0),
        _ if names + key_width <= page - EDGE => (names, 1),
        _ if EDGE + key_width <= page - EDGE => (EDGE, 1),
        many => (EDGE, many),
    };
    let top = heading.height() + 4.0 + key_rows as f64 * 18.0;
    let panel: f64 = rows.iter().map(Row::height).sum::<f64>() + 8.0;
    let axis_lines = wrapped(axis_words, page - left - EDGE, TEXT, false);
    let height = top + panel + 30.0 + axis_lines.len() as f64 * LINE - 5.0;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    let mut at: At = (key_left, heading.height() + 3.0);
    for (words, colour) in key {
        svg.block(at, (18.0, BAR), colour);
        svg.frame(at, (18.0, BAR), Stroke::new(BLACK, 0.7));
        svg.words((at.0 + 24.0, at.1 + 9.5), TEXT, false, Anchor::Start, words);
        if key_rows > 1 {
            at.1 += 18.0;
        } else {
            at.0 += 34.0 + width(words, TEXT, LETTER);
        }
    }
    let all = rows.iter().flat_map(|row| &row.bars).flat_map(|(bar, _)| [bar.value, bar.low, bar.high]);
    let axis = Axis::over(all.chain(ends.iter().copied()), (left, right), 45.0).standing_on_zero();
    scale_below(&mut svg, &axis, (top, panel), page);
    let mut y = top + 8.0;
    for row in rows {
        let height = row.height() - 9.0;
        let name_top = y + (height - row.name.len() as f64 * LINE) / 2.0 + 10.0;
        lines(&mut svg, (names - 8.0, name_top), false, Anchor::End, &row.name);
        let mut bar_top = y + (height - row.bars.len() as f64 * (BAR + 3.0) + 3.0) / 2.0;
        for (estimate, colour) in &row.bars {
            draw_bar(&mut svg, &axis, bar_top, estimate, colour);
            let number = if page < NARROW { decimals(estimate.value, 3) } else { with_interval(estimate) };
            svg.words((right + 8.0, bar_top + 9.5), 9.5, false, Anchor::Start, &number);
            bar_top += BAR + 3.0;
        }
        y += row.height();
    }
    svg.line((axis.at(0.0), top), (axis.at(0.0), top + panel), Stroke::new(BLACK, 1.0));
    svg.frame((left, top), (right - left, panel), Stroke::new(BLACK, 0.9));
    lines(&mut svg, (left, top + panel + 30.0), false, Anchor::Start, &axis_lines);
    heading.figure(svg, height)
}

fn draw_bar(svg: &mut Svg, axis: &Axis, top: f64, estimate: &Estimate, colour: &str) {
    let (zero, end) = (axis.at(0.0), axis.at(estimate.value));
    let (corner, size): (At, At) = ((zero.min(end), top), ((end - zero).abs(), BAR));
    svg.block(corner, size, colour);
    svg.frame(corner, size, Stroke::new(BLACK, 0.7));
    if estimate.low.is_finite() && estimate.high.is_finite() {
        let (low, high, y) = (axis.at(estimate.low), axis.at(estimate.high), top + BAR / 2.0);
        // White under black: to be seen on dark bars and beside them.
        for stroke in [Stroke::new(WHITE, 3.2), Stroke::new(BLACK, 1.4)] {
            svg.line((low, y), (high, y), stroke);
            [low, high].into_iter().for_each(|x| svg.line((x, y - 3.5), (x, y + 3.5), stroke));
        }
    }
}

fn with_interval(estimate: &Estimate) -> String {
    let value = decimals(estimate.value, 3);
    if estimate.low.is_finite() && estimate.high.is_finite() {
        format!("{value} ({} to {})", decimals(estimate.low, 3), decimals(estimate.high, 3))
    } else {
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn first_order_indices_that_add_up_to_more_than_one_leave_nothing_to_factors_together() {
        for (sum, is) in [
            (0.874, "add up to 0.87; what lacks"),
            (1.024, "add up to 1.02; no more than 1"),
            (0.997, "add up to 1.00; each factor acts for itself"),
        ] {
            assert!(together(sum).contains(is), "{}", together(sum));
        }
    }
}

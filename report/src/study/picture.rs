//! The pictures of a summary: which there are, and what is read for them.
//!
//! A picture needs its measure and one or two factors whole, 8 bytes a row each, and while it is made
//! up to 32 bytes a row more.

use std::collections::BTreeSet;
use std::rc::Rc;

use sim_core::study::statistics::{Axis, BAND, Estimate, heat_map, histogram, response_curve};
use sim_core::study::{Column, Content, GroupSensitivity, SamplingPlan};

use super::summary::{Numbers, Sensitivity, Step, StudySummary, coefficients_caution, left_out_of_measure};
use super::{Selection, StudyTable, SummaryError};
use crate::figures::study::{self as draw, Bar, BelowZero, Curve, Followed, Quantity, TornadoBar};
use crate::figures::{Figure, Print};
use words::name::column;
use words::number::percent;
use words::verdict::study::{Counted, enough};

/// Levels of a factor that are drawn each for itself; more are put together in bins.
const MOST_LEVELS: usize = 200;
/// Rows that a bin of a response curve has at least: below and above the band five of them are left, so that its ends
/// do not jump from bin to bin.
const LEAST_ROWS_A_BIN: u64 = 100;
/// Bins of a response curve without levels.
const MOST_BINS: u64 = 12;
/// Cells of a heat map along a factor with levels.
const MOST_LEVEL_CELLS: usize = 64;
/// Rows that a cell of a heat map has on the average at least, where the rows are drawn at random.
const LEAST_ROWS_A_CELL: u64 = 25;
/// Cells of a heat map along a factor without levels.
const MOST_CELLS: u64 = 12;
/// Factors whose curves are drawn where nobody names any.
const MOST_CURVES: usize = 9;
/// Factors whose numbers are followed while the rows grow.
const MOST_FOLLOWED: usize = 6;
/// Memory for whole columns that are kept for the next picture.
const KEPT_BYTES: u64 = 256_000_000;
/// Longest that a name of a file is made.
const LONGEST_NAME: usize = 120;

/// A picture.
pub struct Picture {
    /// Name of its file, without the ending.
    pub stem: String,
    /// What it shows, for those who do not see it.
    pub caption: String,
    /// The figure.
    pub figure: Figure,
}

/// The pictures of what was asked, and in sentences what was chosen and what could not be drawn.
pub fn pictures(
    opened: &StudyTable,
    summary: &StudySummary,
    selection: &Selection,
    print: &Print,
) -> Result<(Vec<Picture>, Vec<String>), SummaryError> {
    let mut sentences = Vec::new();
    let varies = |measure: &&Numbers| measure.moments.greatest() > measure.moments.least();
    let drawn: Vec<&Numbers> = if selection.measures_named {
        summary.numbers.iter().collect()
    } else {
        let first = summary.numbers.iter().find(varies).or(summary.numbers.first());
        if let Some(first) = first {
            sentences.push(format!(
                "Drawn: {} (`{}`), the first measure that varies; others with --measure NAME.",
                column::full(&first.column),
                first.column.name
            ));
        }
        first.into_iter().collect()
    };
    if drawn.is_empty() {
        sentences.push("No picture: the study measures no numbers, only words or yes and no.".to_owned());
    }
    let mut pictures = Vec::new();
    let mut stems = BTreeSet::new();
    let mut held = Held { opened, kept: Vec::new(), print };
    for (index, measure) in drawn.into_iter().enumerate() {
        let mut listed = if index == 0 { Some(&mut sentences) } else { None };
        let mut say = |sentence: String| {
            if let Some(sentences) = &mut listed {
                sentences.push(sentence);
            }
        };
        let mut measure_pictures = of_measure(&mut held, summary, selection, measure, &mut say)?;
        for picture in &mut measure_pictures {
            let stem = file_name(&picture.stem);
            let mut free = stem.clone();
            let mut number = 2;
            while !stems.insert(free.clone()) {
                free = format!("{stem}_{number}");
                number += 1;
            }
            picture.stem = free;
        }
        pictures.extend(measure_pictures);
    }
    Ok((pictures, sentences))
}

/// Columns read, kept while there is room.
struct Held<'o> {
    opened: &'o StudyTable,
    kept: Vec<(usize, Rc<Vec<f64>>)>,
    /// How its pictures are set.
    print: &'o Print,
}

impl Held<'_> {
    fn column(&mut self, place: usize) -> Result<Rc<Vec<f64>>, SummaryError> {
        if let Some((_, column)) = self.kept.iter().find(|(kept_place, _)| *kept_place == place) {
            return Ok(Rc::clone(column));
        }
        let column =
            Rc::new(self.opened.table.numbers(&[place], self.opened.rows)?.pop().unwrap_or_default());
        if self.opened.rows * 8 * (self.kept.len() as u64 + 1) > KEPT_BYTES {
            self.kept.clear();
        }
        self.kept.push((place, Rc::clone(&column)));
        Ok(column)
    }
}

fn of_measure(
    held: &mut Held<'_>,
    summary: &StudySummary,
    selection: &Selection,
    measure: &Numbers,
    say: &mut dyn FnMut(String),
) -> Result<Vec<Picture>, SummaryError> {
    let column = &measure.column;
    let of = quantity(column);
    let left_out = left_out_of_measure(measure, &summary.noted);
    let picture = |kind: &str, caption: String, figure: Figure| Picture {
        stem: format!("{}.{kind}", column.name),
        caption: if left_out.is_empty() { caption } else { format!("{caption}.{left_out}") },
        figure,
    };
    let mut pictures = Vec::new();
    let values = held.column(measure.place)?;
    match histogram(&values) {
        Some(result) => {
            let below = of.is_clearance.then(|| below_zero(&values, measure.below_zero));
            let quantiles = measure.quantiles.map(|estimate| estimate.value);
            let figure = draw::histogram(&of, &result, &quantiles, below.as_ref(), held.print);
            pictures.push(picture("histogram", format!("Histogram: {}", of.words), figure));
        }
        None => {
            say(format!("No picture of {}: no row has a value.", of.words));
            return Ok(pictures);
        }
    }
    let order = by_influence(summary, measure);
    if let Some(drawn) = influence(summary, measure, &of, &order, held.print) {
        let (kind, caption, figure) = drawn;
        pictures.push(picture(kind, caption, figure));
    }
    if let Some(figure) = settling(summary, measure, &of, &order, held.print) {
        pictures.push(picture("convergence", format!("With more and more rows: {}", of.words), figure));
    }
    if let Err(why) = &measure.sensitivity {
        say(format!("No picture of the factors’ influence on {}: {why}.", of.words));
    }
    if let SamplingPlan::OneAtATime = held.opened.study.prepared.study().plan {
        say("No response curves and no heat map: the plan varies one factor at a time, and the tornado shows it."
            .to_owned());
        return Ok(pictures);
    }
    let curves = if selection.factors.is_empty() {
        let mut curves: Vec<usize> = order.iter().copied().take(MOST_CURVES).collect();
        curves.sort_unstable();
        if order.len() > curves.len() {
            say(format!(
                "Response curves of the {MOST_CURVES} factors that matter most; others with --factor NAME."
            ));
        }
        curves
    } else {
        selection.factors.clone()
    };
    let drawn = curves.iter().map(|factor| curve(held, summary, *factor, &values));
    let drawn = drawn.collect::<Result<Vec<_>, _>>()?;
    let alone = summary.factors.len() == 1;
    let figure = draw::response(&of, &drawn, alone, held.print);
    pictures.push(picture("response", format!("Response curves: {}", of.words), figure));
    let two = if selection.factors.is_empty() { &order } else { &selection.factors };
    match two[..] {
        [across, up, ..] if across != up => {
            let what = |factor: usize| column::content(&summary.factors[factor].column);
            if selection.factors.is_empty() && order.len() > 2 {
                say(format!(
                    "Heat map of the two factors that matter most, {} and {}; two others with --factor NAME.",
                    what(across),
                    what(up)
                ));
            }
            let figure = heat(held, summary, &of, (across, up), &values)?;
            let caption = format!("Heat map: {} over {} and {}", of.words, what(across), what(up));
            pictures.push(picture("heat_map", caption, figure));
        }
        _ if alone => say("No heat map: the study has one factor.".to_owned()),
        _ => say("No heat map: it needs two factors, and one is named.".to_owned()),
    }
    Ok(pictures)
}

/// The factors' places, those that matter most first; in the study's order where nothing tells.
fn by_influence(summary: &StudySummary, measure: &Numbers) -> Vec<usize> {
    let count = summary.factors.len();
    let weight = |factor: usize| match &measure.sensitivity {
        Ok(Sensitivity::Groups(told)) => told.main().get(factor).map_or(0.0, |number| number.value),
        Ok(Sensitivity::Coefficients(regression)) => {
            regression.coefficients.get(factor).map_or(0.0, |coefficient| coefficient.abs())
        }
        Ok(Sensitivity::Tornado { bars, .. }) => {
            let bar = bars.iter().find(|bar| bar.factor == factor);
            bar.map_or(0.0, |bar| bar.greatest.measure - bar.least.measure)
        }
        Err(_) => 0.0,
    };
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|one, other| weight(*other).total_cmp(&weight(*one)));
    order
}

fn influence(
    summary: &StudySummary,
    measure: &Numbers,
    of: &Quantity,
    order: &[usize],
    print: &Print,
) -> Option<(&'static str, String, Figure)> {
    let name = |factor: usize| {
        summary.factors.get(factor).map_or_else(String::new, |factor| column::content(&factor.column))
    };
    let bars =
        || -> Vec<Bar> { order.iter().map(|factor| Bar { factor: *factor, words: name(*factor) }).collect() };
    Some(match measure.sensitivity.as_ref().ok()? {
        Sensitivity::Groups(GroupSensitivity::Indices(indices)) => {
            let figure = draw::indices(of, &bars(), indices, &summary.intervals.of_sensitivity, print);
            ("indices", format!("Sobol’ indices: {}", of.words), figure)
        }
        Sensitivity::Groups(GroupSensitivity::Shares(shares)) => {
            let figure = draw::shares(of, &bars(), shares, &summary.intervals.of_sensitivity, print);
            ("shapley", format!("Shapley effects: {}", of.words), figure)
        }
        Sensitivity::Groups(GroupSensitivity::Effects(effects)) => {
            let figure = draw::effects(of, &bars(), effects, &summary.intervals.of_sensitivity, print);
            ("effects", format!("Elementary effects: {}", of.words), figure)
        }
        Sensitivity::Coefficients(regression) => {
            let caution = coefficients_caution(regression.r_squared).unwrap_or_default();
            let figure = draw::coefficients(of, &bars(), regression, caution, print);
            ("coefficients", format!("Standardised coefficients: {}", of.words), figure)
        }
        Sensitivity::Tornado { base, bars } => {
            let reaches = bars.iter().filter_map(|bar| {
                Some(TornadoBar {
                    factor: quantity(&summary.factors.get(bar.factor)?.column),
                    least: (bar.least.measure, bar.least.factor),
                    greatest: (bar.greatest.measure, bar.greatest.factor),
                })
            });
            let figure = draw::tornado(of, *base, &reaches.collect::<Vec<_>>(), print);
            ("tornado", format!("Tornado: {}", of.words), figure)
        }
    })
}

/// How its numbers settle with more and more rows; nothing where the rows are no sample or too few.
fn settling(
    summary: &StudySummary,
    measure: &Numbers,
    of: &Quantity,
    order: &[usize],
    print: &Print,
) -> Option<Figure> {
    let steps = &measure.convergence.as_ref()?.steps;
    let whole = steps.last().filter(|_| steps.len() > 1)?;
    let (counted, count) = match whole.groups {
        Some(groups) => ("groups", Counted::Groups(groups)),
        None => ("rows", Counted::Rows(whole.rows)),
    };
    let follow = |words: String, of_step: &dyn Fn(&Step) -> Option<Estimate>| {
        let there = steps.iter().filter_map(|step| Some((step.groups.unwrap_or(step.rows), of_step(step)?)));
        Followed { words, steps: there.filter(|(_, estimate)| estimate.value.is_finite()).collect() }
    };
    let unit = if of.unit.is_empty() { String::new() } else { format!(", {}", of.unit) };
    let mut followed = vec![follow(format!("mean{unit}"), &|step| Some(step.mean))];
    for (place, part) in BAND.iter().enumerate().filter(|(place, _)| [0, BAND.len() - 1].contains(place)) {
        let at = |step: &Step| step.quantiles.get(place).copied();
        followed.push(follow(format!("{} quantile{unit}", percent(*part)), &at));
    }
    let mut verdict = format!("The mean: {}.", enough(whole.mean.half_width(), count));
    if let (Some(_), Ok(told)) = (&whole.factors, &measure.sensitivity) {
        let what = match told {
            Sensitivity::Groups(GroupSensitivity::Effects(_)) => format!("mean size of effects{unit}"),
            Sensitivity::Groups(GroupSensitivity::Shares(_)) => "share".to_owned(),
            _ => "total index".to_owned(),
        };
        for factor in order.iter().take(MOST_FOLLOWED) {
            let name = summary.factors.get(*factor).map(|own| column::content(&own.column))?;
            let of_factor = |step: &Step| step.factors.as_ref()?.get(*factor).copied();
            followed.push(follow(format!("{what}: {name}"), &of_factor));
        }
        verdict += &format!(" Every factor’s number: {}.", enough(whole.widest, count));
    }
    Some(draw::convergence(of, &followed, counted, &verdict, print))
}

/// How many levels a factor has, if it has any. Rows as given are values rather than levels.
fn levels(opened: &StudyTable, factor: usize) -> Option<usize> {
    if opened.study.prepared.study().plan == SamplingPlan::Rows {
        return None;
    }
    let factor = opened.study.prepared.design().factors().get(factor)?;
    factor.distribution.levels().map(<[f64]>::len)
}

#[allow(clippy::cast_possible_truncation)] // few bins
fn curve(
    held: &mut Held<'_>,
    summary: &StudySummary,
    factor: usize,
    values: &[f64],
) -> Result<Curve, SummaryError> {
    let bins = match levels(held.opened, factor) {
        Some(levels) if levels <= MOST_LEVELS => levels,
        _ => (held.opened.rows / LEAST_ROWS_A_BIN).clamp(1, MOST_BINS) as usize,
    };
    // Factors are the first columns.
    let column = held.column(factor)?;
    Ok(Curve {
        factor: quantity(&summary.factors[factor].column),
        bins: response_curve(&column, values, bins),
    })
}

#[allow(clippy::cast_possible_truncation)] // few cells
fn heat(
    held: &mut Held<'_>,
    summary: &StudySummary,
    of: &Quantity,
    (across, up): (usize, usize),
    values: &[f64],
) -> Result<Figure, SummaryError> {
    let (x, y) = (held.column(across)?, held.column(up)?);
    let opened = held.opened;
    // A grid has every level with every other one; where rows are drawn at random, levels may have few rows each.
    let is_grid = matches!(opened.study.prepared.study().plan, SamplingPlan::FullGrid);
    let level_counts = [across, up].map(|factor| levels(opened, factor).unwrap_or(usize::MAX));
    let full = level_counts.iter().fold(LEAST_ROWS_A_CELL, |rows, count| rows.saturating_mul(*count as u64));
    let by_values =
        level_counts.iter().all(|count| *count <= MOST_LEVEL_CELLS) && (is_grid || full <= opened.rows);
    let cells = if is_grid {
        MOST_LEVEL_CELLS
    } else {
        (opened.rows / LEAST_ROWS_A_CELL).isqrt().clamp(2, MOST_CELLS) as usize
    };
    let cut = |values: &[f64]| {
        if by_values { Axis::of(values, MOST_LEVEL_CELLS) } else { Axis::of_equal_counts(values, cells) }
    };
    let map = heat_map((&x, cut(&x)), (&y, cut(&y)), values);
    let quantity = |factor: usize| quantity(&summary.factors[factor].column);
    Ok(draw::heat_map(of, &quantity(across), &quantity(up), &map, by_values, held.print))
}

/// Rows whose clearance is below zero, with the interval of their share.
fn below_zero(values: &[f64], share: Option<Estimate>) -> BelowZero {
    let known = || values.iter().filter(|value| !value.is_nan());
    BelowZero {
        rows: known().filter(|value| **value < 0.0).count() as u64,
        of: known().count() as u64,
        interval: share
            .filter(|share| share.low.is_finite() && share.high.is_finite())
            .map(|share| (share.low, share.high)),
    }
}

fn quantity(column: &Column) -> Quantity {
    let unit = column.unit.map_or("", |unit| unit.sign().trim_start());
    let is_clearance = matches!(column.content, Content::Clearance { .. });
    Quantity { words: column::full(column), what: column::content(column), unit, is_clearance }
}

/// A name that every system takes for a file.
fn file_name(name: &str) -> String {
    let plain =
        |letter: char| if letter.is_ascii_alphanumeric() || "._-".contains(letter) { letter } else { '_' };
    let name: String = name.chars().map(plain).collect();
    // The end tells one picture of a measure from another.
    let skipped = name.len().saturating_sub(LONGEST_NAME);
    name[skipped..].trim_start_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cusp_s_name_cannot_lead_a_file_astray() {
        assert_eq!(file_name("a.36.../b c.mm.histogram"), "a.36..._b_c.mm.histogram");
        assert_eq!(file_name(&format!("{}.response", "ö".repeat(300))).len(), LONGEST_NAME);
        assert_eq!(file_name("..x"), "x");
    }
}

//! Separation and clearance at the cusps against what drives each excursion, a panel an excursion.
//!
//! All panels have the same height in millimetres, and those with the same drive the same length, so that a steeper
//! curve is steeper in one beside the other. Cusps differ by the shape of their marks, carry their tooth's number at
//! the end, and only then by colour.

use sim_core::cusp::Cusp;
use words::number::as_set;

use super::colour::{BLACK, BLUE, PALE, RED};
use super::ends::{End, Ends};
use super::figure::Figure;
use super::mark::Mark;
use super::print::Print;
use super::scale::{quarter_step, round_step};
use super::study::layout::{EDGE, Heading, LINE, TEXT, capital, lines, wrapped};
use super::svg::{Anchor, At, Stroke, Svg};
use crate::curves::{CurvePanel, CurvePoint, CuspCurve};

/// Left of a panel: the numbers of its axis.
const LEFT: f64 = 34.0;
/// Between panels, across and down.
const GAP: At = (12.0, 22.0);
/// Least height of a panel.
const HEIGHT: f64 = 210.0;
/// Part of the height left free above and below the curves.
const ROOM: f64 = 0.06;
/// The least reach of the upward axis, millimetres.
const LEAST: f64 = 0.5;
const DASHES: &str = "5 3";
const COLOURS: [&str; 3] = [BLACK, BLUE, RED];
/// The narrowest page with two panels beside each other.
const TWO_ACROSS: f64 = 560.0;
const LEGEND_COLUMNS: usize = 3;
/// A column of the legend is no narrower where fewer find room.
const LEGEND_COLUMN: f64 = 150.0;
/// Marks along a curve, its end included.
const MARKS: usize = 3;

/// What a figure of excursions is made from.
pub struct ExcursionFigure<'f> {
    /// Above it: what is drawn.
    pub title: &'f str,
    /// Under the title: what was changed, or which set-up is which; may be empty.
    pub under: &'f str,
    /// An excursion each.
    pub panels: &'f [CurvePanel],
    /// The height of the axes, from and to, in millimetres; fitted to the curves where it is not held. The first is
    /// below the second.
    pub range_mm: Option<(f64, f64)>,
    /// How wide it is, and whether the title stands above it. What stands under the title always does: it says
    /// whose curves these are.
    pub print: Print,
}

/// Draws it.
#[must_use]
pub fn figure(of: &ExcursionFigure<'_>) -> Figure {
    let cusps = cusps(of.panels);
    let range = of.range_mm.unwrap_or_else(|| fitted(of.panels));
    let heading = Heading::with_under(of.title, of.under, &of.print);
    let names = |curve: &CuspCurve| name_at_the_end(&cusps, curve);
    let margin = Ends::margin(of.panels.iter().flat_map(|panel| &panel.curves).map(names));
    let page = heading.page;
    let across = if of.panels.len() > 1 && margin < 110.0 && page >= TWO_ACROSS { 2 } else { 1 };
    let column = (page - 2.0 * EDGE - GAP.0 * (across as f64 - 1.0)) / across as f64;
    let size_across = (column - LEFT - margin).max(120.0);
    let panels: Vec<Panel<'_>> =
        of.panels.iter().map(|panel| Panel::new(panel, of.panels, &cusps, range, size_across)).collect();
    let height = panels.iter().map(|panel| panel.ends.height()).fold(HEIGHT, f64::max);
    let titles = panels.iter().map(Panel::lines).max().unwrap_or(1) as f64 * LINE;
    let row = titles + height + 34.0 + GAP.1;
    let top = heading.height() + 6.0;
    let legend_top = top + panels.len().div_ceil(across) as f64 * row;
    let two = of.panels.iter().flat_map(|panel| &panel.curves).any(|curve| curve.set_up.is_some());
    let legend = Legend::new(&cusps, two, page);
    let whole = legend_top + legend.height();
    let mut svg = Svg::new(page, whole);
    heading.draw(&mut svg);
    for (index, panel) in panels.iter().enumerate() {
        let corner = (
            EDGE + LEFT + (index % across) as f64 * (column + GAP.0),
            top + titles + (index / across) as f64 * row,
        );
        panel.draw(&mut svg, corner, (size_across, height));
    }
    legend.draw(&mut svg, legend_top);
    heading.figure(svg, whole)
}

/// Every cusp once, by tooth and name, in the order in which they come.
fn cusps(panels: &[CurvePanel]) -> Vec<&Cusp> {
    let mut cusps: Vec<&Cusp> = Vec::new();
    for curve in panels.iter().flat_map(|panel| &panel.curves) {
        if !cusps.iter().any(|other| is_same(other, &curve.cusp)) {
            cusps.push(&curve.cusp);
        }
    }
    cusps
}

fn is_same(one: &Cusp, other: &Cusp) -> bool {
    (one.tooth(), one.name()) == (other.tooth(), other.name())
}

/// Axes that show all of the curves, and zero.
fn fitted(panels: &[CurvePanel]) -> (f64, f64) {
    let points = panels.iter().flat_map(|panel| &panel.curves).flat_map(|curve| &curve.points);
    let values = points.flat_map(|point| [point.separation_mm, point.clearance_mm]);
    let (low, high) = values.fold((0.0_f64, LEAST), |(low, high), mm| (low.min(mm), high.max(mm)));
    let room = (high - low) * ROOM;
    (low - room, high + room)
}

/// The tooth's number, with the cusp's name where several of the tooth are drawn, and the set-up's letter.
fn name_at_the_end(cusps: &[&Cusp], curve: &CuspCurve) -> String {
    let alone = cusps.iter().filter(|cusp| cusp.tooth() == curve.cusp.tooth()).count() == 1;
    let tooth = if alone { words::name::tooth(curve.cusp.tooth()) } else { words::name::cusp(&curve.cusp) };
    curve.set_up.map_or_else(|| tooth.clone(), |letter| format!("{tooth} {letter}"))
}

/// Colour and mark of a cusp by its place; those that share a mark differ in colour.
fn of_place(place: usize) -> (&'static str, Mark) {
    (COLOURS[(place + place / Mark::ALL.len()) % COLOURS.len()], Mark::ALL[place % Mark::ALL.len()])
}

/// How the curves of a cusp are drawn: its colour and mark, thin for B.
fn look(cusps: &[&Cusp], curve: &CuspCurve) -> (Stroke, Mark) {
    let place = cusps.iter().position(|cusp| is_same(cusp, &curve.cusp)).unwrap_or_default();
    let width = if curve.set_up == Some('B') { 0.9 } else { 1.8 };
    let (colour, mark) = of_place(place);
    (Stroke::new(colour, width), mark)
}

/// What a curve shows of a point.
type Read = fn(&CurvePoint) -> f64;
/// Both curves of a cusp: how each is dashed, what it shows, whether its marks are filled.
const KINDS: [(&str, Read, bool); 2] =
    [("", |point| point.separation_mm, true), (DASHES, |point| point.clearance_mm, false)];

struct Panel<'p> {
    of: &'p CurvePanel,
    cusps: &'p [&'p Cusp],
    /// Its name, then what there is to say of it.
    title: Vec<String>,
    note: Vec<String>,
    /// How far along the axis goes.
    reach: f64,
    range: (f64, f64),
    ends: Ends,
}

impl<'p> Panel<'p> {
    fn new(
        of: &'p CurvePanel,
        all: &[CurvePanel],
        cusps: &'p [&'p Cusp],
        range: (f64, f64),
        across: f64,
    ) -> Self {
        let title = wrapped(&capital(&of.name), across + LEFT, TEXT, true);
        let mut note = Vec::new();
        for (letter, why) in &of.stopped {
            let of = letter.map_or_else(String::new, |letter| format!("{letter} "));
            note.extend(wrapped(&format!("{of}stops short: {why}"), across + LEFT, TEXT, false));
        }
        let driver = words::name::driver(of.drive);
        let alike = all.iter().filter(|other| words::name::driver(other.drive) == driver);
        let reach = alike.map(|panel| panel.end).fold(1e-9, f64::max);
        let ends = of.curves.iter().flat_map(|curve| {
            KINDS.into_iter().filter_map(|(_, read, _)| {
                let last = curve.points.last()?;
                let part = (range.1 - read(last)) / (range.1 - range.0);
                Some(End { across: last.driven / reach, down: part, name: name_at_the_end(cusps, curve) })
            })
        });
        let ends = Ends::new(ends.collect());
        Self { of, cusps, title, note, reach, range, ends }
    }

    /// Lines above it.
    fn lines(&self) -> usize {
        self.title.len() + self.note.len()
    }

    fn draw(&self, svg: &mut Svg, corner: At, size: At) {
        let (low, high) = self.range;
        let at = |along: f64, mm: f64| {
            (corner.0 + along / self.reach * size.0, corner.1 + (high - mm) / (high - low) * size.1)
        };
        let above = corner.1 - self.lines() as f64 * LINE + 6.0;
        let said =
            self.title.iter().map(|line| (true, line)).chain(self.note.iter().map(|line| (false, line)));
        for (index, (bold, line)) in said.enumerate() {
            svg.words((corner.0 - LEFT, above + index as f64 * LINE), TEXT, bold, Anchor::Start, line);
        }
        let step = round_step((high - low) / 6.0);
        for index in (low / step).ceil() as i64..=(high / step).floor() as i64 {
            let mm = index as f64 * step;
            let from = at(0.0, mm);
            let stroke = if index == 0 { Stroke::new(BLACK, 0.9) } else { Stroke::new(PALE, 0.7) };
            svg.line(from, (corner.0 + size.0, from.1), stroke);
            svg.words((from.0 - 5.0, from.1 + 3.5), 9.5, false, Anchor::End, &as_set(mm));
        }
        let step = quarter_step(self.reach);
        for index in 0..=(self.reach / step + 1e-9).floor() as i64 {
            let x = at(index as f64 * step, low).0;
            svg.line((x, corner.1), (x, corner.1 + size.1), Stroke::new(PALE, 0.7));
            let words = as_set(index as f64 * step);
            svg.words((x, corner.1 + size.1 + 12.0), 9.5, false, Anchor::Middle, &words);
        }
        let (driver, unit) = words::name::driver(self.of.drive);
        let below = (corner.0, corner.1 + size.1 + 26.0);
        svg.words(below, TEXT, false, Anchor::Start, &format!("{driver}, {unit}"));
        if low < 0.0 && high > 0.0 {
            let zero = at(0.0, 0.0).1;
            if corner.1 + size.1 - zero > 14.0 {
                let foot = (corner.0 + size.0 - 4.0, corner.1 + size.1 - 4.0);
                svg.words(foot, 9.0, false, Anchor::End, "below 0: interference");
            }
        }
        svg.words((corner.0 + 5.0, corner.1 + 12.0), 9.5, false, Anchor::Start, "mm");
        svg.within(corner, size, |svg| {
            for curve in &self.of.curves {
                let (stroke, mark) = look(self.cusps, curve);
                for (dashes, read, filled) in KINDS {
                    let places = || curve.points.iter().map(|point| at(point.driven, read(point)));
                    svg.path(places(), stroke.dashed(dashes));
                    let places: Vec<At> = places().collect();
                    for number in 1..=MARKS {
                        if let Some(place) = places.get((places.len() * number / MARKS).saturating_sub(1)) {
                            mark.draw(svg, *place, filled, stroke.colour);
                        }
                    }
                }
            }
        });
        self.ends.draw(svg, corner, size);
        svg.frame(corner, size, Stroke::new(BLACK, 0.9));
    }
}

/// What marks, dashes and thickness stand for.
struct Legend {
    cusps: Vec<(usize, Vec<String>)>,
    lines: Vec<(Stroke, &'static str)>,
    page: f64,
    /// Lines and cusps that stand beside each other.
    across: (usize, usize),
}

impl Legend {
    fn new(cusps: &[&Cusp], two: bool, page: f64) -> Self {
        let columns = ((page - 2.0 * EDGE) / LEGEND_COLUMN).clamp(1.0, LEGEND_COLUMNS as f64) as usize;
        let column = (page - 2.0 * EDGE) / columns as f64 - 30.0;
        let named =
            |(place, cusp): (usize, &&Cusp)| (place, wrapped(&words::name::cusp(cusp), column, TEXT, false));
        let mut lines = vec![
            (Stroke::new(BLACK, 1.8), "separation from the occlusal plane"),
            (Stroke::new(BLACK, 1.8).dashed(DASHES), "clearance above the opposing incline"),
        ];
        if two {
            lines.push((Stroke::new(BLACK, 1.8), "A: thick"));
            lines.push((Stroke::new(BLACK, 0.9), "B: thin"));
        }
        let across = (if page < TWO_ACROSS { 1 } else { 2 }, columns);
        Self { cusps: cusps.iter().enumerate().map(named).collect(), lines, page, across }
    }

    fn rows(&self) -> impl Iterator<Item = &[(usize, Vec<String>)]> {
        self.cusps.chunks(self.across.1)
    }

    fn height(&self) -> f64 {
        let named = |row: &[(usize, Vec<String>)]| row.iter().map(|(_, name)| name.len()).max().unwrap_or(0);
        let names: usize = self.rows().map(named).sum();
        (self.lines.len().div_ceil(self.across.0) + names) as f64 * LINE + 8.0
    }

    fn draw(&self, svg: &mut Svg, top: f64) {
        let mut y = top + 8.0;
        for row in self.lines.chunks(self.across.0) {
            for (index, (stroke, words)) in row.iter().enumerate() {
                let x = EDGE + index as f64 * (self.page / 2.0 - EDGE);
                svg.line((x, y - 3.5), (x + 34.0, y - 3.5), *stroke);
                svg.words((x + 42.0, y), TEXT, false, Anchor::Start, words);
            }
            y += LINE;
        }
        for row in self.rows() {
            for (column, (place, name)) in row.iter().enumerate() {
                let x = EDGE + column as f64 * (self.page - 2.0 * EDGE) / self.across.1 as f64;
                let (colour, mark) = of_place(*place);
                mark.draw(svg, (x + 5.0, y - 3.5), true, colour);
                mark.draw(svg, (x + 18.0, y - 3.5), false, colour);
                lines(svg, (x + 28.0, y), false, Anchor::Start, name);
            }
            y += row.iter().map(|(_, name)| name.len()).max().unwrap_or(0) as f64 * LINE;
        }
    }
}

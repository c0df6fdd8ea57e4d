//! How far each factor alone moves a measure, the farthest on top.

use super::axis::{Axis, as_given};
use super::layout::{EDGE, Heading, LINE, Quantity, TEXT, lines, room_for_names, scale_below, wrapped};
use crate::figures::colour::{BLACK, MIDDLE_BLUE};
use crate::figures::figure::Figure;
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, Stroke, Svg};

/// Room within the panel for the factors' values beside the bars.
const VALUES: f64 = 52.0;
const BAR: f64 = 15.0;

/// One factor.
pub struct TornadoBar {
    /// The factor.
    pub factor: Quantity,
    /// The measure's least value, and the factor's there.
    pub least: (f64, f64),
    /// Its greatest value, and the factor's there.
    pub greatest: (f64, f64),
}

/// Draws it, from the measure in the base scene.
pub fn figure(of: &Quantity, base: f64, reaches: &[TornadoBar], print: &Print) -> Figure {
    let under = "Each factor alone from its least to its greatest effect, the others as in the base scene (line). \
                 Beside the bars: the factor’s value there.";
    let heading = Heading::new(&format!("How far each factor moves it: {}", of.words), under, print);
    let page = heading.page;
    let left = room_for_names(page);
    let top = heading.height() + 4.0;
    let names: Vec<Vec<String>> =
        reaches.iter().map(|reach| wrapped(&reach.factor.words, left - 12.0, TEXT, false)).collect();
    let row = |name: &Vec<String>| (name.len() as f64 * LINE).max(BAR) + 9.0;
    let panel = names.iter().map(row).sum::<f64>() + 8.0;
    let right = page - EDGE;
    let label = of.label(right - left);
    let height = top + panel + 30.0 + label.len() as f64 * LINE - 5.0;
    let mut svg = Svg::new(page, height);
    heading.draw(&mut svg);
    let all = reaches.iter().flat_map(|reach| [reach.least.0, reach.greatest.0]).chain([base]);
    let axis = Axis::over(all, (left + VALUES, right - VALUES), 55.0);
    scale_below(&mut svg, &axis, (top, panel), page);
    let mut y = top + 8.0;
    for (reach, name) in reaches.iter().zip(&names) {
        let height = row(name) - 9.0;
        let name_top = y + (height - name.len() as f64 * LINE) / 2.0 + 10.0;
        lines(&mut svg, (left - 8.0, name_top), false, Anchor::End, name);
        let (low, high) = (axis.at(reach.least.0), axis.at(reach.greatest.0));
        let bar_top = y + (height - BAR) / 2.0;
        svg.block((low, bar_top), (high - low, BAR), MIDDLE_BLUE);
        svg.frame((low, bar_top), (high - low, BAR), Stroke::new(BLACK, 0.7));
        let value = |number: f64| {
            let sign = if reach.factor.unit == "°" { "°" } else { "" };
            format!("{}{sign}", as_given(number))
        };
        let baseline = bar_top + BAR - 4.0;
        // An end at which the factor is as in the base scene moves nothing.
        if reach.least.0 < base {
            svg.words((low - 5.0, baseline), 9.5, false, Anchor::End, &value(reach.least.1));
        }
        if reach.greatest.0 > base {
            svg.words((high + 5.0, baseline), 9.5, false, Anchor::Start, &value(reach.greatest.1));
        }
        y += row(name);
    }
    svg.line((axis.at(base), top), (axis.at(base), top + panel), Stroke::new(BLACK, 1.4));
    svg.frame((left, top), (right - left, panel), Stroke::new(BLACK, 0.9));
    lines(&mut svg, (left, top + panel + 30.0), false, Anchor::Start, &label);
    heading.figure(svg, height)
}

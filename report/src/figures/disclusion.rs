//! Separation and clearance at the cusps over the advance, one column an excursion.

use sim_core::cusp::Cusp;
use sim_core::frame::Side;

use super::colour::{BLACK, GREY, PALE};
use super::figure::Figure;
use super::scale::quarter_step;
use super::svg::{Anchor, At, Stroke, Svg};
use words::number::as_set;

const WIDTH: f64 = 720.0;
const LEFT: f64 = 46.0;
const TOP: f64 = 22.0;
/// Between panels, across and down.
const GAP: At = (16.0, 16.0);
const PANEL_HEIGHT: f64 = 104.0;
const LEGEND_ROW: f64 = 14.0;
const LEGEND_COLUMNS: usize = 4;

/// Lines of one side differ by these.
const DASHES: [&str; 6] = ["", "7 2.5", "2 2", "7 2 2 2", "12 3", "1 3"];

/// One excursion gone through.
pub struct Column {
    /// Its name.
    pub name: String,
    /// Millimetres of advance.
    pub along: Vec<f64>,
    /// Per cusp, per sample: millimetres.
    pub separation: Vec<Vec<f64>>,
    /// Per cusp, per sample: millimetres.
    pub clearance: Vec<Vec<f64>>,
}

/// Per cusp, per sample: one of the quantities of a column.
type Lines = fn(&Column) -> &[Vec<f64>];

/// Draws them; the cusps are those of every column, in its order.
pub fn figure(cusps: &[&Cusp], columns: &[Column]) -> Figure {
    let strokes = strokes(cusps);
    let rows = cusps.len().div_ceil(LEGEND_COLUMNS);
    let below = TOP + 2.0 * PANEL_HEIGHT + GAP.1;
    let height = below + 36.0 + rows as f64 * LEGEND_ROW;
    let mut svg = Svg::new(WIDTH, height);
    let count = columns.len().max(1) as f64;
    let width = (WIDTH - LEFT - 6.0 - GAP.0 * (count - 1.0)) / count;
    let reach = columns.iter().flat_map(|column| &column.along).copied().fold(0.0, f64::max);
    let quantities: [(&str, Lines); 2] =
        [("separation, mm", |column| &column.separation), ("clearance, mm", |column| &column.clearance)];
    for (row, (name, read)) in quantities.into_iter().enumerate() {
        let top = TOP + row as f64 * (PANEL_HEIGHT + GAP.1);
        let all = columns.iter().flat_map(|column| read(column).iter().flatten().copied());
        let (low, high) = all.fold((0.0_f64, 0.5_f64), |(low, high), mm| (low.min(mm), high.max(mm)));
        let room = (high - low) * 0.06;
        let range = (if low < 0.0 { low - room } else { 0.0 }, high + room);
        for (index, column) in columns.iter().enumerate() {
            let corner = (LEFT + index as f64 * (width + GAP.0), top);
            let panel = Panel { corner, size: (width, PANEL_HEIGHT), reach, range };
            panel.draw(&mut svg, column, read(column), &strokes, index == 0, row == 1);
            if row == 0 {
                svg.words((corner.0, top - 7.0), 11.0, true, Anchor::Start, &column.name);
            }
            if index == 0 {
                svg.words((corner.0 + 6.0, top + 13.0), 10.0, false, Anchor::Start, name);
            }
        }
    }
    svg.words((LEFT, below + 25.0), 10.0, false, Anchor::Start, "advance of the condyle, mm");
    for (index, (cusp, stroke)) in cusps.iter().zip(&strokes).enumerate() {
        let x = LEFT + (index % LEGEND_COLUMNS) as f64 * ((WIDTH - LEFT) / LEGEND_COLUMNS as f64);
        let y = below + 40.0 + (index / LEGEND_COLUMNS) as f64 * LEGEND_ROW;
        svg.line((x, y - 3.5), (x + 34.0, y - 3.5), *stroke);
        let name: String = cusp.name().chars().take(16).collect();
        svg.words((x + 40.0, y), 10.0, false, Anchor::Start, &format!("{} {name}", cusp.tooth()));
    }
    Figure {
        svg: svg.end(),
        width: WIDTH,
        height,
        title: "Separation and clearance".to_owned(),
        explanation: String::new(),
    }
}

/// The right side is drawn in black, the left in grey; teeth of a side differ by their dashes.
fn strokes(cusps: &[&Cusp]) -> Vec<Stroke> {
    let mut counts = [0; 2];
    let stroke = |cusp: &&Cusp| {
        let side = cusp.tooth().side();
        let count = &mut counts[side as usize];
        let dashes = DASHES[*count % DASHES.len()];
        *count += 1;
        Stroke::new(if side == Side::Right { BLACK } else { GREY }, 1.5).dashed(dashes)
    };
    cusps.iter().map(stroke).collect()
}

struct Panel {
    corner: At,
    size: At,
    /// Greatest advance, millimetres.
    reach: f64,
    /// Least and greatest value, millimetres.
    range: (f64, f64),
}

impl Panel {
    fn at(&self, along: f64, mm: f64) -> At {
        let (low, high) = self.range;
        (
            self.corner.0 + along / self.reach.max(1e-9) * self.size.0,
            self.corner.1 + (high - mm) / (high - low) * self.size.1,
        )
    }

    fn draw(
        &self,
        svg: &mut Svg,
        column: &Column,
        values: &[Vec<f64>],
        strokes: &[Stroke],
        numbered: bool,
        last: bool,
    ) {
        let (low, high) = self.range;
        let step = quarter_step(high - low);
        for index in (low / step).ceil() as i64..=(high / step).floor() as i64 {
            let mm = index as f64 * step;
            let at = self.at(0.0, mm);
            let stroke = if index == 0 { Stroke::new(BLACK, 0.9) } else { Stroke::new(PALE, 0.7) };
            svg.line(at, (at.0 + self.size.0, at.1), stroke);
            if numbered {
                let words = as_set(mm);
                svg.words((at.0 - 5.0, at.1 + 3.5), 9.5, false, Anchor::End, &words);
            }
        }
        let along = quarter_step(self.reach);
        for index in 0..=(self.reach / along).floor() as i64 {
            let at = self.at(index as f64 * along, low);
            svg.line((at.0, self.corner.1), at, Stroke::new(PALE, 0.7));
            if last {
                let words = as_set(index as f64 * along);
                svg.words((at.0, at.1 + 12.0), 9.5, false, Anchor::Middle, &words);
            }
        }
        for (line, stroke) in values.iter().zip(strokes) {
            svg.path(column.along.iter().zip(line).map(|(along, mm)| self.at(*along, *mm)), *stroke);
        }
        svg.frame(self.corner, self.size, Stroke::new(BLACK, 0.9));
    }
}

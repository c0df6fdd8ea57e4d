//! The inclines that teeth need, from front to back, one panel an excursion.

use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::plan::{RequiredInclines, Role};

use super::colour::{BLACK, GREY, PALE};
use super::figure::Figure;
use super::scale::quarter_step;
use super::svg::{Anchor, At, Stroke, Svg};
use crate::planned::Planned;
use words::number::as_set;

const WIDTH: f64 = 720.0;
const LEFT: f64 = 40.0;
const TOP: f64 = 22.0;
const GAP: f64 = 16.0;
const HEIGHT: f64 = 230.0;
const LEGEND_ROW: f64 = 14.0;

/// Teeth whose numbers stand at the foot of the panels: the lower left ones.
const NUMBERED: [u8; 7] = [31, 32, 33, 34, 35, 36, 37];

/// A line of a panel: its name, how it is drawn, and its points behind the incisal point.
struct Line {
    name: String,
    stroke: Stroke,
    points: Vec<At>,
}

/// Draws them: tangents whole, chords dashed; the left side black, the right grey where it differs.
pub fn figure(planned: &Planned) -> Figure {
    let panels = Role::ALL.map(|role| lines(planned, role));
    let names: Vec<(&str, Stroke)> = panels[0].iter().map(|line| (line.name.as_str(), line.stroke)).collect();
    let rows = names.len().div_ceil(2);
    let below = TOP + HEIGHT;
    let height = below + 52.0 + rows as f64 * LEGEND_ROW;
    let mut svg = Svg::new(WIDTH, height);
    let all = || panels.iter().flatten().flat_map(|line| &line.points);
    let reach =
        all().map(|point| point.0).fold((0.0_f64, 1.0_f64), |(low, high), x| (low.min(x), high.max(x)));
    let range =
        all().map(|point| point.1).fold((0.0_f64, 5.0_f64), |(low, high), y| (low.min(y), high.max(y)));
    let room = (range.1 - range.0) * 0.06;
    let range = (if range.0 < 0.0 { range.0 - room } else { 0.0 }, range.1 + room);
    let width = (WIDTH - LEFT - 6.0 - GAP * 2.0) / 3.0;
    for (index, (role, lines)) in Role::ALL.into_iter().zip(&panels).enumerate() {
        let corner = (LEFT + index as f64 * (width + GAP), TOP);
        let panel = Panel { corner, width, reach, range };
        panel.draw(&mut svg, lines, index == 0);
        panel.teeth(&mut svg, planned);
        svg.words((corner.0, TOP - 7.0), 11.0, true, Anchor::Start, role.name());
    }
    svg.words(
        (LEFT, below + 38.0),
        10.0,
        false,
        Anchor::Start,
        "behind the incisal point, mm (above: lower teeth)",
    );
    svg.words((LEFT + 6.0, TOP + 13.0), 10.0, false, Anchor::Start, "incline to the occlusal plane, °");
    for (index, (name, stroke)) in names.into_iter().enumerate() {
        let x = LEFT + (index % 2) as f64 * ((WIDTH - LEFT) / 2.0);
        let y = below + 56.0 + (index / 2) as f64 * LEGEND_ROW;
        svg.line((x, y - 3.5), (x + 40.0, y - 3.5), stroke);
        svg.words((x + 46.0, y), 10.0, false, Anchor::Start, name);
    }
    Figure {
        svg: svg.end(),
        width: WIDTH,
        height,
        title: "Inclines that teeth need".to_owned(),
        explanation: String::new(),
    }
}

/// The lines of an excursion; of the right side only where it differs from the left.
fn lines(planned: &Planned, role: Role) -> Vec<Line> {
    let chord = planned.plan.chord.mm();
    let differ = sides_differ(planned);
    let mut lines = Vec::new();
    for (side, colour) in [(Side::Left, BLACK), (Side::Right, GREY)] {
        if side == Side::Right && !differ {
            continue;
        }
        let of = if differ { format!(", {side}") } else { String::new() };
        for (arch, name, tangent, dashed) in
            [(Arch::Lower, "lower", "", "7 2.5"), (Arch::Upper, "upper", "12 2 2 2", "2 2")]
        {
            let teeth = || {
                let stands_here = |needed: &&RequiredInclines| {
                    needed.place.tooth.side() == side && needed.place.tooth.arch() == arch
                };
                planned.teeth.iter().filter(stands_here)
            };
            let points = |read: &dyn Fn(&RequiredInclines) -> f64| {
                teeth().map(|needed| (behind(planned, needed), read(needed))).collect()
            };
            lines.push(Line {
                name: format!("{name} teeth{of}: tangent"),
                stroke: Stroke::new(colour, 1.6).dashed(tangent),
                points: points(&|needed| needed.glide(role).tangent.along_way.degrees()),
            });
            lines.push(Line {
                name: format!("{name} teeth{of}: chord over {chord} mm"),
                stroke: Stroke::new(colour, 1.2).dashed(dashed),
                points: points(&|needed| needed.glide(role).chord.along_way.degrees()),
            });
        }
    }
    let lower_left = |needed: &&RequiredInclines| NUMBERED.contains(&needed.place.tooth.number());
    let rule = |needed: &RequiredInclines| (behind(planned, needed), needed.by_proportion.degrees());
    lines.push(Line {
        name: "rule of proportion (protrusive)".to_owned(),
        stroke: Stroke::new(GREY, 2.2).dashed("1 4"),
        points: if role == Role::Protrusive {
            planned.teeth.iter().filter(lower_left).map(rule).collect()
        } else {
            Vec::new()
        },
    });
    lines
}

/// How far a tooth stands behind the incisal point, along the occlusal plane.
fn behind(planned: &Planned, needed: &RequiredInclines) -> f64 {
    let from = planned.scene.instrument.incisal_point.coords();
    (from - needed.place.at).dot(&planned.scene.occlusal_plane.anterior())
}

/// Below this nobody sees two lines, in degrees.
const SEEN_DEG: f64 = 0.05;

fn sides_differ(planned: &Planned) -> bool {
    planned.teeth.iter().any(|one| {
        let tooth = one.place.tooth;
        // Each pair once.
        if tooth.side() == Side::Left {
            return false;
        }
        let twin = planned.teeth.iter().find(|other| other.place.tooth == tooth.across());
        twin.is_some_and(|other| {
            Role::ALL.into_iter().any(|role| {
                let apart = one.glide(role).chord.along_way - other.glide(role).chord.along_way;
                apart.degrees().abs() > SEEN_DEG
            })
        })
    })
}

struct Panel {
    corner: At,
    width: f64,
    /// Behind the incisal point, millimetres.
    reach: (f64, f64),
    /// Degrees.
    range: (f64, f64),
}

impl Panel {
    fn at(&self, (behind, degrees): At) -> At {
        let (x, y) = (self.reach, self.range);
        // The front is on the left, as in a view of the patient's left side.
        (
            self.corner.0 + (behind - x.0) / (x.1 - x.0) * self.width,
            self.corner.1 + (y.1 - degrees) / (y.1 - y.0) * HEIGHT,
        )
    }

    fn draw(&self, svg: &mut Svg, lines: &[Line], numbered: bool) {
        let step = quarter_step(self.range.1 - self.range.0);
        for index in (self.range.0 / step).ceil() as i64..=(self.range.1 / step).floor() as i64 {
            let degrees = index as f64 * step;
            let from = self.at((self.reach.0, degrees));
            let stroke = if index == 0 { Stroke::new(BLACK, 0.9) } else { Stroke::new(PALE, 0.7) };
            svg.line(from, (from.0 + self.width, from.1), stroke);
            if numbered {
                let words = as_set(degrees);
                svg.words((from.0 - 5.0, from.1 + 3.5), 9.5, false, Anchor::End, &words);
            }
        }
        let step = quarter_step(self.reach.1 - self.reach.0);
        for index in (self.reach.0 / step).ceil() as i64..=(self.reach.1 / step).floor() as i64 {
            let behind = index as f64 * step;
            let foot = self.at((behind, self.range.0));
            let words = as_set(behind);
            svg.words((foot.0, foot.1 + 24.0), 9.5, false, Anchor::Middle, &words);
        }
        for line in lines {
            svg.path(line.points.iter().map(|point| self.at(*point)), line.stroke);
        }
        svg.frame(self.corner, (self.width, HEIGHT), Stroke::new(BLACK, 0.9));
    }

    /// Where the lower left teeth stand.
    fn teeth(&self, svg: &mut Svg, planned: &Planned) {
        for needed in planned.teeth.iter().filter(|needed| NUMBERED.contains(&needed.place.tooth.number())) {
            let foot = self.at((behind(planned, needed), self.range.0));
            svg.line((foot.0, foot.1 - 4.0), foot, Stroke::new(BLACK, 0.9));
            let position = needed.place.tooth.position();
            // The incisors stand too close for two numbers.
            if position != 1 {
                svg.words((foot.0, foot.1 + 11.0), 9.0, false, Anchor::Middle, &position.to_string());
            }
        }
    }
}

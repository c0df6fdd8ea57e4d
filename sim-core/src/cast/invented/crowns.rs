//! The teeth set up along the arch: where each begins and ends, and what rises from it.

use super::arch::ArchLine;
use super::lines::{HALF_ROWS_MM, Lines, line};
use super::rise::{Rise, round};
use super::teeth::{
    CANINE, CuspForm, LOWER_LENGTHS_MM, LOWER_WIDTHS_MM, TEETH, UPPER_LENGTHS_MM, UPPER_WIDTHS_MM,
    lower_buccal, lower_lingual, upper_buccal, upper_palatal,
};
use super::{CastKind, FRONT_CLEARANCE_MM, InventedCasts, InventedError};

/// A named tip of the left side.
#[derive(Clone, Debug)]
pub(super) struct Tip {
    /// 1 to 7 from the midline.
    pub(super) place: usize,
    pub(super) name: &'static str,
    pub(super) along: f64,
    pub(super) line: usize,
}

/// One arch's left side.
#[derive(Clone, Debug)]
pub(super) struct Crowns {
    /// Where each tooth begins along the arch line, and where the last one ends.
    pub(super) borders: [f64; TEETH + 1],
    /// What rises from each tooth.
    pub(super) rises: Vec<Rise>,
    /// Which of them are let down until they touch, and how high they may come at most.
    pub(super) let_down: Vec<(usize, f64)>,
    pub(super) tips: Vec<Tip>,
    /// Over what difference of height the grooves between inclines are rounded.
    pub(super) groove: f64,
    /// Height of the gingival margin at the middle of each tooth, toward the other arch.
    pub(super) margins: [f64; TEETH],
}

/// Both arches' left sides, before anything is carved.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) lines: Lines,
    pub(super) upper: Crowns,
    pub(super) lower: Crowns,
    /// Places along the arch at which there must be a station, in order.
    pub(super) knots: Vec<f64>,
    pub(super) front_clearance: f64,
    pub(super) front_touches: bool,
    pub(super) incline: f64,
    /// Tangent of the front teeth's guide.
    pub(super) guide: f64,
    last_cusp: [f64; 2],
}

/// Steepest guide between upper and lower front teeth that is built: the lower labial surface must
/// fall away from it.
const STEEPEST_GUIDE_DEG: f64 = 65.0;
/// Two places along the arch nearer than this become one, so that no sliver comes between.
const SAME_PLACE_MM: f64 = 0.25;
/// The least that a circle round the arch line's centre of curvature keeps of itself lingually.
const LEAST_LEFT_INSIDE: f64 = 0.3;
/// What gingiva and base reach beyond the crowns' contours.
pub(super) const GINGIVA_BEYOND_MM: f64 = 1.3;
/// How far the teeth may go on past where the arch line reaches its width.
const PAST_WIDEST_MM: f64 = 3.0;
/// From a crown's border to its marginal ridge.
const MARGINAL_RIDGE_MM: f64 = 1.1;

impl Plan {
    pub(super) fn new(casts: &InventedCasts, arch: &ArchLine) -> Result<Self, InventedError> {
        let guide = guide(casts)?;
        let lower_borders = add_up(&LOWER_WIDTHS_MM);
        let (needed_mm, room_mm) = (lower_borders[TEETH], arch.room_mm() + PAST_WIDEST_MM);
        let (width_mm, length_mm) = (casts.arch_width.in_mm(), casts.arch_length.in_mm());
        if needed_mm > room_mm {
            return Err(InventedError::ArchTooShort { needed_mm, room_mm, width_mm, length_mm });
        }
        let middles =
            std::array::from_fn(|index| f64::midpoint(lower_borders[index], lower_borders[index + 1]));
        let lines = Lines::new(casts, middles);
        keep_apart(arch, &lines, needed_mm).map_err(|(radius_mm, least_mm)| {
            InventedError::ArchTooPointed { radius_mm, least_mm, width_mm, length_mm }
        })?;
        let mut knots = Knots(lower_borders.to_vec());
        let upper_borders = upper_borders(arch, &lines).map(|along| knots.place(along));
        let incline = casts.cusp_angle.tan();
        let clearance = match casts.kind {
            CastKind::Dentate => 0.0,
            CastKind::CompleteDenture => FRONT_CLEARANCE_MM,
        };
        let mut lower = Crowns::new(lower_borders, incline);
        let mut upper = Crowns::new(upper_borders, incline);
        for place in 1..=TEETH {
            if place <= CANINE {
                lower.lower_front(place, &mut knots);
                upper.upper_front(place, &mut knots, casts, clearance);
            } else {
                lower.lower_back(place, &mut knots, incline);
                upper.upper_back(place, &mut knots, incline);
            }
        }
        let last_tip =
            lower.tips.iter().rfind(|tip| tip.line == line::LOWER_BUCCAL).map_or(0.0, |tip| tip.along);
        Ok(Self {
            last_cusp: arch.at(last_tip).at,
            lines,
            upper,
            lower,
            knots: knots.0,
            front_clearance: clearance,
            front_touches: casts.kind == CastKind::Dentate,
            incline,
            guide,
        })
    }

    /// Plan place of the last lower molar's distobuccal cusp.
    pub(super) const fn last_cusp(&self) -> [f64; 2] {
        self.last_cusp
    }
}

fn guide(casts: &InventedCasts) -> Result<f64, InventedError> {
    let (overbite_mm, overjet_mm) = (casts.overbite.in_mm(), casts.overjet.in_mm());
    let steepest = STEEPEST_GUIDE_DEG.to_radians().tan();
    let clearance = if casts.kind == CastKind::Dentate { 0.0 } else { FRONT_CLEARANCE_MM };
    let guide = (overbite_mm + clearance) / overjet_mm;
    if guide > steepest {
        return Err(InventedError::OverbiteTooSteep {
            overbite_mm,
            overjet_mm,
            steepest_deg: STEEPEST_GUIDE_DEG,
            greatest_mm: (overjet_mm * steepest - clearance).max(0.0),
        });
    }
    Ok(guide)
}

/// Radius and least radius where lingual surfaces would run into each other.
fn keep_apart(arch: &ArchLine, lines: &Lines, end: f64) -> Result<(), (f64, f64)> {
    const STEP_MM: f64 = 0.25;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // some hundreds
    let steps = (end / STEP_MM) as u32;
    for step in 0..=steps {
        let along = f64::from(step) * STEP_MM;
        let inward = GINGIVA_BEYOND_MM - lines.at(along)[line::LOWER_LINGUAL_CONTOUR];
        let curvature = arch.at(along).curvature;
        if 1.0 - inward * curvature < LEAST_LEFT_INSIDE {
            return Err((1.0 / curvature, inward / (1.0 - LEAST_LEFT_INSIDE)));
        }
    }
    Ok(())
}

fn add_up(widths: &[f64; TEETH]) -> [f64; TEETH + 1] {
    let mut borders = [0.0; TEETH + 1];
    for (index, width) in widths.iter().enumerate() {
        borders[index + 1] = borders[index] + width;
    }
    borders
}

/// Borders of the upper teeth along the arch line: their widths are measured where the upper crowns
/// touch each other, on a line outward of it.
fn upper_borders(arch: &ArchLine, lines: &Lines) -> [f64; TEETH + 1] {
    const STEP_MM: f64 = 0.02;
    let wanted = add_up(&UPPER_WIDTHS_MM);
    let mut borders = [0.0; TEETH + 1];
    let (mut along, mut width) = (0.0, 0.0);
    for (border, wanted) in borders.iter_mut().zip(wanted) {
        while width < wanted {
            let middle = along + STEP_MM / 2.0;
            let stretch = 1.0 + lines.upper_contact(middle) * arch.at(middle).curvature;
            let step = STEP_MM.min((wanted - width) / stretch);
            along += step;
            // The last step ends on the border, whatever rounding would leave of it.
            width = if step < STEP_MM { wanted } else { width + STEP_MM * stretch };
        }
        *border = along;
    }
    borders
}

/// Places along the arch that the grid must hit.
struct Knots(Vec<f64>);

impl Knots {
    /// A place at or very near the one asked for, kept in order.
    fn place(&mut self, along: f64) -> f64 {
        let next = self.0.partition_point(|&knot| knot < along);
        let near = [next.checked_sub(1), Some(next)];
        let same = near.into_iter().flatten().filter_map(|index| self.0.get(index)).copied();
        let nearest = same.min_by(|a, b| (a - along).abs().total_cmp(&(b - along).abs()));
        match nearest {
            Some(knot) if (knot - along).abs() < SAME_PLACE_MM => knot,
            _ => {
                self.0.insert(next, along);
                along
            }
        }
    }
}

/// Width over which grooves are rounded, so that the grid can follow them.
const GROOVE: f64 = 0.45;
/// Slopes of front teeth, ours: lower labial and lingual, upper labial, ends of an edge, sides of a
/// canine's tip.
const LOWER_LABIAL: f64 = 4.0;
const LOWER_LINGUAL: f64 = 1.25;
const UPPER_LABIAL: f64 = 2.6;
const EDGE_ENDS: f64 = 1.4;
const CANINE_SIDES: f64 = 0.65;
/// Rounding of an edge.
const EDGE_ROUNDING: f64 = 0.25;

impl Crowns {
    fn new(borders: [f64; TEETH + 1], incline: f64) -> Self {
        Self {
            borders,
            rises: Vec::new(),
            let_down: Vec::new(),
            tips: Vec::new(),
            groove: GROOVE * incline,
            margins: [0.0; TEETH],
        }
    }

    /// A place on a tooth, as part of its width from its mesial border.
    pub(super) fn along(&self, place: usize, part: f64) -> f64 {
        self.borders[place - 1] * (1.0 - part) + self.borders[place] * part
    }

    /// Stretch of the edge of a front tooth, with its named point in the middle.
    fn edge(&mut self, place: usize, knots: &mut Knots, line: usize) -> [f64; 2] {
        let (name, ends, middle) =
            if place == CANINE { ("tip", [0.47, 0.47], 0.47) } else { ("edge", [0.16, 0.84], 0.5) };
        let along = knots.place(self.along(place, middle));
        self.tips.push(Tip { place, name, along, line });
        if place == CANINE { [along; 2] } else { ends.map(|part| self.along(place, part)) }
    }

    fn lower_front(&mut self, place: usize, knots: &mut Knots) {
        let stretch = self.edge(place, knots, line::LOWER_BUCCAL);
        self.rises.push(Rise {
            stretch,
            line: line::LOWER_BUCCAL,
            top: 0.0,
            along: if place == CANINE { CANINE_SIDES } else { EDGE_ENDS },
            across: [LOWER_LINGUAL, LOWER_LABIAL],
            rounding: EDGE_ROUNDING,
            hollow: (0.0, 0.0),
        });
        let length = LOWER_LENGTHS_MM[place - 1];
        self.cingulum(place, line::LOWER_LINGUAL, -0.55 * length);
        self.margins[place - 1] = -length;
    }

    fn upper_front(&mut self, place: usize, knots: &mut Knots, casts: &InventedCasts, clearance: f64) {
        // The lateral incisor stands a little short of its neighbours.
        const SHORT_MM: [f64; CANINE] = [0.0, 0.3, 0.0];
        let overjet = casts.overjet.in_mm();
        let top = casts.overbite.in_mm() - SHORT_MM[place - 1].min(casts.overbite.in_mm() / 2.0);
        let stretch = self.edge(place, knots, line::UPPER_BUCCAL);
        // Straight from the edge to the lower edge; the rounding is made up for.
        let rise = (top + clearance) / overjet;
        let rounding = EDGE_ROUNDING * rise;
        let inward = ((rise * overjet + rounding).powi(2) - rounding * rounding).sqrt() / overjet;
        self.rises.push(Rise {
            stretch,
            line: line::UPPER_BUCCAL,
            top,
            along: if place == CANINE { CANINE_SIDES } else { EDGE_ENDS },
            across: [inward, UPPER_LABIAL],
            rounding,
            hollow: (overjet + 0.3, 0.4),
        });
        let length = UPPER_LENGTHS_MM[place - 1];
        self.cingulum(place, line::UPPER_PALATAL, top - 0.55 * length);
        self.margins[place - 1] = top - length;
    }

    fn cingulum(&mut self, place: usize, line: usize, top: f64) {
        const SLOPE: f64 = 0.9;
        const ROUNDING: f64 = 0.8;
        let middle = self.along(place, 0.5);
        self.rises.push(Rise {
            stretch: [middle; 2],
            line,
            top,
            along: SLOPE,
            across: [SLOPE; 2],
            rounding: ROUNDING,
            hollow: (0.0, 0.0),
        });
    }

    fn lower_back(&mut self, place: usize, knots: &mut Knots, incline: f64) {
        for form in lower_buccal(place) {
            self.cusp(place, form, line::LOWER_BUCCAL, knots, incline);
        }
        for form in lower_lingual(place) {
            self.cusp(place, form, line::LOWER_LINGUAL, knots, incline);
        }
        let ridge = -0.62 * incline * HALF_ROWS_MM[place - 1];
        self.marginal_ridges(place, line::UPPER_PALATAL, ridge, incline);
        self.margins[place - 1] = -LOWER_LENGTHS_MM[place - 1];
    }

    fn upper_back(&mut self, place: usize, knots: &mut Knots, incline: f64) {
        let first = self.rises.len();
        for form in upper_buccal(place) {
            self.cusp(place, form, line::UPPER_BUCCAL, knots, incline);
        }
        for form in upper_palatal(place) {
            self.cusp(place, form, line::UPPER_PALATAL, knots, incline);
        }
        let cusps = first..self.rises.len();
        self.let_down.extend(cusps.map(|index| (index, f64::INFINITY)));
        let first = self.rises.len();
        let ridge = 0.35 * incline * HALF_ROWS_MM[place - 1];
        self.marginal_ridges(place, line::LOWER_BUCCAL, ridge, incline);
        let ridges = first..self.rises.len();
        self.let_down.extend(ridges.map(|index| (index, ridge)));
        let tip = 1.2 * incline * HALF_ROWS_MM[place - 1];
        self.margins[place - 1] = tip - UPPER_LENGTHS_MM[place - 1];
    }

    fn cusp(&mut self, place: usize, form: &CuspForm, line: usize, knots: &mut Knots, incline: f64) {
        let along = knots.place(self.along(place, form.along));
        self.tips.push(Tip { place, name: form.name, along, line });
        let top = -form.low_mm * incline.min(0.5) / 0.5;
        self.cone([along; 2], line, top, incline, HALF_ROWS_MM[place - 1]);
    }

    fn marginal_ridges(&mut self, place: usize, line: usize, top: f64, incline: f64) {
        for along in [self.borders[place - 1] + MARGINAL_RIDGE_MM, self.borders[place] - MARGINAL_RIDGE_MM] {
            self.cone([along; 2], line, top, incline, HALF_ROWS_MM[place - 1]);
        }
    }

    fn cone(&mut self, stretch: [f64; 2], line: usize, top: f64, incline: f64, reach: f64) {
        let (slope, rounding) = round(incline, reach);
        self.rises.push(Rise {
            stretch,
            line,
            top,
            along: slope,
            across: [slope; 2],
            rounding,
            hollow: (0.0, 0.0),
        });
    }
}

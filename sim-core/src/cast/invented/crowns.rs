//! What rises from the teeth of one side of an arch.

use super::knots::Knots;
use super::lines::{HALF_ROWS_MM, line};
use super::rise::{Rise, round};
use super::teeth::{
    CANINE, CuspForm, LOWER_LENGTHS_MM, TEETH, UPPER_LENGTHS_MM, lower_buccal, lower_lingual, upper_buccal,
    upper_palatal,
};

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

/// From a crown's border to its marginal ridge.
const MARGINAL_RIDGE_MM: f64 = 1.1;

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
    pub(super) fn new(borders: [f64; TEETH + 1], flattest: f64) -> Self {
        Self {
            borders,
            rises: Vec::new(),
            let_down: Vec::new(),
            tips: Vec::new(),
            groove: GROOVE * flattest,
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

    pub(super) fn lower_front(&mut self, place: usize, knots: &mut Knots) {
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

    pub(super) fn upper_front(
        &mut self,
        place: usize,
        knots: &mut Knots,
        overjet: f64,
        top: f64,
        clearance: f64,
    ) {
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

    pub(super) fn lower_back(&mut self, place: usize, knots: &mut Knots, incline: f64) {
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

    pub(super) fn upper_back(&mut self, place: usize, knots: &mut Knots, incline: f64) {
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

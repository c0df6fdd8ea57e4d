//! Both arches planned: where each tooth begins and ends, and whether they go together.

use super::arch::ArchLine;
use super::crowns::Crowns;
use super::knots::Knots;
use super::lines::{Lines, line};
use super::teeth::{CANINE, LOWER_WIDTHS_MM, TEETH, UPPER_WIDTHS_MM};
use super::{CastKind, InventedCasts, InventedError};

/// Both arches' left sides, before anything is carved.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub(super) lines: Lines,
    pub(super) upper: Crowns,
    pub(super) lower: Crowns,
    /// Places along the arch at which there must be a station, in order.
    pub(super) knots: Vec<f64>,
    pub(super) front_clearance: f64,
    pub(super) front_touches: bool,
    pub(super) incline: f64,
    /// Tangents of the front teeth's guides, by place.
    pub(super) guides: [f64; CANINE],
    last_cusp: [f64; 2],
}

/// Steepest guide between upper and lower front teeth that is built: the lower labial surface must
/// fall away from it.
const STEEPEST_GUIDE_DEG: f64 = 65.0;
/// The least that a circle round the arch line's centre of curvature keeps of itself lingually.
const LEAST_LEFT_INSIDE: f64 = 0.3;
/// What gingiva and base reach beyond the crowns' contours.
pub(super) const GINGIVA_BEYOND_MM: f64 = 1.3;
/// How far the teeth may go on past where the arch line reaches its width.
const PAST_WIDEST_MM: f64 = 3.0;
impl Layout {
    pub(super) fn new(casts: &InventedCasts, arch: &ArchLine) -> Result<Self, InventedError> {
        let clearance = match casts.kind {
            CastKind::Dentate => 0.0,
            CastKind::CompleteDenture => casts.front_clearance.mm(),
        };
        check_guide(casts, clearance)?;
        let overlaps = overlaps(casts, clearance);
        let overjet = casts.overjet.mm();
        let lower_borders = add_up(&LOWER_WIDTHS_MM);
        let (needed_mm, room_mm) = (lower_borders[TEETH], arch.room_mm() + PAST_WIDEST_MM);
        let (width_mm, length_mm) = (casts.arch_width.mm(), casts.arch_length.mm());
        if needed_mm > room_mm {
            return Err(InventedError::ArchTooShort { needed_mm, room_mm, width_mm, length_mm });
        }
        let middles =
            std::array::from_fn(|index| f64::midpoint(lower_borders[index], lower_borders[index + 1]));
        let lines = Lines::new(casts, middles);
        keep_apart(arch, &lines, needed_mm).map_err(|(radius_mm, least_mm)| {
            InventedError::ArchTooPointed { radius_mm, least_mm, width_mm, length_mm }
        })?;
        let mut knots = Knots::new(&lower_borders);
        let upper_borders = upper_borders(arch, &lines).map(|along| knots.place(along));
        let incline = casts.cusp_angle.tan();
        let mut lower = Crowns::new(lower_borders, incline);
        // A flat palatal surface has no grooves to round, whatever the cusps are.
        let flattest = overlaps.iter().map(|overlap| (overlap + clearance) / overjet).fold(incline, f64::min);
        let mut upper = Crowns::new(upper_borders, flattest);
        for place in 1..=TEETH {
            if place <= CANINE {
                lower.lower_front(place, &mut knots);
                upper.upper_front(place, &mut knots, overjet, overlaps[place - 1], clearance);
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
            knots: knots.in_order(),
            front_clearance: clearance,
            front_touches: clearance == 0.0,
            incline,
            guides: overlaps.map(|overlap| (overlap + clearance) / overjet),
        })
    }

    /// Place in plan of the last lower molar's distobuccal cusp.
    pub(super) const fn last_cusp(&self) -> [f64; 2] {
        self.last_cusp
    }
}

/// Whether the lower labial surfaces can stay clear of the upper palatal ones.
fn check_guide(casts: &InventedCasts, clearance: f64) -> Result<(), InventedError> {
    let (overbite_mm, overjet_mm) = (casts.overbite.mm(), casts.overjet.mm());
    let greatest_mm = overjet_mm * STEEPEST_GUIDE_DEG.to_radians().tan() - clearance;
    if overbite_mm > greatest_mm {
        return Err(InventedError::OverbiteTooSteep {
            overbite_mm,
            overjet_mm,
            steepest_deg: STEEPEST_GUIDE_DEG,
            greatest_mm: greatest_mm.max(0.0),
        });
    }
    Ok(())
}

/// How far each upper front tooth reaches below the lower edges.
///
/// The lateral incisor stands a little short of its neighbours. Natural canines reach lower, so that
/// they lead sideways (common practice, no source), as far as the steepest guide allows; those of
/// dentures do not.
fn overlaps(casts: &InventedCasts, clearance: f64) -> [f64; CANINE] {
    const LATERAL_SHORT_MM: f64 = 0.3;
    const CANINE_LONG_MM: f64 = 0.6;
    let (overbite, overjet) = (casts.overbite.mm(), casts.overjet.mm());
    let greatest = overjet * STEEPEST_GUIDE_DEG.to_radians().tan() - clearance;
    let canine = match casts.kind {
        CastKind::Dentate => (overbite + CANINE_LONG_MM).min(greatest),
        CastKind::CompleteDenture => overbite,
    };
    [overbite, overbite - LATERAL_SHORT_MM.min(overbite / 2.0), canine]
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

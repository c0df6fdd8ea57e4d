//! Where every tooth stands: crowns of published mean widths, one beside the other along an arch.

use nalgebra::Vector3;

use super::PlanError;
use crate::anterior::AnteriorGuide;
use crate::cusp::crown::{LOWER_WIDTHS_MM, TEETH, UPPER_WIDTHS_MM};
use crate::cusp::{Arch, Tooth};
use crate::frame::{OcclusalPlane, Side};
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// The compensating curves start at the middle of the lower canine (common practice, no source).
const CURVE_STARTS_AT: usize = 3;
/// Where pin and teeth are apart, the lower incisal edges are taken to stand so far behind the pin
/// (invented).
const BEHIND_THE_PIN_MM: f64 = 8.0;
/// No curve is tighter: the last molar would stand upright.
const LEAST_RADIUS_MM: f64 = 60.0;

settings_struct! {
    /// The arch on which teeth stand, in the occlusal plane: half an ellipse whose front end is the
    /// lower incisal midpoint.
    #[derive(Copy)]
    pub struct ArchForm {
        behind as BEHIND: Length = "behind_incisal_point_mm", "lower incisal edges behind the incisal point",
            -10.0..=60.0, step 1.0, zeroed None,
            "How far the lower incisal edges stand behind the incisal point, along the occlusal plane; none where the incisors are the guide.";
        above as ABOVE: Length = "above_incisal_point_mm", "occlusal plane above the incisal point",
            -30.0..=30.0, step 1.0, zeroed None, absent 0.0,
            "How far the occlusal plane passes above the incisal point, along its normal.";
        width as WIDTH: Length = "arch_width_mm", "arch width", 40.0..=70.0, step 1.0, zeroed None, absent 54.0,
            "Width of the lower arch line from side to side at the arch length.";
        length as LENGTH: Length = "arch_length_mm", "arch length", 25.0..=60.0, step 1.0, zeroed None, absent 42.0,
            "How far behind the lower incisal midpoint the arch line reaches its width.";
        upper_outside as UPPER_OUTSIDE: Length = "upper_outside_mm", "upper arch outside the lower", 0.0..=6.0, step 0.5,
            zeroed None, absent 2.0,
            "How far the line of the upper teeth runs outside that of the lower ones.";
        sagittal_curve as SAGITTAL_CURVE: Length = "sagittal_curve_radius_mm", "radius of the sagittal compensating curve",
            0.0..=1000.0, step 10.0, zeroed None, absent 0.0,
            "Radius of the circle, seen from the side, that rises from the lower canine back, tangent to the occlusal plane there; 0 is flat, otherwise at least 60.";
        transverse_curve as TRANSVERSE_CURVE: Length = "transverse_curve_radius_mm", "radius of the transverse compensating curve",
            0.0..=1000.0, step 10.0, zeroed None, absent 0.0,
            "Radius of the circle, seen from the front, to which the back teeth are tilted about the middle; 0 is flat, otherwise at least 60.";
    }
}

/// A tooth's place in the upper frame at rest, where the teeth of both arches meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothPlace {
    /// The tooth.
    pub tooth: Tooth,
    /// The middle of its crown's occlusal surface, in millimetres.
    pub at: Vector3<f64>,
    /// How much the sagittal compensating curve tips its occlusal surface, anterior edge down.
    pub sagittal_tilt: Angle,
    /// How much the transverse compensating curve tips it, outer edge up.
    pub transverse_tilt: Angle,
}

impl ArchForm {
    /// The arch of an instrument where nothing tells it: the incisal edges at the incisal point where
    /// incisors guide, and 8 mm behind the pin where a table does (invented); flat.
    #[must_use]
    pub const fn usual(instrument: &Instrument) -> Self {
        let behind = match instrument.anterior_guide {
            AnteriorGuide::Incisors(_) => 0.0,
            _ => BEHIND_THE_PIN_MM,
        };
        Self {
            behind: Length::from_mm(behind),
            above: Length::ZERO,
            width: Length::from_mm(54.0),
            length: Length::from_mm(42.0),
            upper_outside: Length::from_mm(2.0),
            sagittal_curve: Length::ZERO,
            transverse_curve: Length::ZERO,
        }
    }

    /// The 28 teeth of both arches, upper right to left, then lower left to right, each by ISO 3950.
    ///
    /// # Errors
    /// [`PlanError::ArchTooShort`] where the crowns do not fit, [`PlanError::CurveTooTight`] for a
    /// radius under 60 mm that is not 0.
    pub fn teeth(&self, instrument: &Instrument, plane: OcclusalPlane) -> Result<Vec<ToothPlace>, PlanError> {
        self.spots()?.teeth(self, instrument, plane)
    }

    /// Where the crowns stand along the arch, whatever plane and curves do.
    pub(super) fn spots(&self) -> Result<Spots, PlanError> {
        let outside = self.upper_outside.mm();
        let line = |outside: f64| Line::new(self.width.mm() / 2.0 + outside, self.length.mm() + outside);
        let (upper, lower) = (line(outside), line(0.0));
        let mut spots = Vec::with_capacity(4 * TEETH);
        let mut starts_behind = 0.0;
        for (quadrants, line, widths, outside) in
            [([1, 2], &upper, &UPPER_WIDTHS_MM, outside), ([3, 4], &lower, &LOWER_WIDTHS_MM, 0.0)]
        {
            let mut quarter = Vec::with_capacity(TEETH);
            for middle in middles(widths) {
                let spot = line.at(middle)?;
                quarter.push(Spot { behind: spot.behind - outside, ..spot });
            }
            starts_behind = quarter[CURVE_STARTS_AT - 1].behind;
            for quadrant in quadrants {
                for (position, spot) in (1..).zip(&quarter) {
                    spots.push((Tooth::new(quadrant * 10 + position)?, *spot));
                }
            }
        }
        Ok(Spots { spots, starts_behind })
    }

    /// Where the sagittal curve of the given radius tips a tooth so far behind its start; for the
    /// scale on which curves are compared.
    pub(super) fn tilt_of_radius(radius: Length) -> Angle {
        let radius_mm = radius.mm();
        if radius_mm == 0.0 {
            Angle::ZERO
        } else {
            Angle::from_radians((CURVE_READ_AT_MM / radius_mm).asin())
        }
    }

    /// The radius whose curve tips by this angle where [`Self::tilt_of_radius`] reads it; level or the
    /// other way is flat.
    pub(super) fn radius_of_tilt(tilt: Angle) -> Length {
        let sin = tilt.radians().sin();
        if sin <= 0.0 { Length::ZERO } else { Length::from_mm(CURVE_READ_AT_MM / sin) }
    }
}

/// Where a sagittal curve's tilt is read, behind its start: about the second molar.
pub(crate) const CURVE_READ_AT_MM: f64 = 30.0;
/// Front teeth stand on the arch up to the canine.
pub(super) const LAST_FRONT_TOOTH: u8 = 3;

/// How far along the arch the middles of the crowns stand.
fn middles(widths: &[f64; TEETH]) -> [f64; TEETH] {
    let mut along = 0.0;
    widths.map(|width| {
        along += width;
        along - width / 2.0
    })
}

/// The left half of an ellipse from its front end, by length along it.
struct Line {
    half_width: f64,
    length: f64,
}

/// The crowns of both arches along their lines.
pub(super) struct Spots {
    spots: Vec<(Tooth, Spot)>,
    /// Where the sagittal curve starts: how far the lower canine stands behind the front.
    starts_behind: f64,
}

impl Spots {
    /// The teeth, set on a plane and its curves.
    pub(super) fn teeth(
        &self,
        arch: &ArchForm,
        instrument: &Instrument,
        plane: OcclusalPlane,
    ) -> Result<Vec<ToothPlace>, PlanError> {
        let curve = Curves::new(arch)?;
        let (forward, normal) = (plane.anterior(), plane.normal());
        let front = instrument.incisal_point.coords() - forward * arch.behind.mm() + normal * arch.above.mm();
        let placed = self.spots.iter().map(|(tooth, spot)| {
            let (rise, sagittal_tilt) = curve.sagittal(spot.behind - self.starts_behind);
            let beside = Vector3::y() * (spot.beside * tooth.side().outward_y());
            ToothPlace {
                tooth: *tooth,
                at: front - forward * spot.behind + beside + normal * rise,
                sagittal_tilt,
                transverse_tilt: if tooth.position() <= LAST_FRONT_TOOTH {
                    Angle::ZERO
                } else {
                    curve.transverse(spot.beside)
                },
            }
        });
        Ok(placed.collect())
    }
}

/// A spot of a line: behind its front end and beside the middle, in millimetres.
#[derive(Clone, Copy)]
struct Spot {
    behind: f64,
    beside: f64,
}

/// Steps of the length's integral by Simpson's rule: good to far below a micrometre.
const STEPS: u32 = 64;
/// How far the line goes on past its widest place, as part of a quarter turn: last molars may stand a
/// little behind it.
const BEYOND: f64 = 1.15;

impl Line {
    fn new(half_width: f64, length: f64) -> Self {
        Self { half_width, length }
    }

    fn speed(&self, turn: f64) -> f64 {
        let (sin, cos) = turn.sin_cos();
        (self.length * sin).hypot(self.half_width * cos)
    }

    /// Length from the front end to the turn.
    fn along(&self, turn: f64) -> f64 {
        let step = turn / f64::from(STEPS);
        let part = |index: u32| {
            let from = f64::from(index) * step;
            self.speed(from) + 4.0 * self.speed(from + step / 2.0) + self.speed(from + step)
        };
        (0..STEPS).map(part).sum::<f64>() * step / 6.0
    }

    fn at(&self, along_mm: f64) -> Result<Spot, PlanError> {
        let end = std::f64::consts::FRAC_PI_2 * BEYOND;
        let room_mm = self.along(end);
        if along_mm > room_mm {
            return Err(PlanError::ArchTooShort { needed_mm: along_mm, room_mm });
        }
        // The length grows steadily with the turn: Newton's method from below its end.
        let mut turn = along_mm / room_mm * end;
        for _ in 0..MOST_STEPS {
            let step = (self.along(turn) - along_mm) / self.speed(turn);
            turn -= step;
            if step.abs() < NEAR {
                break;
            }
        }
        let (sin, cos) = turn.sin_cos();
        Ok(Spot { behind: self.length * (1.0 - cos), beside: self.half_width * sin })
    }
}

/// Newton's method doubles its digits at each step; the turn is smooth.
const MOST_STEPS: usize = 30;
/// What rounding leaves of a turn.
const NEAR: f64 = 1e-14;

/// The compensating curves as radii; none is flat.
struct Curves {
    sagittal: Option<f64>,
    transverse: Option<f64>,
}

impl Curves {
    fn new(arch: &ArchForm) -> Result<Self, PlanError> {
        let radius = |key, given: Length| match given.mm() {
            0.0 => Ok(None),
            given_mm if given_mm < LEAST_RADIUS_MM => {
                Err(PlanError::CurveTooTight { key, given_mm, least_mm: LEAST_RADIUS_MM })
            }
            given_mm => Ok(Some(given_mm)),
        };
        Ok(Self {
            sagittal: radius(ArchForm::SAGITTAL_CURVE.facts.key, arch.sagittal_curve)?,
            transverse: radius(ArchForm::TRANSVERSE_CURVE.facts.key, arch.transverse_curve)?,
        })
    }

    /// How far a tooth so far behind the start is lifted, and how it is tipped.
    fn sagittal(&self, behind: f64) -> (f64, Angle) {
        match self.sagittal {
            Some(radius) if behind > 0.0 => {
                let sin = behind / radius;
                (radius * (1.0 - (1.0 - sin * sin).sqrt()), Angle::from_radians(sin.asin()))
            }
            _ => (0.0, Angle::ZERO),
        }
    }

    /// How a tooth so far beside the middle is tipped; its middle keeps its height.
    fn transverse(&self, beside: f64) -> Angle {
        self.transverse.map_or(Angle::ZERO, |radius| Angle::from_radians((beside / radius).asin()))
    }
}

impl ToothPlace {
    /// Whether the tooth stands in front of the premolars.
    #[must_use]
    pub(crate) const fn is_front(&self) -> bool {
        self.tooth.position() <= LAST_FRONT_TOOTH
    }

    /// Its arch.
    #[must_use]
    pub const fn arch(&self) -> Arch {
        self.tooth.arch()
    }

    /// Its side.
    #[must_use]
    pub const fn side(&self) -> Side {
        self.tooth.side()
    }
}

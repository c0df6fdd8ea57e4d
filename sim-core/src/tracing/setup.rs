//! A tracer set up between rims: does the plate lie as it should, does the stylus stay on it, do the
//! rims keep clear of each other.
//!
//! While a tracing is made the central bearing, the stylus on its plate, is what stops the closing: it
//! takes the place of the anterior guide. The drawing is the exact path of the tip on the plate.

use super::tracer::{Member, Tracer};
use super::{Leg, PlatePoint, Tracing};
use crate::anterior::{AnteriorGuide, Trough};
use crate::bracket;
use crate::excursion::{Mechanism, Movement, NoPose, Placement, Station};
use crate::frame::{JawPose, LowerPoint, OcclusalPlane, Side, UpperPoint};
use crate::instrument::{IncisalPoint, Instrument};
use crate::units::{Angle, Length};

use nalgebra::Vector3;

/// A plate is parallel to the occlusal plane within this (common practice, no source).
pub const PARALLEL_WITHIN: Angle = Angle::from_degrees(5.0);
/// Space that the heels of the rims want in every excursion (common practice, no source).
pub const LEAST_HEEL_GAP: Length = Length::from_mm(3.0);
/// Half of the side of the incisal table, about its middle (example value).
const TABLE_HALF_MM: f64 = 12.0;
/// Points of a leg, ends included.
const POINTS: usize = 61;
/// Stride in which the end of a leg is looked for; over it the tip goes ever farther.
const STRIDE_MM: f64 = 1.0;
/// Condylar advance past which no leg is followed.
const FARTHEST_MM: f64 = 30.0;
/// Length to which a station and a lengthening are found.
const TOLERANCE_MM: f64 = 1e-12;
/// A bearing is not lengthened by more.
const MOST_RAISED_MM: f64 = 30.0;

/// Why a set-up cannot be judged.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum SetupError {
    /// A leg admits no pose.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// The tip never goes so far.
    #[error("the {leg} goes no farther than {farthest_mm:.2} mm on the plate; {wanted_mm} mm are asked")]
    TooShort {
        /// The leg.
        leg: Leg,
        /// How far it goes.
        farthest_mm: f64,
        /// How far it should.
        wanted_mm: f64,
    },
}

/// Gaps between the rims, square to the occlusal plane of the upper one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RimGaps {
    /// At the right heel of the lower rim.
    pub right_heel: Length,
    /// At the left heel.
    pub left_heel: Length,
    /// At its front, the incisal point.
    pub front: Length,
}

/// One leg as the tracer draws it.
#[derive(Clone, Debug, PartialEq)]
pub struct LegSetup {
    /// Which leg.
    pub leg: Leg,
    /// Where it is at the distance of the record.
    pub hole: PlatePoint,
    /// Where it ends.
    pub end: PlatePoint,
    /// How far inside the plate's edge it ends; below 0 where the stylus has run off.
    pub inside: Length,
    /// Gaps between the rims at the distance of the record.
    pub gaps: RimGaps,
    /// The least of each on the whole leg.
    pub least: RimGaps,
}

/// A tracer set up.
#[derive(Clone, Debug, PartialEq)]
pub struct TracingSetup {
    /// The tracer, completed.
    pub tracer: Tracer,
    /// Angle between plate and occlusal plane: below 0 where the plate's front is higher.
    pub plate_to_plane: Angle,
    /// The distance at which a record is made.
    pub distance: Length,
    /// How far each leg is followed.
    pub reach: Length,
    /// What the stylus draws, the apex at its origin: places along the plate.
    pub drawn: Tracing,
    /// The legs, in the order of [`Leg::ALL`].
    pub legs: [LegSetup; 3],
    /// Space between the plate, or the stylus, and the incisal table, whichever comes nearer on any leg;
    /// none where there is no table.
    pub clear_of_table: Option<Length>,
    /// By how much the bearing must be lengthened so that the heels keep [`LEAST_HEEL_GAP`] on the way to
    /// the distance of the record; zero where they do. None where no lengthening within 30 mm does it.
    pub lengthen: Option<Length>,
}

/// The instrument while the tracer guides it.
struct Traced<'t> {
    tracer: &'t Tracer,
    plane: OcclusalPlane,
    front: LowerPoint,
    lengthened: f64,
    mechanism: Mechanism,
    tip_at_rest: Vector3<f64>,
}

impl<'t> Traced<'t> {
    fn new(
        instrument: &Instrument,
        plane: OcclusalPlane,
        tracer: &'t Tracer,
        lengthened: f64,
    ) -> Result<Self, NoPose> {
        let trough = Trough { sagittal_inclination: tracer.plate.inclination, ..Trough::LEVEL };
        let [x, y, z] = tracer.stylus_mm.into();
        let guided = Instrument {
            anterior_guide: match tracer.plate_on {
                Member::Lower => AnteriorGuide::Table(trough),
                Member::Upper => AnteriorGuide::Incisors(trough),
            },
            incisal_point: IncisalPoint::mm(x, y, z),
            pin_extension: Length::from_mm(lengthened),
            ..instrument.clone()
        };
        let mechanism = match tracer.plate_on {
            Member::Lower => Mechanism::new(&guided),
            Member::Upper => Mechanism::new(&guided).with_edge_raised(Length::from_mm(lengthened)),
        };
        let mut traced = Self {
            tracer,
            plane,
            front: LowerPoint::from_coords(instrument.incisal_point.coords()),
            lengthened,
            tip_at_rest: Vector3::zeros(),
            mechanism,
        };
        let rest = traced.mechanism.rest()?;
        traced.tip_at_rest = traced.tip(&rest.jaw);
        Ok(traced)
    }

    /// The tip in the frame of the member that carries the plate.
    fn tip(&self, jaw: &JawPose) -> Vector3<f64> {
        let up = Vector3::z() * self.lengthened;
        match self.tracer.plate_on {
            Member::Lower => *jaw.to_lower(&UpperPoint::from_coords(self.tracer.stylus_mm - up)).coords(),
            Member::Upper => *jaw.to_upper(&LowerPoint::from_coords(self.tracer.stylus_mm + up)).coords(),
        }
    }

    /// Where the tip stands on the plate.
    fn mark(&self, placed: &Placement) -> PlatePoint {
        let way = self.tip(&placed.jaw) - self.tip_at_rest;
        PlatePoint::mm(way.dot(&self.tracer.plate.anterior()), way.y)
    }

    fn placed(&self, leg: Leg, parameter: f64) -> Result<Placement, NoPose> {
        self.mechanism.at(movement(leg), Station::from_parameter(parameter))
    }

    /// The parameter at which a leg has gone so far on the plate.
    fn parameter_at(&self, leg: Leg, wanted: Length) -> Result<f64, SetupError> {
        let wanted_mm = wanted.mm();
        let excess = |parameter: f64| {
            self.placed(leg, parameter)
                .map(|placed| self.mark(&placed).distance(&PlatePoint::APEX).mm() - wanted_mm)
        };
        let (mut near, mut near_excess) = (self.start(leg), -wanted_mm);
        while near < FARTHEST_MM {
            let far = near + STRIDE_MM;
            let far_excess = excess(far)?;
            if far_excess >= 0.0 {
                return Ok(bracket::root((near, far), (near_excess, far_excess), TOLERANCE_MM, excess)?);
            }
            (near, near_excess) = (far, far_excess);
        }
        Err(SetupError::TooShort { leg, farthest_mm: near_excess + wanted_mm, wanted_mm })
    }

    fn start(&self, leg: Leg) -> f64 {
        self.mechanism.travel(movement(leg), Length::ZERO).start().parameter()
    }

    /// Gap of a point of the lower rim under the face of the upper one.
    fn gap(&self, jaw: &JawPose, lower: &LowerPoint) -> Length {
        let way = jaw.to_upper(lower).coords() - lower.coords();
        self.tracer.rims_apart - Length::from_mm(way.dot(&self.plane.normal()))
    }

    fn gaps(&self, jaw: &JawPose) -> RimGaps {
        let [right, left] = self.tracer.heels_mm.map(|heel| self.gap(jaw, &LowerPoint::from_coords(heel)));
        RimGaps { right_heel: right, left_heel: left, front: self.gap(jaw, &self.front) }
    }

    /// The poses of a leg, evenly spaced in its parameter.
    fn poses(&self, leg: Leg, to: f64) -> Result<Vec<Placement>, NoPose> {
        let from = self.start(leg);
        let part = |index: usize| index as f64 / (POINTS - 1) as f64;
        (0..POINTS).map(|index| self.placed(leg, from + (to - from) * part(index))).collect()
    }
}

impl TracingSetup {
    /// One leg.
    #[must_use]
    pub const fn leg(&self, leg: Leg) -> &LegSetup {
        &self.legs[leg.index()]
    }
}

impl RimGaps {
    fn least(self, other: Self) -> Self {
        Self {
            right_heel: self.right_heel.min(other.right_heel),
            left_heel: self.left_heel.min(other.left_heel),
            front: self.front.min(other.front),
        }
    }

    /// The lesser gap at the heels.
    #[must_use]
    pub fn heels(&self) -> Length {
        self.right_heel.min(self.left_heel)
    }
}

/// Where the tip of a tracer's stylus stands on its plate at a station of a movement, from where it rests: the
/// bearing guides, as in [`set_up`].
///
/// # Errors
/// [`NoPose`] where the settings admit no pose.
pub fn stylus_at(
    instrument: &Instrument,
    plane: OcclusalPlane,
    tracer: &Tracer,
    movement: Movement,
    station: Station,
) -> Result<PlatePoint, NoPose> {
    let traced = Traced::new(instrument, plane, tracer, 0.0)?;
    Ok(traced.mark(&traced.mechanism.at(movement, station)?))
}

const fn movement(leg: Leg) -> Movement {
    match leg {
        Leg::Protrusive => Movement::Protrusive,
        Leg::RightLateral => Movement::Lateral { working: Side::Right },
        Leg::LeftLateral => Movement::Lateral { working: Side::Left },
    }
}

/// Sets a tracer up on an instrument and follows each leg to `reach` on the plate; records are made at
/// `distance` there.
///
/// # Errors
/// [`SetupError`] where a leg has no pose or does not go so far.
pub fn set_up(
    instrument: &Instrument,
    plane: OcclusalPlane,
    tracer: &Tracer,
    distance: Length,
    reach: Length,
) -> Result<TracingSetup, SetupError> {
    let traced = Traced::new(instrument, plane, tracer, 0.0)?;
    let reach = reach.max(distance);
    let mut clear: Option<Length> = None;
    let mut drawn = Vec::with_capacity(Leg::ALL.len());
    let mut legs = Vec::with_capacity(Leg::ALL.len());
    for leg in Leg::ALL {
        let at_record = traced.placed(leg, traced.parameter_at(leg, distance)?)?;
        let poses = traced.poses(leg, traced.parameter_at(leg, reach)?)?;
        let marks: Vec<PlatePoint> = poses.iter().map(|placed| traced.mark(placed)).collect();
        let end = marks.last().copied().unwrap_or(PlatePoint::APEX);
        let gaps = traced.gaps(&at_record.jaw);
        let least = poses.iter().map(|placed| traced.gaps(&placed.jaw)).fold(gaps, RimGaps::least);
        for placed in &poses {
            let here = table_gap(instrument, tracer, &placed.jaw);
            clear = here.map(|here| clear.map_or(here, |least| least.min(here)));
        }
        legs.push(LegSetup {
            leg,
            hole: traced.mark(&at_record),
            end,
            inside: tracer.inside(&end),
            gaps,
            least,
        });
        drawn.push(marks);
    }
    let lengthen = lengthening(instrument, plane, tracer, distance)?;
    let [protrusive, right_lateral, left_lateral] = drawn.try_into().unwrap_or_default();
    let no_leg = || SetupError::TooShort { leg: Leg::Protrusive, farthest_mm: 0.0, wanted_mm: reach.mm() };
    Ok(TracingSetup {
        tracer: *tracer,
        plate_to_plane: tracer.plate.inclination - plane.inclination,
        distance,
        reach,
        drawn: Tracing { protrusive, right_lateral, left_lateral },
        legs: legs.try_into().map_err(|_| no_leg())?,
        clear_of_table: clear,
        lengthen,
    })
}

/// How much longer the bearing must be for the heels.
fn lengthening(
    instrument: &Instrument,
    plane: OcclusalPlane,
    tracer: &Tracer,
    distance: Length,
) -> Result<Option<Length>, SetupError> {
    let spare = |longer: f64| -> Result<f64, SetupError> {
        let traced = Traced::new(instrument, plane, tracer, longer)?;
        let mut least = f64::INFINITY;
        for leg in Leg::ALL {
            for placed in traced.poses(leg, traced.parameter_at(leg, distance)?)? {
                least = least.min(traced.gaps(&placed.jaw).heels().mm());
            }
        }
        Ok(least - LEAST_HEEL_GAP.mm())
    };
    let (mut near, mut near_spare) = (0.0, spare(0.0)?);
    if near_spare >= 0.0 {
        return Ok(Some(Length::ZERO));
    }
    while near < MOST_RAISED_MM {
        let far = near + STRIDE_MM;
        let Ok(far_spare) = spare(far) else { return Ok(None) };
        if far_spare >= 0.0 {
            let found = bracket::root((near, far), (near_spare, far_spare), TOLERANCE_MM, spare)?;
            return Ok(Some(Length::from_mm(found)));
        }
        (near, near_spare) = (far, far_spare);
    }
    Ok(None)
}

impl Tracer {
    /// How far a place on the plate, from the tip at rest, lies inside its edge; below 0 beyond it.
    #[must_use]
    pub fn inside(&self, at: &PlatePoint) -> Length {
        let lengthwise = self.half_mm.0 - (at.forward.mm() - self.centre_mm.0).abs();
        let across = self.half_mm.1 - (at.left.mm() - self.centre_mm.1).abs();
        Length::from_mm(lengthwise.min(across))
    }

    /// A place on the plate, from the tip at rest, in the frame of the member that carries it (millimetres).
    #[must_use]
    pub fn on_plate(&self, at: &PlatePoint) -> Vector3<f64> {
        self.stylus_mm + self.plate.anterior() * at.forward.mm() + Vector3::y() * at.left.mm()
    }

    /// The corners of the plate in the frame of the member that carries it: front left, front right, back right,
    /// back left.
    #[must_use]
    pub fn corners(&self) -> [Vector3<f64>; 4] {
        [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)].map(|(ahead, left)| {
            let forward = self.centre_mm.0 + ahead * self.half_mm.0;
            self.on_plate(&PlatePoint::mm(forward, self.centre_mm.1 + left * self.half_mm.1))
        })
    }
}

/// Space between the tracer and the incisal table: seen from above, from the table's edge to the plate's
/// and to the stylus; nothing is left of it where one lies over the other.
fn table_gap(instrument: &Instrument, tracer: &Tracer, jaw: &JawPose) -> Option<Length> {
    if !instrument.anterior_guide.has_pin() {
        return None;
    }
    let middle = instrument.incisal_point.coords();
    let plate = match tracer.plate_on {
        Member::Lower => tracer.corners(),
        Member::Upper => {
            tracer.corners().map(|corner| *jaw.to_lower(&UpperPoint::from_coords(corner)).coords())
        }
    };
    let tip = match tracer.plate_on {
        Member::Lower => *jaw.to_lower(&UpperPoint::from_coords(tracer.stylus_mm)).coords(),
        Member::Upper => tracer.stylus_mm,
    };
    let bounds = |of: fn(&Vector3<f64>) -> f64, places: &[Vector3<f64>]| {
        let low = places.iter().map(of).fold(f64::INFINITY, f64::min);
        let high = places.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    };
    let apart = |(low, high): (f64, f64), middle: f64| {
        (low - (middle + TABLE_HALF_MM)).max(middle - TABLE_HALF_MM - high)
    };
    let gap = |places: &[Vector3<f64>]| {
        let ahead = apart(bounds(|place| place.x, places), middle.x);
        let across = apart(bounds(|place| place.y, places), middle.y);
        ahead.max(across)
    };
    Some(Length::from_mm(gap(&plate).min(gap(&[tip]))))
}

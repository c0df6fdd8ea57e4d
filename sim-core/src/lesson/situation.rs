//! A set-up at a place of an excursion, and what is measured there.

use std::borrow::Cow;
use std::sync::Arc;

use super::cannot::CannotMeasure;
use super::phrase::{At, Phrase, Term, Where};
use super::quantity::{Gap, Quantity};
use super::value::Value;
use crate::cast::Casts;
use crate::cusp::{CuspReading, Gauges};
use crate::doubt::misplaced;
use crate::excursion::{
    BennettMovement, Drive, Excursion, Mechanism, Movement, Placement, SampleCount, Station,
};
use crate::frame::{LowerPoint, Side, UpperPoint};
use crate::plan::{Role, required_inclines_of_cusps};
use crate::record::settings::lateral_angle_by_rule;
use crate::record::trial::SeatedRecord;
use crate::record::{GuideHold, RecordKind};
use crate::scene::Scene;
use crate::setting::{Change, check_zeroed};
use crate::tracing::{Leg, draw};
use crate::units::{Angle, Length};

/// Grooves of the split at which a lesson reads its gaps: two by the lateral incisors, two by the first
/// molars, two at the back border (common practice, no source), in the upper frame, millimetres (invented).
pub const GROOVES_MM: [[f64; 3]; 6] = [
    [85.0, -10.0, -15.0],
    [85.0, 10.0, -15.0],
    [55.0, -25.0, -15.0],
    [55.0, 25.0, -15.0],
    [30.0, -25.0, -15.0],
    [30.0, 25.0, -15.0],
];
/// Of those the first two stand in front, the last two behind.
const IN_FRONT: std::ops::Range<usize> = 0..2;
const BEHIND: std::ops::Range<usize> = 4..6;

/// A set-up at a place of an excursion.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'s> {
    /// The set-up.
    pub scene: &'s Scene,
    /// The set-up at which the lesson starts: the patient's jaw, of which the records are.
    pub start: &'s Scene,
    /// The casts on it, where it has any.
    pub casts: Option<&'s Arc<Casts>>,
    /// The excursion.
    pub excursion: Option<Excursion>,
    /// How far along; to the end where nothing is said.
    pub at: Option<At>,
}

/// Changes made in a set-up, one after the other.
///
/// # Errors
/// [`CannotMeasure`] for one that cannot be made or does nothing, and for a whole that makes no sense.
pub(super) fn changed(scene: &Scene, changes: &[Change]) -> Result<Scene, CannotMeasure> {
    let mut scene = scene.clone();
    for change in changes {
        if change.to_string().starts_with("invented_casts.") {
            return Err(CannotMeasure::OtherCasts { change: change.to_string() });
        }
        change.make(&mut scene)?;
    }
    scene.check().map_err(|error| CannotMeasure::Senseless(error.to_string()))?;
    match changes.iter().find(|change| change.idle_because(&scene).is_some()) {
        Some(change) => Err(CannotMeasure::Idle { change: change.to_string() }),
        None => Ok(scene),
    }
}

impl Situation<'_> {
    /// What a phrase comes to here.
    ///
    /// # Errors
    /// [`CannotMeasure`] says why it comes to nothing.
    pub fn measure(&self, phrase: &Phrase) -> Result<Value, CannotMeasure> {
        let mut sum = 0.0;
        for (sign, term) in &phrase.terms {
            sum += sign
                * match term {
                    Term::Number(number) => *number,
                    Term::Of(quantity, place) => self.term(quantity, place)?.number,
                };
        }
        let is_set = match phrase.terms.as_slice() {
            [(_, Term::Number(_))] => true,
            [(_, Term::Of(quantity, _))] => matches!(quantity, Quantity::Setting(_)),
            _ => false,
        };
        Ok(Value { number: sum, unit: phrase.unit(), is_set })
    }

    fn term(&self, quantity: &Quantity, place: &Where) -> Result<Value, CannotMeasure> {
        let own = if place.as_started { self.start } else { self.scene };
        let scene = if place.changes.is_empty() {
            Cow::Borrowed(own)
        } else {
            Cow::Owned(changed(own, &place.changes)?)
        };
        let movement = place.movement.or_else(|| self.excursion.map(|excursion| excursion.movement()));
        let at = place.at.or_else(|| self.at_of_the_step(place.movement));
        Spot { scene: &scene, start: self.start, casts: self.casts, movement, at }.read(quantity)
    }

    /// How far the step goes, where the phrase does not say so: in another movement than the step's only
    /// by condylar advance.
    fn at_of_the_step(&self, movement: Option<Movement>) -> Option<At> {
        let excursion = self.excursion?;
        let at = self.at.unwrap_or(At::Driven(excursion.drive()));
        let is_own = movement.is_none_or(|movement| movement == excursion.movement());
        let is_advance = matches!(at, At::Rest | At::Driven(Drive::Advance(_)));
        (is_own || is_advance).then_some(at)
    }
}

/// One set-up in one pose.
struct Spot<'s> {
    scene: &'s Scene,
    start: &'s Scene,
    casts: Option<&'s Arc<Casts>>,
    movement: Option<Movement>,
    at: Option<At>,
}

impl Spot<'_> {
    fn read(&self, quantity: &Quantity) -> Result<Value, CannotMeasure> {
        Ok(match quantity {
            Quantity::Separation(cusp) => Value::length(self.cusp(cusp.find(&self.scene.cusps)?)?.separation),
            Quantity::Clearance(cusp) => Value::length(self.cusp(cusp.find(&self.scene.cusps)?)?.clearance),
            Quantity::NeededIncline(cusp) => {
                Value::angle(self.needed_incline(cusp.find(&self.scene.cusps)?)?)
            }
            Quantity::AxisError(cusp, off) => {
                Value::length(self.axis_error(cusp.find(&self.scene.cusps)?, *off)?)
            }
            Quantity::Drop(side) => Value::length(self.placed()?.condyle(*side).drop),
            Quantity::Advance(side) => Value::length(self.placed()?.condyle(*side).advance),
            Quantity::MedialShift(side) => Value::length(self.placed()?.condyle(*side).medial),
            Quantity::PathAngle(side) => Value::angle(self.path_angle(*side)?),
            Quantity::RuleLateralAngle(side) => {
                Value::angle(lateral_angle_by_rule(self.scene.instrument.guide(*side).horizontal_inclination))
            }
            Quantity::BennettMovement => {
                let working = self.movement.and_then(Movement::working_side);
                let working = working.ok_or(CannotMeasure::NotLateral)?;
                Value::length(BennettMovement::of(&self.placed()?, working).outward)
            }
            Quantity::Turn => Value::angle(self.placed()?.opening()),
            Quantity::IncisalDisplacement => Value::length(Length::from_mm(self.incisal_way()?.norm())),
            Quantity::IncisalDrop => Value::length(Length::from_mm(-self.incisal_way()?.z)),
            Quantity::TracingDistance => Value::length(self.scene.occlusal_plane.along(&self.incisal_way()?)),
            Quantity::ArchAngle => Value::angle(self.arch_angle()?),
            Quantity::Setting(name) => {
                let number =
                    name.find_in(self.scene).map_err(crate::setting::ChangeError::Cusp)?.get(self.scene);
                let number = number.ok_or_else(|| CannotMeasure::NoOneValue { setting: name.clone() })?;
                Value { number, unit: Some(name.facts().unit), is_set: true }
            }
            Quantity::Departures => {
                Value::count(check_zeroed(&self.scene.instrument, &self.scene.baseline_or_example()).len())
            }
            Quantity::Interferences => {
                let jaw = self.placed()?.jaw;
                let gauges = Gauges::new(self.scene.occlusal_plane, &self.scene.cusps);
                Value::count(gauges.read(&jaw).filter(CuspReading::interferes).count())
            }
            Quantity::Gap(gap) => Value::length(self.gap(*gap)?),
            Quantity::CentricGap => Value::length(self.centric_gap()?),
        })
    }

    fn mechanism(&self) -> Mechanism {
        match self.casts {
            Some(casts) => self.scene.mechanism().with_casts(Arc::clone(casts)),
            None => self.scene.mechanism(),
        }
    }

    fn placed(&self) -> Result<Placement, CannotMeasure> {
        self.placed_by(&self.mechanism())
    }

    fn placed_by(&self, mechanism: &Mechanism) -> Result<Placement, CannotMeasure> {
        let drive = match self.at {
            Some(At::Rest) => return Ok(mechanism.rest()?),
            Some(At::Driven(drive)) => drive,
            None if self.movement.is_some() => return Err(CannotMeasure::NoDistance),
            None => return Err(CannotMeasure::NoExcursion),
        };
        let movement = self.movement.ok_or(CannotMeasure::NoExcursion)?;
        Ok(match drive {
            Drive::Advance(length) => mechanism.at(movement, Station::advanced(length))?,
            Drive::IncisalDisplacement(length) => mechanism.at_incisal_displacement(movement, length)?,
            Drive::Tracing(length) => mechanism.at_tracing_distance(movement, length)?,
            Drive::Opening(angle) => mechanism.opened_to(angle),
        })
    }

    fn cusp(&self, place: usize) -> Result<CuspReading, CannotMeasure> {
        let jaw = self.placed()?.jaw;
        let gauges = Gauges::new(self.scene.occlusal_plane, self.scene.cusps.get(place));
        let reading = gauges.read(&jaw).next();
        reading.ok_or(CannotMeasure::NoExcursion)
    }

    /// Of the path at its start: the role is what the movement is to the tooth.
    fn needed_incline(&self, place: usize) -> Result<Angle, CannotMeasure> {
        let Scene { instrument, occlusal_plane, cusps, .. } = self.scene;
        let Some(cusp) = cusps.get(place) else { return Err(CannotMeasure::NoExcursion) };
        let movement = self.movement.ok_or(CannotMeasure::NoExcursion)?;
        let role = match movement.working_side() {
            None => Role::Protrusive,
            Some(working) if working == cusp.tooth().side() => Role::Working,
            Some(_) => Role::Orbiting,
        };
        /// The chord that is asked for beside the tangent has to be some length.
        const CHORD: Length = Length::from_mm(1.0);
        let needed =
            required_inclines_of_cusps(instrument, *occlusal_plane, std::slice::from_ref(cusp), &[], CHORD)?;
        let needed = needed.first().ok_or(CannotMeasure::NoExcursion)?;
        Ok(needed.glide(role).tangent.along_way)
    }

    /// Where the cusp ends from where it should as the opening at rest is closed about an axis that lies
    /// so far off, parallel to the true one.
    fn axis_error(&self, place: usize, off: Length) -> Result<Length, CannotMeasure> {
        let Some(cusp) = self.scene.cusps.get(place) else { return Err(CannotMeasure::NoExcursion) };
        let turn = self.mechanism().rest()?.opening();
        let ahead = nalgebra::Vector3::x() * off.mm();
        let at = UpperPoint::from_coords(cusp.at_mm());
        Ok(misplaced(&at, self.scene.instrument.intercondylar_distance, [ahead, ahead], turn))
    }

    /// The chord of the way of the point of the jaw that lies at the condyle's seat.
    fn path_angle(&self, side: Side) -> Result<Angle, CannotMeasure> {
        let mechanism = self.mechanism();
        let (rest, here) = (mechanism.rest()?, self.placed_by(&mechanism)?);
        let seat: LowerPoint = self.scene.instrument.seat(side);
        let way = here.jaw.to_upper(&seat) - rest.jaw.to_upper(&seat);
        Ok(Angle::from_radians((-way.z).atan2(way.x)))
    }

    fn incisal_way(&self) -> Result<nalgebra::Vector3<f64>, CannotMeasure> {
        let mechanism = self.mechanism();
        let (rest, here) = (mechanism.rest()?, self.placed_by(&mechanism)?);
        Ok(here.incisal_point - rest.incisal_point)
    }

    /// Between the chords of the two lateral legs that a stylus in the midline draws, over as much of
    /// condylar advance as the situation has.
    fn arch_angle(&self) -> Result<Angle, CannotMeasure> {
        let Some(At::Driven(Drive::Advance(reach))) = self.at else { return Err(CannotMeasure::NoDistance) };
        // Both ends of a leg are enough.
        let ends = SampleCount::new(2).map_err(|error| CannotMeasure::Senseless(error.to_string()))?;
        let stylus = UpperPoint::from_coords(self.scene.instrument.incisal_point.coords());
        let drawn = draw(&self.mechanism(), &stylus, reach, ends)?;
        let ends = [Leg::RightLateral, Leg::LeftLateral].map(|leg| drawn.leg(leg).last().copied());
        let [Some(right), Some(left)] = ends else { return Err(CannotMeasure::NoDistance) };
        let [(x, y), (u, v)] = [right, left].map(|end| (end.forward.mm(), end.left.mm()));
        Ok(Angle::from_radians((x * v - y * u).abs().atan2(x * u + y * v)))
    }

    /// The split on the record that the lesson's first set-up gave, the guides as this one has them.
    fn gap(&self, gap: Gap) -> Result<Length, CannotMeasure> {
        let kind = match self.movement {
            Some(Movement::Protrusive) => RecordKind::Protrusive,
            Some(Movement::Lateral { working: Side::Right }) => RecordKind::RightLateral,
            Some(Movement::Lateral { working: Side::Left }) => RecordKind::LeftLateral,
            Some(Movement::Lateroprotrusive { .. } | Movement::Opening) | None => {
                return Err(CannotMeasure::NoRecord);
            }
        };
        let (patient, bench) = (&self.start.instrument, &self.scene.instrument);
        let mechanism = match self.casts {
            Some(casts) => self.start.mechanism().with_casts(Arc::clone(casts)),
            None => self.start.mechanism(),
        };
        let jaw = self.placed_by(&mechanism)?.jaw;
        let record = SeatedRecord::of_pose(kind, &jaw, patient.design, patient.intercondylar_distance);
        let gaps = record.gaps([&bench.right_guide, &bench.left_guide], &grooves(), GuideHold::Track)?.gaps;
        let of = match gap {
            Gap::Anterior => gaps.get(IN_FRONT),
            Gap::Posterior => gaps.get(BEHIND),
            Gap::Widest => gaps.get(..),
        };
        Ok(of.unwrap_or_default().iter().copied().fold(Length::ZERO, Length::max))
    }

    /// The casts mounted with the jaw where it is now, and then the true centric record put between them:
    /// how far the base is from its seat at the groove where it is farthest.
    fn centric_gap(&self) -> Result<Length, CannotMeasure> {
        let jaw = self.placed()?.jaw;
        let moved = |groove: &UpperPoint| {
            let at = LowerPoint::from_coords(*groove.coords());
            Length::from_mm(jaw.to_upper(&at).distance_mm(groove))
        };
        Ok(grooves().iter().map(moved).fold(Length::ZERO, Length::max))
    }
}

fn grooves() -> [UpperPoint; 6] {
    GROOVES_MM.map(|[x, y, z]| UpperPoint::mm(x, y, z))
}

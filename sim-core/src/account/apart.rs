//! The account of a number at a solved pose.

use nalgebra::Vector3;

use super::condyle::Condyle;
use super::number::{NoAccount, Number};
use super::part::{Moved, Part, PartKind};
use super::pose::{SolvedPose, way_of};
use super::slope::{NoSlopes, SettingSlope};
use super::slopes;
use super::steps::{Step, steps};
use crate::cusp::{Cusp, Gauges, OpposingIncline};
use crate::excursion::{Movement, Placement};
use crate::frame::{JawPose, LowerPoint, Side};
use crate::units::{Angle, Length};

/// A number taken apart.
#[derive(Clone, Debug)]
pub struct Account {
    /// Which number.
    pub number: Number,
    /// The number, in [`Number::unit`].
    pub value: f64,
    /// Its parts in the order in which the pose comes about; their amounts add up to the value.
    pub parts: Vec<Part>,
    /// How the number answers to every setting that the scene has, that which moves it most first. A number
    /// that no setting moves has none.
    pub slopes: Result<Vec<SettingSlope>, NoSlopes>,
}

impl SolvedPose<'_> {
    /// Takes a number apart.
    ///
    /// # Errors
    /// [`NoAccount`] for a cusp that the scene does not list, or an instrument without a pose at rest.
    pub fn account(&self, number: Number) -> Result<Account, NoAccount> {
        let rest = self.rest()?;
        let cusp = self.cusp_of(number)?;
        let value = self.value(number, cusp, &rest);
        let parts = match (number, cusp) {
            (Number::Separation(_), Some(cusp)) => self.separation(cusp, &rest),
            (Number::Clearance(_), Some(cusp)) => {
                let mut parts = self.separation(cusp, &rest);
                parts.push(self.rise(cusp));
                parts
            }
            (Number::Opening, _) => self.opening(&rest),
            (Number::Advance(side), _) => self.condyle(side).advance(),
            (Number::Medial(side), _) => self.condyle(side).medial(),
            (Number::Drop(side), _) => self.condyle(side).drop(),
            _ => self.displacement(&rest),
        };
        let mut slopes = slopes::of(self, number, cusp, &rest);
        if let Ok(slopes) = &mut slopes {
            slopes.retain(|slope| slope.slope.steepest() > NO_SLOPE);
            slopes.sort_by(|a, b| b.slope.steepest().total_cmp(&a.slope.steepest()));
        }
        Ok(Account { number, value, parts, slopes })
    }

    /// The pose from which the movement starts.
    fn rest(&self) -> Result<Placement, NoAccount> {
        match self.excursion.movement() {
            Movement::Opening => Ok(self.mechanism.opened_to(Angle::ZERO)),
            _ => Ok(self.mechanism.rest()?),
        }
    }

    fn cusp_of(&self, number: Number) -> Result<Option<&Cusp>, NoAccount> {
        let Some(place) = number.cusp() else { return Ok(None) };
        let cusps = &self.scene.cusps;
        let cusp = cusps.get(place).ok_or(NoAccount::NoCusp { place, count: cusps.len() })?;
        Ok(Some(cusp))
    }

    fn condyle(&self, side: Side) -> Condyle<'_> {
        let movement = self.excursion.movement();
        Condyle { instrument: &self.scene.instrument, movement, placed: self.placement, side }
    }

    fn value(&self, number: Number, cusp: Option<&Cusp>, rest: &Placement) -> f64 {
        let placed = self.placement;
        let read = || Gauges::new(self.scene.occlusal_plane, cusp).read(&placed.jaw).next();
        let length = match number {
            Number::Opening => return placed.opening().degrees(),
            Number::Separation(_) => read().map_or(Length::ZERO, |reading| reading.separation),
            Number::Clearance(_) => read().map_or(Length::ZERO, |reading| reading.clearance),
            Number::IncisalDisplacement => {
                Length::from_mm(rest.incisal_point.distance_mm(&placed.incisal_point))
            }
            Number::Advance(side) => placed.condyle(side).advance,
            Number::Medial(side) => placed.condyle(side).medial,
            Number::Drop(side) => placed.condyle(side).drop,
        };
        length.mm()
    }

    fn steps(&self, rest: &Placement) -> Vec<Step> {
        steps(&self.scene.instrument, self.excursion.movement(), rest, self.placement)
    }

    /// Each step as a part, by what it does to a place and what that does to the number.
    fn parts(
        steps: Vec<Step>,
        from: JawPose,
        place: impl Fn(&JawPose) -> Vector3<f64>,
        amount: impl Fn(&Vector3<f64>) -> f64,
    ) -> Vec<Part> {
        let mut before = place(&from);
        let part = |step: Step| {
            let after = place(&step.after);
            let moved = after - before;
            before = after;
            Part { kind: step.kind, amount: amount(&moved), moved: Some(Moved::of(&moved)) }
        };
        steps.into_iter().map(part).collect()
    }

    fn separation(&self, cusp: &Cusp, rest: &Placement) -> Vec<Part> {
        let normal = self.scene.occlusal_plane.normal();
        let way = |pose: &JawPose| way_of(cusp, pose);
        Self::parts(self.steps(rest), JawPose::identity(), way, |moved| -moved.dot(&normal))
    }

    fn rise(&self, cusp: &Cusp) -> Part {
        let plane = self.scene.occlusal_plane;
        let way = way_of(cusp, &self.placement.jaw);
        let reading = Gauges::new(plane, [cusp]).read(&self.placement.jaw).next();
        let incline = reading.map_or(OpposingIncline::Flat, |reading| reading.incline);
        let forward = way.dot(&plane.anterior());
        let outward = way.y * cusp.tooth().side().outward_y();
        let opposing = cusp.opposing();
        let (angle, along) = match incline {
            OpposingIncline::Flat => (Angle::ZERO, 0.0),
            OpposingIncline::Protrusive => (opposing.protrusive, forward),
            OpposingIncline::Retrusive => (opposing.retrusive, -forward),
            OpposingIncline::Working => (opposing.working, outward),
            OpposingIncline::NonWorking => (opposing.nonworking, -outward),
        };
        let kind = PartKind::Rise { incline, angle, along: Length::from_mm(along) };
        Part::new(kind, -along * angle.tan())
    }

    /// The way of the incisal point, by what each step adds in the direction in which it has gone at the end:
    /// D = |d| = d·d/|d|.
    fn displacement(&self, rest: &Placement) -> Vec<Part> {
        let edge = LowerPoint::from_coords(self.scene.instrument.incisal_point.coords());
        let place = |pose: &JawPose| *pose.to_upper(&edge).coords();
        let whole = place(&self.placement.jaw) - place(&rest.jaw);
        let toward = whole.try_normalize(0.0).unwrap_or_default();
        let steps = self.steps(rest).into_iter().filter(|step| !matches!(step.kind, PartKind::Pin { .. }));
        Self::parts(steps.collect(), rest.jaw, place, |moved| moved.dot(&toward))
    }

    /// How far each step turns the jaw's forward direction down, seen in the sagittal plane.
    fn opening(&self, rest: &Placement) -> Vec<Part> {
        let turned = |pose: &JawPose| {
            let forward = pose.rotation().column(0);
            (-forward.z).atan2(forward.x).to_degrees()
        };
        let mut before = 0.0;
        let part = |step: Step| {
            let after = turned(&step.after);
            let amount = after - before;
            before = after;
            Part::new(step.kind, amount)
        };
        self.steps(rest).into_iter().map(part).collect()
    }
}

/// Below this a slope is what rounding leaves, in millimetres or degrees for a degree or a millimetre.
const NO_SLOPE: f64 = 1e-12;

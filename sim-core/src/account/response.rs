//! How a pose answers to a setting: −(∂F/∂pose)⁻¹ ∂F/∂s, in closed form.
//!
//! ∂F/∂pose stands in [`Holding`]; here is ∂F/∂s, what a setting asks of each of the six equations while the
//! jaw stays where it is.

use nalgebra::Vector3;

use crate::anterior::Trough;
use crate::excursion::{Holding, Movement, Placement, Row};
use crate::frame::{LowerPoint, Side, UpperPoint};
use crate::guide::{ArcPath, CondylarGuide, EarlyTranslation, GuidePath};
use crate::instrument::{Design, IncisalPoint, Instrument};
use crate::setting::Setting;
use crate::units::{Angle, Unit};

/// Which way a setting is turned: at a kink the two differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Turned {
    Lowered,
    Raised,
}

impl Turned {
    pub(super) const BOTH: [Self; 2] = [Self::Lowered, Self::Raised];

    pub(super) const fn sign(self) -> f64 {
        match self {
            Self::Lowered => -1.0,
            Self::Raised => 1.0,
        }
    }
}

/// A setting turned by one of its units, one way.
#[derive(Clone, Copy)]
pub(super) struct Touch {
    pub(super) setting: Setting,
    /// Matters only where each side has its own.
    pub(super) side: Side,
    pub(super) turned: Turned,
}

impl Touch {
    /// Radians for a degree, millimetres for a millimetre; below zero where it is lowered.
    pub(super) fn size(self) -> f64 {
        let unit = match self.setting.facts().unit {
            Unit::Degree => 1.0_f64.to_radians(),
            _ => 1.0,
        };
        unit * self.turned.sign()
    }

    /// Where the setting moves the incisal point at rest.
    pub(super) fn incisal_point(self) -> Vector3<f64> {
        let Setting::IncisalPoint(entry) = self.setting else { return Vector3::zeros() };
        let key = entry.facts.key;
        let along = if key == IncisalPoint::X.facts.key {
            Vector3::x()
        } else if key == IncisalPoint::Y.facts.key {
            Vector3::y()
        } else {
            Vector3::z()
        };
        along * self.size()
    }

    /// What a distance of the spheres that grows does to the reading of a condyle while the jaw stays:
    /// advance, medial shift, drop.
    pub(super) fn reading(self, instrument: &Instrument, placed: &Placement, side: Side) -> [f64; 3] {
        if self.setting != Setting::Instrument(&Instrument::INTERCONDYLAR_DISTANCE) {
            return [0.0; 3];
        }
        let outward = side.outward_y();
        let seat = Vector3::y() * (outward / 2.0 * self.size());
        let rotation = placed.jaw.rotation();
        let moved = match instrument.design {
            Design::Arcon => rotation * seat - seat,
            Design::NonArcon => seat - rotation.tr_mul(&seat),
        };
        [moved.x, -outward * moved.y, -moved.z]
    }
}

/// The six equations of a pose and what they are read from.
pub(super) struct Answering<'s> {
    pub(super) instrument: &'s Instrument,
    pub(super) movement: Movement,
    pub(super) placed: &'s Placement,
    pub(super) holding: Holding,
}

impl Answering<'_> {
    /// How the jaw goes, (ω, v), as the setting is turned.
    pub(super) fn to(&self, touch: Touch) -> Option<Row> {
        self.holding.going(&self.demanded(touch), &self.drifting(touch))
    }

    /// What the setting asks of the five equations of the guides, in the order of [`Holding`].
    fn demanded(&self, touch: Touch) -> [f64; 5] {
        let mut five = self.by_the_distance(touch);
        let (Some(working), t) = (self.movement.working_side(), self.placed.advance().mm()) else {
            let by = Guide::of(self, touch);
            five[if touch.side == Side::Right { 2 } else { 3 }] +=
                by.path(self.placed.advance().mm()) + by.tilt();
            return five;
        };
        let ratio = match self.movement {
            Movement::Lateroprotrusive { ratio, .. } => ratio.get(),
            _ => 0.0,
        };
        let by = Guide::of(self, touch);
        if touch.side == working {
            five[3] += by.retrusion();
            five[4] += by.surtrusion() + if ratio > 0.0 { by.path(ratio * t) } else { 0.0 };
        } else {
            five[1] += by.medial_wall() * (1.0 - ratio);
            five[2] += by.path(t) + by.tilt();
        }
        five
    }

    /// The distance of the spheres moves the places that the condyles are read at.
    fn by_the_distance(&self, touch: Touch) -> [f64; 5] {
        let read = |side| touch.reading(self.instrument, self.placed, side);
        let tan = |angle: Angle| angle.tan();
        match self.movement.working_side() {
            None => {
                let ([ar, mr, vr], [al, ml, vl]) = (read(Side::Right), read(Side::Left));
                let [tilt_r, tilt_l] = Side::BOTH.map(|side| tan(self.instrument.guide(side).wall_tilt));
                [-ar, -al, -(vr - mr * tilt_r), -(vl - ml * tilt_l), -(mr - ml)]
            }
            Some(working) => {
                let ([ao, mo, vo], [aw, mw, vw]) = (read(working.opposite()), read(working));
                let (orbit, work) =
                    (self.instrument.guide(working.opposite()), self.instrument.guide(working));
                [
                    -ao,
                    -mo,
                    -(vo - mo * tan(orbit.wall_tilt)),
                    -(aw - mw * tan(work.lateroretrusion)),
                    -(vw - mw * tan(work.laterosurtrusion)),
                ]
            }
        }
    }

    /// How the gap to plate, right wing and left wing grows as the setting is turned and the jaw stays.
    fn drifting(&self, touch: Touch) -> [f64; 3] {
        let guide = &self.instrument.anterior_guide;
        let Some(trough) = guide.trough() else { return [0.0; 3] };
        let clear = if guide.has_pin() { 1.0 } else { -1.0 };
        let rest = self.instrument.incisal_point.coords();
        let jaw = &self.placed.jaw;
        let pin = if guide.has_pin() { self.instrument.pin_extension.mm() } else { 0.0 };
        // The guided point in the frame of the planes, and how it goes there as it moves in its own.
        let (point, turn) = if guide.has_pin() {
            let tip = UpperPoint::from_coords(rest - Vector3::z() * pin);
            (*jaw.to_lower(&tip).coords(), jaw.rotation().transpose())
        } else {
            (*jaw.to_upper(&LowerPoint::from_coords(rest)).coords(), *jaw.rotation())
        };
        let shift = touch.incisal_point();
        let mut moved = turn * shift - shift;
        if touch.setting == Setting::Instrument(&Instrument::PIN_EXTENSION) && guide.has_pin() {
            moved = -(turn * Vector3::z()) * touch.size();
        }
        let (sin, cos) = trough.sagittal_inclination.sin_cos();
        let (plate, tipped) = (Vector3::new(sin, 0.0, cos), Vector3::new(cos, 0.0, -sin));
        let is = |entry| touch.setting == Setting::Anterior(entry);
        let by_plate = if is(&Trough::SAGITTAL_INCLINATION) { touch.size() } else { 0.0 };
        let by_width = if is(&Trough::FLAT_HALF_WIDTH) { touch.size() } else { 0.0 };
        let wing = |side: Side, angle: Angle, by_angle: f64| {
            let (sin, cos) = angle.sin_cos();
            let outward = Vector3::y() * side.outward_y();
            let normal = plate * cos - outward * (sin * clear);
            let from_hinge = point - (rest + outward * trough.flat_half_width.mm());
            let turned = tipped * (cos * by_plate) - (plate * sin + outward * (cos * clear)) * by_angle;
            turned.dot(&from_hinge) + normal.dot(&(moved - outward * by_width))
        };
        let by = |entry| if is(entry) { touch.size() } else { 0.0 };
        [
            tipped.dot(&(point - rest)) * by_plate + plate.dot(&moved),
            wing(Side::Right, trough.right_wing, by(&Trough::RIGHT_WING)),
            wing(Side::Left, trough.left_wing, by(&Trough::LEFT_WING)),
        ]
        .map(|rate| clear * rate)
    }
}

/// What a setting of one condylar guide does to that guide's walls.
struct Guide<'s> {
    guide: &'s CondylarGuide,
    placed: &'s Placement,
    touch: Touch,
}

impl<'s> Guide<'s> {
    fn of(answering: &'s Answering<'_>, touch: Touch) -> Self {
        Self { guide: answering.instrument.guide(touch.side), placed: answering.placed, touch }
    }

    /// The size of the touch where it is of this setting.
    fn by(&self, setting: Setting) -> f64 {
        if self.touch.setting == setting { self.touch.size() } else { 0.0 }
    }

    /// m·d(tan) of an angle under a medial shift.
    fn bend(&self, setting: Setting, angle: Angle) -> f64 {
        self.placed.condyle(self.touch.side).medial.mm() * tan_slope(angle) * self.by(setting)
    }

    fn tilt(&self) -> f64 {
        self.bend(Setting::Guide(&CondylarGuide::WALL_TILT), self.guide.wall_tilt)
    }

    fn retrusion(&self) -> f64 {
        self.bend(Setting::Guide(&CondylarGuide::LATERORETRUSION), self.guide.lateroretrusion)
    }

    fn surtrusion(&self) -> f64 {
        self.bend(Setting::Guide(&CondylarGuide::LATEROSURTRUSION), self.guide.laterosurtrusion)
    }

    /// ∂f/∂H and ∂f/∂r of the superior wall at an advance; of an arc f = r(√(1−k²) − cos H), k = sin H − a/r.
    fn path(&self, a: f64) -> f64 {
        let by_inclination = self.by(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION));
        let h = self.guide.horizontal_inclination;
        match &self.guide.path {
            GuidePath::Straight => a * tan_slope(h) * by_inclination,
            GuidePath::Profile(_) => 0.0,
            GuidePath::Arc(arc) => {
                let r = arc.radius.mm();
                let (sin, cos) = h.sin_cos();
                let k = sin - a / r;
                let root = (1.0 - k * k).sqrt();
                let by_radius = self.by(Setting::Arc(&ArcPath::RADIUS));
                r * (sin - k * cos / root) * by_inclination + (root - cos - k / root * (a / r)) * by_radius
            }
        }
    }

    /// ∂m of i + e·min(a/aₑ, 1) + a·tan L. At the end of early translation its length matters one way only.
    fn medial_wall(&self) -> f64 {
        let a = self.placed.advance().mm();
        let (amount, over) =
            (self.guide.early_translation.amount.mm(), self.guide.early_translation.over.mm());
        let is_before_end = a < over || (a == over && self.touch.turned == Turned::Raised);
        let by_over = if is_before_end { -amount * a / (over * over) } else { 0.0 };
        self.placed.station.shifted() * self.by(Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION))
            + (a / over).min(1.0) * self.by(Setting::Early(&EarlyTranslation::AMOUNT))
            + by_over * self.by(Setting::Early(&EarlyTranslation::OVER))
            + a * tan_slope(self.guide.lateral_angle) * self.by(Setting::Guide(&CondylarGuide::LATERAL_ANGLE))
    }
}

/// d(tan x)/dx.
pub(super) fn tan_slope(angle: Angle) -> f64 {
    let tan = angle.tan();
    1.0 + tan * tan
}

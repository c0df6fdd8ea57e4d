//! How a number changes as the jaw goes and a setting is turned.

use nalgebra::Vector3;

use super::number::Number;
use super::pose::{SolvedPose, way_of};
use super::response::{Touch, tan_slope};
use super::slope::Mover;
use crate::cusp::{Cusp, CuspTip, OpposingInclines};
use crate::excursion::{Drive, Placement, Row, Velocity};
use crate::facts::Entry;
use crate::frame::LowerPoint;
use crate::setting::Setting;

/// Inclines that rise alike to this govern together, in millimetres: what counts as contact.
const ALIKE_MM: f64 = crate::cusp::CONTACT_MM;
/// The incisal point within this of rest is at rest, in millimetres: above what rounding leaves.
const AT_REST_MM: f64 = 1e-9;

/// What is turned, one way.
#[derive(Clone, Copy)]
pub(super) enum By {
    Touch(Touch),
    /// An incline, in radians.
    Incline(&'static Entry<OpposingInclines>, f64),
    /// Nothing: the excursion goes on.
    Nothing,
}

impl By {
    fn touch(self) -> Option<Touch> {
        match self {
            Self::Touch(touch) => Some(touch),
            Self::Incline(..) | Self::Nothing => None,
        }
    }

    /// How far the occlusal plane tips, in radians.
    fn tipped(self) -> f64 {
        self.touch().filter(|touch| touch.setting == Setting::OcclusalPlane).map_or(0.0, Touch::size)
    }
}

/// The jaw going, at the pose and at rest, while something is turned.
pub(super) struct Going<'s> {
    pub(super) pose: &'s SolvedPose<'s>,
    pub(super) rest: &'s Placement,
    /// (ω, v) of the pose.
    pub(super) rates: Row,
    /// (ω, v) of the pose at rest.
    pub(super) rest_rates: Row,
    pub(super) by: By,
}

impl Going<'_> {
    /// How fast a number changes.
    pub(super) fn of(&self, number: Number, cusp: Option<&Cusp>) -> f64 {
        let reading = |side| {
            let rates = self.pose.mechanism.condyle_rates(&self.pose.placement.jaw, side);
            let own = self.by.touch().map_or([0.0; 3], |touch| {
                touch.reading(&self.pose.scene.instrument, self.pose.placement, side)
            });
            [rates.advance, rates.medial, rates.drop].map(|row| row.dot(&self.rates)).into_iter().zip(own)
        };
        let nth = |side, index: usize| reading(side).nth(index).map_or(0.0, |(goes, own)| goes + own);
        match (number, cusp) {
            (Number::Separation(_), Some(cusp)) => self.separation(cusp),
            (Number::Clearance(_), Some(cusp)) => self.separation(cusp) - self.rise(cusp),
            (Number::Opening, _) => self.opening(),
            (Number::Advance(side), _) => nth(side, 0),
            (Number::Medial(side), _) => nth(side, 1),
            (Number::Drop(side), _) => nth(side, 2),
            _ => self.displacement(),
        }
    }

    /// How fast what drives the excursion changes, where that is the incisal point.
    pub(super) fn of_drive(&self) -> Option<f64> {
        match self.pose.excursion.drive() {
            Drive::IncisalDisplacement(_) => Some(self.displacement()),
            Drive::Tracing(_) => Some(self.tracing()),
            Drive::Advance(_) | Drive::Opening(_) => None,
        }
    }

    fn velocity(&self) -> Velocity {
        Velocity::of_rates(self.pose.placement.jaw, &self.rates)
    }

    fn way_rate(&self, cusp: &Cusp) -> Vector3<f64> {
        match cusp.tip() {
            CuspTip::Lower(tip) => self.velocity().of_lower(&tip),
            CuspTip::Upper(tip) => self.velocity().of_upper(&tip),
        }
    }

    /// −(d·n)′, where n′ is the anterior direction for each radian that the plane tips.
    fn separation(&self, cusp: &Cusp) -> f64 {
        let plane = self.pose.scene.occlusal_plane;
        let way = way_of(cusp, &self.pose.placement.jaw);
        -self.way_rate(cusp).dot(&plane.normal()) - way.dot(&plane.anterior()) * self.by.tipped()
    }

    /// The rate of max(0, u·tan protrusive, −u·tan retrusive, o·tan working, −o·tan nonworking): the greatest
    /// of those that are greatest now.
    fn rise(&self, cusp: &Cusp) -> f64 {
        let plane = self.pose.scene.occlusal_plane;
        let (way, rate) = (way_of(cusp, &self.pose.placement.jaw), self.way_rate(cusp));
        let outward = cusp.tooth().side().outward_y();
        let (u, o) = (way.dot(&plane.anterior()), way.y * outward);
        // The anterior direction goes by −n as the plane tips.
        let u_rate = rate.dot(&plane.anterior()) - way.dot(&plane.normal()) * self.by.tipped();
        let o_rate = rate.y * outward;
        let opposing = cusp.opposing();
        let incline = |angle: crate::units::Angle, entry: &Entry<OpposingInclines>, along: f64, rate: f64| {
            let steeper = match self.by {
                By::Incline(own, size) if own.facts.key == entry.facts.key => size,
                _ => 0.0,
            };
            (along * angle.tan(), rate * angle.tan() + along * tan_slope(angle) * steeper)
        };
        let rises = [
            (0.0, 0.0),
            incline(opposing.protrusive, &OpposingInclines::PROTRUSIVE, u, u_rate),
            incline(opposing.retrusive, &OpposingInclines::RETRUSIVE, -u, -u_rate),
            incline(opposing.working, &OpposingInclines::WORKING, o, o_rate),
            incline(opposing.nonworking, &OpposingInclines::NONWORKING, -o, -o_rate),
        ];
        let rise = rises.iter().map(|(rise, _)| *rise).fold(0.0, f64::max);
        let governing = rises.iter().filter(|(own, _)| *own >= rise - ALIKE_MM);
        governing.map(|(_, rate)| *rate).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The rate of atan2(−f_z, f_x) in degrees, f the jaw's forward direction.
    fn opening(&self) -> f64 {
        let forward = self.pose.placement.jaw.rotation().column(0).into_owned();
        let rate = self.velocity().turn().cross(&forward);
        let square = forward.x * forward.x + forward.z * forward.z;
        ((forward.z * rate.x - forward.x * rate.z) / square).to_degrees()
    }

    /// How far the incisal point has gone from rest, and how that way changes.
    fn incisal(&self) -> (Vector3<f64>, Vector3<f64>) {
        let (placed, rest) = (self.pose.placement, self.rest);
        let edge = LowerPoint::from_coords(self.pose.scene.instrument.incisal_point.coords());
        let own = self.by.touch().map_or_else(Vector3::zeros, Touch::incisal_point);
        let goes = self.velocity().of_lower(&edge) + placed.jaw.rotation() * own;
        let start = Velocity::of_rates(rest.jaw, &self.rest_rates).of_lower(&edge);
        let start = start + rest.jaw.rotation() * own;
        (placed.incisal_point - rest.incisal_point, goes - start)
    }

    fn displacement(&self) -> f64 {
        let (way, rate) = self.incisal();
        length_rate(&way, &rate)
    }

    /// The same along the occlusal plane: |d − n(n·d)|.
    fn tracing(&self) -> f64 {
        let (way, rate) = self.incisal();
        let plane = self.pose.scene.occlusal_plane;
        let (normal, tips) = (plane.normal(), plane.anterior() * self.by.tipped());
        let along = way - normal * normal.dot(&way);
        let off = normal.dot(&way);
        let rate = rate - normal * (normal.dot(&rate) + tips.dot(&way)) - tips * off;
        length_rate(&along, &rate)
    }
}

/// The rate of |d|; at d = 0 it grows whichever way it goes.
fn length_rate(way: &Vector3<f64>, rate: &Vector3<f64>) -> f64 {
    let length = way.norm();
    if length < AT_REST_MM { rate.norm() } else { way.dot(rate) / length }
}

impl Mover {
    pub(super) fn turned(&self, turned: super::response::Turned) -> By {
        match *self {
            Self::Setting(setting, side) => {
                By::Touch(Touch { setting, side: side.unwrap_or(crate::frame::Side::Right), turned })
            }
            Self::Incline(entry) => By::Incline(entry, 1.0_f64.to_radians() * turned.sign()),
        }
    }
}

//! The split cast with a record in it and the guides at trial angles: the gap at every groove.
//!
//! The record holds the primary base where the jaw had it. The secondary base, on the upper member,
//! comes down with the centric locks open and the pin up, both spheres at the record's advance, until
//! the guides' walls hold the spheres and the first groove touches. In the primary base's frame the
//! secondary base has then moved by D, a rigid motion that takes the spheres' places by the trial to
//! their places by the record, and turns about the axis through them as far as the grooves let it.
//! The gap of a groove at p is n·(D p − p), n the normal of the split: every gap is zero or more, and
//! one is zero.
//!
//! With D p = c + e(e·r) + (r − e(e·r))cos θ + (e × r)sin θ, where e is the axis and r the groove seen
//! from its middle, a gap is A cos θ + B sin θ − C: the turn that closes it has a closed form, and the
//! least of these turns is the one that touches first.
//!
//! ```
//! use sim_core::excursion::{Mechanism, Movement, Station};
//! use sim_core::frame::{Side, UpperPoint};
//! use sim_core::instrument::Instrument;
//! use sim_core::record::{GuideHold, RecordKind, trial::SeatedRecord};
//! use sim_core::units::{Angle, Length};
//!
//! // Invented: a protrusive record of a jaw whose guides are inclined by 30°.
//! let mut bench = Instrument::zeroed();
//! let jaw = Mechanism::new(&bench).at(Movement::Protrusive, Station::advanced(Length::from_mm(6.0)))?.jaw;
//! let record = SeatedRecord::of_pose(RecordKind::Protrusive, &jaw, bench.design, bench.intercondylar_distance);
//! let grooves = [(30.0, 25.0), (30.0, -25.0), (55.0, 25.0), (55.0, -25.0), (85.0, 10.0), (85.0, -10.0)]
//!     .map(|(x, y)| UpperPoint::mm(x, y, -15.0));
//! let closed = record.gaps([&bench.right_guide, &bench.left_guide], &grooves, GuideHold::Track)?;
//! assert!(closed.greatest() < Length::from_mm(1e-9));
//! // Guides too steep hold the split open behind.
//! for side in Side::BOTH {
//!     bench.guide_mut(side).horizontal_inclination = Angle::from_degrees(35.0);
//! }
//! let open = record.gaps([&bench.right_guide, &bench.left_guide], &grooves, GuideHold::Track)?;
//! assert!(open.gaps[0] > Length::from_mm(0.4) && open.gaps[5] < Length::from_mm(1e-9));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use nalgebra::{Matrix3, Vector3};

use super::bench_record::GuideHold;
use super::kind::RecordKind;
use crate::excursion::CondyleReading;
use crate::frame::{JawPose, PerSide, Side, UpperPoint};
use crate::guide::{CondylarGuide, PastEnd};
use crate::instrument::Design;
use crate::units::{Angle, Length};

/// A groove nearer to the axis than this does not stop the closing, in millimetres.
pub(crate) const LEAST_LEVER_MM: f64 = 5.0;

/// A record between the casts: where it asks the spheres to be, and how it turns the jaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatedRecord {
    kind: RecordKind,
    design: Design,
    distance_mm: f64,
    /// Where the record has the spheres.
    asked: [Shift; 2],
    /// The jaw's rotation in the record.
    rotation: Matrix3<f64>,
}

/// One sphere in its guide, millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Shift {
    pub(super) advance: f64,
    pub(super) medial: f64,
    pub(super) drop: f64,
}

/// The split with the guides at trial angles.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialGaps {
    /// Gap at every groove, in the order given; one of them is zero.
    pub gaps: Vec<Length>,
    /// Which groove touches.
    pub touching: usize,
    /// How far the trial's walls are below where the record has the spheres: above zero the guide is too
    /// steep, and would pierce its sphere by as much if the split were closed; below zero it is too
    /// shallow. Zero for the working side of a lateral record, which its superior wall does not guide.
    pub too_low: PerSide<Length>,
    /// By how much a guide that holds from above only stands off its sphere.
    pub stands_off: PerSide<Length>,
    /// How the secondary base stands to the primary base.
    pub secondary: BaseMotion,
}

/// How the secondary base stands to the primary base: the motion that takes a place of the secondary base,
/// given where it is in centric with the split closed (upper frame), to where it stands, seen from the
/// primary base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BaseMotion {
    rotation: Matrix3<f64>,
    translation: Vector3<f64>,
}

impl BaseMotion {
    /// The split is closed.
    pub const CLOSED: Self = Self {
        rotation: Matrix3::new(1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0),
        translation: Vector3::new(0.0, 0.0, 0.0),
    };

    /// With the locks closed in centric and the jaw in this pose the secondary base stays where it is, and
    /// the record carries the primary base away from under it.
    #[must_use]
    pub const fn locked_in_centric(jaw: &JawPose) -> Self {
        Self { rotation: *jaw.rotation(), translation: *jaw.translation() }
    }

    /// A base moved by so much (ahead, left, up) at a place of the upper frame, and turned about it by small angles
    /// about the axes ahead, left and up.
    #[must_use]
    pub fn about(place: &UpperPoint, shift_mm: Vector3<f64>, turn: [Angle; 3]) -> Self {
        let turn = nalgebra::Rotation3::new(Vector3::from(turn.map(Angle::radians)));
        let place = place.coords();
        Self { rotation: *turn.matrix(), translation: place + shift_mm - turn * place }
    }

    /// Where a place of the secondary base stands, seen from the primary base.
    #[must_use]
    pub fn of(&self, place: &UpperPoint) -> UpperPoint {
        UpperPoint::from_coords(self.rotation * place.coords() + self.translation)
    }

    /// Its rotation.
    #[must_use]
    pub const fn rotation(&self) -> &Matrix3<f64> {
        &self.rotation
    }

    /// Its translation, in millimetres.
    #[must_use]
    pub const fn translation(&self) -> &Vector3<f64> {
        &self.translation
    }
}

impl TrialGaps {
    /// The greatest gap.
    #[must_use]
    pub fn greatest(&self) -> Length {
        self.gaps.iter().copied().fold(Length::ZERO, |one, other| if other > one { other } else { one })
    }
}

/// Why the split cannot be brought together.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum TrialError {
    /// A path that ends before the record.
    #[error("the {side} guide's path ends before the record: {why}")]
    PastEnd {
        /// The guide.
        side: Side,
        /// Where it ends.
        why: PastEnd,
    },
    /// Spheres that cannot be that far apart.
    #[error("no axis of {distance_mm} mm reaches from one guide to the other at these angles")]
    Unbridged {
        /// The intercondylar distance, in millimetres.
        distance_mm: f64,
    },
    /// A groove that does not close.
    #[error(
        "groove {number} lies {ahead_mm:.1} mm in front of the axis and does not close by turning about it; at least {LEAST_LEVER_MM} mm are needed"
    )]
    Groove {
        /// Its place in the list, from 1.
        number: usize,
        /// How far it lies in front of the axis, in millimetres.
        ahead_mm: f64,
    },
    /// No groove to touch.
    #[error("no groove is given; at least three, not in one line, are needed")]
    NoGroove,
}

impl SeatedRecord {
    /// A record of which the jaw pose is known.
    #[must_use]
    pub fn of_pose(kind: RecordKind, jaw: &JawPose, design: Design, intercondylar_distance: Length) -> Self {
        let asked = Side::BOTH.map(|side| {
            let read = CondyleReading::of_pose(jaw, side, design, intercondylar_distance);
            Shift { advance: read.advance.mm(), medial: read.medial.mm(), drop: read.drop.mm() }
        });
        let distance_mm = intercondylar_distance.mm();
        Self { kind, design, distance_mm, asked, rotation: *jaw.rotation() }
    }

    /// A record of which only the spheres' places are known, and by how much it opens the jaw.
    pub(super) fn of_spheres(
        kind: RecordKind,
        asked: [Shift; 2],
        opening: Angle,
        design: Design,
        distance_mm: f64,
    ) -> Self {
        let sense = match design {
            Design::Arcon => 1.0,
            Design::NonArcon => -1.0,
        };
        let [right, left] = Side::BOTH.map(|side| {
            let outward = side.outward_y();
            seat(outward, distance_mm) + vector(&asked[side as usize], outward) * sense
        });
        let (sin, cos) = (opening.radians() * sense).sin_cos();
        let about_y = Matrix3::new(cos, 0.0, sin, 0.0, 1.0, 0.0, -sin, 0.0, cos);
        let carrier = least_turn(&Vector3::y(), &((left - right) / distance_mm)) * about_y;
        let rotation = match design {
            Design::Arcon => carrier,
            Design::NonArcon => carrier.transpose(),
        };
        Self { kind, design, distance_mm, asked, rotation }
    }

    /// Which record it is.
    #[must_use]
    pub const fn kind(&self) -> RecordKind {
        self.kind
    }

    /// Where the record has a sphere: advance, medial shift and drop.
    #[must_use]
    pub const fn condyle(&self, side: Side) -> CondyleReading {
        let asked = &self.asked[side as usize];
        CondyleReading {
            advance: Length::from_mm(asked.advance),
            medial: Length::from_mm(asked.medial),
            drop: Length::from_mm(asked.drop),
        }
    }

    /// The jaw's pose in the record: the record carries the primary base by its inverse.
    #[must_use]
    pub fn jaw(&self) -> JawPose {
        // One sphere's place fixes it; both agree, since the record keeps their distance.
        let outward = Side::Right.outward_y();
        let (seat, moved) =
            (seat(outward, self.distance_mm), vector(&self.asked[Side::Right as usize], outward));
        let translation = match self.design {
            Design::Arcon => seat + moved - self.rotation * seat,
            Design::NonArcon => seat - self.rotation * (seat - moved),
        };
        JawPose::rigid(self.rotation, translation)
    }

    /// The inclination that closes the split on this record: of the straight line from the seat to
    /// where the record has the sphere.
    #[must_use]
    pub fn closing_inclination(&self, side: Side) -> Angle {
        let asked = &self.asked[side as usize];
        Angle::from_radians(asked.drop.atan2(asked.advance))
    }

    /// The gaps with the guides (right, left) at trial settings, at grooves of the upper base (upper
    /// frame, centric), along the upper base's vertical.
    ///
    /// An open guide that is too shallow carries nothing: its sphere stays where the record has it, and
    /// the guide stands off.
    ///
    /// # Errors
    /// [`TrialError`] names the guide or groove at which the split cannot be brought together.
    pub fn gaps(
        &self,
        guides: [&CondylarGuide; 2],
        grooves: &[UpperPoint],
        hold: GuideHold,
    ) -> Result<TrialGaps, TrialError> {
        let mut walls = [0.0; 2];
        for side in Side::BOTH {
            let asked = &self.asked[side as usize];
            walls[side as usize] = if self.kind.is_guided(side) {
                let guide = guides[side as usize];
                let wall = guide.drop_at(Length::from_mm(asked.advance));
                let wall = wall.map_err(|why| TrialError::PastEnd { side, why })?;
                wall.mm() + asked.medial * guide.wall_tilt.tan()
            } else {
                asked.drop
            };
        }
        let below = |side: Side| walls[side as usize] - self.asked[side as usize].drop;
        let stands_off = |side: Side| match hold {
            GuideHold::Track => 0.0,
            GuideHold::Open => (-below(side)).max(0.0),
        };
        let medial = Side::BOTH.map(|side| {
            let asked = &self.asked[side as usize];
            guides[side as usize].medial_shift_at(Length::from_mm(asked.advance)).mm()
        });
        let both = |read: &dyn Fn(Side) -> f64| PerSide {
            right: Length::from_mm(read(Side::Right)),
            left: Length::from_mm(read(Side::Left)),
        };
        let held = Side::BOTH.map(|side| walls[side as usize] + stands_off(side));
        let displaced = self.displaced(held, medial)?;
        let (turn, touching) = displaced.first_touch(grooves)?;
        let mut gaps: Vec<Length> =
            grooves.iter().map(|groove| Length::from_mm(displaced.at(turn, groove).z.max(0.0))).collect();
        gaps[touching] = Length::ZERO;
        let (too_low, stands_off) = (both(&below), both(&stands_off));
        Ok(TrialGaps { gaps, touching, too_low, stands_off, secondary: displaced.motion(turn) })
    }

    /// How the secondary base moves against the primary with the spheres held so low (right, left) and,
    /// on the orbiting side of a lateral record, so far to the middle.
    pub(super) fn displaced(&self, drop: [f64; 2], medial: [f64; 2]) -> Result<Displaced, TrialError> {
        let sense = match self.design {
            Design::Arcon => 1.0,
            Design::NonArcon => -1.0,
        };
        let (w, [right, left]) = (self.distance_mm, &self.asked);
        // What is left of the axis across keeps the spheres' distance: w − σ(m_R + m_L).
        let apart = [left.advance - right.advance, drop[1] - drop[0]];
        let across = w * w - apart[0] * apart[0] - apart[1] * apart[1];
        if across.is_nan() || across <= 0.0 {
            return Err(TrialError::Unbridged { distance_mm: w });
        }
        let together = sense * (w - across.sqrt());
        let shared = (together - right.medial - left.medial) / 2.0;
        let medial = match self.kind {
            // No medial wall guides: what the record has, evenly changed.
            RecordKind::Centric | RecordKind::Protrusive => [right.medial + shared, left.medial + shared],
            RecordKind::RightLateral => [together - medial[1], medial[1]],
            RecordKind::LeftLateral => [medial[0], together - medial[0]],
        };
        let [trial_right, trial_left] = Side::BOTH.map(|side| Shift {
            advance: self.asked[side as usize].advance,
            medial: medial[side as usize],
            drop: drop[side as usize],
        });
        let place = |shift: &Shift, outward: f64| vector(shift, outward);
        let (from, to) = match self.design {
            Design::Arcon => (
                [place(&trial_right, -1.0) + seat(-1.0, w), place(&trial_left, 1.0) + seat(1.0, w)],
                [place(right, -1.0) + seat(-1.0, w), place(left, 1.0) + seat(1.0, w)],
            ),
            Design::NonArcon => {
                let seats = [seat(-1.0, w), seat(1.0, w)];
                let off = [
                    self.rotation * (place(right, -1.0) - place(&trial_right, -1.0)),
                    self.rotation * (place(left, 1.0) - place(&trial_left, 1.0)),
                ];
                (seats, [seats[0] + off[0], seats[1] + off[1]])
            }
        };
        let axis = (to[1] - to[0]).normalize();
        Ok(Displaced {
            turn: least_turn(&(from[1] - from[0]).normalize(), &axis),
            axis,
            from: (from[0] + from[1]) / 2.0,
            to: (to[0] + to[1]) / 2.0,
        })
    }
}

/// D but for its turn about the axis.
pub(super) struct Displaced {
    turn: Matrix3<f64>,
    axis: Vector3<f64>,
    from: Vector3<f64>,
    to: Vector3<f64>,
}

impl Displaced {
    /// D p − p at a turn (radians; it lowers the front) about the axis.
    pub(super) fn at(&self, turn: f64, groove: &UpperPoint) -> Vector3<f64> {
        let (along, ahead, aside) = self.parts(groove);
        let (sin, cos) = turn.sin_cos();
        self.to + along + ahead * cos + aside * sin - groove.coords()
    }

    /// D at a turn.
    fn motion(&self, turn: f64) -> BaseMotion {
        let closing = nalgebra::Rotation3::new(self.axis * turn);
        let rotation = closing * self.turn;
        BaseMotion { rotation, translation: self.to - rotation * self.from }
    }

    /// A groove seen from the middle of the axis: along it, square to it, and a quarter turn on.
    fn parts(&self, groove: &UpperPoint) -> (Vector3<f64>, Vector3<f64>, Vector3<f64>) {
        let r = self.turn * (groove.coords() - self.from);
        let along = self.axis * self.axis.dot(&r);
        (along, r - along, self.axis.cross(&r))
    }

    /// The turn at which the first groove touches, and which one that is.
    fn first_touch(&self, grooves: &[UpperPoint]) -> Result<(f64, usize), TrialError> {
        let mut first: Option<(f64, usize)> = None;
        for (index, groove) in grooves.iter().enumerate() {
            let (along, ahead, aside) = self.parts(groove);
            let (a, b, c) = (ahead.z, aside.z, groove.z() - self.to.z - along.z);
            let reach = a.hypot(b);
            let off = TrialError::Groove { number: index + 1, ahead_mm: -b };
            // Closing must lower the groove: n·(e × r) = −x for a level axis.
            if -b < LEAST_LEVER_MM || c.abs() >= reach {
                return Err(off);
            }
            let turn = b.atan2(a) + (c / reach).acos();
            if first.is_none_or(|(least, _)| turn < least) {
                first = Some((turn, index));
            }
        }
        first.ok_or(TrialError::NoGroove)
    }
}

/// Where a sphere rests.
fn seat(outward: f64, distance_mm: f64) -> Vector3<f64> {
    Vector3::new(0.0, outward * distance_mm / 2.0, 0.0)
}

/// Displacement of a sphere in its guide, as the jaw moves.
fn vector(shift: &Shift, outward: f64) -> Vector3<f64> {
    Vector3::new(shift.advance, -outward * shift.medial, -shift.drop)
}

/// The least rotation from one unit vector to another; the two are never opposite here.
fn least_turn(from: &Vector3<f64>, to: &Vector3<f64>) -> Matrix3<f64> {
    let cross = from.cross(to).cross_matrix();
    Matrix3::identity() + cross + cross * cross / (1.0 + from.dot(to))
}

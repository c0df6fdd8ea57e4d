//! The border envelope: how far the lower member gets in each direction, as far as the instrument has a
//! guide that says so.
//!
//! A jaw's border movements enclose a space. Of its borders an articulator has four: the hinge arc,
//! protrusion, and both lateral movements with the anterior guide touched. The opened border in front
//! of the hinge arc is held by ligaments; no part of the mechanism steers it, so it is not here.
//!
//! ```
//! use sim_core::excursion::{Border, Followed, Mechanism, Reach, SampleCount};
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! let instrument = Instrument::zeroed();
//! let mechanism = Mechanism::new(&instrument);
//! let reach = Reach::new(Length::from_mm(6.0), Angle::from_degrees(10.0))?;
//! let envelope = mechanism.envelope(reach, SampleCount::new(5)?);
//! let hinge = envelope.path(Border::Hinge);
//! assert_eq!(hinge.ended(), None);
//! // The hinge arc is a circle about the axis.
//! let incisor = Followed::incisal_point(&instrument);
//! let radius = |place: sim_core::frame::UpperPoint| place.x().hypot(place.z());
//! let places: Vec<_> = hinge.places(incisor).collect();
//! assert!(places.iter().all(|place| (radius(*place) - radius(places[0])).abs() < 1e-9));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use super::{Drive, Excursion, ExcursionError, Mechanism, Motion, Movement, NoPose, Placement, SampleCount};
use crate::cusp::{Cusp, CuspTip};
use crate::frame::{LowerPoint, Side, UpperPoint};
use crate::instrument::{Design, Instrument};
use crate::units::{Angle, Length};

/// A border that the mechanism has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Border {
    /// The jaw turns open about the axis, from where the guide stops its closing.
    Hinge,
    /// Both condyles advance, the anterior guide touched.
    Protrusive,
    /// A lateral movement to this side, the anterior guide touched.
    Lateral(Side),
}

impl Border {
    /// Every border.
    pub const ALL: [Self; 4] =
        [Self::Hinge, Self::Protrusive, Self::Lateral(Side::Right), Self::Lateral(Side::Left)];

    /// The movement that goes along it.
    #[must_use]
    pub const fn movement(self) -> Movement {
        match self {
            Self::Hinge => Movement::Opening,
            Self::Protrusive => Movement::Protrusive,
            Self::Lateral(working) => Movement::Lateral { working },
        }
    }
}

/// How far the borders are followed: a choice of whoever looks, for the mechanism's guides go on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    advance: Length,
    opening: Angle,
}

impl Reach {
    /// So far by condylar advance, and by opening from the zeroed centric position.
    ///
    /// # Errors
    /// [`ExcursionError::OutOfRange`] where no excursion goes so far ([`Drive::ADVANCE`],
    /// [`Drive::OPENING`]).
    pub fn new(advance: Length, opening: Angle) -> Result<Self, ExcursionError> {
        Drive::ADVANCE.check(advance.mm())?;
        Drive::OPENING.check(opening.degrees())?;
        Ok(Self { advance, opening })
    }

    /// The condylar advance.
    #[must_use]
    pub const fn advance(&self) -> Length {
        self.advance
    }

    /// The opening, from the zeroed centric position.
    #[must_use]
    pub const fn opening(&self) -> Angle {
        self.opening
    }
}

/// Why a border ends before its reach.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum BorderEnd {
    /// The settings admit no pose farther on.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// The guide holds the jaw as far open as the hinge arc was to go, or farther.
    #[error("the guide holds the jaw {:.2}° open; a hinge arc to {:.2}° does not begin", .held.degrees(), .wanted.degrees())]
    HeldOpen {
        /// How far the guide holds the jaw open at rest.
        held: Angle,
        /// How far the arc was to go.
        wanted: Angle,
    },
}

/// One border, solved.
#[derive(Clone, Debug, PartialEq)]
pub struct BorderPath {
    border: Border,
    placements: Vec<Placement>,
    ended: Option<BorderEnd>,
}

impl BorderPath {
    /// Which border it is.
    #[must_use]
    pub const fn border(&self) -> Border {
        self.border
    }

    /// Its poses in order, from rest on; none where rest has no pose.
    #[must_use]
    pub fn placements(&self) -> &[Placement] {
        &self.placements
    }

    /// Why it ends before its reach, if it does.
    #[must_use]
    pub const fn ended(&self) -> Option<&BorderEnd> {
        self.ended.as_ref()
    }

    /// Where it takes a point.
    pub fn places(&self, followed: Followed) -> impl Iterator<Item = UpperPoint> + '_ {
        self.placements.iter().map(move |placed| followed.place(placed))
    }
}

/// The borders of an instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// In the order of [`Border::ALL`].
    paths: [BorderPath; 4],
}

impl Envelope {
    /// Every border.
    #[must_use]
    pub const fn paths(&self) -> &[BorderPath; 4] {
        &self.paths
    }

    /// One border.
    #[must_use]
    pub fn path(&self, border: Border) -> &BorderPath {
        let [hinge, protrusive, right, left] = &self.paths;
        match border {
            Border::Hinge => hinge,
            Border::Protrusive => protrusive,
            Border::Lateral(Side::Right) => right,
            Border::Lateral(Side::Left) => left,
        }
    }
}

/// A point whose way is followed in the upper frame, as the jaw moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Followed {
    /// A point of the lower member: M B.
    Lower(LowerPoint),
    /// A point of the upper member, as the jaw passes by it: A − (U A − A), the displacement that an
    /// upper cusp and the condyle of a non-arcon instrument are measured by.
    Upper(UpperPoint),
}

impl Followed {
    /// The lower member's incisal point.
    #[must_use]
    pub const fn incisal_point(instrument: &Instrument) -> Self {
        Self::Lower(LowerPoint::from_coords(instrument.incisal_point.coords()))
    }

    /// The centre of a condylar sphere, as its guide measures it.
    #[must_use]
    pub fn condyle(instrument: &Instrument, side: Side) -> Self {
        match instrument.design {
            Design::Arcon => Self::Lower(instrument.seat(side)),
            Design::NonArcon => Self::Upper(instrument.seat(side)),
        }
    }

    /// The tip of a cusp.
    #[must_use]
    pub fn cusp(cusp: &Cusp) -> Self {
        match cusp.tip() {
            CuspTip::Lower(tip) => Self::Lower(tip),
            CuspTip::Upper(tip) => Self::Upper(tip),
        }
    }

    /// Where it is in a pose.
    #[must_use]
    pub fn place(self, placed: &Placement) -> UpperPoint {
        match self {
            Self::Lower(point) => placed.jaw.to_upper(&point),
            Self::Upper(point) => {
                let at = point.coords();
                point + (at - placed.jaw.to_lower(&point).coords())
            }
        }
    }
}

impl Mechanism {
    /// Solves the borders, each in so many samples; a lateral border that starts with immediate
    /// translation has one more ([`Travel::stations`](super::Travel::stations)).
    ///
    /// A border that ends early holds the part that has poses, and why it ends.
    #[must_use]
    pub fn envelope(&self, reach: Reach, samples: SampleCount) -> Envelope {
        Envelope { paths: Border::ALL.map(|border| self.border(border, reach, samples)) }
    }

    fn border(&self, border: Border, reach: Reach, samples: SampleCount) -> BorderPath {
        if border == Border::Hinge {
            return self.hinge_arc(reach.opening, samples);
        }
        // Within the range of an excursion: `Reach::new` has seen to it.
        let excursion = Excursion { movement: border.movement(), drive: Drive::Advance(reach.advance) };
        let motion: Motion = self.motion(&excursion, samples);
        BorderPath {
            border,
            ended: motion.stopped().map(|no_pose| BorderEnd::NoPose(*no_pose)),
            placements: motion.placements().to_vec(),
        }
    }

    /// The hinge arc begins where the guide stops the closing, which a pin let down does before the
    /// zeroed centric position.
    #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
    fn hinge_arc(&self, wanted: Angle, samples: SampleCount) -> BorderPath {
        let border = Border::Hinge;
        let ending = |placements, end| BorderPath { border, placements, ended: Some(end) };
        let rest = match self.rest() {
            Ok(rest) => rest,
            Err(no_pose) => return ending(Vec::new(), no_pose.into()),
        };
        let held = rest.opening();
        if held >= wanted {
            return ending(vec![rest], BorderEnd::HeldOpen { held, wanted });
        }
        let last = (samples.get() - 1) as f64;
        let opened =
            (1..samples.get()).map(|index| self.opened_to(held + (wanted - held) * index as f64 / last));
        BorderPath { border, placements: std::iter::once(rest).chain(opened).collect(), ended: None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::excursion::Obstacle;
    use crate::guide::{ArcPath, CondylarGuide, GuidePath};
    use nalgebra::Vector3;

    const FINE: i64 = 601;

    fn assert_near(a: Vector3<f64>, b: Vector3<f64>, mm: f64) {
        assert!((a - b).norm() < mm, "{a:?} {b:?}");
    }

    fn envelope(instrument: &Instrument, samples: i64) -> Envelope {
        let reach = Reach::new(Length::from_mm(6.0), Angle::from_degrees(12.0)).unwrap();
        Mechanism::new(instrument).envelope(reach, SampleCount::new(samples).unwrap())
    }

    fn incisal(instrument: &Instrument, path: &BorderPath) -> Vec<Vector3<f64>> {
        path.places(Followed::incisal_point(instrument)).map(|place| *place.coords()).collect()
    }

    #[test]
    fn the_hinge_arc_is_a_circle_about_the_axis_turned_by_the_opening() {
        let instrument = Instrument::zeroed();
        let places = incisal(&instrument, envelope(&instrument, 7).path(Border::Hinge));
        let start = instrument.incisal_point.coords();
        for (index, place) in places.iter().enumerate() {
            let (sin, cos) = Angle::from_degrees(2.0 * index as f64).sin_cos();
            // Opening turns forward down: about y by a positive angle.
            let turned = Vector3::new(start.x * cos + start.z * sin, start.y, start.z * cos - start.x * sin);
            assert_near(*place, turned, 1e-10);
        }
    }

    #[test]
    fn a_pin_let_down_begins_the_hinge_arc_where_it_stops_the_closing() {
        let mut instrument = Instrument::zeroed();
        instrument.pin_extension = Length::from_mm(5.0);
        let envelope = envelope(&instrument, 5);
        let hinge = envelope.path(Border::Hinge);
        let rest = Mechanism::new(&instrument).rest().unwrap();
        assert_eq!(hinge.placements()[0], rest);
        assert!(rest.opening() > Angle::from_degrees(2.0));
        let openings: Vec<f64> = hinge.placements().iter().map(|p| p.opening().degrees()).collect();
        assert!(openings.windows(2).all(|pair| pair[0] < pair[1]), "{openings:?}");
        assert!((openings[4] - 12.0).abs() < 1e-9);

        let short = Reach::new(Length::from_mm(6.0), Angle::from_degrees(1.0)).unwrap();
        let held = Mechanism::new(&instrument).envelope(short, SampleCount::new(5).unwrap());
        let path = held.path(Border::Hinge);
        assert_eq!(path.placements().len(), 1);
        assert_eq!(
            path.ended(),
            Some(&BorderEnd::HeldOpen { held: rest.opening(), wanted: short.opening() })
        );
    }

    /// The direction in which the incisal point leaves rest, from the velocities of rigid bodies: the
    /// right condyle and a level table hold, the orbiting condyle goes forward by 1, down by tan H and
    /// toward the midline by tan L. With the right condyle for origin and the jaw turning by ω,
    /// ω×(0, w, 0) = (1, 0, −tan H), the whole jaw goes by (0, −tan L, 0), and the pin (x, w/2, z)
    /// neither rises nor sinks.
    #[test]
    fn a_lateral_border_leaves_rest_in_the_direction_that_a_rigid_body_has_by_hand() {
        let (h, l) = (Angle::from_degrees(34.0), Angle::from_degrees(13.0));
        let mut instrument = Instrument::zeroed();
        for side in Side::BOTH {
            *instrument.guide_mut(side) = CondylarGuide::straight(h, l);
        }
        let w = instrument.intercondylar_distance.mm();
        let at = instrument.incisal_point.coords();
        let (turn_z, turn_x) = (-1.0 / w, -h.tan() / w);
        let turn_y = turn_x * (w / 2.0) / at.x;
        let expected =
            Vector3::new(turn_y * at.z - turn_z * w / 2.0, turn_z * at.x - turn_x * at.z - l.tan(), 0.0);
        let envelope = envelope(&instrument, FINE);
        for (border, mirror) in [(Border::Lateral(Side::Right), 1.0), (Border::Lateral(Side::Left), -1.0)] {
            let places = incisal(&instrument, envelope.path(border));
            let direction = (places[1] - places[0]) / 0.01;
            let expected = Vector3::new(expected.x, mirror * expected.y, expected.z);
            // A hundredth of a millimetre bends by some 1e-4 of itself.
            assert_near(direction, expected, 5e-4);
        }
    }

    #[test]
    fn without_immediate_translation_a_lateral_border_starts_at_rest_without_a_leap() {
        let instrument = Instrument::zeroed();
        let envelope = envelope(&instrument, FINE);
        for side in Side::BOTH {
            let places = incisal(&instrument, envelope.path(Border::Lateral(side)));
            assert_near(places[0], instrument.incisal_point.coords(), 1e-12);
            // Stations are a hundredth of a millimetre of advance apart.
            assert!(places.windows(2).all(|pair| (pair[1] - pair[0]).norm() < 0.02));
        }
    }

    #[test]
    fn immediate_translation_shifts_the_start_of_the_lateral_border_sideways() {
        let mut instrument = Instrument::zeroed();
        instrument.left_guide.immediate_translation = Length::from_mm(0.9);
        let places = incisal(&instrument, envelope(&instrument, 13).path(Border::Lateral(Side::Right)));
        assert_eq!(places.len(), 14);
        let shifted = instrument.incisal_point.coords() - Vector3::y() * 0.9;
        assert_near(places[1], shifted, 1e-10);
    }

    #[test]
    fn a_condyle_is_followed_as_its_guide_measures_it_in_either_design() {
        for design in [Design::Arcon, Design::NonArcon] {
            let mut instrument = Instrument::zeroed();
            instrument.design = design;
            instrument.pin_extension = Length::from_mm(3.0);
            for path in envelope(&instrument, 7).paths() {
                for side in Side::BOTH {
                    let places = path.places(Followed::condyle(&instrument, side));
                    for (placed, place) in path.placements().iter().zip(places) {
                        let read = placed.condyle(side);
                        let seat: UpperPoint = instrument.seat(side);
                        let moved = place - seat;
                        let by_reading = Vector3::new(
                            read.advance.mm(),
                            -side.outward_y() * read.medial.mm(),
                            -read.drop.mm(),
                        );
                        assert_near(moved, by_reading, 1e-10);
                    }
                }
            }
        }
    }

    #[test]
    fn a_border_that_a_path_ends_keeps_its_poses_and_says_which_path() {
        let mut instrument = Instrument::zeroed();
        instrument.right_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(3.0) });
        let envelope = envelope(&instrument, 25);
        let ends_at = 3.0 * (1.0 + instrument.right_guide.horizontal_inclination.radians().sin());
        for border in [Border::Protrusive, Border::Lateral(Side::Left)] {
            let path = envelope.path(border);
            let Some(BorderEnd::NoPose(no_pose)) = path.ended() else {
                panic!("{border:?}: {:?}", path.ended())
            };
            assert!(matches!(no_pose.obstacle, Obstacle::PastEnd { side: Side::Right, .. }));
            assert!(no_pose.advance.mm() > ends_at);
            let last = path.placements().last().unwrap().advance().mm();
            assert!(last <= ends_at && last > ends_at - 0.25, "{last} {ends_at}");
        }
        // The right condyle works here and stays in its seat.
        assert_eq!(envelope.path(Border::Lateral(Side::Right)).ended(), None);
    }

    #[test]
    fn a_reach_past_every_excursion_is_refused() {
        let reach = |mm, degrees| Reach::new(Length::from_mm(mm), Angle::from_degrees(degrees));
        assert!(reach(6.0, 12.0).is_ok());
        for (mm, degrees) in [(0.0, 12.0), (31.0, 12.0), (6.0, 61.0), (f64::NAN, 12.0), (6.0, f64::NAN)] {
            assert!(matches!(reach(mm, degrees), Err(ExcursionError::OutOfRange(_))), "{mm} {degrees}");
        }
    }
}

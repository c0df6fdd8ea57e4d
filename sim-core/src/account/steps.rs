//! The steps from the zeroed centric position to a pose.

use nalgebra::{Matrix3, Rotation3, Vector3};

use super::part::PartKind;
use crate::anterior::AnteriorGuide;
use crate::excursion::{Movement, Placement};
use crate::frame::{JawPose, LowerPoint, PerSide, Side, UpperPoint};
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A step and the pose after it.
pub(super) struct Step {
    pub(super) kind: PartKind,
    pub(super) after: JawPose,
}

/// A pin let down by less than this opens nothing, in degrees: far below what is printed, above rounding.
const NO_TURN_DEG: f64 = 1e-10;

/// The steps from the zeroed centric position; the first is the pin's where it opens the instrument. The last
/// pose is that of the placement itself.
pub(super) fn steps(
    instrument: &Instrument,
    movement: Movement,
    rest: &Placement,
    placed: &Placement,
) -> Vec<Step> {
    let carrier = Carrier { instrument };
    if movement == Movement::Opening {
        let turn = carrier.turn_of(&PerSide::default(), &placed.jaw);
        return vec![Step { kind: PartKind::HingeTurn { turn }, after: placed.jaw }];
    }
    let [right, left] = [Side::Right, Side::Left].map(|side| *placed.condyle(side));
    let at_rest = carrier.turn_of(&PerSide::default(), &rest.jaw);
    let mut steps = Vec::with_capacity(7);
    if at_rest.degrees().abs() > NO_TURN_DEG {
        let kind = PartKind::Pin { extension: instrument.pin_extension, turn: at_rest };
        steps.push(Step { kind, after: rest.jaw });
    }
    let mut spheres = PerSide::<Way>::default();
    for (side, condyle) in [(Side::Right, &right), (Side::Left, &left)] {
        spheres[side].drop = condyle.drop.mm();
        let kind = PartKind::CondyleDrop { side, drop: condyle.drop };
        steps.push(Step { kind, after: carrier.pose(&spheres, at_rest) });
    }
    spheres.right.advance = right.advance.mm();
    spheres.left.advance = left.advance.mm();
    let advances = PerSide { right: right.advance, left: left.advance };
    steps.push(Step { kind: PartKind::Advances(advances), after: carrier.pose(&spheres, at_rest) });
    spheres.right.medial = right.medial.mm();
    spheres.left.medial = left.medial.mm();
    let shifts = PerSide { right: right.medial, left: left.medial };
    steps.push(Step { kind: PartKind::Shifts(shifts), after: carrier.pose(&spheres, at_rest) });
    let whole = carrier.turn_of(&spheres, &placed.jaw);
    match carrier.turn_to_level(&spheres) {
        Some(level) => {
            let kind = PartKind::LevelTurn { turn: level - at_rest };
            steps.push(Step { kind, after: carrier.pose(&spheres, level) });
            let kind = PartKind::GuideTurn { turn: whole - level, guidance: placed.guidance };
            steps.push(Step { kind, after: placed.jaw });
        }
        None => {
            let kind = PartKind::FrontTurn { turn: whole - at_rest, guidance: placed.guidance };
            steps.push(Step { kind, after: placed.jaw });
        }
    }
    steps
}

/// How far a sphere has gone in its guide, in millimetres.
#[derive(Clone, Copy, Default)]
struct Way {
    advance: f64,
    medial: f64,
    drop: f64,
}

/// The member that carries the spheres.
struct Carrier<'i> {
    instrument: &'i Instrument,
}

impl Carrier<'_> {
    /// The midpoint of the axis, and the least rotation that takes the axis at rest to the axis now. Within a
    /// step the spheres may be a little farther apart than they are; only the direction between them counts.
    fn axis(&self, spheres: &PerSide<Way>) -> (Vector3<f64>, Matrix3<f64>) {
        let sense = self.instrument.design.sense();
        let half = self.instrument.intercondylar_distance.mm() / 2.0;
        let place = |side: Side| {
            let way = &spheres[side];
            Vector3::new(
                sense * way.advance,
                side.outward_y() * (half - sense * way.medial),
                -sense * way.drop,
            )
        };
        let (right, left) = (place(Side::Right), place(Side::Left));
        let axis = (left - right).normalize();
        let cross = Vector3::y().cross(&axis).cross_matrix();
        let turn = Matrix3::identity() + cross + cross * cross / (1.0 + axis.y);
        ((left + right) / 2.0, turn)
    }

    /// The jaw with the spheres so placed, turned open by an angle about the axis through them.
    fn pose(&self, spheres: &PerSide<Way>, open: Angle) -> JawPose {
        let (middle, turn) = self.axis(spheres);
        let sense = self.instrument.design.sense();
        let about = Rotation3::from_axis_angle(&Vector3::y_axis(), sense * open.radians());
        let carrier = JawPose::rigid(turn * about.matrix(), middle);
        if sense > 0.0 { carrier } else { carrier.inverse() }
    }

    /// How far a jaw with the spheres so placed is turned open about the axis through them.
    fn turn_of(&self, spheres: &PerSide<Way>, jaw: &JawPose) -> Angle {
        let (_, turn) = self.axis(spheres);
        let sense = self.instrument.design.sense();
        let rotation = if sense > 0.0 { *jaw.rotation() } else { jaw.rotation().transpose() };
        let about = turn.tr_mul(&rotation);
        Angle::from_radians(sense * about[(0, 2)].atan2(about[(2, 2)]))
    }

    /// The turn at which the guided point is at the level that it has at rest with the pin flush. Its height
    /// over that level is A cos θ + B sin θ − C as the jaw turns, which three turns tell; of the two roots it
    /// is that at which the height grows as the jaw opens.
    fn turn_to_level(&self, spheres: &PerSide<Way>) -> Option<Angle> {
        let gap = |degrees: f64| self.above_level(&self.pose(spheres, Angle::from_degrees(degrees)));
        let (none, quarter, half) = (gap(0.0), gap(90.0), gap(180.0));
        let (a, c) = ((none - half) / 2.0, -(none + half) / 2.0);
        let b = quarter + c;
        let square = a * a + b * b;
        let rest = square - c * c;
        if rest <= 0.0 {
            return None;
        }
        let root = rest.sqrt();
        let (cos, sin) = ((a * c + b * root) / square, (b * c - a * root) / square);
        (cos > 0.0).then(|| Angle::from_radians(sin.atan2(cos)))
    }

    /// How far the guided point is clear of a level guide through its place at rest, in millimetres: the pin's
    /// tip above the table, or the lower incisal edge below the upper ones.
    fn above_level(&self, jaw: &JawPose) -> f64 {
        let instrument = self.instrument;
        let edge = instrument.incisal_point.coords();
        if !instrument.anterior_guide.has_pin() {
            return edge.z - jaw.to_upper(&LowerPoint::from_coords(edge)).z();
        }
        let ball = match &instrument.anterior_guide {
            AnteriorGuide::CustomTable(field) => field.tip().radius,
            AnteriorGuide::Table(_) | AnteriorGuide::Incisors(_) | AnteriorGuide::Casts(_) => Length::ZERO,
        };
        let tip = edge + Vector3::z() * (ball - instrument.pin_extension).mm();
        jaw.to_lower(&UpperPoint::from_coords(tip)).z() - (edge.z + ball.mm())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anterior::Trough;
    use crate::excursion::{Mechanism, Station};
    use crate::instrument::Design;

    /// The last step is nothing but a turn about the axis through the spheres: put together from the readings
    /// of the condyles and the two turns, the pose is the solver's own.
    #[test]
    fn the_turns_end_at_the_solved_pose() {
        let trough = Trough { sagittal_inclination: Angle::from_degrees(25.0), ..Trough::LEVEL };
        for design in [Design::Arcon, Design::NonArcon] {
            for guide in [AnteriorGuide::Table(trough), AnteriorGuide::Incisors(trough)] {
                let mut instrument = Instrument { design, anterior_guide: guide, ..Instrument::zeroed() };
                instrument.left_guide.horizontal_inclination = Angle::from_degrees(42.0);
                let mechanism = Mechanism::new(&instrument);
                let rest = mechanism.rest().unwrap();
                for movement in [Movement::Protrusive, Movement::Lateral { working: Side::Left }] {
                    let at = Station::advanced(Length::from_mm(5.0));
                    let placed = mechanism.at(movement, at).unwrap();
                    let steps = steps(&instrument, movement, &rest, &placed);
                    let turned: Angle = steps
                        .iter()
                        .filter_map(|step| match step.kind {
                            PartKind::LevelTurn { turn } | PartKind::GuideTurn { turn, .. } => Some(turn),
                            _ => None,
                        })
                        .fold(Angle::ZERO, |sum, turn| sum + turn);
                    let way = |side: Side| {
                        let condyle = placed.condyle(side);
                        let [advance, medial, drop] =
                            [condyle.advance, condyle.medial, condyle.drop].map(Length::mm);
                        Way { advance, medial, drop }
                    };
                    let pose = Carrier { instrument: &instrument }.pose(&PerSide::of(way), turned);
                    assert!((pose.rotation() - placed.jaw.rotation()).amax() < 1e-13);
                    assert!((pose.translation() - placed.jaw.translation()).amax() < 1e-11);
                }
            }
        }
    }
}

//! How a number answers to every setting.

use super::number::Number;
use super::pose::SolvedPose;
use super::rates::{By, Going};
use super::response::{Answering, Turned};
use super::slope::{Mover, NoSlopes, SettingSlope, Slope};
use crate::anterior::AnteriorGuide;
use crate::cusp::{Cusp, OpposingInclines};
use crate::excursion::{Drive, Excursion, Holding, Movement, Placement, Row, Station};
use crate::frame::Side;
use crate::guide::{CondylarGuide, GuidePath};
use crate::setting::{Setting, all};

/// Two slopes that differ by less are one: what rounding leaves of them.
const ONE_SLOPE: f64 = 1e-9;
/// Below this the incisal point does not go on as the condyles do, in millimetres a millimetre.
const STANDS_STILL: f64 = 1e-9;

/// The slope of a number by every setting of the scene, and by the inclines that oppose its cusp.
pub(super) fn of(
    pose: &SolvedPose<'_>,
    number: Number,
    cusp: Option<&Cusp>,
    rest: &Placement,
) -> Result<Vec<SettingSlope>, NoSlopes> {
    let answers = Answers::of(pose, rest)?;
    let inclines = matches!(number, Number::Clearance(_)).then_some(OpposingInclines::SETTINGS);
    let inclines = inclines.unwrap_or_default().iter().map(Mover::Incline);
    let movers = all().filter(|setting| !matches!(setting, Setting::InventedCasts(_))).flat_map(|setting| {
        let sides = setting.sides().iter().copied();
        sides.map(move |side| Mover::Setting(setting, side))
    });
    let slope = |mover: Mover| {
        let [lowered, raised] = Turned::BOTH.map(|turned| {
            let rate = answers.rate(number, cusp, mover.turned(turned));
            rate.map(|rate| rate * turned.sign())
        });
        let (lowered, raised) = (lowered?, raised?);
        let is_one = (lowered - raised).abs() <= ONE_SLOPE * (1.0 + raised.abs());
        // At the end of its range a setting goes one way only.
        let slope = match ends(pose, &mover, cusp) {
            _ if is_one => Slope::Smooth(raised),
            [true, _] => Slope::Smooth(raised),
            [_, true] => Slope::Smooth(lowered),
            [false, false] => Slope::Kink { lowered, raised },
        };
        Ok(SettingSlope { mover, slope })
    };
    movers.filter(|mover| is_there(pose, mover)).chain(inclines).map(slope).collect()
}

/// Whether what is turned is at the least, and at the greatest, that is allowed.
fn ends(pose: &SolvedPose<'_>, mover: &Mover, cusp: Option<&Cusp>) -> [bool; 2] {
    let facts = mover.facts();
    let now = match mover {
        Mover::Setting(setting, side) => setting.get(pose.scene, side.unwrap_or(Side::Right)),
        Mover::Incline(entry) => cusp.map(|cusp| entry.value(cusp.opposing())),
    };
    now.map_or([false; 2], |now| [now <= facts.min, now >= facts.max])
}

/// Whether the scene has such a setting, and it plays a part there.
fn is_there(pose: &SolvedPose<'_>, mover: &Mover) -> bool {
    let Mover::Setting(setting, side) = mover else { return true };
    let side = side.unwrap_or(Side::Right);
    let guide = &pose.scene.instrument;
    match setting {
        Setting::Guide(entry) if entry.facts.key == CondylarGuide::HORIZONTAL_INCLINATION.facts.key => {
            !matches!(guide.guide(side).path, GuidePath::Profile(_))
        }
        _ => setting.get(pose.scene, side).is_some(),
    }
}

/// What holds a pose and the pose at rest; none in a hinge opening, which the guides do not steer.
struct Answers<'s> {
    pose: &'s SolvedPose<'s>,
    rest: &'s Placement,
    held: Option<[Answering<'s>; 2]>,
    /// How the pose goes on, where the incisal point drives it.
    driven: Option<Row>,
}

impl<'s> Answers<'s> {
    fn of(pose: &'s SolvedPose<'s>, rest: &'s Placement) -> Result<Self, NoSlopes> {
        let (instrument, movement) = (&pose.scene.instrument, pose.excursion.movement());
        if movement == Movement::Opening {
            return Ok(Self { pose, rest, held: None, driven: None });
        }
        match instrument.anterior_guide {
            AnteriorGuide::Casts(_) => return Err(NoSlopes::TeethGuide),
            AnteriorGuide::CustomTable(_) => return Err(NoSlopes::CustomTable),
            AnteriorGuide::Table(_) | AnteriorGuide::Incisors(_) => {}
        }
        let holding = |movement, station, placed| -> Result<Holding, NoSlopes> {
            pose.mechanism.holding(movement, station, placed).map_err(|_| NoSlopes::Upright)
        };
        let here = holding(movement, pose.placement.station, pose.placement)?;
        let there = holding(Movement::Protrusive, Station::REST, rest)?;
        let driven = if by_the_incisal_point(&pose.excursion) && pose.placement.station != Station::REST {
            if here.is_at_crease() {
                return Err(NoSlopes::Crease);
            }
            Some(here.driven().ok_or(NoSlopes::Upright)?)
        } else {
            None
        };
        let held = [
            Answering { instrument, movement, placed: pose.placement, holding: here },
            Answering { instrument, movement: Movement::Protrusive, placed: rest, holding: there },
        ];
        Ok(Self { pose, rest, held: Some(held), driven })
    }

    /// How fast the number changes as something is turned, what drives the excursion held.
    fn rate(&self, number: Number, cusp: Option<&Cusp>, by: By) -> Result<f64, NoSlopes> {
        let going = |rates: Row, rest_rates: Row, by: By| Going {
            pose: self.pose,
            rest: self.rest,
            rates,
            rest_rates,
            by,
        };
        let [rates, rest_rates] = match (&self.held, by) {
            (Some(held), By::Touch(touch)) => {
                let [here, rest] = held.each_ref().map(|held| held.to(touch).ok_or(NoSlopes::Upright));
                [here?, rest?]
            }
            _ => [Row::zeros(); 2],
        };
        let turned = going(rates, rest_rates, by);
        let Some(driven) = self.driven else { return Ok(turned.of(number, cusp)) };
        // The excursion goes on by as much as keeps the incisal point's way as it is.
        let goes_on = going(driven, Row::zeros(), By::Nothing);
        let (Some(off), Some(pace)) = (turned.of_drive(), goes_on.of_drive()) else {
            return Ok(turned.of(number, cusp));
        };
        if pace.abs() < STANDS_STILL {
            return Err(NoSlopes::Upright);
        }
        Ok(going(rates - driven * (off / pace), rest_rates, by).of(number, cusp))
    }
}

const fn by_the_incisal_point(excursion: &Excursion) -> bool {
    matches!(excursion.drive(), Drive::IncisalDisplacement(_) | Drive::Tracing(_))
}

//! What a viva can ask, and how the answers are computed.

use rand_chacha::rand_core::Rng;

use super::answer::{Slip, Statement, VivaAnswer, VivaValue};
use super::ask::{Asked, VivaQuestion};
use super::level::VivaLevel;
use super::set_up::Drawn;
use crate::cusp::Tooth;
use crate::excursion::{Drive, Excursion, Movement};
use crate::frame::Side;
use crate::lesson::{Phrase, Situation, Value};
use crate::practice::dice::Dice;
use crate::scene::Scene;
use crate::setting::Change;
use crate::units::{Angle, Length, Unit};

/// A kind of question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Template {
    Drop,
    MedialShift,
    Rule,
    PartsMost,
    Separation,
    Clearance,
    ActsMost,
    Split,
    OpenedPath,
    TracingAdvance,
    AxisError,
}

/// Set-ups that are tried before another kind of question is drawn.
const TRIES: usize = 60;
/// Two answers differ clearly by these at least, in millimetres and degrees, and by this part of the right one.
const CLEARLY_MM: f64 = 0.1;
const CLEARLY_DEG: f64 = 0.8;
const CLEARLY_PART: f64 = 0.08;
/// Of two teeth or changes one is clearly ahead by this, in millimetres.
const AHEAD_MM: f64 = 0.05;
/// Answers to choose from, the right one among them.
const ANSWERS: usize = 4;
const LEAST_ANSWERS: usize = 3;
/// Advances that are asked about.
const ADVANCES_MM: [f64; 5] = [2.0, 3.0, 4.0, 5.0, 6.0];
/// By how much a setting is raised to see which acts most.
const RAISED_DEG: f64 = 10.0;

/// What was computed: the right answer first.
type Answers = (Asked, Option<Excursion>, Vec<VivaAnswer>);

impl Template {
    /// The kinds of a level.
    pub(super) const fn of(level: VivaLevel) -> &'static [Self] {
        match level {
            VivaLevel::First => &[Self::Drop, Self::MedialShift, Self::Rule, Self::PartsMost],
            VivaLevel::Second => &[Self::Separation, Self::Clearance, Self::ActsMost, Self::Split],
            VivaLevel::Third => &[Self::OpenedPath, Self::TracingAdvance, Self::AxisError, Self::Clearance],
        }
    }

    /// A question of this kind; none where no set-up that was tried gives one with clear answers.
    pub(super) fn draw<R: Rng>(self, dice: &mut Dice<R>, level: VivaLevel) -> Option<VivaQuestion> {
        for _ in 0..TRIES {
            let mut drawn = Drawn::new(dice, level);
            let Some((asked, excursion, answers)) = self.answers(dice, &mut drawn) else { continue };
            let Some((answers, right)) = shuffled(dice, clear(answers)) else { continue };
            let Drawn { scene, changes } = drawn;
            return Some(VivaQuestion { level, scene, changes, excursion, asked, answers, right });
        }
        None
    }

    fn answers<R: Rng>(self, dice: &mut Dice<R>, drawn: &mut Drawn) -> Option<Answers> {
        let advance = Length::from_mm(dice.one_of(&ADVANCES_MM));
        let side = dice.side();
        match self {
            Self::Drop => drop(&drawn.scene, side, advance),
            Self::MedialShift => medial_shift(&drawn.scene, side, advance),
            Self::Rule => rule(&drawn.scene, side),
            Self::PartsMost => parts_most(&drawn.scene, side, advance),
            Self::Separation => separation(dice, &drawn.scene, side, advance),
            Self::Clearance => clearance(dice, &drawn.scene, side, advance),
            Self::ActsMost => acts_most(dice, &drawn.scene, side, advance),
            Self::Split => split(dice, drawn),
            Self::OpenedPath => opened_path(dice, drawn, side),
            Self::TracingAdvance => tracing_advance(dice, &drawn.scene),
            Self::AxisError => axis_error(dice, drawn, side),
        }
    }
}

/// The first answer, which is right, and those of the others that differ clearly from it and among each other.
fn clear(answers: Vec<VivaAnswer>) -> Vec<VivaAnswer> {
    let mut kept: Vec<VivaAnswer> = Vec::new();
    for answer in answers {
        let first = kept.first().map(|first| first.value.clone());
        if kept.len() < ANSWERS
            && kept.iter().all(|other| differ(&answer.value, &other.value, first.as_ref()))
        {
            kept.push(answer);
        }
    }
    kept
}

fn differ(one: &VivaValue, other: &VivaValue, right: Option<&VivaValue>) -> bool {
    let (VivaValue::Number(one), VivaValue::Number(other)) = (one, other) else { return one != other };
    let part = match right {
        Some(VivaValue::Number(right)) => right.number.abs() * CLEARLY_PART,
        _ => 0.0,
    };
    let least = if one.unit == Some(Unit::Degree) { CLEARLY_DEG } else { CLEARLY_MM };
    (one.number - other.number).abs() > least.max(part)
}

/// In a drawn order, with the place of the first; none where too few are left.
fn shuffled<R: Rng>(dice: &mut Dice<R>, mut answers: Vec<VivaAnswer>) -> Option<(Vec<VivaAnswer>, usize)> {
    let is_number = matches!(answers.first()?.value, VivaValue::Number(_));
    if answers.len() < LEAST_ANSWERS && is_number {
        return None;
    }
    for place in (1..answers.len()).rev() {
        answers.swap(place, dice.index(place + 1));
    }
    let right = answers.iter().position(|answer| answer.slip.is_none())?;
    Some((answers, right))
}

fn measured(scene: &Scene, excursion: Option<Excursion>, phrase: &str) -> Option<f64> {
    let phrase: Phrase = phrase.parse().ok()?;
    let situation = Situation { scene, start: scene, casts: None, excursion, at: None };
    Some(situation.measure(&phrase).ok()?.number)
}

fn mm(number: f64, slip: Option<Slip>) -> VivaAnswer {
    VivaAnswer { value: VivaValue::Number(Value::length(Length::from_mm(number))), slip }
}

fn deg(number: f64, slip: Option<Slip>) -> VivaAnswer {
    VivaAnswer { value: VivaValue::Number(Value::angle(Angle::from_degrees(number))), slip }
}

fn driven(movement: Movement, advance: Length) -> Option<Excursion> {
    Excursion::new(movement, Drive::Advance(advance)).ok()
}

fn inclination(scene: &Scene, side: Side) -> Angle {
    scene.instrument.guide(side).horizontal_inclination
}

fn drop(scene: &Scene, side: Side, advance: Length) -> Option<Answers> {
    let excursion = driven(Movement::Protrusive, advance)?;
    let right = measured(scene, Some(excursion), &format!("drop {side}"))?;
    let (a, h) = (advance.mm(), inclination(scene, side));
    let answers = vec![
        mm(right, None),
        mm(a * inclination(scene, side.opposite()).tan(), Some(Slip::OtherSide)),
        mm(a / h.tan(), Some(Slip::Inverted)),
        mm(a * h.sin_cos().0, Some(Slip::Sine)),
        mm(a, Some(Slip::AdvanceInstead)),
    ];
    Some((Asked::Drop { side, advance }, Some(excursion), answers))
}

fn medial_shift(scene: &Scene, orbiting: Side, advance: Length) -> Option<Answers> {
    let excursion = driven(Movement::Lateral { working: orbiting.opposite() }, advance)?;
    let read = |what: &str| measured(scene, Some(excursion), &format!("{what} {orbiting}"));
    let shift = |side: Side| {
        let guide = scene.instrument.guide(side);
        (guide.immediate_translation.mm(), advance.mm() * guide.lateral_angle.tan())
    };
    let (other_immediate, other_wall) = shift(orbiting.opposite());
    let mut answers = vec![
        mm(read("medial shift")?, None),
        mm(other_immediate + other_wall, Some(Slip::OtherSide)),
        mm(read("drop")?, Some(Slip::DropInstead)),
        mm(advance.mm(), Some(Slip::AdvanceInstead)),
    ];
    if shift(orbiting).0 > 0.0 {
        answers.insert(1, mm(shift(orbiting).1, Some(Slip::NoImmediate)));
    }
    Some((Asked::MedialShift { orbiting, advance }, Some(excursion), answers))
}

fn rule(scene: &Scene, side: Side) -> Option<Answers> {
    let right = measured(scene, None, &format!("rule lateral angle {side}"))?;
    let h = inclination(scene, side).degrees();
    let answers = vec![
        deg(right, None),
        deg(h / 8.0, Some(Slip::EighthOnly)),
        deg(h / 12.0 + 8.0, Some(Slip::EightAndTwelve)),
        deg((h + 12.0) / 8.0, Some(Slip::AddedFirst)),
    ];
    Some((Asked::Rule { side }, None, answers))
}

/// Lower first premolar, first and second molar, by their numbers on the right.
const TEETH: [i64; 3] = [44, 46, 47];

fn teeth_of(side: Side) -> impl Iterator<Item = Tooth> {
    TEETH.into_iter().filter_map(move |number| {
        Tooth::new(number).ok().map(|tooth| if side == Side::Right { tooth } else { tooth.across() })
    })
}

/// The greatest first, the others behind it with their slip; none where it is not clearly ahead.
fn greatest_first(mut all: Vec<(f64, VivaValue)>, slip: Slip) -> Option<Vec<VivaAnswer>> {
    all.sort_by(|one, other| other.0.total_cmp(&one.0));
    let ahead = all.first()?.0 - all.get(1)?.0;
    if ahead < AHEAD_MM {
        return None;
    }
    let slip = |place: usize| (place > 0).then_some(slip);
    Some(
        all.into_iter()
            .enumerate()
            .map(|(place, (_, value))| VivaAnswer { value, slip: slip(place) })
            .collect(),
    )
}

fn parts_most(scene: &Scene, side: Side, advance: Length) -> Option<Answers> {
    let excursion = driven(Movement::Protrusive, advance)?;
    let separation = |tooth: Tooth| {
        Some((measured(scene, Some(excursion), &format!("separation {tooth}"))?, VivaValue::Tooth(tooth)))
    };
    let all: Option<Vec<_>> = teeth_of(side).map(separation).collect();
    let answers = greatest_first(all?, Slip::NotThisTooth)?;
    Some((Asked::PartsMost { side, advance }, Some(excursion), answers))
}

/// A tooth of three on a side, and a movement.
fn tooth_and_way<R: Rng>(
    dice: &mut Dice<R>,
    side: Side,
    advance: Length,
) -> Option<(Tooth, Option<Side>, Excursion)> {
    let tooth = teeth_of(side).nth(dice.index(TEETH.len()))?;
    let working = dice.one_of(&[None, Some(Side::Right), Some(Side::Left)]);
    let movement = working.map_or(Movement::Protrusive, |working| Movement::Lateral { working });
    Some((tooth, working, driven(movement, advance)?))
}

fn separation<R: Rng>(dice: &mut Dice<R>, scene: &Scene, side: Side, advance: Length) -> Option<Answers> {
    let (tooth, working, excursion) = tooth_and_way(dice, side, advance)?;
    let read = |phrase: String| measured(scene, Some(excursion), &phrase);
    let level = "anterior_guide.sagittal_inclination_deg=0, anterior_guide.right_wing_deg=0, anterior_guide.left_wing_deg=0";
    let answers = vec![
        mm(read(format!("separation {tooth}"))?, None),
        mm(read(format!("separation {}", tooth.across()))?, Some(Slip::OtherSide)),
        mm(read(format!("separation {tooth} with {level}"))?, Some(Slip::LevelPlate)),
        mm(read(format!("drop {side}"))?, Some(Slip::DropInstead)),
    ];
    Some((Asked::Separation { tooth, working, advance }, Some(excursion), answers))
}

fn clearance<R: Rng>(dice: &mut Dice<R>, scene: &Scene, side: Side, advance: Length) -> Option<Answers> {
    let (tooth, working, excursion) = tooth_and_way(dice, side, advance)?;
    let read = |phrase: String| measured(scene, Some(excursion), &phrase);
    let (separation, clearance) = (read(format!("separation {tooth}"))?, read(format!("clearance {tooth}"))?);
    let answers = vec![
        mm(clearance, None),
        mm(separation, Some(Slip::SeparationInstead)),
        mm(2.0 * separation - clearance, Some(Slip::RiseAdded)),
        mm(read(format!("clearance {}", tooth.across()))?, Some(Slip::OtherSide)),
    ];
    Some((Asked::Clearance { tooth, working, advance }, Some(excursion), answers))
}

fn acts_most<R: Rng>(dice: &mut Dice<R>, scene: &Scene, side: Side, advance: Length) -> Option<Answers> {
    let tooth = teeth_of(side).nth(dice.index(TEETH.len()))?;
    let working = dice.side();
    let excursion = driven(Movement::Lateral { working }, advance)?;
    let before = measured(scene, Some(excursion), &format!("separation {tooth}"))?;
    let settings = [
        ("right_guide.horizontal_inclination_deg", inclination(scene, Side::Right)),
        ("left_guide.horizontal_inclination_deg", inclination(scene, Side::Left)),
        ("right_guide.lateral_angle_deg", scene.instrument.right_guide.lateral_angle),
        ("left_guide.lateral_angle_deg", scene.instrument.left_guide.lateral_angle),
    ];
    let mut all = Vec::new();
    for (name, now) in settings {
        let change = format!("{name}={}", now.degrees() + RAISED_DEG);
        let after = measured(scene, Some(excursion), &format!("separation {tooth} with {change}"))?;
        all.push((after - before, VivaValue::Change(change.parse::<Change>().ok()?)));
    }
    let answers = greatest_first(all, Slip::ActsLess)?;
    // Of what gains nothing one could not say that it raises it most.
    let by = Angle::from_degrees(RAISED_DEG);
    Some((Asked::ActsMost { tooth, working, advance, by }, Some(excursion), answers))
}

/// How far a trial is off the joint, in degrees.
const OFF_DEG: [f64; 4] = [-12.0, -8.0, 8.0, 12.0];

fn split<R: Rng>(dice: &mut Dice<R>, drawn: &mut Drawn) -> Option<Answers> {
    let joint = inclination(&drawn.scene, Side::Right).degrees();
    let off = dice.one_of(&OFF_DEG);
    drawn.changes.clear();
    drawn.scene = Scene::thirty_degree();
    drawn.change(&format!("horizontal_inclination_deg={joint}"));
    let excursion = driven(Movement::Protrusive, Length::from_mm(6.0))?;
    let read = |gap: &str| {
        measured(
            &drawn.scene,
            Some(excursion),
            &format!("{gap} with horizontal_inclination_deg={}", joint + off),
        )
    };
    let behind = read("posterior gap")? > read("anterior gap")?;
    let statement = |statement, slip| VivaAnswer { value: VivaValue::Statement(statement), slip };
    let (right, wrong) = match behind {
        true => (Statement::OpenBehind, Statement::OpenInFront),
        false => (Statement::OpenInFront, Statement::OpenBehind),
    };
    let answers = vec![
        statement(right, None),
        statement(wrong, Some(Slip::SteepAndShallow)),
        statement(Statement::Closes, Some(Slip::WouldShow)),
    ];
    let (trial, joint) = (Angle::from_degrees(joint + off), Angle::from_degrees(joint));
    Some((Asked::Split { trial, joint }, Some(excursion), answers))
}

/// The pin let down or up, in millimetres.
const PINS_MM: [f64; 4] = [4.0, 5.0, 6.0, 8.0];
/// Advance over which a path is read.
const PATH_MM: f64 = 1.0;

fn opened_path<R: Rng>(dice: &mut Dice<R>, drawn: &mut Drawn, side: Side) -> Option<Answers> {
    let pin = dice.one_of(&PINS_MM);
    drawn.change("design=NonArcon");
    drawn.change(&format!("pin_extension_mm={pin}"));
    let excursion = driven(Movement::Protrusive, Length::from_mm(PATH_MM))?;
    let read = |phrase: &str| measured(&drawn.scene, Some(excursion), phrase);
    let right = read(&format!("path angle {side}"))?;
    let (h, opening) = (inclination(&drawn.scene, side).degrees(), read("turn at rest")?);
    let answers = vec![
        deg(right, None),
        deg(h, Some(Slip::ScaleInstead)),
        deg(h - opening, Some(Slip::WrongWay)),
        deg(h + 2.0 * opening, Some(Slip::Twice)),
    ];
    let (pin, opening) = (Length::from_mm(pin), Angle::from_degrees(opening));
    Some((Asked::OpenedPath { side, pin, opening }, Some(excursion), answers))
}

/// What is drawn on the plate, in millimetres.
const DRAWN_MM: [f64; 3] = [4.0, 5.0, 6.0];

fn tracing_advance<R: Rng>(dice: &mut Dice<R>, scene: &Scene) -> Option<Answers> {
    let mm_drawn = dice.one_of(&DRAWN_MM);
    let tracing = Drive::Tracing(Length::from_mm(mm_drawn));
    let excursion = Excursion::new(Movement::Protrusive, tracing).ok()?;
    let read = |phrase: &str| measured(scene, Some(excursion), phrase);
    let answers = vec![
        mm(read("advance right")?, None),
        mm(mm_drawn, Some(Slip::PlateInstead)),
        mm(read("incisal displacement")?, Some(Slip::StraightLine)),
        mm(read("drop right")?, Some(Slip::DropInstead)),
    ];
    Some((Asked::TracingAdvance { drawn: Length::from_mm(mm_drawn) }, Some(excursion), answers))
}

/// How far an axis is off, in millimetres.
const AXES_OFF_MM: [f64; 4] = [4.0, 5.0, 6.0, 8.0];

fn axis_error<R: Rng>(dice: &mut Dice<R>, drawn: &mut Drawn, side: Side) -> Option<Answers> {
    let (off, pin) = (dice.one_of(&AXES_OFF_MM), dice.one_of(&PINS_MM));
    drawn.change(&format!("pin_extension_mm={pin}"));
    let tooth = teeth_of(side).last()?;
    let right = measured(&drawn.scene, None, &format!("axis error {tooth} off {off} mm"))?;
    let opening = measured(&drawn.scene, None, "turn at rest")?;
    let answers = vec![
        mm(right, None),
        mm(off, Some(Slip::AxisItself)),
        mm(2.0 * right, Some(Slip::Twice)),
        mm(
            measured(&drawn.scene, None, &format!("separation {tooth} at rest"))?,
            Some(Slip::SeparationInstead),
        ),
    ];
    let (off, opening) = (Length::from_mm(off), Angle::from_degrees(opening));
    Some((Asked::AxisError { tooth, off, opening }, None, answers))
}

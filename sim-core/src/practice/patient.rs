//! The invented patient: a jaw, its teeth, the records it leaves, and the instrument they are set on.

use rand_chacha::rand_core::Rng;

use super::dice::Dice;
use super::observed::Observed;
use super::recipe::{Recipe, recipe};
use super::subject::{PatientError, Subject, height};
use super::{Direction, Fault, Form, Level, at_the_bench, scanned, tracing};
use crate::anterior::{AnteriorGuide, Trough};
use crate::cusp::{Cusp, OpposingInclines, Tooth};
use crate::excursion::{Drive, Excursion, Movement, SampleCount};
use crate::frame::{OcclusalPlane, Side};
use crate::guide::CondylarGuide;
use crate::instrument::{Design, IncisalPoint, Instrument};
use crate::record::Case;
use crate::scene::Scene;
use crate::tracing::Recorded;
use crate::units::{Angle, Length};

/// A plate that lies as it should is parallel to the occlusal plane within this, and a tipped one is off
/// by that, in degrees (invented; 5° parts them).
const PLATE_DEG: [(f64, f64); 2] = [(0.0, 3.0), (7.0, 12.0)];

/// A patient and what is handed out of it.
pub(super) struct Patient {
    /// The jaw, as an instrument that moves like it.
    pub(super) jaw: Instrument,
    pub(super) plane: OcclusalPlane,
    pub(super) cusps: Vec<Cusp>,
    pub(super) case: Case,
    pub(super) instrument: Scene,
    pub(super) tracing: Recorded,
    pub(super) observed: Observed,
    /// Where the tentative centric record holds the jaw.
    pub(super) centric_off: Option<Direction>,
    /// Whose guide is not locked.
    pub(super) unlocked: Option<Side>,
}

impl Patient {
    pub(super) fn invented(
        random: impl Rng,
        form: Form,
        level: Level,
        faults: &[Fault],
    ) -> Result<Self, PatientError> {
        let recipe = recipe(level);
        let has = |fault| faults.contains(&fault);
        let mut dice = Dice(random);
        let jaw = jaw(&mut dice, &recipe, form);
        let plane = OcclusalPlane { inclination: Angle::from_degrees(dice.stepped((8.0, 12.0), 0.5)) };
        let cusps = cusps(&mut dice, &jaw, plane)?;
        let centric_off = has(Fault::WrongCentric).then(|| dice.one_of(&Direction::ALL));
        let subject = Subject {
            jaw: &jaw,
            plane,
            cusps: &cusps,
            faults,
            off_mm: centric_off.map_or([0.0; 2], |direction| off(&mut dice, &recipe, direction)),
            unperforated: has(Fault::UnperforatedLateral).then(|| dice.side()),
            unlocked: has(Fault::UnlockedGuide).then(|| dice.side()),
        };
        let plate_tilt =
            Angle::from_degrees(dice.stepped(PLATE_DEG[usize::from(has(Fault::TippedPlate))], 0.5));
        let (case, observed) = match form {
            Form::Coordinates => {
                let case = scanned::case(&mut dice, &recipe, &subject)?;
                (case, Observed { plate_tilt, protrusive_on_tracing: None, centric_step: None })
            }
            Form::Bench => {
                let (case, way, step) = at_the_bench::case(&mut dice, &recipe, &subject)?;
                (case, Observed { plate_tilt, protrusive_on_tracing: Some(way), centric_step: Some(step) })
            }
        };
        let tracing = tracing::drawn(&mut dice, &jaw, has(Fault::DoubleTracing))?;
        let instrument = instrument(&mut dice, &jaw, faults)?;
        let unlocked = subject.unlocked;
        Ok(Self { jaw, plane, cusps, case, instrument, tracing, observed, centric_off, unlocked })
    }
}

/// How far a tentative record is off forward and to the left, plainly in one direction.
fn off<R: Rng>(dice: &mut Dice<R>, recipe: &Recipe, direction: Direction) -> [f64; 2] {
    let far = dice.within(recipe.centric_off_mm);
    let aside = dice.within((-0.3, 0.3));
    let [x, y] = direction.vector();
    [far * (x - aside * y), far * (y + aside * x)]
}

fn jaw<R: Rng>(dice: &mut Dice<R>, recipe: &Recipe, form: Form) -> Instrument {
    let mut jaw = Instrument::zeroed();
    if recipe.any_design && form == Form::Coordinates && dice.coin() {
        jaw.design = Design::NonArcon;
    }
    jaw.intercondylar_distance = Length::from_mm(dice.stepped((98.0, 118.0), 0.5));
    let apart = dice.within(recipe.apart_deg) * if dice.coin() { 0.5 } else { -0.5 };
    let mean = dice.within((27.0, 42.0));
    let (l_apart, l_mean) = (dice.within((-4.0, 4.0)), dice.within((11.0, 20.0)));
    for (side, sign) in [(Side::Right, 1.0), (Side::Left, -1.0)] {
        let guide = jaw.guide_mut(side);
        *guide = CondylarGuide::straight(
            Angle::from_degrees(mean + sign * apart),
            Angle::from_degrees(l_mean + sign * l_apart),
        );
        guide.immediate_translation = Length::from_mm(dice.stepped(recipe.translation_mm, 0.1));
    }
    jaw.incisal_point =
        IncisalPoint::mm(dice.stepped((92.0, 102.0), 0.5), 0.0, dice.stepped((-46.0, -38.0), 0.5));
    jaw.anterior_guide = AnteriorGuide::Table(Trough {
        sagittal_inclination: Angle::from_degrees(dice.stepped((20.0, 40.0), 1.0)),
        right_wing: Angle::from_degrees(dice.stepped((10.0, 25.0), 1.0)),
        left_wing: Angle::from_degrees(dice.stepped((10.0, 25.0), 1.0)),
        flat_half_width: Length::from_mm(1.0),
    });
    jaw
}

fn cusps<R: Rng>(
    dice: &mut Dice<R>,
    jaw: &Instrument,
    plane: OcclusalPlane,
) -> Result<Vec<Cusp>, PatientError> {
    // Shallow enough that the guides mostly keep such teeth apart.
    let incline = Angle::from_degrees(dice.stepped((8.0, 14.0), 1.0));
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let ahead = jaw.incisal_point.x.mm();
    let mut cusps = Vec::with_capacity(6);
    // Tooth, name, behind the incisal point, aside.
    for (tooth, name, behind, aside) in [
        (33, "tip", 10.0, 14.0),
        (36, "mesiobuccal", 32.0, 24.0),
        (37, "mesiobuccal", 43.0, 26.0),
        (43, "tip", 10.0, -14.0),
        (46, "mesiobuccal", 32.0, -24.0),
        (47, "mesiobuccal", 43.0, -26.0),
    ] {
        let x = ahead - behind + dice.stepped((-1.5, 1.5), 0.1);
        let y = aside + dice.stepped((-1.5, 1.5), 0.1);
        cusps.push(Cusp::new(Tooth::new(tooth)?, name, [x, y, height(jaw, plane, x)], opposing)?);
    }
    Ok(cusps)
}

/// The instrument as the student finds it.
fn instrument<R: Rng>(dice: &mut Dice<R>, jaw: &Instrument, faults: &[Fault]) -> Result<Scene, PatientError> {
    let mut instrument = Instrument {
        design: jaw.design,
        intercondylar_distance: jaw.intercondylar_distance,
        incisal_point: jaw.incisal_point,
        ..Instrument::zeroed()
    };
    if faults.contains(&Fault::UnzeroedGuide) {
        let side = dice.side();
        let guide = instrument.guide_mut(side);
        // What the last user left is one or two settings.
        for left in [dice.index(3), dice.index(3)] {
            match left {
                0 => guide.horizontal_inclination = Angle::from_degrees(dice.stepped((35.0, 45.0), 1.0)),
                1 => guide.lateral_angle = Angle::from_degrees(dice.stepped((10.0, 20.0), 1.0)),
                _ => guide.immediate_translation = Length::from_mm(dice.stepped((0.2, 0.8), 0.1)),
            }
        }
    }
    if faults.contains(&Fault::PinNotFlush) {
        let extension = dice.stepped((1.0, 4.0), 0.5);
        instrument.pin_extension = Length::from_mm(if dice.coin() { extension } else { -extension });
    }
    if faults.contains(&Fault::WingNotZeroed) {
        let (side, risen) = (dice.side(), Angle::from_degrees(dice.stepped((3.0, 12.0), 1.0)));
        let (right_wing, left_wing) =
            if side == Side::Right { (risen, Angle::ZERO) } else { (Angle::ZERO, risen) };
        instrument.anterior_guide = AnteriorGuide::Table(Trough { right_wing, left_wing, ..Trough::LEVEL });
    }
    Ok(Scene {
        title: String::new(),
        instrument,
        baseline: None,
        occlusal_plane: OcclusalPlane { inclination: Angle::from_degrees(10.0) },
        cusps: Vec::new(),
        excursions: vec![Excursion::new(Movement::Protrusive, Drive::Advance(Length::from_mm(6.0)))?],
        samples: SampleCount::new(13)?,
        casts: None,
        invented_casts: None,
        tracer: None,
        plan: None,
    })
}

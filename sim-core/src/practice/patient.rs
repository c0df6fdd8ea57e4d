//! The invented patient: a jaw, its casts, and the records it leaves.

use nalgebra::{Rotation3, Vector3};
use rand_chacha::rand_core::Rng;
use rand_distr::{Distribution, StandardNormal, StandardUniform};

use super::{Fault, Level};
use crate::anterior::{AnteriorGuide, Trough};
use crate::cusp::{Cusp, CuspError, NoSuchTooth, OpposingInclines, Tooth};
use crate::excursion::{
    Drive, Excursion, ExcursionError, Mechanism, Movement, NoPose, NoSuchCount, SampleCount, Station,
};
use crate::frame::{JawPose, LowerPoint, OcclusalPlane, ScanPoint, Side};
use crate::guide::CondylarGuide;
use crate::instrument::{Design, IncisalPoint, Instrument};
use crate::record::{
    Case, CuspPlace, LandmarkFields, Millimetres, MountingFields, PoseFields, RecordFields, ScanPlace,
    SideFields,
};
use crate::scene::Scene;
use crate::units::{Angle, Length};

/// What a level deals, all invented: lengths in millimetres, angles in degrees.
struct Recipe {
    landmark_sd_mm: f64,
    tolerance_mm: f64,
    /// How unlike the sides' inclinations are.
    apart_deg: (f64, f64),
    translation_mm: (f64, f64),
    /// How far a wrong centric record is off.
    centric_off_mm: (f64, f64),
    protrusive_records: usize,
    turned_scan: bool,
    any_design: bool,
}

const fn recipe(level: Level) -> Recipe {
    match level {
        Level::First => Recipe {
            landmark_sd_mm: 0.01,
            tolerance_mm: 0.1,
            apart_deg: (0.0, 3.0),
            translation_mm: (0.0, 0.0),
            centric_off_mm: (1.0, 1.5),
            protrusive_records: 1,
            turned_scan: false,
            any_design: false,
        },
        Level::Second => Recipe {
            landmark_sd_mm: 0.02,
            tolerance_mm: 0.12,
            apart_deg: (3.0, 10.0),
            translation_mm: (0.0, 0.4),
            centric_off_mm: (0.6, 1.0),
            protrusive_records: 1,
            turned_scan: true,
            any_design: false,
        },
        Level::Third => Recipe {
            landmark_sd_mm: 0.04,
            tolerance_mm: 0.25,
            apart_deg: (8.0, 16.0),
            translation_mm: (0.2, 0.8),
            centric_off_mm: (0.5, 0.8),
            protrusive_records: 2,
            turned_scan: true,
            any_design: true,
        },
    }
}

/// How far a sound protrusive record goes on the tracing (common practice, no source: 6 mm).
const SOUND_PROTRUSION_MM: (f64, f64) = (6.0, 7.0);
/// How far one that is too short goes there: enough below 5 mm that noise does not make it sound, and
/// enough that an angle can be read from it.
const SHORT_PROTRUSION_MM: (f64, f64) = (2.5, 4.5);
/// How far the orbiting condyle of a lateral record advances.
const LATERAL_MM: (f64, f64) = (5.0, 7.0);
/// Coordinates in a dealt file are rounded to a thousandth of a millimetre.
const FILE_DIGITS: f64 = 1e3;

/// A patient and what is handed out of it.
pub(super) struct Patient {
    /// The jaw, as an instrument that moves like it.
    pub(super) jaw: Instrument,
    pub(super) plane: OcclusalPlane,
    pub(super) cusps: Vec<Cusp>,
    pub(super) case: Case,
    pub(super) instrument: Scene,
}

/// Why an attempt at a patient failed; another is made.
#[derive(Debug, thiserror::Error)]
pub(super) enum PatientError {
    #[error(transparent)]
    NoPose(#[from] NoPose),
    #[error(transparent)]
    Cusp(#[from] CuspError),
    #[error(transparent)]
    Tooth(#[from] NoSuchTooth),
    #[error(transparent)]
    Excursion(#[from] ExcursionError),
    #[error(transparent)]
    Count(#[from] NoSuchCount),
    #[error("a point lies outside the scan")]
    OutsideTheScan,
}

/// Random numbers for a patient.
struct Dice<R>(R);

impl<R: Rng> Dice<R> {
    fn within(&mut self, (least, most): (f64, f64)) -> f64 {
        let part: f64 = StandardUniform.sample(&mut self.0);
        least + (most - least) * part
    }

    /// Rounded to a step, as a person would write it.
    fn stepped(&mut self, range: (f64, f64), step: f64) -> f64 {
        let steps_in_one = (1.0 / step).round();
        (self.within(range) * steps_in_one).round() / steps_in_one
    }

    fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }

    fn coin(&mut self) -> bool {
        self.within((0.0, 1.0)) < 0.5
    }

    fn index(&mut self, count: usize) -> usize {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to count
        let index = self.within((0.0, count as f64)) as usize;
        index.min(count - 1)
    }
}

/// Where the scanner put the casts.
struct Scanner {
    rotation: Rotation3<f64>,
    translation: Vector3<f64>,
}

impl Scanner {
    fn place(&self, point: &Vector3<f64>) -> Result<ScanPlace, PatientError> {
        let there = (self.rotation * point + self.translation).map(rounded);
        ScanPlace::new(ScanPoint::from_coords(there)).ok_or(PatientError::OutsideTheScan)
    }
}

fn rounded(mm: f64) -> f64 {
    (mm * FILE_DIGITS).round() / FILE_DIGITS
}

fn millimetres(mm: f64) -> Result<Millimetres, PatientError> {
    Millimetres::new(Length::from_mm(mm)).ok_or(PatientError::OutsideTheScan)
}

impl Patient {
    pub(super) fn invented(random: impl Rng, level: Level, faults: &[Fault]) -> Result<Self, PatientError> {
        let recipe = recipe(level);
        let mut dice = Dice(random);
        let jaw = jaw(&mut dice, &recipe);
        let plane = OcclusalPlane { inclination: Angle::from_degrees(dice.stepped((8.0, 12.0), 0.5)) };
        let scanner = if recipe.turned_scan {
            let turn =
                Vector3::from_fn(|axis, _| dice.within(if axis == 0 { (-3.0, 3.0) } else { (-1.2, 1.2) }));
            let shift = Vector3::from_fn(|_, _| dice.within((-120.0, 120.0)));
            Scanner { rotation: Rotation3::new(turn), translation: shift }
        } else {
            Scanner { rotation: Rotation3::identity(), translation: Vector3::new(20.0, 5.0, 60.0) }
        };
        let cusps = cusps(&mut dice, &jaw, plane)?;
        let case = case(&mut dice, &recipe, faults, (&jaw, plane, &cusps), &scanner)?;
        let instrument = instrument(&mut dice, &jaw, faults.contains(&Fault::UnzeroedInstrument))?;
        Ok(Self { jaw, plane, cusps, case, instrument })
    }
}

fn jaw<R: Rng>(dice: &mut Dice<R>, recipe: &Recipe) -> Instrument {
    let mut jaw = Instrument::zeroed();
    if recipe.any_design && dice.coin() {
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

/// Height of the occlusal plane, which passes through the incisal point.
fn height(jaw: &Instrument, plane: OcclusalPlane, x: f64) -> f64 {
    let edge = jaw.incisal_point.coords();
    edge.z + (edge.x - x) * plane.inclination.tan()
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

fn case<R: Rng>(
    dice: &mut Dice<R>,
    recipe: &Recipe,
    faults: &[Fault],
    (jaw, plane, cusps): (&Instrument, OcclusalPlane, &[Cusp]),
    scanner: &Scanner,
) -> Result<Case, PatientError> {
    let faulty = |fault| faults.contains(&fault);
    let ahead = jaw.incisal_point.x.mm();
    let marks: Vec<Vector3<f64>> =
        [(6.0, 2.0), (14.0, 16.0), (32.0, 24.0), (46.0, 27.0), (32.0, -24.0), (46.0, -27.0)]
            .into_iter()
            .map(|(behind, y)| {
                let x = ahead - behind + dice.within((-1.5, 1.5));
                Vector3::new(
                    x,
                    y + dice.within((-1.5, 1.5)),
                    height(jaw, plane, x) + dice.within((-1.5, 1.5)),
                )
            })
            .collect();
    let seen =
        |dice: &mut Dice<R>, pose: &JawPose, off: &Vector3<f64>| -> Result<Vec<ScanPlace>, PatientError> {
            let see = |mark: &Vector3<f64>| {
                let there = pose.to_upper(&LowerPoint::from_coords(*mark));
                let noise = Vector3::from_fn(|_, _| dice.normal() * recipe.landmark_sd_mm);
                scanner.place(&(there.coords() + off + noise))
            };
            marks.iter().map(see).collect()
        };
    let mechanism = Mechanism::new(jaw).with_occlusal_plane(plane);
    let by_landmarks =
        |landmarks| PoseFields { lower_landmarks_mm: Some(landmarks), ..PoseFields::default() };
    let rest = JawPose::identity();
    let here = Vector3::zeros();
    // A tentative centric record is mostly off forward or back, and to one side.
    let off = if faulty(Fault::WrongCentric) {
        let far = dice.within(recipe.centric_off_mm) * if dice.coin() { 1.0 } else { -1.0 };
        let aside = dice.within((-0.5, 0.5));
        Vector3::new(far * (1.0 - aside * aside).sqrt(), far * aside, 0.0)
    } else {
        here
    };
    let in_centric_mm = seen(dice, &rest, &off)?;
    let mut records = vec![RecordFields::Centric(by_landmarks(seen(dice, &rest, &here)?))];
    for _ in 0..recipe.protrusive_records {
        let short = faulty(Fault::ShortProtrusion);
        let distance = dice.within(if short { SHORT_PROTRUSION_MM } else { SOUND_PROTRUSION_MM });
        let protruded = mechanism.at_tracing_distance(Movement::Protrusive, Length::from_mm(distance))?.jaw;
        records.push(RecordFields::Protrusive(by_landmarks(seen(dice, &protruded, &here)?)));
    }
    let mut lateral = Vec::with_capacity(2);
    for working in Side::BOTH {
        let advanced = Station::advanced(Length::from_mm(dice.within(LATERAL_MM)));
        let moved = mechanism.at(Movement::Lateral { working }, advanced)?.jaw;
        let landmarks = by_landmarks(seen(dice, &moved, &here)?);
        let labelled = if faulty(Fault::SwappedSides) { working.opposite() } else { working };
        lateral.push((
            labelled,
            match labelled {
                Side::Right => RecordFields::RightLateral(landmarks),
                Side::Left => RecordFields::LeftLateral(landmarks),
            },
        ));
    }
    // The right one first whatever it shows, so that their order tells nothing.
    lateral.sort_by_key(|(labelled, _)| *labelled);
    records.extend(lateral.into_iter().map(|(_, record)| record));
    let half = jaw.intercondylar_distance.mm() / 2.0;
    let edge = jaw.incisal_point.coords();
    let on_plane = |behind: f64, y: f64| Vector3::new(ahead - behind, y, height(jaw, plane, ahead - behind));
    let watched = |cusp: &Cusp| {
        let at = match cusp.tip() {
            crate::cusp::CuspTip::Lower(at) => *at.coords(),
            crate::cusp::CuspTip::Upper(at) => *at.coords(),
        };
        Ok(CuspPlace {
            tooth: cusp.tooth(),
            name: cusp.name().to_owned(),
            at_mm: scanner.place(&at)?,
            opposing: *cusp.opposing(),
        })
    };
    Ok(Case {
        // The deal's number is added when it is known.
        title: String::new(),
        design: jaw.design,
        intercondylar_distance_mm: Some(millimetres(jaw.intercondylar_distance.mm())?),
        mounting: MountingFields::FaceBow {
            right_axis_mm: scanner.place(&Vector3::new(0.0, -half, 0.0))?,
            left_axis_mm: scanner.place(&Vector3::new(0.0, half, 0.0))?,
            anterior_reference_mm: scanner.place(&Vector3::new(
                dice.within((70.0, 85.0)),
                dice.within((-30.0, -20.0)),
                0.0,
            ))?,
        },
        lower_landmarks: Some(LandmarkFields { in_centric_mm, sd_mm: millimetres(recipe.landmark_sd_mm)? }),
        records,
        immediate_translation_mm: SideFields {
            right: millimetres(jaw.right_guide.immediate_translation.mm())?,
            left: millimetres(jaw.left_guide.immediate_translation.mm())?,
        },
        split_cast_tolerance_mm: millimetres(recipe.tolerance_mm)?,
        split_cast_grooves_mm: None,
        grooves_mm: None,
        advance_mm: None,
        guide_hold: None,
        incisal_point_mm: Some(scanner.place(&edge)?),
        occlusal_plane_mm: Some(vec![
            scanner.place(&on_plane(0.0, 0.0))?,
            scanner.place(&on_plane(42.0, -25.0))?,
            scanner.place(&on_plane(42.0, 25.0))?,
        ]),
        cusps: cusps.iter().map(watched).collect::<Result<_, PatientError>>()?,
        anterior_guide: Some(jaw.anterior_guide.clone()),
        incisal_guidance: None,
        casts: None,
        plan: None,
    })
}

/// The instrument as the student finds it.
fn instrument<R: Rng>(dice: &mut Dice<R>, jaw: &Instrument, left_set: bool) -> Result<Scene, PatientError> {
    let mut instrument = Instrument {
        design: jaw.design,
        intercondylar_distance: jaw.intercondylar_distance,
        incisal_point: jaw.incisal_point,
        ..Instrument::zeroed()
    };
    if left_set {
        let side = if dice.coin() { Side::Right } else { Side::Left };
        // What the last user left is one or two settings.
        let first = dice.index(4);
        let second = dice.index(4);
        for left in [first, second] {
            let guide = instrument.guide_mut(side);
            match left {
                0 => guide.horizontal_inclination = Angle::from_degrees(dice.stepped((35.0, 45.0), 1.0)),
                1 => guide.lateral_angle = Angle::from_degrees(dice.stepped((10.0, 20.0), 1.0)),
                2 => guide.immediate_translation = Length::from_mm(dice.stepped((0.2, 0.8), 0.1)),
                _ => instrument.pin_extension = Length::from_mm(dice.stepped((1.0, 4.0), 0.5)),
            }
        }
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

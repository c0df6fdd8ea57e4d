//! The records of a patient whose casts are scanned: landmarks.

use nalgebra::{Rotation3, Vector3};
use rand_chacha::rand_core::Rng;

use super::Fault;
use super::dice::Dice;
use super::recipe::Recipe;
use super::subject::{PatientError, Subject, millimetres, scan_place};
use crate::frame::{JawPose, LowerPoint, Side};
use crate::record::{Case, LandmarkFields, MountingFields, PoseFields, RecordFields, RecordKind, ScanPlace};

/// Where the scanner put the casts.
struct Scanner {
    rotation: Rotation3<f64>,
    translation: Vector3<f64>,
}

impl Scanner {
    fn place(&self, point: &Vector3<f64>) -> Result<ScanPlace, PatientError> {
        scan_place(&(self.rotation * point + self.translation))
    }
}

impl Scanner {
    /// Anywhere where the recipe says so, else where the instrument's frame is level.
    fn thrown<R: Rng>(dice: &mut Dice<R>, recipe: &Recipe) -> Self {
        if recipe.turned_scan {
            let turn =
                Vector3::from_fn(|axis, _| dice.within(if axis == 0 { (-3.0, 3.0) } else { (-1.2, 1.2) }));
            let shift = Vector3::from_fn(|_, _| dice.within((-120.0, 120.0)));
            Self { rotation: Rotation3::new(turn), translation: shift }
        } else {
            Self { rotation: Rotation3::identity(), translation: Vector3::new(20.0, 5.0, 60.0) }
        }
    }
}

/// The case.
pub(super) fn case<R: Rng>(
    dice: &mut Dice<R>,
    recipe: &Recipe,
    subject: &Subject<'_>,
) -> Result<Case, PatientError> {
    let jaw = subject.jaw;
    let scanner = Scanner::thrown(dice, recipe);
    let marks: Vec<Vector3<f64>> =
        [(6.0, 2.0), (14.0, 16.0), (32.0, 24.0), (46.0, 27.0), (32.0, -24.0), (46.0, -27.0)]
            .into_iter()
            .map(|(behind, y)| {
                let off = Vector3::from_fn(|_, _| dice.within((-1.5, 1.5)));
                subject.on_plane(behind - off.x, y + off.y) + Vector3::z() * off.z
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
    let by_landmarks = |landmarks, perforated| PoseFields {
        lower_landmarks_mm: Some(landmarks),
        perforated: Some(perforated),
        ..PoseFields::default()
    };
    let rest = JawPose::identity();
    let here = Vector3::zeros();
    let [forward, left] = subject.off_mm;
    let in_centric_mm = seen(dice, &rest, &Vector3::new(forward, left, 0.0))?;
    let mut records = vec![RecordFields::Centric(by_landmarks(seen(dice, &rest, &here)?, true))];
    for _ in 0..recipe.protrusive_records {
        let (protruded, _) = subject.protruded(dice)?;
        let through = !subject.has(Fault::UnperforatedProtrusion);
        records.push(RecordFields::Protrusive(by_landmarks(seen(dice, &protruded, &here)?, through)));
    }
    let mut lateral = Vec::with_capacity(2);
    for working in Side::BOTH {
        let moved = subject.lateral(dice, working)?;
        let pose = by_landmarks(seen(dice, &moved, &here)?, subject.perforated(working));
        lateral.push(match subject.label(working) {
            RecordKind::RightLateral => RecordFields::RightLateral(pose),
            _ => RecordFields::LeftLateral(pose),
        });
    }
    // The right one first whatever it shows, so that their order tells nothing.
    lateral.sort_by_key(RecordFields::kind);
    records.extend(lateral);
    let half = jaw.intercondylar_distance.mm() / 2.0;
    let edge = jaw.incisal_point.coords();
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
        immediate_translation_mm: subject.translations()?,
        split_cast_tolerance_mm: millimetres(recipe.tolerance_mm)?,
        split_cast_grooves_mm: None,
        grooves_mm: None,
        advance_mm: None,
        guide_hold: None,
        incisal_point_mm: Some(scanner.place(&edge)?),
        occlusal_plane_mm: Some(vec![
            scanner.place(&subject.on_plane(0.0, 0.0))?,
            scanner.place(&subject.on_plane(42.0, -25.0))?,
            scanner.place(&subject.on_plane(42.0, 25.0))?,
        ]),
        cusps: subject.cusp_places(|at| scanner.place(at))?,
        anterior_guide: Some(jaw.anterior_guide.clone()),
        incisal_guidance: None,
        casts: None,
        plan: None,
    })
}

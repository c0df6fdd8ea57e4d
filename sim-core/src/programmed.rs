//! The scene of a programmed case: the instrument as set, to be moved and looked at.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::practice::{Level, deal};
//!
//! // An invented patient.
//! let case = deal(1, Level::First, &[])?.case;
//! let programmed = case.program()?;
//! let made = case.scene(&programmed)?.expect("the centric record is confirmed");
//! assert_eq!(made.scene.excursions.len(), 3);
//! let read = programmed.side(Side::Left).expect("likewise").horizontal_inclination.angle.value;
//! assert_eq!(made.scene.instrument.guide(Side::Left).horizontal_inclination, read);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::anterior::{AnteriorGuide, Trough};
use crate::cusp::Cusp;
use crate::excursion::{Drive, Excursion, Movement, SampleCount};
use crate::frame::{JawPose, OcclusalPlane, Side, UpperPoint};
use crate::guide::CondylarGuide;
use crate::instrument::{IncisalPoint, Instrument};
use crate::record::incisal::{self, IncisalError};
use crate::record::mounting::Mounting;
use crate::record::program::{ProgramError, Programmed};
use crate::record::reference::wrong;
use crate::record::warning::Warning;
use crate::record::{CanineGuidance, Case, IncisalGuidance, MountingFields, RecordKind};
use crate::scene::{CastFiles, Scene};
use crate::units::{Angle, Length};

/// How far the condyles advance in the scene's excursions. It is no record's length: one of 6 mm on the
/// tracing takes the condyles about 5 mm forward, and the scene goes a little beyond it.
const ADVANCE_MM: f64 = 6.0;
/// Samples of each: one every half millimetre.
const SAMPLES: i64 = 13;

/// A scene made of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseScene {
    /// The instrument as set, the cusps of the case, and the three excursions, by 6 mm of condylar advance.
    pub scene: Scene,
    /// Where its anterior guide comes from.
    pub anterior: AnteriorSource,
    /// What was assumed for want of a field.
    pub warnings: Vec<Warning>,
}

/// Where the anterior guide of a case's scene comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnteriorSource {
    /// The case gives it: `anterior_guide`.
    Chosen,
    /// Computed from `incisal_guidance`: the plate from the overlap of the incisors, each wing from its own source.
    Computed {
        /// Of the right wing, up which the pin runs as the jaw moves to the left.
        right_wing: WingSource,
        /// Of the left wing.
        left_wing: WingSource,
    },
    /// The case says nothing of it: a level table stands in, and no disclusion can be told.
    Assumed,
}

/// Where a wing of a computed incisal table comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WingSource {
    /// The canine of the other side.
    Canine,
    /// The lateral records to the other side.
    Records,
    /// Nothing: the wing is level with the plate.
    Level,
}

impl Case {
    /// The scene of a case worked through; `None` where the settings are withheld.
    ///
    /// # Errors
    /// [`ProgramError::Scene`] names the field of the case that cannot stand in the instrument.
    pub fn scene(&self, programmed: &Programmed) -> Result<Option<CaseScene>, ProgramError> {
        let Some(settings) = &programmed.settings else { return Ok(None) };
        let mounting = &programmed.mounting;
        let mut warnings = Vec::new();
        let guide = |side: Side| {
            let own = &settings[side as usize];
            let mut guide = CondylarGuide::straight(
                own.horizontal_inclination.angle.value,
                own.lateral_angle.angle.value,
            );
            guide.immediate_translation = match side {
                Side::Right => self.immediate_translation_mm.right.length(),
                Side::Left => self.immediate_translation_mm.left.length(),
            };
            for entry in CondylarGuide::SETTINGS {
                entry
                    .facts
                    .check((entry.get)(&guide))
                    .map_err(|why| wrong(&format!("{side} guide"), &why))?;
            }
            Ok::<_, ProgramError>(guide)
        };
        let incisal_point = self.incisal_setting(mounting, &mut warnings)?;
        let occlusal_plane = self.occlusal_plane(mounting, &mut warnings)?;
        let (anterior_guide, anterior) = match (&self.anterior_guide, &self.incisal_guidance) {
            (Some(guide), _) => (guide.clone(), AnteriorSource::Chosen),
            (None, Some(guidance)) => {
                let (trough, source) = table_of(guidance, occlusal_plane, &incisal_point, programmed)
                    .map_err(|why| wrong("incisal_guidance", &why))?;
                (AnteriorGuide::Table(trough), source)
            }
            (None, None) => {
                warnings.push(Warning::AnteriorGuideAssumed);
                (AnteriorGuide::Table(Trough::LEVEL), AnteriorSource::Assumed)
            }
        };
        let instrument = Instrument {
            design: self.design,
            intercondylar_distance: programmed.intercondylar_distance,
            pin_extension: Length::ZERO,
            right_guide: guide(Side::Right)?,
            left_guide: guide(Side::Left)?,
            anterior_guide,
            incisal_point,
        };
        let scene = Scene {
            title: self.title.clone(),
            instrument,
            baseline: None,
            occlusal_plane,
            cusps: self.cusps(mounting)?,
            excursions: excursions().map_err(|why| wrong("excursions", &why))?,
            samples: SampleCount::new(SAMPLES).map_err(|why| wrong("samples", &why))?,
            casts: self.casts.as_ref().map(|files| CastFiles {
                upper: files.upper.clone(),
                lower: files.lower.clone(),
                unit: files.unit,
                mounting: mounting_of_casts(&self.mounting),
            }),
            invented_casts: None,
            tracer: None,
            plan: self.plan.clone(),
        };
        scene.check().map_err(|why| wrong(why.field(), &why))?;
        Ok(Some(CaseScene { scene, anterior, warnings }))
    }

    /// Whether the case says what guides in front. Without it a scene has a level table, which no patient has, and
    /// nothing that hangs on it is told.
    #[must_use]
    pub const fn has_anterior_guide(&self) -> bool {
        self.anterior_guide.is_some() || self.incisal_guidance.is_some()
    }

    /// The incisal point as a setting of the instrument, which has its range.
    fn incisal_setting(
        &self,
        mounting: &Mounting,
        warnings: &mut Vec<Warning>,
    ) -> Result<IncisalPoint, ProgramError> {
        let (field, place) = self.incisal_point(mounting, warnings)?;
        let point = IncisalPoint::mm(place.x(), place.y(), place.z());
        for entry in IncisalPoint::SETTINGS {
            entry.facts.check((entry.get)(&point)).map_err(|why| wrong(field, &why))?;
        }
        Ok(point)
    }

    fn cusps(&self, mounting: &Mounting) -> Result<Vec<Cusp>, ProgramError> {
        let carried = self.cusps.iter().enumerate().map(|(index, given)| {
            let at = (*mounting.to_upper(&given.at_mm.point()).coords()).into();
            Cusp::new(given.tooth, &given.name, at, given.opposing)
                .map_err(|why| wrong(&format!("cusps[{index}]"), &format!("in the instrument, {why}")))
        });
        carried.collect()
    }
}

/// The table that incisors, canines and lateral records ask for. The plate comes first, since wings
/// are raised from it.
fn table_of(
    guidance: &IncisalGuidance,
    plane: OcclusalPlane,
    incisal_point: &IncisalPoint,
    programmed: &Programmed,
) -> Result<(Trough, AnteriorSource), IncisalError> {
    let (vertical, horizontal) = (guidance.vertical_overlap_mm, guidance.horizontal_overlap_mm);
    let plate = incisal::plate_from_overlap(vertical.length(), horizontal.length(), plane)?;
    let mut trough = Trough { sagittal_inclination: plate.to_reference_plane, ..Trough::LEVEL };
    let pin = UpperPoint::from_coords(incisal_point.coords());
    let wing = |side: Side, canine: Option<CanineGuidance>| {
        if let Some(canine) = canine {
            let angle = incisal::wing_from_canine(canine.rise_mm.length(), canine.outward_mm.length())?;
            return Ok((angle, WingSource::Canine));
        }
        // The pin runs up a wing as the jaw moves to the other side.
        let kind = match side {
            Side::Right => RecordKind::LeftLateral,
            Side::Left => RecordKind::RightLateral,
        };
        let poses: Vec<JawPose> = programmed
            .records
            .iter()
            .filter(|record| record.kind == kind)
            .filter_map(|record| Some(record.reading.as_ref()?.jaw))
            .collect();
        if !guidance.wings_from_records || poses.is_empty() {
            return Ok((Angle::ZERO, WingSource::Level));
        }
        let fitted = incisal::wing_from_records(side, &poses, pin, &trough)?;
        Ok((fitted.angle, WingSource::Records))
    };
    let ((right, right_wing), (left, left_wing)) =
        (wing(Side::Right, guidance.left_canine)?, wing(Side::Left, guidance.right_canine)?);
    trough.right_wing = right;
    trough.left_wing = left;
    Ok((trough, AnteriorSource::Computed { right_wing, left_wing }))
}

/// How scans are related to the axis; casts that stand in the instrument need no word of it.
fn mounting_of_casts(mounting: &MountingFields) -> Option<MountingFields> {
    match mounting {
        MountingFields::Named { .. } => None,
        MountingFields::FaceBow { .. } | MountingFields::Average { .. } => Some(mounting.clone()),
    }
}

fn excursions() -> Result<Vec<Excursion>, crate::excursion::ExcursionError> {
    let lateral = |working| Movement::Lateral { working };
    [Movement::Protrusive, lateral(Side::Right), lateral(Side::Left)]
        .into_iter()
        .map(|movement| Excursion::new(movement, Drive::Advance(Length::from_mm(ADVANCE_MM))))
        .collect()
}

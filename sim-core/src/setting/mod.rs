//! The one list of what a person can do to the mechanism.
//!
//! The scene reader, the shell overrides, the viewer's sliders, error texts and the check of the
//! baseline are all made from [`all`] and [`Choice`]. The numbers themselves are written
//! where they live, each in a `settings_struct!`.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::guide::CondylarGuide;
//! use sim_core::instrument::Baseline;
//! use sim_core::scene::Scene;
//! use sim_core::setting::{Setting, SettingName, check_zeroed};
//!
//! let mut scene = Scene::thirty_degree();
//! let baseline = Baseline::example();
//! let before = check_zeroed(&scene.instrument, &baseline).len();
//! // Code addresses a setting by its constant …
//! let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
//! inclination.set(&mut scene, Side::Left, 40.0)?;
//! assert_eq!(inclination.get(&scene, Side::Right), Some(30.0));
//! // … and a person by its name, side first where only one side is meant.
//! let name: SettingName = "left_guide.horizontal_inclination_deg".parse()?;
//! assert_eq!(name.find_in(&scene)?.get(&scene), Some(40.0));
//! // The instrument now departs from that baseline in one setting more.
//! assert_eq!(check_zeroed(&scene.instrument, &baseline).len(), before + 1);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod change;
mod checklist;
mod choice;
mod departure;
mod name;

pub use change::{Change, ChangeError};
pub use checklist::{BaselineCheck, ChecklistItem, Standing, baseline_checklist};
pub use choice::Choice;
pub use departure::{Departure, DepartureValue, check_zeroed};
pub use name::{
    CuspsNamed, Idle, KnownCusps, Listed, NameError, Near, NoSuchCusp, SettingName, SettingPlace, listed,
};

use crate::anterior::Trough;
use crate::cast::invented::InventedCasts;
use crate::facts::{Entry, Facts, OutOfRange};
use crate::frame::{OcclusalPlane, Side};
use crate::guide::{ArcPath, CondylarGuide, EarlyTranslation, GuidePath};
use crate::instrument::{IncisalPoint, Instrument};
use crate::scene::Scene;
use crate::units::{Angle, Length};

/// One numeric setting, wherever it lives.
#[derive(Clone, Copy, Debug)]
pub enum Setting {
    /// Of each condylar guide.
    Guide(&'static Entry<CondylarGuide>),
    /// Of each guide's early translation.
    Early(&'static Entry<EarlyTranslation>),
    /// Of a guide whose path is an arc.
    Arc(&'static Entry<ArcPath>),
    /// Of the anterior guide.
    Anterior(&'static Entry<Trough>),
    /// Of the instrument as a whole.
    Instrument(&'static Entry<Instrument>),
    /// A coordinate of the incisal point.
    IncisalPoint(&'static Entry<IncisalPoint>),
    /// The inclination of the occlusal plane.
    OcclusalPlane,
    /// Of the generator of invented casts.
    InventedCasts(&'static Entry<InventedCasts>),
}

/// Every numeric setting, guides first.
pub fn all() -> impl Iterator<Item = Setting> {
    (CondylarGuide::SETTINGS.iter().map(Setting::Guide))
        .chain(EarlyTranslation::SETTINGS.iter().map(Setting::Early))
        .chain(ArcPath::SETTINGS.iter().map(Setting::Arc))
        .chain(Trough::SETTINGS.iter().map(Setting::Anterior))
        .chain(Instrument::SETTINGS.iter().map(Setting::Instrument))
        .chain(IncisalPoint::SETTINGS.iter().map(Setting::IncisalPoint))
        .chain([Setting::OcclusalPlane])
        .chain(InventedCasts::SETTINGS.iter().map(Setting::InventedCasts))
}

impl PartialEq for Setting {
    fn eq(&self, other: &Self) -> bool {
        std::mem::discriminant(self) == std::mem::discriminant(other) && self.facts().key == other.facts().key
    }
}

impl Setting {
    /// Name, unit, range and meaning.
    #[must_use]
    pub const fn facts(&self) -> &'static Facts {
        match self {
            Self::Guide(entry) => &entry.facts,
            Self::Early(entry) => &entry.facts,
            Self::Arc(entry) => &entry.facts,
            Self::Anterior(entry) => &entry.facts,
            Self::Instrument(entry) => &entry.facts,
            Self::IncisalPoint(entry) => &entry.facts,
            Self::OcclusalPlane => &OcclusalPlane::INCLINATION,
            Self::InventedCasts(entry) => &entry.facts,
        }
    }

    /// Its name as the shell and a study address it, side left out: `horizontal_inclination_deg`,
    /// `early_translation.amount_mm`, `anterior_guide.sagittal_inclination_deg`.
    #[must_use]
    pub fn key(&self) -> String {
        let key = self.facts().key;
        match self {
            Self::Early(_) => format!("early_translation.{key}"),
            Self::Arc(_) => format!("path.{key}"),
            Self::Anterior(_) => format!("anterior_guide.{key}"),
            Self::IncisalPoint(_) => format!("incisal_point_mm.{key}"),
            Self::InventedCasts(_) => format!("invented_casts.{key}"),
            Self::Guide(_) | Self::Instrument(_) | Self::OcclusalPlane => key.to_owned(),
        }
    }

    /// Whether each side has its own.
    #[must_use]
    pub const fn is_per_side(&self) -> bool {
        matches!(self, Self::Guide(_) | Self::Early(_) | Self::Arc(_))
    }

    /// Right and left for a setting of a guide, a single `None` for any other.
    #[must_use]
    pub const fn sides(&self) -> &'static [Option<Side>] {
        if self.is_per_side() { &[Some(Side::Right), Some(Side::Left)] } else { &[None] }
    }

    /// The value in the setting's unit; `None` where the scene has no such thing (a radius on a
    /// path that is no arc). `side` matters only where [`Self::is_per_side`].
    #[must_use]
    pub fn get(&self, scene: &Scene, side: Side) -> Option<f64> {
        match self {
            Self::OcclusalPlane => Some(scene.occlusal_plane.inclination.degrees()),
            Self::InventedCasts(entry) => scene.invented_casts.as_ref().map(entry.get),
            _ => self.of_instrument(&scene.instrument, side),
        }
    }

    /// As [`Self::get`], for what belongs to the instrument.
    pub(crate) fn of_instrument(&self, instrument: &Instrument, side: Side) -> Option<f64> {
        let guide = instrument.guide(side);
        match self {
            Self::Guide(entry) => Some((entry.get)(guide)),
            Self::Early(entry) => Some((entry.get)(&guide.early_translation)),
            Self::Arc(entry) => match &guide.path {
                GuidePath::Arc(arc) => Some((entry.get)(arc)),
                GuidePath::Straight | GuidePath::Profile(_) => None,
            },
            Self::Anterior(entry) => instrument.anterior_guide.trough().map(entry.get),
            Self::Instrument(entry) => Some((entry.get)(instrument)),
            Self::IncisalPoint(entry) => Some((entry.get)(&instrument.incisal_point)),
            Self::OcclusalPlane | Self::InventedCasts(_) => None,
        }
    }

    /// Sets the value, in the setting's unit. A radius turns the path into an arc; an angle of a
    /// table that has none, or a setting of invented casts that are not there, changes nothing.
    ///
    /// # Errors
    /// [`OutOfRange`] with the allowed range; the scene is then as it was.
    #[inline]
    pub fn set(&self, scene: &mut Scene, side: Side, number: f64) -> Result<(), OutOfRange> {
        let number = self.facts().check(number)?;
        let instrument = &mut scene.instrument;
        match self {
            Self::Guide(entry) => (entry.set)(instrument.guide_mut(side), number),
            Self::Early(entry) => (entry.set)(&mut instrument.guide_mut(side).early_translation, number),
            Self::Arc(_) => {
                instrument.guide_mut(side).path = GuidePath::Arc(ArcPath { radius: Length::from_mm(number) });
            }
            Self::Anterior(entry) => {
                if let Some(trough) = instrument.anterior_guide.trough_mut() {
                    (entry.set)(trough, number);
                }
            }
            Self::Instrument(entry) => (entry.set)(instrument, number),
            Self::IncisalPoint(entry) => (entry.set)(&mut instrument.incisal_point, number),
            Self::OcclusalPlane => {
                scene.occlusal_plane = OcclusalPlane { inclination: Angle::from_degrees(number) };
            }
            Self::InventedCasts(entry) => {
                if let Some(casts) = &mut scene.invented_casts {
                    (entry.set)(casts, number);
                }
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_setting_is_called_as_its_field_in_a_scene() {
        let mut scene = Scene::thirty_degree();
        scene.instrument.right_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) });
        scene.invented_casts = Some(InventedCasts::dentate());
        let text = scene.to_ron();
        // The coordinates of the incisal point stand in a tuple.
        for setting in all().filter(|setting| !matches!(setting, Setting::IncisalPoint(_))) {
            let field = format!("{}: ", setting.facts().key);
            assert!(text.contains(&field), "{field} is not in {text}");
        }
    }
}

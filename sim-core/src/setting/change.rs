//! A change of one setting, written in words: `right_guide.horizontal_inclination_deg=40`.

use std::fmt;
use std::str::FromStr;

use super::name::split_side;
use super::{Choice, Idle, NameError, NoSuchCusp, SettingName};
use crate::facts::OutOfRange;
use crate::frame::Side;
use crate::scene::Scene;

/// A change of one setting on one side or both, not yet made.
///
/// Written as `NAME=VALUE`. The name is the field's name in a scene file; for a condylar guide's
/// setting it may start with `right_guide.` or `left_guide.`, else both sides are changed.
///
/// ```
/// # use sim_core::{scene::Scene, setting::Change, frame::Side};
/// # let mut scene = Scene::thirty_degree();
/// let change: Change = "left_guide.horizontal_inclination_deg=45".parse()?;
/// change.make(&mut scene)?;
/// assert_eq!(scene.instrument.guide(Side::Left).horizontal_inclination.degrees(), 45.0);
/// assert_eq!(scene.instrument.guide(Side::Right).horizontal_inclination.degrees(), 30.0);
/// # Ok::<(), sim_core::setting::ChangeError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    target: Target,
    written: String,
}

#[derive(Clone, Debug, PartialEq)]
enum Target {
    Number(SettingName, f64),
    Word(Choice, Option<Side>, String),
}

/// Why a change is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ChangeError {
    /// Not of the form NAME=VALUE.
    #[error(
        "`{given}` is not a change of a setting; write NAME=VALUE, for example horizontal_inclination_deg=40"
    )]
    Form {
        /// What was given.
        given: String,
    },
    /// No setting of that name.
    #[error(transparent)]
    Name(#[from] NameError),
    /// No cusp of that name in the scene.
    #[error(transparent)]
    Cusp(#[from] NoSuchCusp),
    /// The value is not a number.
    #[error("{key} is given `{given}`, which is not a number; allowed are {min} to {max} {unit}")]
    NotANumber {
        /// The setting.
        key: String,
        /// What was given.
        given: String,
        /// Least value allowed.
        min: f64,
        /// Greatest value allowed.
        max: f64,
        /// Unit of both, in words.
        unit: &'static str,
    },
    /// The word is not one of those that can be chosen.
    #[error("{key} is given `{given}`; allowed are {allowed}")]
    NotAWord {
        /// The choice.
        key: &'static str,
        /// What was given.
        given: String,
        /// The words that can be chosen.
        allowed: String,
    },
    /// The number is out of range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The scene as a whole would not make sense.
    #[error("{0}")]
    Scene(String),
}

impl FromStr for Change {
    type Err = ChangeError;

    fn from_str(written: &str) -> Result<Self, ChangeError> {
        let form = || ChangeError::Form { given: written.to_owned() };
        let (name, value) = written.split_once('=').ok_or_else(form)?;
        let (name, value) = (name.trim(), value.trim());
        if name.is_empty() || value.is_empty() {
            return Err(form());
        }
        let (side, key) = split_side(name);
        let target = if let Some(choice) = Choice::ALL.into_iter().find(|choice| choice.key() == key) {
            if side.is_some() && !choice.is_per_side() {
                return Err(NameError::NoSides { name: name.to_owned(), key: key.to_owned() }.into());
            }
            if !choice.words().contains(&value) {
                return Err(ChangeError::NotAWord {
                    key: choice.key(),
                    given: value.to_owned(),
                    allowed: choice.words().join(", "),
                });
            }
            Target::Word(choice, side, value.to_owned())
        } else {
            let setting: SettingName = name.parse()?;
            let facts = setting.facts();
            let number: f64 = value.parse().map_err(|_| ChangeError::NotANumber {
                key: key.to_owned(),
                given: value.to_owned(),
                min: facts.min,
                max: facts.max,
                unit: facts.unit.words(),
            })?;
            Target::Number(setting, facts.check(number)?)
        };
        Ok(Self { target, written: format!("{name}={value}") })
    }
}

impl Change {
    /// Every name that a change can be made of, side, tooth and cusp left out.
    pub fn names() -> impl Iterator<Item = String> {
        SettingName::names().chain(Choice::ALL.into_iter().map(|choice| choice.key().to_owned()))
    }

    /// Makes the change. Several changes of one scene are made one after the other, then
    /// [`Scene::check`] tells whether the whole makes sense.
    ///
    /// # Errors
    /// [`ChangeError::OutOfRange`] or [`ChangeError::Cusp`]; the scene is then as it was.
    pub fn make(&self, scene: &mut Scene) -> Result<(), ChangeError> {
        match &self.target {
            Target::Number(setting, number) => setting.find_in(scene)?.set(scene, *number)?,
            Target::Word(choice, side, word) => {
                let sides: &[Side] = match side {
                    Some(side) => std::slice::from_ref(side),
                    None if choice.is_per_side() => &Side::BOTH,
                    None => &[Side::Right],
                };
                for side in sides {
                    // Parsing has let through only words that can be chosen.
                    choice.set(scene, *side, word);
                }
            }
        }
        Ok(())
    }

    /// Why the change does nothing in this scene, if so: an inclination where a recorded profile
    /// is the path, an angle of a table formed to the teeth, invented casts that are not there.
    #[must_use]
    pub fn idle_because(&self, scene: &Scene) -> Option<Idle> {
        match &self.target {
            Target::Number(setting, _) => setting.idle_because(scene),
            Target::Word(..) => None,
        }
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cast::invented::InventedCasts;
    use crate::guide::GuidePath;
    use crate::setting::all;

    /// The teaching scene with something of everything that can be set.
    fn base() -> Scene {
        Scene { invented_casts: Some(InventedCasts::dentate()), ..Scene::thirty_degree() }
    }

    fn changed(written: &str) -> Scene {
        let mut scene = base();
        written.parse::<Change>().and_then(|change| change.make(&mut scene)).expect(written);
        scene
    }

    #[test]
    fn a_name_without_a_side_changes_both_sides_and_one_with_a_side_changes_that_one() {
        let inclinations = |scene: &Scene| {
            Side::BOTH.map(|side| scene.instrument.guide(side).horizontal_inclination.degrees())
        };
        assert_eq!(inclinations(&changed("horizontal_inclination_deg=42.5")), [42.5, 42.5]);
        assert_eq!(inclinations(&changed("right_guide.horizontal_inclination_deg=42.5")), [42.5, 30.0]);
        assert_eq!(inclinations(&changed("left_guide.horizontal_inclination_deg = 42.5")), [30.0, 42.5]);
    }

    #[test]
    fn every_name_can_be_changed_and_changes_only_its_own_value() {
        let before = base();
        for setting in all() {
            let facts = setting.facts();
            let value = facts.min + (facts.max - facts.min) * 0.5 + facts.step;
            let after = changed(&format!("{}={value}", setting.key()));
            assert_eq!(setting.get(&after, Side::Right), Some(value), "{}", setting.key());
            for other in all().filter(|other| *other != setting) {
                assert_eq!(
                    other.get(&after, Side::Left),
                    other.get(&before, Side::Left),
                    "{} by {}",
                    other.key(),
                    setting.key()
                );
            }
        }
        for choice in Choice::ALL {
            for word in choice.words() {
                assert_eq!(choice.get(&changed(&format!("{}={word}", choice.key())), Side::Left), *word);
            }
        }
    }

    #[test]
    fn what_cannot_be_changed_is_refused_with_what_can() {
        for (written, part) in [
            ("horizontal_inclination=40", "near it: horizontal_inclination_deg"),
            ("sagital_inclination_deg=40", "anterior_guide.sagittal_inclination_deg"),
            ("zzzzzz=1", "the names are"),
            ("lateral_angle_deg", "NAME=VALUE"),
            ("lateral_angle_deg=", "NAME=VALUE"),
            ("lateral_angle_deg=steep", "not a number; allowed are -30 to 60 degrees"),
            ("lateral_angle_deg=NaN", "not a finite number"),
            ("lateral_angle_deg=61", "is 61; allowed are -30 to 60 degrees"),
            ("design=Archon", "allowed are Arcon, NonArcon"),
            ("left_guide.design=Arcon", "write `design`"),
            ("right_guide.pin_extension_mm=2", "write `pin_extension_mm`"),
        ] {
            let said = written.parse::<Change>().expect_err(written).to_string();
            assert!(said.contains(part), "{written}: {said}");
        }
    }

    #[test]
    fn an_inclination_on_a_recorded_profile_is_said_to_be_idle() {
        let mut scene = Scene::thirty_degree();
        let change: Change = "horizontal_inclination_deg=40".parse().expect("a change");
        assert_eq!(change.idle_because(&scene), None);
        let points = vec![(0.0, 0.0), (10.0, 5.0)];
        scene.instrument.left_guide.path =
            GuidePath::Profile(crate::guide::Profile::new(points).expect("a path"));
        assert_eq!(change.idle_because(&scene), Some(Idle::RecordedProfile { sides: &[Side::Left] }));
    }
}

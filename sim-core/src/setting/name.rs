//! A setting by the name that a shell override or a study gives it.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::{Choice, Setting, all};
use crate::cusp::{Cusp, OpposingInclines, Tooth};
use crate::facts::{Entry, Facts, OutOfRange, former};
use crate::frame::Side;
use crate::guide::{CondylarGuide, GuidePath};
use crate::scene::Scene;

/// A numeric setting by name, not yet looked up in a scene.
///
/// The name is the field's name in a scene file. A condylar guide's setting may start with
/// `right_guide.` or `left_guide.`, else it means both sides. An incline opposing the cusps is
/// `cusps.working_deg` at every cusp, `cusps.36.working_deg` at every cusp of tooth 36 and
/// `cusps.36.mesiobuccal.working_deg` at that one.
#[derive(Clone, Debug)]
pub struct SettingName {
    address: Address,
    written: String,
}

#[derive(Clone, Debug)]
enum Address {
    Setting(Setting, Option<Side>),
    Incline(&'static Entry<OpposingInclines>, CuspsNamed),
}

/// The cusps that the name of an opposing incline means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CuspsNamed {
    /// Every cusp of the scene.
    Every,
    /// Every cusp of a tooth.
    Tooth(Tooth),
    /// The cusp of that name on a tooth.
    One(Tooth, String),
}

/// Why setting something changes nothing in a scene.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Idle {
    /// It shapes invented casts, and the scene has none.
    NoInventedCasts,
    /// It is an angle of the anterior table, which here is formed to the teeth and has heights.
    CustomTable,
    /// It is an inclination where a recorded profile, which carries its own, is the path.
    RecordedProfile {
        /// The guides with such a path.
        sides: &'static [Side],
    },
}

/// A numeric setting as a list for people shows it.
#[derive(Clone, Debug)]
pub struct Listed {
    /// Its name, with side, tooth and cusp left out.
    pub name: String,
    /// What it is, its unit and range.
    pub facts: &'static Facts,
    /// Whether each side has its own.
    pub each_side: bool,
}

/// Every numeric setting that can be named: those of [`all`], then the inclines opposing the cusps.
pub fn listed() -> impl Iterator<Item = Listed> {
    let inclines = OpposingInclines::SETTINGS.iter().map(|entry| Listed {
        name: format!("cusps.{}", entry.facts.key),
        facts: &entry.facts,
        each_side: false,
    });
    all()
        .map(|setting| Listed {
            name: setting.key(),
            facts: setting.facts(),
            each_side: setting.is_per_side(),
        })
        .chain(inclines)
}

/// Why a name is none of a numeric setting.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NameError {
    /// No setting of that name.
    #[error("no setting is called `{name}`; {near}")]
    Unknown {
        /// The name given.
        name: String,
        /// What is called nearly so.
        near: Near,
    },
    /// A name that the setting no longer has.
    #[error("{former} is now {now}; write `{write}`")]
    Former {
        /// The name that it had, side left out.
        former: String,
        /// The name that it has.
        now: &'static str,
        /// The whole name that works.
        write: String,
    },
    /// A side before a setting that has none.
    #[error("`{name}` belongs to the whole instrument, not to one side; write `{key}`")]
    NoSides {
        /// The name given.
        name: String,
        /// The name that works.
        key: String,
    },
    /// A tooth that no mouth has.
    #[error("`{name}` names no tooth: {why}")]
    NoTooth {
        /// The name given.
        name: String,
        /// What a tooth number may be.
        why: String,
    },
    /// A setting that is chosen between words.
    #[error("`{name}` takes one of {words}, not a number")]
    Words {
        /// The name given.
        name: String,
        /// The words.
        words: String,
    },
}

/// A cusp that the scene does not have.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("`{name}` finds no cusp in the scene; {known}")]
pub struct NoSuchCusp {
    /// The name given.
    pub name: String,
    /// The cusps that the scene has.
    pub known: KnownCusps,
}

/// The cusps of a scene by their labels, as an error lists them.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownCusps(Vec<String>);

impl KnownCusps {
    pub(crate) fn of(cusps: &[Cusp]) -> Self {
        Self(cusps.iter().map(Cusp::label).collect())
    }
}

impl fmt::Display for KnownCusps {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            f.write_str("it has none")
        } else {
            write!(f, "its cusps are {}", self.0.join(", "))
        }
    }
}

/// Names near a mistyped one.
#[derive(Clone, Debug, PartialEq)]
pub struct Near {
    near: Vec<String>,
    all: Vec<String>,
}

/// How alike (0 to 1, Jaro-Winkler) a name must be to be worth suggesting.
const ALIKE_ENOUGH: f64 = 0.7;

impl Near {
    pub(crate) fn to(name: &str, known: impl Iterator<Item = String>) -> Self {
        let all: Vec<String> = known.collect();
        let mut ranked: Vec<(f64, &String)> = all
            .iter()
            .map(|known| {
                // A long name is often given by its end alone; a coordinate's single letter is like
                // too much.
                let tail = known.rsplit('.').next().filter(|tail| tail.len() > 1).unwrap_or(known);
                (strsim::jaro_winkler(name, known).max(strsim::jaro_winkler(name, tail)), known)
            })
            .filter(|(likeness, _)| *likeness >= ALIKE_ENOUGH)
            .collect();
        ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
        let near = ranked.into_iter().take(3).map(|(_, known)| known.clone()).collect();
        Self { near, all }
    }
}

impl fmt::Display for Near {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.near.is_empty() {
            write!(f, "the names are {}", self.all.join(", "))
        } else {
            write!(f, "near it: {}", self.near.join(", "))
        }
    }
}

impl FromStr for SettingName {
    type Err = NameError;

    fn from_str(name: &str) -> Result<Self, NameError> {
        let name = name.trim();
        let address = match name.strip_prefix("cusps.") {
            Some(rest) => incline(name, rest)?,
            None => setting(name)?,
        };
        Ok(Self { address, written: name.to_owned() })
    }
}

/// A name that may start with a side.
pub(super) fn split_side(name: &str) -> (Option<Side>, &str) {
    match (name.strip_prefix("right_guide."), name.strip_prefix("left_guide.")) {
        (Some(key), _) => (Some(Side::Right), key),
        (_, Some(key)) => (Some(Side::Left), key),
        _ => (None, name),
    }
}

fn setting(name: &str) -> Result<Address, NameError> {
    let (side, key) = split_side(name);
    if let Some(setting) = all().find(|setting| setting.key() == key) {
        if side.is_some() && !setting.is_per_side() {
            return Err(NameError::NoSides { name: name.to_owned(), key: key.to_owned() });
        }
        return Ok(Address::Setting(setting, side));
    }
    if let Some(choice) = Choice::ALL.into_iter().find(|choice| choice.key() == key) {
        return Err(NameError::Words { name: name.to_owned(), words: choice.words().join(", ") });
    }
    if let Some(now) = former::name_now(key) {
        return Err(NameError::Former { former: key.to_owned(), now, write: name.replace(key, now) });
    }
    Err(unknown(name, key))
}

fn incline(name: &str, rest: &str) -> Result<Address, NameError> {
    let (of, key) = rest.rsplit_once('.').map_or(("", rest), |(of, key)| (of, key));
    let entry = OpposingInclines::SETTINGS.iter().find(|entry| entry.facts.key == key);
    let entry = entry.ok_or_else(|| unknown(name, key))?;
    let (tooth, cusp) = of.split_once('.').map_or((of, None), |(tooth, cusp)| (tooth, Some(cusp)));
    if tooth.is_empty() && cusp.is_none() && !rest.starts_with('.') {
        return Ok(Address::Incline(entry, CuspsNamed::Every));
    }
    let no_tooth = |why: String| NameError::NoTooth { name: name.to_owned(), why };
    let number: i64 = tooth
        .parse()
        .map_err(|_| no_tooth(format!("`{tooth}` is no number; write for example cusps.36.{key}")))?;
    let tooth = Tooth::new(number).map_err(|error| no_tooth(error.to_string()))?;
    let of = cusp.map_or(CuspsNamed::Tooth(tooth), |cusp| CuspsNamed::One(tooth, cusp.to_owned()));
    Ok(Address::Incline(entry, of))
}

fn unknown(name: &str, key: &str) -> NameError {
    let known = SettingName::names().chain(Choice::ALL.into_iter().map(|choice| choice.key().to_owned()));
    NameError::Unknown { name: name.to_owned(), near: Near::to(key, known) }
}

impl SettingName {
    /// Every name of a number, side, tooth and cusp left out.
    pub fn names() -> impl Iterator<Item = String> {
        listed().map(|listed| listed.name)
    }

    /// Whether it names this setting, of whichever side.
    #[must_use]
    pub fn is(&self, wanted: Setting) -> bool {
        matches!(self.address, Address::Setting(setting, _) if setting == wanted)
    }

    /// Whether it names something of cusps.
    #[must_use]
    pub(crate) const fn is_of_cusps(&self) -> bool {
        matches!(self.address, Address::Incline(..))
    }

    /// The name as it was written.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// The name with the side left out: what [`Setting::key`] gives.
    #[must_use]
    pub fn key(&self) -> &str {
        split_side(&self.written).1
    }

    /// The side named, if any.
    #[must_use]
    pub const fn side(&self) -> Option<Side> {
        match &self.address {
            Address::Setting(_, side) => *side,
            Address::Incline(..) => None,
        }
    }

    /// Unit, range and meaning.
    #[must_use]
    pub const fn facts(&self) -> &'static Facts {
        match &self.address {
            Address::Setting(setting, _) => setting.facts(),
            Address::Incline(entry, _) => &entry.facts,
        }
    }

    /// Whether each side has its own.
    #[must_use]
    pub const fn is_per_side(&self) -> bool {
        match &self.address {
            Address::Setting(setting, _) => setting.is_per_side(),
            Address::Incline(..) => false,
        }
    }

    /// The cusps named, for an opposing incline.
    #[must_use]
    pub const fn cusps(&self) -> Option<&CuspsNamed> {
        match &self.address {
            Address::Setting(..) => None,
            Address::Incline(_, cusps) => Some(cusps),
        }
    }

    /// Why setting it does nothing in this scene, if so: an inclination where a recorded profile
    /// is the path, an angle of a table formed to the teeth, invented casts that are not there.
    #[must_use]
    pub fn idle_because(&self, scene: &Scene) -> Option<Idle> {
        let Address::Setting(setting, side) = &self.address else { return None };
        if setting.get(scene, Side::Right).is_none() {
            return match setting {
                Setting::InventedCasts(_) => Some(Idle::NoInventedCasts),
                Setting::Anterior(_) => Some(Idle::CustomTable),
                _ => None,
            };
        }
        if *setting != Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION) {
            return None;
        }
        let is_profile = |own: Side| {
            side.is_none_or(|only| only == own)
                && matches!(scene.instrument.guide(own).path, GuidePath::Profile(_))
        };
        let sides: &[Side] = match Side::BOTH.map(is_profile) {
            [true, true] => &Side::BOTH,
            [true, false] => &[Side::Right],
            [false, true] => &[Side::Left],
            [false, false] => return None,
        };
        Some(Idle::RecordedProfile { sides })
    }

    /// Looks the name up in a scene.
    ///
    /// # Errors
    /// [`NoSuchCusp`] where the scene has no cusp of that name.
    pub fn find_in(&self, scene: &Scene) -> Result<SettingPlace, NoSuchCusp> {
        match &self.address {
            Address::Setting(setting, side) => {
                let sides = match (side, setting.is_per_side()) {
                    (Some(Side::Right), _) | (None, false) => &[Side::Right][..],
                    (Some(Side::Left), _) => &[Side::Left],
                    (None, true) => &Side::BOTH,
                };
                Ok(SettingPlace::Setting(*setting, sides))
            }
            Address::Incline(entry, of) => {
                let is_meant = |cusp: &Cusp| match of {
                    CuspsNamed::Every => true,
                    CuspsNamed::Tooth(tooth) => cusp.tooth() == *tooth,
                    CuspsNamed::One(tooth, name) => cusp.tooth() == *tooth && cusp.name() == name,
                };
                let places = scene.cusps.iter().enumerate().filter(|(_, cusp)| is_meant(cusp));
                let places: Vec<usize> = places.map(|(place, _)| place).collect();
                if places.is_empty() {
                    let known = KnownCusps::of(&scene.cusps);
                    return Err(NoSuchCusp { name: self.written.clone(), known });
                }
                Ok(SettingPlace::Incline(entry, places))
            }
        }
    }
}

impl PartialEq for SettingName {
    fn eq(&self, other: &Self) -> bool {
        self.written == other.written
    }
}

impl fmt::Display for SettingName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}

impl<'de> Deserialize<'de> for SettingName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

impl Serialize for SettingName {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.written.serialize(serializer)
    }
}

/// Where a setting stands in the scene that it was looked up in: one number, or several that are
/// set together.
#[derive(Clone, Debug)]
pub enum SettingPlace {
    /// A setting, on these sides.
    Setting(Setting, &'static [Side]),
    /// An incline at the cusps of these places in the scene's list.
    Incline(&'static Entry<OpposingInclines>, Vec<usize>),
}

impl SettingPlace {
    /// Sets every number that is meant. Allocates nothing.
    ///
    /// # Errors
    /// [`OutOfRange`] with the allowed range; the scene is then as it was.
    #[inline]
    pub fn set(&self, scene: &mut Scene, number: f64) -> Result<(), OutOfRange> {
        match self {
            Self::Setting(setting, sides) => {
                sides.iter().try_for_each(|side| setting.set(scene, *side, number))
            }
            Self::Incline(entry, places) => {
                let number = entry.facts.check(number)?;
                for place in places {
                    if let Some(cusp) = scene.cusps.get_mut(*place) {
                        (entry.set)(cusp.opposing_mut(), number);
                    }
                }
                Ok(())
            }
        }
    }

    /// The number that a scene has there; `None` where it has none, or several that differ.
    #[must_use]
    pub fn get(&self, scene: &Scene) -> Option<f64> {
        let mut numbers = self.numbers(scene).into_iter();
        let first = numbers.next()??;
        numbers.all(|number| number == Some(first)).then_some(first)
    }

    /// Every number that is meant, in order; `None` for one that the scene does not have.
    #[must_use]
    pub fn numbers(&self, scene: &Scene) -> Vec<Option<f64>> {
        match self {
            Self::Setting(setting, sides) => sides.iter().map(|side| setting.get(scene, *side)).collect(),
            Self::Incline(entry, places) => {
                let number = |place: &usize| scene.cusps.get(*place).map(|cusp| (entry.get)(cusp.opposing()));
                places.iter().map(number).collect()
            }
        }
    }

    /// Each of the numbers that are set together as a place of its own, in the order of [`Self::numbers`].
    #[must_use]
    pub fn each(&self) -> Vec<Self> {
        match self {
            Self::Setting(setting, sides) => {
                let one = |side: &Side| match side {
                    Side::Right => Self::Setting(*setting, &[Side::Right]),
                    Side::Left => Self::Setting(*setting, &[Side::Left]),
                };
                sides.iter().map(one).collect()
            }
            Self::Incline(entry, places) => {
                places.iter().map(|place| Self::Incline(entry, vec![*place])).collect()
            }
        }
    }

    /// Whether some number is set by both.
    #[must_use]
    pub fn meets(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Setting(one, sides), Self::Setting(another, others)) => {
                one == another && sides.iter().any(|side| others.contains(side))
            }
            (Self::Incline(one, places), Self::Incline(another, others)) => {
                one.facts.key == another.facts.key && places.iter().any(|place| others.contains(place))
            }
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(name: &str) -> SettingPlace {
        let name: SettingName = name.parse().expect(name);
        name.find_in(&Scene::thirty_degree()).expect("a place")
    }

    #[test]
    fn a_cusps_incline_is_set_at_one_cusp_at_a_tooth_or_at_all() {
        let working = |scene: &Scene| -> Vec<f64> {
            scene.cusps.iter().map(|cusp| cusp.opposing().working.degrees()).collect()
        };
        let before = working(&Scene::thirty_degree());
        for (name, meant) in [
            ("cusps.36.mesiobuccal.working_deg", vec![1]),
            ("cusps.36.working_deg", vec![1]),
            ("cusps.working_deg", (0..before.len()).collect()),
        ] {
            let mut scene = Scene::thirty_degree();
            place(name).set(&mut scene, 41.5).expect("in range");
            for (at, (is, was)) in working(&scene).iter().zip(&before).enumerate() {
                assert_eq!(*is, if meant.contains(&at) { 41.5 } else { *was }, "{name}, cusp {at}");
            }
            assert_eq!(place(name).get(&scene), Some(41.5));
            let out = place(name).set(&mut scene, 86.0).expect_err("too steep").to_string();
            assert!(out.contains("working_deg is 86; allowed are 0 to 85 degrees"), "{out}");
        }
    }

    #[test]
    fn each_number_of_a_place_can_be_set_by_itself() {
        for name in
            ["lateral_angle_deg", "left_guide.lateral_angle_deg", "cusps.working_deg", "pin_extension_mm"]
        {
            let mut scene = Scene::thirty_degree();
            let whole = place(name);
            for (number, one) in whole.each().iter().enumerate() {
                one.set(&mut scene, number as f64).expect("in range");
            }
            let expected: Vec<_> =
                (0..whole.numbers(&scene).len()).map(|number| Some(number as f64)).collect();
            assert_eq!(whole.numbers(&scene), expected, "{name}");
        }
    }

    #[test]
    fn a_place_with_unlike_numbers_has_no_one_number() {
        let mut scene = Scene::thirty_degree();
        assert_eq!(place("lateral_angle_deg").get(&scene), Some(15.0));
        place("left_guide.lateral_angle_deg").set(&mut scene, 16.0).expect("in range");
        assert_eq!(place("lateral_angle_deg").get(&scene), None);
        assert_eq!(place("path.radius_mm").get(&scene), None);
        assert_eq!(place("cusps.working_deg").get(&scene), None);
    }

    #[test]
    fn places_meet_where_one_number_is_set_by_both() {
        for (one, other, meet) in [
            ("lateral_angle_deg", "left_guide.lateral_angle_deg", true),
            ("right_guide.lateral_angle_deg", "left_guide.lateral_angle_deg", false),
            ("lateral_angle_deg", "horizontal_inclination_deg", false),
            ("cusps.working_deg", "cusps.36.working_deg", true),
            ("cusps.37.working_deg", "cusps.36.working_deg", false),
            ("cusps.36.working_deg", "cusps.36.mesiobuccal.nonworking_deg", false),
            ("pin_extension_mm", "cusps.working_deg", false),
        ] {
            assert_eq!(place(one).meets(&place(other)), meet, "{one}, {other}");
            assert_eq!(place(other).meets(&place(one)), meet, "{other}, {one}");
        }
    }

    #[test]
    fn names_of_no_number_are_refused_with_what_is_near() {
        for (name, part) in [
            ("horizontal_inclination", "near it: horizontal_inclination_deg"),
            ("cusps.36.mesiobuccal.workin_deg", "near it: cusps.working_deg"),
            ("cusps.39.working_deg", "31 to 38"),
            ("cusps.buccal.working_deg", "`buccal` is no number"),
            ("cusps..working_deg", "`` is no number"),
            ("left_guide.pin_extension_mm", "write `pin_extension_mm`"),
            ("design", "takes one of Arcon, NonArcon, not a number"),
            ("", "the names are"),
        ] {
            let said = name.parse::<SettingName>().expect_err(name).to_string();
            assert!(said.contains(part), "{name}: {said}");
        }
        let absent: SettingName = "cusps.36.distobuccal.working_deg".parse().expect("a name");
        let said = absent.find_in(&Scene::thirty_degree()).expect_err("no such cusp").to_string();
        assert!(said.contains("its cusps are 34.buccal, 36.mesiobuccal"), "{said}");
    }
}

//! The settings at which an instrument starts.

use std::fmt;

use serde::de::{self, MapAccess, Visitor};
use serde::ser::SerializeStruct as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::Instrument;
use crate::anterior::Trough;
use crate::facts::{CheckedNumber, Entry, FieldName, unknown_field};
use crate::guide::CondylarGuide;
use crate::units::{Angle, Length};

/// The settings at which an instrument starts, alike on both sides, before a patient's casts are mounted.
///
/// They differ from make to make; a scene may carry its own as `baseline: (…)`. A part that it leaves
/// out is as in [`Baseline::example`]. The pin's tip always starts in the middle of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Baseline {
    /// The right guide and the left one. Only its numbers count: paths start straight, without early
    /// translation.
    pub(super) guide: CondylarGuide,
    /// The incisal table.
    pub(super) table: Trough,
    /// How far the pin is let down.
    pub(super) pin_extension: Length,
}

/// A number of a baseline, where it is kept.
enum Part {
    Guide(&'static Entry<CondylarGuide>),
    Table(&'static Entry<Trough>),
    PinExtension,
}

const PARTS: [Part; 11] = [
    Part::Guide(&CondylarGuide::HORIZONTAL_INCLINATION),
    Part::Guide(&CondylarGuide::LATERAL_ANGLE),
    Part::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION),
    Part::Guide(&CondylarGuide::WALL_TILT),
    Part::Guide(&CondylarGuide::LATERORETRUSION),
    Part::Guide(&CondylarGuide::LATEROSURTRUSION),
    Part::Table(&Trough::SAGITTAL_INCLINATION),
    Part::Table(&Trough::RIGHT_WING),
    Part::Table(&Trough::LEFT_WING),
    Part::Table(&Trough::FLAT_HALF_WIDTH),
    Part::PinExtension,
];

const FIELDS: &[&str] = &{
    let mut fields = [""; PARTS.len()];
    let mut index = 0;
    while index < PARTS.len() {
        fields[index] = PARTS[index].facts().key;
        index += 1;
    }
    fields
};

impl Part {
    const fn facts(&self) -> &'static crate::facts::Facts {
        match self {
            Self::Guide(entry) => &entry.facts,
            Self::Table(entry) => &entry.facts,
            Self::PinExtension => &Instrument::PIN_EXTENSION.facts,
        }
    }

    fn get(&self, baseline: &Baseline) -> f64 {
        match self {
            Self::Guide(entry) => (entry.get)(&baseline.guide),
            Self::Table(entry) => (entry.get)(&baseline.table),
            Self::PinExtension => baseline.pin_extension.mm(),
        }
    }

    fn set(&self, baseline: &mut Baseline, number: f64) {
        match self {
            Self::Guide(entry) => (entry.set)(&mut baseline.guide, number),
            Self::Table(entry) => (entry.set)(&mut baseline.table, number),
            Self::PinExtension => baseline.pin_extension = Length::from_mm(number),
        }
    }
}

impl Baseline {
    /// An example of a baseline, compiled in: horizontal inclination 30° and lateral angle 30° on both
    /// sides, plate and wings level, pin flush with the upper member, no side shift. One kind of
    /// instrument starts so, others elsewhere (common practice, no source).
    #[must_use]
    pub fn example() -> Self {
        Self {
            guide: CondylarGuide::straight(Angle::from_degrees(30.0), Angle::from_degrees(30.0)),
            table: Trough::LEVEL,
            pin_extension: Length::ZERO,
        }
    }

    /// Both condylar guides as they start.
    #[must_use]
    pub const fn guide(&self) -> &CondylarGuide {
        &self.guide
    }

    /// The incisal table as it starts.
    #[must_use]
    pub const fn table(&self) -> &Trough {
        &self.table
    }

    /// How far the pin is let down at the start.
    #[must_use]
    pub const fn pin_extension(&self) -> Length {
        self.pin_extension
    }
}

impl<'de> Deserialize<'de> for Baseline {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Fields;
        impl<'de> Visitor<'de> for Fields {
            type Value = Baseline;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the settings at which the instrument starts")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Baseline, A::Error> {
                let mut baseline = Baseline::example();
                let mut given = Vec::with_capacity(PARTS.len());
                while let Some(FieldName(name)) = map.next_key()? {
                    let part = PARTS.iter().find(|part| part.facts().key == name);
                    let part = part.ok_or_else(|| unknown_field::<A::Error>(&name, FIELDS))?;
                    let facts = part.facts();
                    if given.contains(&facts.key) {
                        return Err(de::Error::duplicate_field(facts.key));
                    }
                    given.push(facts.key);
                    part.set(&mut baseline, map.next_value_seed(CheckedNumber(facts))?);
                }
                Ok(baseline)
            }
        }
        deserializer.deserialize_struct("Baseline", FIELDS, Fields)
    }
}

impl Serialize for Baseline {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Baseline", PARTS.len())?;
        for part in &PARTS {
            out.serialize_field(part.facts().key, &part.get(self))?;
        }
        out.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Scene;
    use crate::setting::all;

    fn scene_with(baseline: &str) -> String {
        Scene::thirty_degree().to_ron().replacen(
            "    title:",
            &format!("    baseline: {baseline},\n    title:"),
            1,
        )
    }

    #[test]
    fn every_setting_that_zeroing_speaks_of_starts_as_its_facts_say_in_the_example() {
        let zeroed = Instrument::zeroed();
        let spoken_of: Vec<_> = all().filter(|setting| setting.facts().zeroed.is_some()).collect();
        for setting in &spoken_of {
            for side in crate::frame::Side::BOTH {
                assert_eq!(setting.of_instrument(&zeroed, side), setting.facts().zeroed, "{}", setting.key());
            }
        }
        // All but the early translation, and the pin's tip, which starts in the middle.
        assert_eq!(spoken_of.len(), PARTS.len() + 2);
    }

    #[test]
    fn a_scenes_own_baseline_is_read_part_by_part_and_written_back() {
        let text =
            scene_with("(horizontal_inclination_deg: 0.0, lateral_angle_deg: 15.0, left_wing_deg: 5.0)");
        let scene = Scene::from_ron(&text).expect("a scene");
        let own = scene.baseline_or_example();
        assert_eq!(own.guide().horizontal_inclination, Angle::ZERO);
        assert_eq!(own.guide().lateral_angle, Angle::from_degrees(15.0));
        assert_eq!(own.table(), &Trough { left_wing: Angle::from_degrees(5.0), ..Trough::LEVEL });
        assert_eq!(own.pin_extension(), Length::ZERO);
        assert_eq!(Scene::from_ron(&scene.to_ron()).expect("its own text"), scene);
        let nothing_said = Scene::from_ron(&scene_with("()")).expect("a scene");
        assert_eq!(nothing_said.baseline_or_example(), Baseline::example());
    }

    #[test]
    fn a_baseline_out_of_range_or_of_another_name_is_refused_where_it_stands() {
        for (baseline, part) in [
            ("(lateral_angle_deg: 61.0)", "baseline.lateral_angle_deg is 61; allowed are -30 to 60 degrees"),
            ("(lateral_angle_deg: \"steep\")", "a number from -30 to 60"),
            ("(lateral_angle: 15.0)", "lateral_angle_deg"),
            ("(rear_wall_deg: 1.0)", "rear_wall_deg is now lateroretrusion_deg"),
            ("(pin_extension_mm: 0.0, pin_extension_mm: 0.0)", "pin_extension_mm"),
        ] {
            let said = Scene::from_ron(&scene_with(baseline)).expect_err(baseline).to_string();
            assert!(said.contains(part), "{baseline}: {said}");
        }
    }
}

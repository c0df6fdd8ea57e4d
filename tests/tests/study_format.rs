//! `docs/study_format.md` and the types that read a study say the same: every field and every word, none left out and
//! none invented; and every example on the page is read.
//!
//! A type that a study newly has is one line in [`TYPES`] and a heading of its name on the page; new fields and words
//! of those that are there are found by themselves.

use std::fs;
use std::path::Path;

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, EnumAccess, IntoDeserializer as _, VariantAccess, Visitor};
use serde::{Deserialize, Deserializer, de, forward_to_deserialize_any};
use sim_core::scene::Scene;
use sim_core::study::{
    Constraint, Factor, Measure, Prepared, Recording, Rule, Sample, SamplingPlan, Study, Values,
};

/// A type by the heading of its section, and what it asks for.
type OneType = (&'static str, fn() -> Asked);

const TYPES: [OneType; 9] = [
    ("Study", asked::<Study>),
    ("Factor", asked::<Factor>),
    ("Values", asked::<Values>),
    ("Constraint", asked::<Constraint>),
    ("Rule", asked::<Rule>),
    ("SamplingPlan", asked::<SamplingPlan>),
    ("Sample", asked::<Sample>),
    ("Recording", asked::<Recording>),
    ("Measure", asked::<Measure>),
];

fn page() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/study_format.md");
    fs::read_to_string(path).expect("the page")
}

/// The rows of a section's tables: first cell, and the whole row.
fn rows<'p>(page: &'p str, heading: &str) -> Vec<(&'p str, &'p str)> {
    let mut lines = page
        .lines()
        .skip_while(|line| line.trim_start_matches('#').trim() != heading || !line.starts_with("##"));
    assert!(lines.next().is_some(), "docs/study_format.md has no section {heading}");
    let own = lines.take_while(|line| !line.starts_with("##"));
    own.filter_map(|line| {
        let word = line.strip_prefix("| `")?.split_once('`')?.0;
        Some((word, line))
    })
    .collect()
}

#[test]
fn every_field_and_every_word_is_on_the_page_and_no_other() {
    let page = page();
    for (heading, asked) in TYPES {
        let asked = asked();
        let rows = rows(&page, heading);
        let mut known: Vec<&str> = asked.fields.clone();
        known.extend(asked.variants.iter().map(|variant| variant.name));
        assert!(!known.is_empty(), "{heading} asks for nothing");
        for word in &known {
            assert!(rows.iter().any(|(own, _)| own == word), "{heading}: the page does not say `{word}`");
        }
        for (word, _) in &rows {
            assert!(known.contains(word), "{heading}: the program does not take `{word}`");
        }
        for variant in &asked.variants {
            let (_, row) = rows.iter().find(|(own, _)| *own == variant.name).expect("looked up above");
            for field in &variant.fields {
                assert!(
                    row.contains(&format!("`{field}`")),
                    "{heading}: `{}` does not say `{field}`",
                    variant.name
                );
            }
        }
    }
}

/// Blocks of RON with what each is.
fn examples(page: &str) -> Vec<(String, String)> {
    page.split("```ron ")
        .skip(1)
        .filter_map(|rest| {
            let (tag, rest) = rest.split_once('\n')?;
            Some((tag.to_owned(), rest.split_once("```")?.0.to_owned()))
        })
        .collect()
}

#[test]
fn every_example_on_the_page_is_read() {
    let examples = examples(&page());
    assert!(examples.len() >= 15, "{} examples", examples.len());
    let both = "(setting: \"horizontal_inclination_deg\", values: Uniform(min: 20.0, max: 40.0)), \
        (setting: \"incisal_point_mm.z\", values: Uniform(min: -45.0, max: -40.0))";
    let right = "(setting: \"right_guide.horizontal_inclination_deg\", values: List([20.0, 40.0]))";
    let random = "MonteCarlo(rows: 10, seed: 1)";
    for (tag, example) in examples {
        let example = example.trim();
        let written = |factors: &str, constraint: &str, plan: &str| {
            format!(
                "(title: \"An example\", scene: \"thirty_degree.ron\", factors: [{factors}], constraints: [{constraint}], \
                 plan: {plan}, record: (measures: [Clearance]))"
            )
        };
        let text = match tag.as_str() {
            "study" => example.to_owned(),
            "factor" => written(example, "", random),
            "constraint" => written(both, example, random),
            "sided" => written(right, example, random),
            "plan" => written(both, "", example),
            other => panic!("{other} is no kind of example"),
        };
        let study = Study::from_ron(&text).unwrap_or_else(|error| panic!("{error}\n{text}"));
        let column = |_: &str, _: &str| Ok(vec![30.0, 35.0]);
        Prepared::new(&study, &Scene::thirty_degree(), column)
            .unwrap_or_else(|error| panic!("{error}\n{text}"));
    }
}

/// What a type asks of the text that it is read from.
#[derive(Default)]
struct Asked {
    fields: Vec<&'static str>,
    variants: Vec<Word>,
}

/// One of the words that a type takes.
struct Word {
    name: &'static str,
    fields: Vec<&'static str>,
}

/// Has the type ask, once for itself and once for each of its words. It gets no answer; what it asked is kept.
fn asked<T: for<'de> Deserialize<'de>>() -> Asked {
    let mut asked = Asked::default();
    let mut place = 0;
    loop {
        let _ = T::deserialize(Asker { asked: &mut asked, place });
        place += 1;
        if place >= asked.variants.len() {
            return asked;
        }
    }
}

struct Asker<'a> {
    asked: &'a mut Asked,
    /// Which of the words is given.
    place: usize,
}

/// The end of asking.
fn no_answer<T>() -> Result<T, de::value::Error> {
    Err(de::Error::custom("nothing is read here"))
}

impl<'de> Deserializer<'de> for Asker<'_> {
    type Error = de::value::Error;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Self::Error> {
        no_answer()
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Self::Error> {
        self.asked.fields = fields.to_vec();
        no_answer()
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Self::Error> {
        if self.asked.variants.is_empty() {
            self.asked.variants = variants.iter().map(|name| Word { name, fields: Vec::new() }).collect();
        }
        visitor.visit_enum(self)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map identifier ignored_any
    }
}

impl<'de> EnumAccess<'de> for Asker<'_> {
    type Error = de::value::Error;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Self::Error> {
        let name: StrDeserializer<'_, Self::Error> = self.asked.variants[self.place].name.into_deserializer();
        Ok((seed.deserialize(name)?, self))
    }
}

impl<'de> VariantAccess<'de> for Asker<'_> {
    type Error = de::value::Error;

    fn unit_variant(self) -> Result<(), Self::Error> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, _: T) -> Result<T::Value, Self::Error> {
        no_answer()
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Self::Error> {
        no_answer()
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Self::Error> {
        self.asked.variants[self.place].fields = fields.to_vec();
        no_answer()
    }
}

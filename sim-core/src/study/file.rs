//! A study as its file gives it.

use std::fmt;

use serde::de::value::MapAccessDeserializer;
use serde::de::{self, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::constraint::Constraint;
use super::error::StudyError;
use super::record::Recording;
use super::{SamplingPlan, Values};
use crate::scene::Scene;
use crate::setting::SettingName;
use crate::text::{self, ReadError};

/// A study: a base scene, what varies in it and how, and what is recorded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Study {
    /// What the study is called.
    pub title: String,
    /// The scene that everything else varies.
    pub scene: BaseScene,
    /// What varies, at least one.
    pub factors: Vec<Factor>,
    /// What ties factors to each other or to other settings; none when absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub constraints: Vec<Constraint>,
    /// Which combinations are computed.
    pub plan: SamplingPlan,
    /// What is recorded of each.
    pub record: Recording,
}

/// Where the base scene comes from: `"file.ron"`, or a scene in full.
#[derive(Clone, Debug, PartialEq)]
pub enum BaseScene {
    /// A scene file, by its path from the study's file.
    File(String),
    /// The scene itself.
    Here(Box<Scene>),
}

/// A setting and the values that it takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Factor {
    /// The setting by its name.
    pub setting: SettingName,
    /// Its values.
    #[serde(deserialize_with = "super::values::checked")]
    pub values: Values,
}

impl Study {
    /// Reads a study from its text (RON).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed, for everything
    /// that can be told without the base scene.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        let study: Self = text::read(text, |_| Ok(()))?;
        study.check().map_err(|error| Self::placed(&error, text))?;
        Ok(study)
    }

    /// Writes the study as text that [`Study::from_ron`] reads back as the same study.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }

    /// An error that was found after reading, as one with its place in the study's text.
    #[must_use]
    pub fn placed(error: &StudyError, text: &str) -> ReadError {
        let (line, column) = error.place_in(text);
        ReadError { line, column, field: String::new(), what: error.to_string() }
    }

    /// Checks what can be told without the base scene.
    ///
    /// # Errors
    /// The first [`StudyError`] found.
    pub fn check(&self) -> Result<(), StudyError> {
        if self.factors.is_empty() {
            return Err(StudyError::NoFactor);
        }
        let mut known: Vec<&SettingName> = Vec::with_capacity(self.factors.len());
        for factor in &self.factors {
            factor.check_quantity()?;
            check_varies(&factor.setting)?;
            set_once(&known, &factor.setting)?;
            known.push(&factor.setting);
        }
        self.check_columns()?;
        let factors = known.len();
        let mut correlated: Vec<&SettingName> = Vec::new();
        for constraint in &self.constraints {
            match constraint {
                Constraint::Derived { setting, by } => {
                    by.check(setting, &known)?;
                    check_varies(setting)?;
                    set_once(&known, setting)?;
                    known.push(setting);
                }
                Constraint::LeftEqualsRight(_) => {
                    // Looked up when the study is made ready, which gives its two names.
                    constraint.sides()?;
                }
                Constraint::Correlated { between, matrix } => {
                    for name in between {
                        super::constraint::known(name, &known[..factors])?;
                        if correlated.contains(&name) {
                            let what = format!("`{name}`");
                            return Err(StudyError::ListedTwice { list: "between", what });
                        }
                        correlated.push(name);
                    }
                    super::Correlation::new((0..between.len()).collect(), matrix)?;
                    if !self.plan.takes_correlations() {
                        return Err(StudyError::CorrelationNotKept { plan: self.plan.name() });
                    }
                }
            }
        }
        self.record.check()
    }
}

impl Study {
    /// That different columns of one file, whose lines belong together, are not combined anew. The same
    /// column for two factors is drawn from twice.
    fn check_columns(&self) -> Result<(), StudyError> {
        if matches!(self.plan, SamplingPlan::Rows | SamplingPlan::OneAtATime) {
            return Ok(());
        }
        let mut known: Vec<(&Factor, &str, &str)> = Vec::new();
        for factor in &self.factors {
            let Values::Column { file, column } = &factor.values else { continue };
            if let Some((first, ..)) =
                known.iter().find(|(_, other, of_other)| *other == file && *of_other != column)
            {
                return Err(StudyError::ColumnsCrossed {
                    first: first.setting.written().to_owned(),
                    second: factor.setting.written().to_owned(),
                    file: file.clone(),
                    plan: self.plan.name(),
                });
            }
            known.push((factor, file, column));
        }
        Ok(())
    }
}

/// That no setting of the same name has been set before.
fn set_once(known: &[&SettingName], name: &SettingName) -> Result<(), StudyError> {
    match known.iter().find(|other| **other == name) {
        None => Ok(()),
        Some(first) => {
            Err(StudyError::SetTwice { first: first.written().to_owned(), second: name.written().to_owned() })
        }
    }
}

/// That a setting is none of the casts', which are made once for all rows.
fn check_varies(name: &SettingName) -> Result<(), StudyError> {
    if name.key().starts_with("invented_casts.") {
        return Err(StudyError::CastsStay { name: name.written().to_owned() });
    }
    Ok(())
}

impl Factor {
    /// That a published distribution is one of what the setting is: neither of another unit nor of another quantity.
    fn check_quantity(&self) -> Result<(), StudyError> {
        let Values::Published(name) = &self.values else { return Ok(()) };
        match super::Published::named(name) {
            Some(published) if !published.may_stand_for(&self.setting) => Err(StudyError::Quantity {
                name: self.setting.written().to_owned(),
                published: Box::new(*published),
            }),
            _ => Ok(()),
        }
    }
}

impl<'de> Deserialize<'de> for BaseScene {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> Visitor<'de> for Either {
            type Value = BaseScene;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the path of a scene file in quotes, or a scene in full")
            }
            fn visit_str<E: de::Error>(self, path: &str) -> Result<BaseScene, E> {
                Ok(BaseScene::File(path.to_owned()))
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<BaseScene, A::Error> {
                let scene = Scene::deserialize(MapAccessDeserializer::new(map))?;
                scene.check().map_err(de::Error::custom)?;
                Ok(BaseScene::Here(Box::new(scene)))
            }
        }
        deserializer.deserialize_any(Either)
    }
}

impl Serialize for BaseScene {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::File(path) => path.serialize(serializer),
            Self::Here(scene) => scene.serialize(serializer),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A study whose title and inline scene have the words that the faults below are about.
    fn study(factor: &str, constraints: &str, record: &str) -> String {
        let scene = Scene::thirty_degree().to_ron();
        format!(
            "(title: \"horizontal_inclination_deg\", scene: {scene},\n\
             factors: [(setting: \"horizontal_inclination_deg\", {factor})],\n\
             constraints: [{constraints}],\n\
             plan: FullGrid,\n\
             record: ({record}))"
        )
    }

    #[test]
    fn faults_are_placed_in_factors_constraints_and_record_and_not_in_title_or_scene() {
        let levels = "values: List([20.0, 30.0])";
        let all = "measures: [Clearance], advances_mm: [3.0]";
        let twice = "Derived(setting: \"horizontal_inclination_deg\", by: \
                     HOverEightPlusTwelve(of: \"horizontal_inclination_deg\"))";
        // Before what the complaint is about stands a mark.
        let marked = [
            study(levels, "", "measures: [Clearance], ^excursions: [], advances_mm: [3.0]"),
            study(levels, "", "measures: [Clearance], advances_mm: [3.0], ^cusps: [\"a\", \"a\"]"),
            study("values: Published(\"bonwill_base\")", "", all).replace("setting: \"", "setting: ^\""),
            study(levels, &twice.replacen("setting: ", "setting: ^", 1), all),
            study(levels, "^Correlated(between: [], matrix: [])", all),
            study(levels, "Correlated(between: [], ^matrix: [[1.0]])", all),
        ];
        for marked in marked {
            let text = marked.replace('^', "");
            let error = Study::from_ron(&text).expect_err(&text);
            let (before, _) = marked.split_once('^').expect("a mark");
            let line = before.rsplit('\n').next().unwrap_or_default();
            let place = (before.matches('\n').count() + 1, line.chars().count() + 1);
            assert_eq!((error.line, error.column), place, "{error}");
        }
    }
}

//! A lesson as its file gives it.

use serde::{Deserialize, Serialize};

use crate::excursion::Excursion;
use crate::scene::Scene;
use crate::text::{self, ReadError};

/// A lesson as its file gives it: texts, changes and questions as they are written, not yet looked into.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Lesson")]
pub struct LessonFile {
    /// What it is called.
    pub title: String,
    /// What it teaches, in a sentence or two.
    pub about: String,
    /// Where what it teaches comes from; at least one.
    pub sources: Vec<Cited>,
    /// The set-up at which it starts.
    pub set_up: SetUp,
    /// Its steps; at least one.
    pub steps: Vec<StepFields>,
}

/// Where something that is taught comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Cited {
    /// A published source.
    Published(String),
    /// What is usually done, without a source.
    CommonPractice(String),
    /// What follows from geometry or from the definition of the mechanism alone.
    Geometry(String),
}

/// The set-up at which a lesson starts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum SetUp {
    /// A scene that comes with the program, by name: `Scene("thirty_degree")`.
    Scene(String),
    /// A scene file, by its path from the lesson's file.
    File(String),
    /// The scene itself.
    Here(Box<Scene>),
}

/// A step as it is written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Step")]
pub struct StepFields {
    /// What is read.
    pub text: String,
    /// Starts from the lesson's own set-up again, and not from the step before.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub afresh: bool,
    /// Changes of the set-up, `NAME=VALUE`, on top of those of the steps before.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<String>,
    /// The excursion that is shown; the jaw stays at rest when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub excursion: Option<Excursion>,
    /// How far along it the picture stands, in millimetres of what drives it; at its end when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_mm: Option<f64>,
    /// From where one looks; as before when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub view: Option<View>,
    /// What is pointed at.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub point_at: Vec<TargetFields>,
    /// What is asked, if anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub question: Option<QuestionFields>,
}

/// From where one looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum View {
    /// From the front, the right and a little above.
    Oblique,
    /// From the patient's right.
    Right,
    /// From the patient's left.
    Left,
    /// From the front.
    Front,
    /// From above.
    Above,
    /// From below.
    Below,
    /// Along the line through the two spheres.
    Axis,
}

/// Something pointed at, as it is written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum TargetFields {
    /// A cusp: `Cusp("36 mesiobuccal")`.
    Cusp(String),
    /// The right condyle.
    RightCondyle,
    /// The left condyle.
    LeftCondyle,
    /// The incisal point.
    IncisalPoint,
    /// A setting in the panel: `Setting("right_guide.horizontal_inclination_deg")`.
    Setting(String),
    /// The plot.
    Plot,
}

/// A question as it is written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum QuestionFields {
    /// One of several answers.
    Choice(ChoiceFields),
    /// A number.
    Number(NumberFields),
    /// A set-up to be made.
    Set(SetFields),
}

/// One of several answers is right; the solver tells which.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Choice")]
pub struct ChoiceFields {
    /// What is asked.
    pub ask: String,
    /// Whether the excursion may be seen before the answer is given.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub see_first: bool,
    /// The answers, two or more.
    pub answers: Vec<AnswerFields>,
    /// What is said once the question is over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<String>,
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Answer")]
pub struct AnswerFields {
    /// What the answer says.
    pub says: String,
    /// The statement that makes it right, where it holds.
    pub holds_if: String,
    /// What is said to who gives it.
    pub reply: String,
}

/// A number is asked; the solver computes it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Number")]
pub struct NumberFields {
    /// What is asked.
    pub ask: String,
    /// Whether the excursion may be seen before the answer is given.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub see_first: bool,
    /// What is measured.
    pub measure: String,
    /// How far off an answer may be, with its unit: `"0.2 mm"`.
    pub within: String,
    /// What is said to an answer that is right.
    pub right: String,
    /// What is said to one that is too high.
    pub too_high: String,
    /// What is said to one that is too low.
    pub too_low: String,
    /// Answers that come of a typical mistake.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mistakes: Vec<MistakeFields>,
    /// What is said once the question is over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<String>,
}

/// A typical mistake.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Mistake")]
pub struct MistakeFields {
    /// What it measures instead.
    pub gives: String,
    /// What is said to it.
    pub reply: String,
}

/// A set-up is to be made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Set")]
pub struct SetFields {
    /// What is asked.
    pub ask: String,
    /// The statement that must come to hold.
    pub until: String,
    /// The only settings that may be changed; any when empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub turn: Vec<String>,
    /// Changes that solve it, never shown before the question is over.
    pub model: Vec<String>,
    /// What is said when it is solved.
    pub right: String,
    /// What is said to set-ups that are wrong in a way that can be told; the first that holds.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hints: Vec<HintFields>,
    /// What is said to any other.
    pub otherwise: String,
    /// What is said once the question is over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<String>,
}

/// What is said to set-ups of which a statement holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Hint")]
pub struct HintFields {
    /// The statement.
    pub when: String,
    /// What is said.
    pub reply: String,
}

impl LessonFile {
    /// Reads a lesson from its text (RON). What it says is looked into by [`Lesson::of`](super::Lesson::of).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |_| Ok(()))
    }

    /// Writes the lesson as text that [`LessonFile::from_ron`] reads back as the same.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }
}

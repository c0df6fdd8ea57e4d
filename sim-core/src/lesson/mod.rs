//! Lessons: steps of text, set-up and excursion, and questions whose right answers the solver computes.
//!
//! A lesson is written by a teacher as a [`LessonFile`] (RON). [`Lesson::of`] looks into everything that
//! it says, finds every [`Fault`] at once, and computes what its texts and questions leave to the solver;
//! a [`Lesson`] is sound. No number of an answer is typed by hand: an author writes what is measured
//! ([`Phrase`]), a statement that makes an answer right ([`Condition`]), and texts with places for numbers
//! ([`Prose`]).
//!
//! ```
//! use sim_core::lesson::{Lesson, LessonFile, Question};
//! use sim_core::scene::Scene;
//!
//! let file = LessonFile::from_ron(r#"(
//!     title: "Molar and premolar", about: "Nearer the condyle a cusp gains more.",
//!     sources: [Geometry("the wedge of a turning jaw")],
//!     set_up: Scene("thirty_degree"),
//!     steps: [(
//!         text: "Both guides stand at {setting horizontal_inclination_deg}. Make them steeper.",
//!         excursion: Protrusive(advance_mm: 3.0),
//!         question: Choice(
//!             ask: "Which cusp parts more in protrusion?",
//!             answers: [
//!                 (says: "the second molar", holds_if: "separation 37 > separation 34", reply: "So it is."),
//!                 (says: "the premolar", holds_if: "separation 34 > separation 37", reply: "It is in front."),
//!             ],
//!         ),
//!     )],
//! )"#)?;
//! let mut start = Scene::thirty_degree();
//! start.instrument.right_guide.horizontal_inclination = sim_core::units::Angle::from_degrees(40.0);
//! start.instrument.left_guide = start.instrument.right_guide.clone();
//! let lesson = Lesson::of(&file, start, None).expect("a sound lesson");
//! let Some(Question::Choice(choice)) = &lesson.steps[0].question else { panic!("a choice") };
//! assert_eq!(choice.right, 0);
//! # Ok::<(), sim_core::text::ReadError>(())
//! ```

mod ask;
mod cannot;
mod condition;
mod cusp_name;
mod fault;
mod file;
mod look;
mod look_at_text;
mod phrase;
mod phrase_error;
mod prose;
mod quantity;
mod question;
mod situation;
mod sound;
mod step;
mod value;

#[cfg(test)]
mod tests;

pub use cannot::CannotMeasure;
pub use condition::{Condition, ConditionError, Truth};
pub use cusp_name::CuspName;
pub use fault::{Fault, Wrong};
pub use file::{
    AnswerFields, ChoiceFields, Cited, HintFields, LessonFile, MistakeFields, NumberFields, QuestionFields,
    SetFields, SetUp, StepFields, TargetFields, View,
};
pub use phrase::{At, Phrase};
pub use phrase_error::PhraseError;
pub use prose::{Prose, ProseError, Said};
pub use quantity::{Gap, Quantity};
pub use question::{Choice, ChoiceAnswer, Judged, JudgedSet, Number, Question, Set};
pub use situation::{GROOVES_MM, Situation};
pub use sound::Lesson;
pub use step::{Step, Target};
pub use value::Value;

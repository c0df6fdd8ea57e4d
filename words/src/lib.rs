//! How numbers, names and verdicts are written for people: the only place that does.
//!
//! The maths answers in numbers and types; a table, a sheet, a figure and the viewer all put them
//! into words by what is here, so that one quantity looks the same wherever it is read.
//!
//! - [`day`]: a day, by its number.
//! - [`number`]: a number with its decimals, its minus and its unit.
//! - [`name`]: movements, teeth, settings and columns as they are spoken of.
//! - [`quoted`]: what others wrote, made fit to be said.
//! - [`verdict`]: what a result means, in a sentence.
//! - [`glossary`]: the words of the trade, and what they mean.
//! - [`lesson`]: a lesson's texts with their numbers in place.
//! - [`viva`]: questions drawn at random, their answers, and what is said to a slip.
//! - [`CAUTION`]: what every page says beneath its numbers; [`caution`]: what is said beside those it matters to.
//!
//! Errors speak for themselves, each where it arises, and are not here.
//!
//! ```
//! use sim_core::excursion::Movement;
//! use sim_core::frame::Side;
//! use sim_core::units::Length;
//!
//! let movement = words::name::movement(Movement::Lateral { working: Side::Right });
//! let length = words::number::length(Length::from_mm(-0.126), 2);
//! assert_eq!(format!("{movement}: {length}"), "right lateral: −0.13 mm");
//! ```

#![deny(clippy::print_stdout, clippy::print_stderr)]

pub mod caution;
pub mod day;
pub mod glossary;
pub mod lesson;
pub mod name;
pub mod number;
pub mod quoted;
pub mod verdict;
pub mod viva;

pub use caution::CAUTION;

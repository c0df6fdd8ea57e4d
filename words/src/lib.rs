//! How numbers, units and names are written for people: the only place that does.
//!
//! The maths answers in numbers and types; a table, a sheet, a figure and the viewer all put them
//! into words by what is here, so that one quantity looks the same wherever it is read.

#![deny(clippy::print_stdout, clippy::print_stderr)]

pub mod number;

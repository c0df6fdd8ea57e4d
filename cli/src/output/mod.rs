//! Output: where it goes and in which form, and what its tables and rows are made of.

mod destination;
mod format;
mod grid;
mod groove_gaps;
mod json;
mod left_behind;
mod report;
mod style;
mod text;
mod width;

pub(crate) use ::report::objects::Condyle;
pub(crate) use ::report::rows::{Column, Field, Row, Rows, column, exact, exact_coordinates};
pub(crate) use destination::{NO_INPUTS, Output, OutputError, distinct};
pub(crate) use format::Format;
pub(crate) use grid::{Cell, Grid};
pub(crate) use groove_gaps::groove_gaps;
pub(crate) use json::Object;
pub(crate) use report::{Form, Report, write_report};
pub(crate) use style::{ALARM, BOLD, FAINT, UNBROKEN};
pub(crate) use text::{printable, printable_line};
pub(crate) use width::{USUAL_WIDTH, width};

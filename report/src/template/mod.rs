//! The template of a tracing, in its own size: apex, legs, and the holes at the distance of the records.
//! Laid on the plate it guides the jaw into each hole, and the record is made there.

mod content;
mod form;
mod page;

pub use content::{Template, TemplateError, TemplateLeg};

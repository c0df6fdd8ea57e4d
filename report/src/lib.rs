//! What people are handed: figures, the sheet of a case, summaries of studies, comparisons, contacts.
//!
//! Values go in and values come out. Nothing here knows the arguments of a program, its environment,
//! its standard output or its exit status, so that the command line, the viewer and Python make the
//! same reports.

pub mod case;
pub mod comparison;
pub mod contacts;
pub mod excursion_summary;
pub mod figures;
pub mod formed_table;
pub mod guidance;
pub mod invented_pair;
pub mod planned;
pub mod sheet;
pub mod study;
pub mod tracing;
pub mod walk;

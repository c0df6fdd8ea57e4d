//! The exit status of the errors of libraries, one file a library.

mod core;
mod files;
#[cfg(feature = "studies")]
mod report;
#[cfg(feature = "studies")]
mod study_run;

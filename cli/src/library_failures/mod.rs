//! The exit status of the errors of libraries, one file a library.

mod core;
mod files;
mod report;
mod study_run;

//! The viewer on a computer of its own: command line, files, clock, window, and what it writes.
//!
//! All that asks for any of these stands here. The rest of the viewer takes values and answers with
//! values, so that it can also be shown where there are no files and no threads; a test holds it to that.

mod answering;
pub mod arguments;
pub mod bench_arguments;
mod cases;
mod dialog;
mod doorbell;
pub mod error;
pub mod files;
mod kept_folder;
pub mod out_arguments;
mod out_files;
mod png;
#[cfg(test)]
mod read_alike;
mod report_file;
mod snapshot;
pub mod start;
mod surroundings;
#[cfg(test)]
mod taught;
mod values;
pub mod whole_file;
mod window;

use arguments::Arguments;
use error::ViewerError;
use report_file::ReportFile;

/// Does what the command line says: a picture in a file, or a window until it is closed.
///
/// # Errors
/// [`ViewerError`] says what went wrong, and knows the exit status.
pub fn run(arguments: &Arguments) -> Result<(), ViewerError> {
    let state = start::state(arguments)?;
    if let Some(wanted) = arguments.out.wanted(arguments.snapshot.as_deref(), arguments.size) {
        return out_files::write(&state, &wanted);
    }
    let report = arguments.report.as_deref().map(ReportFile::begin).transpose()?;
    window::run(state, arguments.size, report)
}

//! Of reading files.

use crate::failure::{Failure, Status};
use crate::input::InputError;
use crate::tracing_file::TracingFileError;

impl Failure for InputError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl Failure for TracingFileError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

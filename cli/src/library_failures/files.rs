//! Of reading files.

use files::{LoadError, TextError};

use crate::failure::{Failure, Status};

impl Failure for TextError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl Failure for LoadError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

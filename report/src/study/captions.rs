//! What is to be said under the pictures, where they go on without their titles.

use std::io::{self, Write};

use super::picture::Picture;
use words::CAUTION;

/// Of each picture: its file, what it shows, what its lines mean.
pub fn write(pictures: &[Picture], out: &mut dyn Write) -> io::Result<()> {
    for picture in pictures {
        let figure = &picture.figure;
        writeln!(out, "{}\n{}. {}\n", picture.stem, figure.title, figure.explanation)?;
    }
    writeln!(out, "{CAUTION}")
}

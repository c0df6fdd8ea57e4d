//! What is to be said under the pictures, where they go on without their titles.

use std::io::{self, Write};

use super::picture::Picture;
use words::CAUTION;
use words::quoted::escaped;

/// Of each picture: its file, what it shows, what its lines mean.
pub fn write(pictures: &[Picture], out: &mut dyn Write) -> io::Result<()> {
    for picture in pictures {
        let figure = &picture.figure;
        let (title, explanation) = (escaped(&figure.title), escaped(&figure.explanation));
        writeln!(out, "{}\n{title}. {explanation}\n", picture.stem)?;
    }
    writeln!(out, "{CAUTION}")
}

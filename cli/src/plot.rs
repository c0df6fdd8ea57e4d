//! A figure into a file, as the file's ending says: SVG, PNG or PDF.

use std::path::Path;

use report::figures::{Figure, FigureError, Print, without_shape};

use crate::failure::{Failure, Status};
use crate::left_out::LeftOut;
use crate::output::{Output, OutputError};
use crate::say;

/// Why there is no plot.
#[derive(Debug, thiserror::Error)]
pub(crate) enum PlotError {
    #[error("{option} {name}: unknown file extension; use .svg, .png or .pdf")]
    Kind { option: String, name: String },
    #[error("{option} {name}: {error}")]
    Picture { option: String, name: String, error: FigureError },
    #[error(transparent)]
    Output(#[from] OutputError),
    #[error(transparent)]
    LeftOut(#[from] LeftOut),
}

impl Failure for PlotError {
    fn status(&self) -> Status {
        match self {
            Self::Picture { error: FigureError::Undrawn { .. }, .. } => Status::Failed,
            Self::Kind { .. } | Self::Picture { .. } => Status::Wrong,
            Self::Output(error) => error.status(),
            Self::LeftOut(error) => error.status(),
        }
    }
}

/// The kinds of picture.
#[derive(Clone, Copy)]
enum Kind {
    Svg,
    Png,
    Pdf,
}

/// A plot about to be written; its file is known to be one that can be.
pub(crate) struct Plot<'p> {
    option: String,
    path: &'p Path,
    kind: Kind,
    output: Output,
}

impl<'p> Plot<'p> {
    /// Opens the file; `inputs` are files that must not be written over.
    pub(crate) fn open(
        path: &'p Path,
        inputs: &[(impl AsRef<Path>, &'static str)],
    ) -> Result<Self, PlotError> {
        Self::open_for("--plot", path, inputs)
    }

    /// As [`Self::open`], for another option than `--plot`.
    pub(crate) fn open_for(
        option: &str,
        path: &'p Path,
        inputs: &[(impl AsRef<Path>, &'static str)],
    ) -> Result<Self, PlotError> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        let kind = match ending.as_deref() {
            Some("svg") => Kind::Svg,
            Some("png") => Kind::Png,
            Some("pdf") => Kind::Pdf,
            _ => return Err(PlotError::Kind { option: option.to_owned(), name: words::quoted::path(path) }),
        };
        match kind {
            Kind::Svg => {}
            Kind::Png => LeftOut::unless_drawn(option, path, "PNG")?,
            Kind::Pdf => LeftOut::unless_drawn(option, path, "PDF")?,
        }
        Ok(Self { option: option.to_owned(), path, kind, output: Output::open_for(option, path, inputs)? })
    }

    /// Puts a figure into it.
    pub(crate) fn figure(self, figure: &Figure, print: &Print) -> Result<(), PlotError> {
        let made = match self.kind {
            Kind::Svg => figure.alone(print).map(String::into_bytes),
            Kind::Png => figure.png(print),
            Kind::Pdf => figure.pdf(print),
        };
        let name = || words::quoted::path(self.path);
        let bytes =
            made.map_err(|error| PlotError::Picture { option: self.option.clone(), name: name(), error })?;
        self.output.write(false, |out| out.write_all(&bytes))?;
        let drawn = if matches!(self.kind, Kind::Svg) { None } else { figure.alone(print).ok() };
        if let Some(lacking) = drawn.and_then(|svg| without_shape(&svg)) {
            say::warning(&format_args!("{} {}: {lacking}", self.option, name()));
        }
        Ok(())
    }
}

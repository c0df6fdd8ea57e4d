//! Plots as SVG, and as PNG of the same picture.
//!
//! They are to be read in black and white and by the colour-blind: lines differ by how they are
//! dashed and carry their names, colours only help.

mod disclusion;
mod inclines;
mod raster;
pub(crate) mod study;
pub(crate) mod svg;
mod tracing;

use std::path::Path;

use crate::output::{Output, OutputError};
use crate::tracing_report::TracingReport;

pub(crate) use disclusion::{Column, figure as disclusion_figure};
pub(crate) use inclines::figure as inclines_figure;
pub(crate) use tracing::figure as tracing_figure;

/// A picture to stand on a page with other things.
pub(crate) struct Figure {
    /// An SVG of its own.
    pub(crate) svg: String,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// Why there is no plot.
#[derive(Debug, thiserror::Error)]
pub(crate) enum PlotError {
    #[error("--plot {name}: its ending tells no kind of picture; give .svg or .png")]
    Kind { name: String },
    #[error("--plot {name}: the picture could not be made: {reason}; this is a fault of the program")]
    Picture { name: String, reason: String },
}

/// The kinds of picture.
#[derive(Clone, Copy)]
enum Kind {
    Svg,
    Png,
}

/// A plot about to be written; its file is known to be one that can be.
pub(crate) struct Plot<'p> {
    path: &'p Path,
    kind: Kind,
    output: Output,
}

impl<'p> Plot<'p> {
    /// Opens the file; `inputs` are files that must not be written over.
    pub(crate) fn open(
        path: &'p Path,
        inputs: &[(&Path, &'static str)],
    ) -> Result<Self, crate::reader_failure::Failure> {
        Self::open_for("--plot", path, inputs)
    }

    /// As [`Self::open`], for another option than `--plot`.
    pub(crate) fn open_for(
        option: &str,
        path: &'p Path,
        inputs: &[(&Path, &'static str)],
    ) -> Result<Self, crate::reader_failure::Failure> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        let kind = match ending.as_deref() {
            Some("svg") => Kind::Svg,
            Some("png") => Kind::Png,
            _ => return Err(PlotError::Kind { name: path.display().to_string() }.into()),
        };
        Ok(Self { path, kind, output: Output::open_for(option, path, inputs)? })
    }

    /// Draws a tracing into it.
    pub(crate) fn tracing(self, report: &TracingReport) -> Result<(), crate::reader_failure::Failure> {
        self.picture(tracing::svg(report))
    }

    /// Puts a figure into it.
    pub(crate) fn figure(self, figure: &Figure) -> Result<(), crate::reader_failure::Failure> {
        self.picture(figure.svg.clone())
    }

    fn picture(self, svg: String) -> Result<(), crate::reader_failure::Failure> {
        let bytes = match self.kind {
            Kind::Svg => svg.into_bytes(),
            Kind::Png => raster::png(&svg)
                .map_err(|reason| PlotError::Picture { name: self.path.display().to_string(), reason })?,
        };
        let written: Result<(), OutputError> = self.output.write(false, |out| out.write_all(&bytes));
        Ok(written?)
    }
}

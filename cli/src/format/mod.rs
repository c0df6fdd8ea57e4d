//! Output formats, one a file behind one trait.

pub(crate) mod csv;
pub(crate) mod json;
pub(crate) mod table;

use std::io::{self, Write};

use clap::ValueEnum;
use sim_core::cusp::OpposingIncline;
use sim_core::setting::Departure;

use crate::comparison::Comparison;
use crate::contacts::ContactsReport;
use crate::pair_report::PairReport;
use crate::run::Run;
use crate::study::summary::Summary;
use crate::table_report::TableReport;
use crate::tracing_report::TracingReport;

/// The formats by name.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum FormatName {
    /// For people: rounded, explained
    #[default]
    Table,
    /// For spreadsheets and notebooks: full precision
    Csv,
    /// For programs: full precision, everything
    Json,
}

/// Puts a report into a form. A run is solved while it is written and never held whole.
pub(crate) trait Format {
    fn excursions(&self, run: &Run<'_>, out: &mut dyn Write) -> io::Result<()>;
    fn comparison(&self, comparison: &Comparison, out: &mut dyn Write) -> io::Result<()>;
    fn baseline(&self, title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()>;
    fn settings(&self, out: &mut dyn Write) -> io::Result<()>;
    fn contacts(&self, report: &ContactsReport, out: &mut dyn Write) -> io::Result<()>;
    fn custom_table(&self, report: &TableReport, out: &mut dyn Write) -> io::Result<()>;
    fn pair(&self, report: &PairReport, out: &mut dyn Write) -> io::Result<()>;
    fn study(&self, summary: &Summary, out: &mut dyn Write) -> io::Result<()>;
    fn tracing(&self, report: &TracingReport, out: &mut dyn Write) -> io::Result<()>;
}

impl FormatName {
    /// The format of that name.
    pub(crate) fn format(self) -> &'static dyn Format {
        match self {
            Self::Table => &table::Table,
            Self::Csv => &csv::Csv,
            Self::Json => &json::Json,
        }
    }

    /// Whether it has colours where a terminal shows them.
    pub(crate) fn is_coloured(self) -> bool {
        self == Self::Table
    }
}

/// A number as it stands, but no −0, which rounding leaves of exact rest.
fn exact(number: f64) -> f64 {
    number + 0.0
}

/// The word that CSV and JSON have for an incline, as in the scene file's field names.
fn incline_name(incline: OpposingIncline) -> &'static str {
    match incline {
        OpposingIncline::Flat => "flat",
        OpposingIncline::Protrusive => "protrusive",
        OpposingIncline::Retrusive => "retrusive",
        OpposingIncline::Working => "working",
        OpposingIncline::NonWorking => "nonworking",
    }
}

/// A setting's name as `--with` takes it for one side.
fn departure_name(departure: &Departure) -> String {
    match departure.side {
        Some(side) => format!("{side}_guide.{}", departure.key),
        None => departure.key.clone(),
    }
}

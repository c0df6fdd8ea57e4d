//! Output formats, one a file behind one trait.

pub(crate) mod csv;
pub(crate) mod json;
pub(crate) mod table;

use std::io::{self, Write};

use clap::ValueEnum;
use sim_core::cusp::OpposingIncline;
use sim_core::setting::Departure;

use report::comparison::Comparison;
use report::contacts::ContactsReport;
use report::formed_table::FormedTableReport;
use report::invented_pair::InventedPairReport;
use report::study::summary::StudySummary;
use report::tracing::TracingReport;
use report::walk::SceneWalk;

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
    fn excursions(&self, run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()>;
    fn comparison(&self, comparison: &Comparison, out: &mut dyn Write) -> io::Result<()>;
    fn baseline(&self, title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()>;
    fn settings(&self, out: &mut dyn Write) -> io::Result<()>;
    fn contacts(&self, report: &ContactsReport, out: &mut dyn Write) -> io::Result<()>;
    fn custom_table(&self, report: &FormedTableReport, out: &mut dyn Write) -> io::Result<()>;
    fn pair(&self, report: &InventedPairReport, out: &mut dyn Write) -> io::Result<()>;
    fn study(&self, summary: &StudySummary, out: &mut dyn Write) -> io::Result<()>;
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

//! CSV: one row a sample and cusp, full precision, the same columns whatever the scene holds.

mod contacts;
mod planned;
mod rows;
mod study;

pub(crate) use planned::write as planned;

use std::io::{self, Write};

use nalgebra::Vector3;
use sim_core::cusp::Tooth;
use sim_core::excursion::{CondyleReading, Placement};
use sim_core::setting::{self, Choice, Departure, DepartureValue};

use super::{Format, departure_name, exact, incline_name};
use crate::tracing_file::COLUMNS;
use report::comparison::{Both, Comparison, ExcursionChange, Only, Values};
use report::contacts::ContactsReport;
use report::formed_table::FormedTableReport;
use report::invented_pair::{InventedPairReport, place_of};
use report::study::summary::StudySummary;
use report::tracing::TracingReport;
use report::walk::{ExcursionWalk, SceneWalk};
use rows::Rows;

/// CSV.
pub(super) struct Csv;

const EXCURSION_COLUMNS: [&str; 29] = [
    "excursion",
    "excursion_number",
    "sample",
    "advance_mm",
    "opening_deg",
    "guided_by",
    "guide_plane",
    "right_advance_mm",
    "right_medial_mm",
    "right_drop_mm",
    "left_advance_mm",
    "left_medial_mm",
    "left_drop_mm",
    "incisal_x_mm",
    "incisal_y_mm",
    "incisal_z_mm",
    "tooth",
    "name",
    "separation_mm",
    "clearance_mm",
    "incline",
    "upper_tooth",
    "lower_tooth",
    "contact_x_mm",
    "contact_y_mm",
    "contact_z_mm",
    "pin_lift_mm",
    "least_vertical_gap_mm",
    "least_distance_mm",
];

/// A long table: one row a quantity, so that settings and cusps fit in one file.
const COMPARISON_COLUMNS: [&str; 11] = [
    "excursion",
    "occurrence",
    "tooth",
    "name",
    "quantity",
    "first",
    "second",
    "change",
    "first_word",
    "second_word",
    "only_in",
];

impl Format for Csv {
    fn excursions(&self, run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&EXCURSION_COLUMNS, out)?;
        for solving in run.excursions() {
            for (sample, placement) in solving.samples().enumerate() {
                write_sample(&mut rows, &solving, sample, &placement, run.scene().cusps.is_empty())?;
            }
        }
        rows.end()
    }

    fn comparison(&self, comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&COMPARISON_COLUMNS, out)?;
        for setting in &comparison.settings {
            let (both, words) = match &setting.values {
                Values::Number { both, .. } => (*both, ("", "")),
                Values::Word { first, second } => (Both::NONE, (first.as_str(), second.as_str())),
            };
            rows.put(("", "", "", "", &setting.name, numbers(both), words, ""))?;
        }
        for excursion in &comparison.excursions {
            write_excursion(&mut rows, excursion)?;
        }
        rows.end()
    }

    fn baseline(&self, _title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&["setting", "label", "side", "is", "zeroed", "unit"], out)?;
        for departure in departures {
            let side = departure.side.map_or("", |side| side.name());
            let start = (departure_name(departure), departure.label, side);
            match departure.value {
                DepartureValue::Number { is, zeroed, unit } => {
                    rows.put((start, is, zeroed, unit.words()))?;
                }
                DepartureValue::Word { is, zeroed } => rows.put((start, is, zeroed, ""))?,
            }
        }
        rows.end()
    }

    fn settings(&self, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(
            &["name", "label", "unit", "min", "max", "step", "zeroed", "words", "each_side", "doc"],
            out,
        )?;
        for setting in setting::listed() {
            let facts = setting.facts;
            let range = (facts.min, facts.max, facts.step, facts.zeroed);
            let start = (setting.name, facts.label, facts.unit.words());
            rows.put((start, range, "", setting.each_side, facts.doc))?;
        }
        for choice in Choice::ALL {
            let words = choice.words().join(" ");
            let start = (choice.key(), choice.label(), "");
            rows.put((start, ("", "", "", ""), words, choice.is_per_side(), ""))?;
        }
        rows.end()
    }

    fn contacts(&self, report: &ContactsReport, out: &mut dyn Write) -> io::Result<()> {
        contacts::write(report, out)
    }

    /// The points of the grid, row by row.
    fn custom_table(&self, report: &FormedTableReport, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&["row", "column", "x_mm", "y_mm", "z_mm", "swept"], out)?;
        let (down, across) = report.formed.field().size();
        for (row, column) in (0..down).flat_map(|row| (0..across).map(move |column| (row, column))) {
            let Some(point) = report.formed.field().point(row, column) else { continue };
            rows.put((row, column, point.map(exact), report.formed.is_swept(row, column)))?;
        }
        rows.end()
    }

    /// The cusps and where they are.
    fn pair(&self, report: &InventedPairReport, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&["tooth", "name", "x_mm", "y_mm", "z_mm"], out)?;
        for cusp in &report.cusps {
            rows.put((cusp.tooth().number(), cusp.name(), exact_coordinates(&place_of(cusp))))?;
        }
        rows.end()
    }

    /// The points of the legs from the apex outward, to be read again.
    fn study(&self, summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
        study::write(summary, out)
    }

    fn tracing(&self, report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
        let mut rows = Rows::under(&COLUMNS, out)?;
        for leg in &report.findings.legs {
            for point in &leg.line {
                rows.put((leg.leg.name(), exact(point.forward.mm()), exact(point.left.mm())))?;
            }
        }
        rows.end()
    }
}

fn write_sample(
    rows: &mut Rows<'_>,
    solving: &ExcursionWalk<'_>,
    sample: usize,
    placement: &Placement,
    no_cusps: bool,
) -> io::Result<()> {
    let condyle = |reading: &CondyleReading| {
        (exact(reading.advance.mm()), exact(reading.medial.mm()), exact(reading.drop.mm()))
    };
    let start = (
        (solving.excursion().movement().name(), solving.number(), sample),
        (exact(placement.advance().mm()), exact(placement.opening().degrees())),
        (placement.guidance.name(), placement.guidance.plane().map_or("", |plane| plane.name())),
        (
            condyle(&placement.right),
            condyle(&placement.left),
            exact_coordinates(placement.incisal_point.coords()),
        ),
    );
    let teeth = placement.guidance.teeth();
    let number = |tooth: Option<Tooth>| tooth.map(Tooth::number);
    let at = teeth.map(|stop| exact_coordinates(stop.at.coords()));
    let closeness = solving.closeness(placement);
    let casts = (
        (number(teeth.and_then(|stop| stop.upper_tooth)), number(teeth.and_then(|stop| stop.lower_tooth))),
        [0, 1, 2].map(|axis| at.map(|at| at[axis])),
        placement.pin_lift.map(|lift| exact(lift.mm())),
        closeness.and_then(|closeness| closeness.vertical_gap).map(|gap| exact(gap.mm())),
        closeness.map(|closeness| exact(closeness.distance.mm())),
    );
    if no_cusps {
        rows.put((&start, ["", "", "", "", ""], &casts))?;
    }
    for (cusp, reading) in solving.cusps(placement) {
        let (separation, clearance) = (reading.separation.mm(), reading.clearance.mm());
        let end = (exact(separation), exact(clearance), incline_name(reading.incline));
        rows.put((&start, cusp.tooth().number(), cusp.name(), end, &casts))?;
    }
    Ok(())
}

fn exact_coordinates(place: &Vector3<f64>) -> [f64; 3] {
    [place.x, place.y, place.z].map(exact)
}

fn write_excursion(rows: &mut Rows<'_>, excursion: &ExcursionChange) -> io::Result<()> {
    let start = (excursion.name, excursion.occurrence);
    let no_words = ("", "");
    let whole = [
        ("advance_mm", excursion.advance_mm),
        ("opening_deg", excursion.opening_deg),
        ("pin_lift_mm", excursion.pin_lift_mm),
    ];
    let guided = &excursion.guided_by;
    let words = (guided.first.as_deref().unwrap_or(""), guided.second.as_deref().unwrap_or(""));
    rows.put((start, "", "", "guided_by", numbers(Both::NONE), words, only_name(excursion.only_in)))?;
    for (quantity, both) in whole {
        rows.put((start, "", "", quantity, numbers(both), no_words, only_name(excursion.only_in)))?;
    }
    for cusp in &excursion.cusps {
        let only = only_name(excursion.only_in.or(cusp.only_in));
        let quantities = [
            ("separation_mm", cusp.separation_mm),
            ("clearance_mm", cusp.clearance_mm),
            ("least_clearance_mm", cusp.least_clearance_mm),
        ];
        for (quantity, both) in quantities {
            rows.put((start, cusp.tooth, &cusp.name, quantity, numbers(both), no_words, only))?;
        }
    }
    Ok(())
}

fn numbers(both: Both) -> (Option<f64>, Option<f64>, Option<f64>) {
    (both.first.map(exact), both.second.map(exact), both.change.map(exact))
}

fn only_name(only: Option<Only>) -> &'static str {
    match only {
        None => "",
        Some(Only::First) => "first",
        Some(Only::Second) => "second",
    }
}

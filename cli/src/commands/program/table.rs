//! A programmed case: settings, the centric check, the records, the warnings.

use std::io::{self, Write};

use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::record::RecordFields;
use sim_core::record::fit::BenchFit;
use sim_core::record::program::{ProgrammedAngle, ReadRecord};
use sim_core::units::Length;
use words::name::letter;

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, groove_gaps, printable_line};
use report::case::WorkedCase;
use words::caution::TISSUE;
use words::number::{two_decimals, with_unit};
use words::verdict::warning::DISCLUSION_NOT_TOLD;

const LEGEND: &str = "±: one standard error, from the stated noise of the records alone, and for a mounting by averages \
    also from the spread between people; `eminentia doubt` and the sheet add the axis, the reference points and the \
    scale. A dash where nothing says how noisy the records are, and by rule, where nobody knows. H: horizontal condylar \
    inclination; L: lateral condylar angle (Bennett angle); both are those of the straight line from the seat to the \
    record; where the path is curved, it is steeper at the seat. Tracing: how far the incisal point has gone along the \
    occlusal plane, in millimetres, as a tracing shows it; a protrusive record is usually taken at 6. Condyles in \
    millimetres from their stop: forward, toward the midline, down; below zero the other way.";

/// Writes a programmed case.
pub(super) fn write(worked: &WorkedCase, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&worked.case.title))?;
    writeln!(out, "{}\n", textwrap::fill(&worked.mounting_words(), width))?;
    centric(worked, width, out)?;
    if worked.programmed.settings.is_some() {
        writeln!(out, "{BOLD}Settings{BOLD:#}")?;
        settings(worked).write(out)?;
        writeln!(out, "{}", textwrap::fill(&format!("{}.", worked.reference_words()), width))?;
        anterior(worked, width, out)?;
        if let Some(fit) = &worked.bench {
            writeln!(out, "{}", textwrap::fill(&bench(fit), width))?;
        }
        writeln!(out)?;
    }
    records(worked).write(out)?;
    if !worked.warnings.is_empty() {
        writeln!(out, "\n{BOLD}Warnings{BOLD:#}")?;
    }
    for warning in &worked.warnings {
        let options = textwrap::Options::new(width).initial_indent("- ").subsequent_indent("  ");
        writeln!(out, "{}", textwrap::fill(&printable_line(warning), options))?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(&format!("{LEGEND} {TISSUE}"), width))
}

fn centric(worked: &WorkedCase, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let (word, sentences) = worked.centric_verdict();
    let confirmed = worked.programmed.centric.as_ref().is_some_and(|check| check.confirmed);
    let style = if confirmed { BOLD } else { ALARM };
    writeln!(out, "{BOLD}Centric record{BOLD:#}  {style}{word}{style:#}")?;
    writeln!(out, "{}", textwrap::fill(&sentences, width))?;
    if let Some(check) = &worked.programmed.centric {
        let case = &worked.case;
        groove_gaps(case.groove_names(), &check.gaps, case.split_cast_tolerance_mm.length(), 2, ALARM)
            .write(out)?;
    }
    writeln!(out)
}

fn settings(worked: &WorkedCase) -> Grid {
    let mut grid = Grid::new(vec![(2, 0), (2, 0), (2, 7), (1, 7), (2, 0)]);
    for side in Side::BOTH {
        let Some(settings) = worked.programmed.side(side) else { continue };
        let guide = format!("{side} guide");
        row(
            &mut grid,
            &guide,
            letter(&CondylarGuide::HORIZONTAL_INCLINATION.facts),
            &settings.horizontal_inclination,
        );
        row(&mut grid, "", letter(&CondylarGuide::LATERAL_ANGLE.facts), &settings.lateral_angle);
        let immediate = worked.immediate_translation_mm(side);
        if immediate != 0.0 {
            grid.row(vec![
                Cell::left(""),
                Cell::left("immediate translation"),
                Cell::right(format!("{} mm", two_decimals(immediate))),
                Cell::right(""),
                Cell::left("as the case gives it"),
            ]);
        }
    }
    grid
}

/// The anterior guide, as it is to be set.
fn anterior(worked: &WorkedCase, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let Some(anterior) = worked.anterior_settings() else { return Ok(()) };
    if !anterior.rows.is_empty() {
        writeln!(out, "{BOLD}Anterior guide: {}{BOLD:#}", anterior.name)?;
        let mut grid = Grid::new(vec![(2, 0), (2, 7), (2, 0)]);
        for row in &anterior.rows {
            grid.row(vec![
                Cell::left(row.facts.label),
                Cell::right(with_unit(row.value, row.facts.unit, 2)),
                Cell::left(row.from.as_str()),
            ]);
        }
        grid.write(out)?;
    }
    let note = match (&anterior.note, anterior.rows.is_empty()) {
        (Some(note), _) => note.clone(),
        (None, true) => format!("{DISCLUSION_NOT_TOLD}."),
        (None, false) => return Ok(()),
    };
    writeln!(out, "{}", textwrap::fill(&format!("Anterior guide: {}. {note}", anterior.name), width))
}

/// The settings by the bench way, in a sentence.
fn bench(fit: &BenchFit) -> String {
    let guide = |side: Side| {
        let settings = fit.side(side);
        let lateral = settings.lateral_angle.map(|angle| format!(", L {}°", two_decimals(angle.degrees())));
        let inclination = two_decimals(settings.horizontal_inclination.degrees());
        format!("{side} H {inclination}°{}", lateral.unwrap_or_default())
    };
    let expected = fit.expected_rms.map(|rms| format!(", {} mm to be expected", two_decimals(rms.mm())));
    format!(
        "By the bench way, closing the split-cast gap over all records at once: {}; {}. Gap left over {} mm (root mean \
         square{}), {} mm at most.",
        guide(Side::Right),
        guide(Side::Left),
        two_decimals(fit.rms.mm()),
        expected.unwrap_or_default(),
        two_decimals(fit.greatest.mm()),
    )
}

fn row(grid: &mut Grid, guide: &str, name: &str, setting: &ProgrammedAngle) {
    let read = &setting.angle;
    let error = read.standard_error.map(|error| format!("± {}°", two_decimals(error.degrees())));
    let from = words::verdict::warning::source(setting.from);
    grid.row(vec![
        Cell::left(guide).styled(BOLD),
        Cell::left(name),
        Cell::right(format!("{}°", two_decimals(read.value.degrees()))),
        Cell::right(error.unwrap_or("–".to_owned())),
        Cell::left(if read.records > 1 {
            format!("mean of {} {from}s", read.records)
        } else {
            from.to_owned()
        }),
    ]);
    if let Some(scatter) = read.scatter {
        let mut cells: Vec<Cell> = [(); 4].map(|()| Cell::left("")).into();
        cells
            .push(Cell::left(format!("which scatter by {}°", two_decimals(scatter.degrees()))).styled(FAINT));
        grid.row(cells);
    }
}

fn records(worked: &WorkedCase) -> Grid {
    let mut grid = Grid::new(vec![(0, 16), (2, 6), (2, 7), (3, 6), (1, 6), (1, 6), (3, 6), (1, 6), (1, 6)]);
    grid.row(vec![
        Cell::left("Records").styled(BOLD),
        Cell::right("").styled(FAINT),
        Cell::right("").styled(FAINT),
        Cell::left("right condyle").across(3).styled(BOLD),
        Cell::left("left condyle").across(3).styled(BOLD),
    ]);
    let mut heads = vec![Cell::left(""), Cell::right("misfit"), Cell::right("tracing")];
    for _ in Side::BOTH {
        heads.extend(["adv.", "medial", "drop"].map(Cell::right));
    }
    grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
    for (index, (record, distance)) in worked.programmed.records.iter().zip(&worked.distances).enumerate() {
        grid.row(record_row(index, record, &worked.case.records[index], *distance));
    }
    grid
}

fn record_row(
    index: usize,
    record: &ReadRecord,
    given: &RecordFields,
    distance: Option<Length>,
) -> Vec<Cell> {
    let name = format!("{} {}", index + 1, words::name::record(record.kind));
    if let Some(read_as) = words::name::read_at_the_bench(given) {
        return vec![Cell::left(name), Cell::left(read_as).across(8).styled(FAINT)];
    }
    let mut row = vec![
        Cell::left(name),
        Cell::right(record.fit_rms.map_or("–".to_owned(), |rms| two_decimals(rms.mm()))),
        Cell::right(distance.map_or("–".to_owned(), |distance| two_decimals(distance.mm()))),
    ];
    for side in Side::BOTH {
        match &record.reading {
            Some(reading) => {
                let condyle = reading.condyle(side);
                let three = [condyle.advance, condyle.medial, condyle.drop];
                row.extend(three.map(|length| Cell::right(two_decimals(length.mm()))));
            }
            None => row.extend([(); 3].map(|()| Cell::right("–").styled(FAINT))),
        }
    }
    row
}

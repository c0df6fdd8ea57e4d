//! How far to trust a case: the spread of settings and disclusion, and where it comes from.

use std::io::{self, Write};

use sim_core::doubt::{AxisError, DISCLUSION_ADVANCE_MM, Doubt, DoubtSource, PUBLISHED_ERROR_MM, Spread};
use sim_core::excursion::Movement;
use sim_core::record::program::Source;

use crate::output::{BOLD, Cell, FAINT, Grid, printable, printable_line};
use words::number::{percent_with, two_decimals};
use words::verdict::warning::DISCLUSION_NOT_TOLD;

const LEGEND: &str = "H: horizontal condylar inclination; L: lateral condylar (Bennett) angle. sd: standard deviation over the draws. An angle by rule has none: how far this patient is from the rule is not known. 95 % of them lie between the two bounds. Under each \
    source, the part of the variance that it makes alone; together they come to about 100 % where errors are small \
    enough to add. The largest is set bold. Disclusion is the clearance to the opposing inclines, below zero an \
    interference.";

/// Writes it all.
pub(super) fn write(
    title: &str,
    doubt: &Doubt,
    seed: u64,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(title))?;
    writeln!(out, "{}\n", textwrap::fill(&taken(doubt, seed), width))?;
    let mut grid = grid("degrees");
    for setting in &doubt.settings {
        let what = words::name::letter(setting.setting);
        let name = format!("{} {what}", setting.side);
        match setting.from {
            Source::Record(_) => row(&mut grid, name, &setting.spread),
            Source::Rule => {
                let value = Cell::right(two_decimals(setting.spread.value));
                grid.row(vec![Cell::left(name), value, Cell::left("by rule")]);
            }
        }
    }
    grid.write(out)?;
    let mut last: Option<Movement> = None;
    let mut grid = self::grid(&format!("disclusion at {DISCLUSION_ADVANCE_MM} mm advance, mm"));
    for cusp in &doubt.cusps {
        if last != Some(cusp.movement) {
            grid.row(vec![Cell::left(words::name::movement(cusp.movement)).styled(BOLD)]);
            last = Some(cusp.movement);
        }
        row(&mut grid, format!("  {} {}", cusp.tooth, printable(&cusp.name)), &cusp.spread);
    }
    writeln!(out)?;
    if !doubt.has_anterior_guide {
        writeln!(out, "{}", textwrap::fill(&format!("{DISCLUSION_NOT_TOLD}."), width))?;
    } else if doubt.cusps.is_empty() {
        writeln!(out, "The case watches no cusp, so no disclusion is read.")?;
    } else {
        grid.write(out)?;
    }
    writeln!(out)?;
    axis(&doubt.axis, width, out)?;
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

/// What was disturbed.
fn taken(doubt: &Doubt, seed: u64) -> String {
    let taken = &doubt.uncertainties;
    let failed = match doubt.failed {
        0 => String::new(),
        failed => format!(" {failed} draws gave no instrument and are left out."),
    };
    let unmoved = if taken.readings {
        " Axis and reference points count where the case gives their coordinates."
    } else {
        ""
    };
    format!(
        "{} draws, seed {seed}. Standard deviations taken: {}landmarks {} mm, axis points {} mm, reference points \
         {} mm in each coordinate; records {} mm in height at each support; scales graduated in {}°.{unmoved}{failed}",
        doubt.draws,
        if taken.readings { "scales and caliper as the case states (under landmarks), " } else { "" },
        taken.landmark_sd.mm(),
        taken.axis_sd.mm(),
        taken.reference_sd.mm(),
        taken.record_sd.mm(),
        taken.scale_step.degrees(),
    )
}

fn grid(unit: &str) -> Grid {
    let mut columns = vec![(0, 22), (2, 6), (2, 5), (2, 6), (1, 6)];
    columns.extend([(2, 5); DoubtSource::ALL.len()]);
    let mut grid = Grid::new(columns);
    let mut heads = vec![Cell::left(unit).styled(BOLD)];
    heads.extend(["as read", "sd", "from", "to"].map(|head| Cell::right(head).styled(FAINT)));
    heads.extend(DoubtSource::ALL.map(|source| Cell::right(source.name()).styled(FAINT)));
    grid.row(heads);
    grid
}

fn row(grid: &mut Grid, name: String, spread: &Spread) {
    let mut cells = vec![Cell::left(name)];
    let [from, .., to] = spread.quantiles;
    cells.extend([spread.value, spread.sd, from, to].map(|number| Cell::right(two_decimals(number))));
    let dominant = spread.dominant();
    cells.extend(DoubtSource::ALL.into_iter().zip(spread.shares).map(|(source, share)| {
        let cell = Cell::right(percent_with(share, 0));
        if dominant == Some(source) { cell.styled(BOLD) } else { cell }
    }));
    grid.row(cells);
}

fn axis(axis: &AxisError, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}A misplaced axis, at the second molar{BOLD:#}")?;
    let mut say = |text: String| {
        let options = textwrap::Options::new(width).initial_indent("- ").subsequent_indent("  ");
        writeln!(out, "{}", textwrap::fill(&text, options))
    };
    let [at_molar, at_incisor] = &axis.closed_form;
    say(format!(
        "Axis {} mm off, a record closed out that is {} mm thick at the second molar: {} mm off; {} mm thick at \
         the incisal point: {} mm off. Published: about {PUBLISHED_ERROR_MM} mm (Weinberg 1961, from memory).",
        at_molar.axis_off.mm(),
        at_molar.thickness.mm(),
        two_decimals(at_molar.error.mm()),
        at_incisor.thickness.mm(),
        two_decimals(at_incisor.error.mm()),
    ))?;
    let population = &axis.population;
    let parts = |[under, between, over]: [f64; 3]| {
        format!(
            "{} under 0.3 mm, {} from 0.3 to 0.5 mm, {} over 0.5 mm",
            percent_with(under, 0),
            percent_with(between, 0),
            percent_with(over, 0)
        )
    };
    say(format!(
        "Axis points off at random by the deviation taken, the vertical dimension changed by {} mm: median {} mm, \
         19 in 20 below {} mm; {}.",
        population.change.mm(),
        two_decimals(population.median.mm()),
        two_decimals(population.most.mm()),
        parts(population.parts),
    ))?;
    if !axis.of_the_case {
        say("The case watches no second molar; an invented place was taken for it.".to_owned())?;
    }
    Ok(())
}

//! An invented pair: its settings, its files, its cusps.

use std::io::{self, Write};

use sim_core::cast::invented::CastKind;
use sim_core::cusp::{Arch, Cusp};
use sim_core::facts::Facts;

use crate::output::{BOLD, Cell, FAINT, Grid, UNBROKEN, printable, printable_line};
use report::invented_pair::InventedPairReport;
use words::number::{as_set, two_decimals};

const LEGEND: &str = "Millimetres at rest, from the middle of the intercondylar axis. Nobody's teeth: the crown widths \
    are published means, the rest is made up from the settings.";

/// Writes what was made.
pub(super) fn write(report: &InventedPairReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    let settings = textwrap::fill(&settings_line(report), width).replace(UNBROKEN, " ");
    writeln!(out, "{settings}\n")?;
    let mut files = Grid::new(vec![(0, 0), (2, 0), (2, 0), (1, 0)]);
    for (arch, cast) in [("upper cast", &report.upper), ("lower cast", &report.lower)] {
        let count = Cell::right(cast.triangles.to_string());
        files.row(vec![Cell::left(arch), Cell::left(&*cast.file), count, Cell::left("triangles")]);
    }
    files.write(out)?;
    let mut grid = Grid::new([(0, 0), (2, 0), (2, 0), (2, 7), (2, 7), (2, 7)].into());
    for arch in [Arch::Upper, Arch::Lower] {
        grid.blank();
        let label = if arch == Arch::Upper { "Upper teeth" } else { "Lower teeth" };
        let mut heads = vec![Cell::left(label).styled(BOLD).across(3)];
        heads.extend(["ahead", "left", "up"].map(|head| Cell::right(head).styled(FAINT)));
        grid.row(heads);
        for cusp in report.cusps.iter().filter(|cusp| cusp.tooth().arch() == arch) {
            grid.row(cusp_row(cusp));
        }
    }
    grid.write(out)?;
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

fn cusp_row(cusp: &Cusp) -> Vec<Cell> {
    let place = cusp.at_mm();
    let mut cells = vec![Cell::left(cusp.tooth().to_string()), Cell::left(printable(cusp.name()))];
    cells.push(Cell::left(""));
    cells.extend([place.x, place.y, place.z].map(|number| Cell::right(two_decimals(number))));
    cells
}

/// What the generator is set to, in a sentence.
fn settings_line(report: &InventedPairReport) -> String {
    let kind = match report.invented_casts.kind {
        CastKind::Dentate => "Natural teeth",
        CastKind::CompleteDenture => "Complete dentures",
    };
    let number = |(facts, number): &(&Facts, f64)| {
        format!("{}{UNBROKEN}{}{}", facts.label, as_set(*number), facts.unit.sign())
    };
    let settings: Vec<String> = report.settings.iter().map(number).collect();
    format!("{kind}; {}.", settings.join("; "))
}

//! Two scenes beside each other, one section an excursion.

use std::io::{self, Write};

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable, printable_line};
use report::comparison::{Both, BothWords, Comparison, CuspChange, ExcursionChange, Only, Values};
use words::number::{as_set, signed, two_decimals};

const LEGEND: &str = "Millimetres at the end of the excursion; the separation is counted from where it starts. front down: how far the \
    jaw has turned; below zero it has turned front up. A cusp interferes where its clearance is below zero, \
    at the end or on the way.";

/// Writes a comparison.
pub(super) fn write(comparison: &Comparison, width: usize, out: &mut dyn Write) -> io::Result<()> {
    for (label, titled) in [("first ", &comparison.first), ("second", &comparison.second)] {
        let (title, from) = (printable_line(&titled.title), printable_line(&titled.from));
        writeln!(out, "{FAINT}{label}{FAINT:#}  {BOLD}{title}{BOLD:#}  {FAINT}{from}{FAINT:#}")?;
    }
    writeln!(out)?;
    settings(comparison).write(out)?;
    for excursion in &comparison.excursions {
        writeln!(out)?;
        section(excursion).write(out)?;
        for (which, stopped) in [("first", &excursion.stopped.first), ("second", &excursion.stopped.second)] {
            if let Some(no_pose) = stopped {
                let sentence = textwrap::fill(&format!("{which} stopped short: {no_pose}."), width);
                writeln!(out, "{ALARM}{sentence}{ALARM:#}")?;
            }
        }
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

fn settings(comparison: &Comparison) -> Grid {
    let mut grid = Grid::new(vec![(0, 0), (3, 8), (2, 8), (2, 8)]);
    if comparison.settings.is_empty() {
        grid.row(vec![Cell::left("No setting differs.")]);
        return grid;
    }
    let heads = [Cell::left("setting"), Cell::right("first"), Cell::right("second"), Cell::right("change")];
    grid.row(heads.into_iter().map(|cell| cell.styled(BOLD)).collect());
    for setting in &comparison.settings {
        let mut row = vec![Cell::left(&*setting.name)];
        match &setting.values {
            Values::Number { both, .. } => {
                row.push(Cell::right(both.first.map_or("–".to_owned(), as_set)));
                row.push(Cell::right(both.second.map_or("–".to_owned(), as_set)));
                row.push(Cell::right(both.change.map_or(String::new(), signed)));
            }
            Values::Word { first, second } => {
                row.push(Cell::right(&**first));
                row.push(Cell::right(&**second));
            }
        }
        grid.row(row);
    }
    grid
}

fn section(excursion: &ExcursionChange) -> Grid {
    let mut grid = Grid::new(vec![(0, 16), (3, 6), (2, 6), (2, 6), (4, 6), (2, 6), (2, 6), (3, 0)]);
    let mut name = words::name::spoken(excursion.name);
    if excursion.occurrence > 1 {
        name = format!("{name} ({})", excursion.occurrence);
    }
    let remark = Cell::left(only_words(excursion.only_in)).styled(FAINT);
    grid.row(vec![
        Cell::left(name).styled(BOLD),
        Cell::left("separation").across(3).styled(BOLD),
        Cell::left("clearance").across(3).styled(BOLD),
        remark,
    ]);
    let mut heads = vec![Cell::left("")];
    heads.extend(
        ["first", "second", "change", "first", "second", "change"]
            .map(|head| Cell::right(head).styled(FAINT)),
    );
    grid.row(heads);
    for cusp in &excursion.cusps {
        grid.row(cusp_row(cusp));
    }
    let (advance, opening) = (excursion.advance_mm, excursion.opening_deg);
    grid.row(whole_row("advance, mm", advance));
    grid.row(whole_row("front down, °", opening));
    let BothWords { first, second } = &excursion.guided_by;
    let has_casts = excursion.pin_lift_mm.first.or(excursion.pin_lift_mm.second).is_some();
    if first != second || has_casts {
        let word = |words: &Option<String>| words.clone().unwrap_or("–".to_owned());
        let words = format!("first {}, second {}", word(first), word(second));
        grid.row(vec![Cell::left("guided by").styled(FAINT), Cell::left(words).across(7)]);
    }
    if has_casts {
        grid.row(whole_row("pin lifted, mm", excursion.pin_lift_mm));
    }
    grid
}

fn cusp_row(cusp: &CuspChange) -> Vec<Cell> {
    let mut row = vec![Cell::left(format!("{} {}", cusp.tooth, printable(&cusp.name)))];
    row.extend(three(cusp.separation_from_start_mm));
    let [first, second, change] = three(cusp.clearance_mm);
    let alarm = |cell: Cell, interferes| if interferes == Some(true) { cell.styled(ALARM) } else { cell };
    row.extend([alarm(first, cusp.interferes.first), alarm(second, cusp.interferes.second), change]);
    row.push(Cell::left(remark(cusp)).styled(FAINT));
    row
}

/// What is to be said of a cusp beside its numbers.
fn remark(cusp: &CuspChange) -> String {
    let interference = match (cusp.interferes.first == Some(true), cusp.interferes.second == Some(true)) {
        (true, true) => "interferes in both",
        (true, false) => "interferes in first",
        (false, true) => "interferes in second",
        (false, false) => "",
    };
    let differs = cusp.differs_in.iter().map(|field| match *field {
        "at_mm" => "stands elsewhere",
        _ => "opposed otherwise",
    });
    let parts = [interference, only_words(cusp.only_in)].into_iter().chain(differs);
    parts.filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

fn whole_row(label: &str, both: Both) -> Vec<Cell> {
    let mut row = vec![Cell::left(label).styled(FAINT)];
    row.extend(three(both));
    row
}

fn three(both: Both) -> [Cell; 3] {
    let number = |number: Option<f64>| Cell::right(number.map_or("–".to_owned(), two_decimals));
    [number(both.first), number(both.second), Cell::right(both.change.map_or(String::new(), signed))]
}

fn only_words(only: Option<Only>) -> &'static str {
    match only {
        None => "",
        Some(Only::First) => "only in first",
        Some(Only::Second) => "only in second",
    }
}

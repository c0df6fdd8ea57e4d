//! What was dealt, and how an answer was marked.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use sim_core::doubt::DISCLUSION_ADVANCE_MM;
use sim_core::practice::{DealNumber, Mark, POINTS_PER_SETTING, POINTS_PER_VERDICT, Verdict, VerdictOutcome};
use sim_core::units::Angle;

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable};
use words::number::{one_decimal, signed, two_decimals};

const LEGEND: &str = "H: horizontal condylar inclination; L: lateral condylar (Bennett) angle. A setting earns its points within half a \
    graduation (0.5°) of what the records give, or as near the truth as they allow: two standard errors, at least half \
    a graduation. Each degree farther costs 3 points. What must be made again or put right first is rejected, and what \
    rests on it is left open, which earns the points: every setting rests on tracing and centric record, both H on the \
    protrusive record, L of a guide on the lateral record to the other side, H of a guide on its lock. A right verdict \
    earns its points; of a centric record that is off, half of them are for the direction.";

/// Writes what was dealt.
pub(super) fn dealt(
    number: DealNumber,
    handed_out: &[PathBuf],
    key: &Path,
    seed_given: bool,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    writeln!(out, "{BOLD}Practice deal {number}{BOLD:#} (an invented patient)")?;
    for path in handed_out {
        writeln!(out, "  hand out  {}", words::quoted::path(path))?;
    }
    writeln!(out, "  keep      {}", words::quoted::path(key))?;
    if seed_given {
        let note = "You chose the seed: whoever guesses it can deal the same patient. Without --seed it is drawn at random.";
        writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(note, width))?;
    }
    Ok(())
}

/// Writes a marked answer.
pub(super) fn marked(mark: &Mark, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}Practice deal {}: {} of 100 points{BOLD:#}\n", mark.deal, one_decimal(mark.points))?;
    settings(mark).write(out)?;
    writeln!(out)?;
    verdicts(mark).write(out)?;
    writeln!(out)?;
    if mark.disclusion.is_empty() {
        writeln!(out, "Disclusion is read only when all four settings are given.")?;
    } else {
        disclusion(mark).write(out)?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

fn settings(mark: &Mark) -> Grid {
    let mut grid = Grid::new(vec![(0, 0), (2, 6), (2, 6), (2, 6), (1, 0), (2, 0), (2, 0)]);
    let mut heads = vec![Cell::left("setting, degrees").styled(BOLD)];
    heads.extend(["answer", "truth", "records"].map(|head| Cell::right(head).styled(FAINT)));
    heads.extend([Cell::left(""), Cell::right("points").styled(FAINT), Cell::left("")]);
    grid.row(heads);
    let degrees = |angle: Option<Angle>| angle.map_or("–".to_owned(), |angle| one_decimal(angle.degrees()));
    for one in &mark.settings {
        let what = words::name::letter(one.setting);
        let error =
            one.standard_error.map_or(String::new(), |error| format!("± {}", one_decimal(error.degrees())));
        grid.row(vec![
            Cell::left(format!("{} {what}", one.side)),
            Cell::right(degrees(one.answer)),
            Cell::right(one_decimal(one.truth.degrees())),
            Cell::right(degrees(one.read)),
            Cell::left(error),
            points(one.points, POINTS_PER_SETTING),
            Cell::left(words::verdict::mark::setting(one.outcome)),
        ]);
    }
    grid
}

fn verdicts(mark: &Mark) -> Grid {
    let mut grid = Grid::new(vec![(0, 0), (2, 0), (2, 0), (2, 0)]);
    let heads = [Cell::left("verdict").styled(BOLD), Cell::left("answer").styled(FAINT)];
    grid.row(heads.into_iter().chain([Cell::right("points").styled(FAINT), Cell::left("")]).collect());
    for one in &mark.verdicts {
        let verdict = match one.verdict {
            Verdict::Open => "open",
            Verdict::Accepted => "accepted",
            Verdict::Rejected => "rejected",
        };
        let why = match one.outcome {
            VerdictOutcome::Found
            | VerdictOutcome::FoundOtherWay
            | VerdictOutcome::Missed
            | VerdictOutcome::OpenAtFault => {
                format!(
                    "{}: {}",
                    words::verdict::mark::verdict(one.outcome),
                    words::verdict::mark::faults(&one.faults, mark.centric_off)
                )
            }
            _ => words::verdict::mark::verdict(one.outcome).to_owned(),
        };
        grid.row(vec![
            Cell::left(words::name::spoken(one.check.name())),
            Cell::left(verdict),
            points(one.points, POINTS_PER_VERDICT),
            Cell::left(why),
        ]);
    }
    grid
}

fn points(points: f64, of: f64) -> Cell {
    let cell = Cell::right(format!("{} of {of}", one_decimal(points)));
    if points < of { cell.styled(ALARM) } else { cell }
}

fn disclusion(mark: &Mark) -> Grid {
    let mut grid = Grid::new(vec![(0, 0), (2, 6), (2, 6), (2, 6)]);
    let head = format!("disclusion at {DISCLUSION_ADVANCE_MM} mm advance, mm");
    let mut heads = vec![Cell::left(head).styled(BOLD)];
    heads.extend(["truth", "answer", "error"].map(|head| Cell::right(head).styled(FAINT)));
    grid.row(heads);
    let mut last = None;
    for one in &mark.disclusion {
        if last != Some(one.movement) {
            grid.row(vec![Cell::left(words::name::movement(one.movement)).styled(BOLD)]);
            last = Some(one.movement);
        }
        let (truth, answer) = (one.truth.mm(), one.answer.mm());
        grid.row(vec![
            Cell::left(format!("  {} {}", one.tooth, printable(&one.name))),
            Cell::right(two_decimals(truth)),
            Cell::right(two_decimals(answer)),
            Cell::right(signed(answer - truth)),
        ]);
    }
    grid
}

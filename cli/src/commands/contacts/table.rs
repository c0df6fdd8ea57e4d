//! Contacts: marks pose by pose, then what guides, then what is in the way.

use std::io::{self, Write};

use sim_core::cast::{Film, Nearest, ToothReading};
use sim_core::excursion::Movement;
use sim_core::occlusion::{Difference, Held, Interference, Verdict};
use sim_core::units::Length;

use super::beside::write_beside;
use super::missing;
use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable_line};
use report::contacts::{Against, ContactsReport, PoseContacts, micrometres};
use report::guidance::{guidance_words, pair_words};
use words::number::{in_micrometres, is_below_zero, percent, turned, two_decimals};

/// Width of a film's column with the space before it, and what stands before the first.
const FILM_WIDTH: usize = 8;
const BEFORE_FILMS: usize = 24;

const LEGEND: &str = "Millimetres. vert.: vertical gap, the least gap along the normal of the occlusal plane; dist.: \
    distance, the least true distance; below zero the surfaces pass through each other. Under each film, the area that it prints on the tooth, in mm²; \
    those of the thinnest films depend on how fine the casts' triangles are. The rules that name the guidance are common practice.";

const IN_THE_WAY_LEGEND: &str = "upper, lower: the least that must come off the upper tooth, or else off the lower one, \
    along the normal of the occlusal plane; square: how deep they are in each other square to the surface; at: the \
    advance where that is.";

/// Writes the report.
pub(super) fn write(report: &ContactsReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    for pose in &report.poses {
        writeln!(out)?;
        write_pose(report, pose, width, out)?;
    }
    if !report.guidance.is_empty() {
        let stretch = &report.stretch;
        let head = format!(
            "What guides from {} to {} mm of advance, by contacts within {}",
            two_decimals(stretch.from.mm()),
            two_decimals(stretch.to.mm()),
            in_micrometres(stretch.film)
        );
        writeln!(out, "\n{BOLD}{}{BOLD:#}", textwrap::fill(&head, width))?;
        writeln!(out, "{}", textwrap::fill(&report.judged.sentence(), width))?;
        for verdict in &report.guidance {
            write_verdict(verdict, width, out)?;
        }
        match &report.missing {
            Some(missing) => {
                writeln!(out, "\n{BOLD}Contacts that balance asks for and that are missing{BOLD:#}")?;
                missing::write(missing, width, out)?;
            }
            None => write_in_the_way(report, width, out)?,
        }
    }
    if let Some(against) = &report.against {
        write_against(against, width, out)?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))?;
    if report.missing.is_some() {
        writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(missing::LEGEND, width))?;
    }
    if report.in_the_way.interferences.is_empty() {
        return Ok(());
    }
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(IN_THE_WAY_LEGEND, width))
}

fn write_pose(
    report: &ContactsReport,
    pose: &PoseContacts,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    write_beside(&words::name::spoken(pose.place.name()), &standing(pose), width, out)?;
    let shown = report.films.len().min(width.saturating_sub(BEFORE_FILMS) / FILM_WIDTH);
    let films = &report.films[..shown];
    let thickest = report.films.len().saturating_sub(1);
    let (marked, clear): (Vec<&ToothReading>, Vec<&ToothReading>) =
        pose.reading.teeth.iter().partition(|reading| pose.mark(thickest, reading.tooth).is_some());
    if !marked.is_empty() {
        marks(pose, &marked, films).write(out)?;
    }
    let sentence = clear_words(&clear);
    if !sentence.is_empty() {
        writeln!(out, "{}", textwrap::fill(&sentence, width))?;
    }
    if shown < report.films.len() {
        writeln!(out, "{FAINT}Thicker films are in the CSV and JSON output.{FAINT:#}")?;
    }
    Ok(())
}

/// Where the jaw stands and how near the casts are.
fn standing(pose: &PoseContacts) -> String {
    let placement = &pose.placement;
    let mut parts = vec![
        format!("{} mm advance", two_decimals(placement.advance().mm())),
        format!("jaw turned {}", turned(placement.opening())),
        format!("guided by {}", guidance_words(placement.guidance)),
    ];
    if let Some(lift) = placement.pin_lift.map(|lift| two_decimals(lift.mm())) {
        // At rest teeth and pin meet at once, but for rounding.
        if lift != "0.00" {
            parts.push(format!("pin {lift} mm off its table"));
        }
    }
    let Nearest { gap, upper_tooth, lower_tooth, .. } = pose.reading.distance;
    let pair = pair_words(upper_tooth, lower_tooth);
    parts.push(format!("casts {} mm apart, nearest at {pair}", two_decimals(gap.mm())));
    parts.join("; ")
}

fn marks(pose: &PoseContacts, marked: &[&ToothReading], films: &[Film]) -> Grid {
    let mut columns = vec![(0, 6), (1, 7), (1, 7)];
    columns.extend(films.iter().map(|_| (1, FILM_WIDTH - 1)));
    let mut grid = Grid::new(columns);
    let mut heads = vec![Cell::left("tooth"), Cell::right("vert."), Cell::right("dist.")];
    heads.extend(films.iter().map(|film| Cell::right(format!("{} µm", micrometres(*film)))));
    grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
    for (index, reading) in marked.iter().enumerate() {
        let arch = reading.tooth.arch();
        if index > 0 && marked[index - 1].tooth.arch() != arch {
            grid.blank();
        }
        let mut cells = vec![Cell::left(reading.tooth.to_string())];
        cells.push(signed_gap(reading.vertical.map(|nearest| nearest.gap)));
        cells.push(signed_gap(Some(reading.distance.gap)));
        cells.extend((0..films.len()).map(|film| match pose.mark(film, reading.tooth) {
            Some(mark) => Cell::right(two_decimals(mark.area_mm2)),
            None => Cell::right("–").styled(FAINT),
        }));
        grid.row(cells);
    }
    grid
}

fn signed_gap(gap: Option<Length>) -> Cell {
    let Some(gap) = gap else { return Cell::right("–").styled(FAINT) };
    let cell = Cell::right(two_decimals(gap.mm()));
    if is_below_zero(gap.mm(), 2) { cell.styled(ALARM) } else { cell }
}

/// The teeth that no film marks, and how far the nearest of them is.
fn clear_words(clear: &[&ToothReading]) -> String {
    let nearest = clear.iter().map(|reading| reading.distance.gap.mm()).reduce(f64::min);
    let Some(nearest) = nearest else { return String::new() };
    let teeth: Vec<String> = clear.iter().map(|reading| reading.tooth.to_string()).collect();
    format!("No mark: {}; {} mm apart or more.", teeth.join(" "), two_decimals(nearest))
}

fn write_verdict(verdict: &Verdict, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let share = percent(verdict.share);
    let sentence = format!(
        "{}, {share} of the way: {}.",
        verdict.scheme.name(),
        words::verdict::scheme::rule(verdict.scheme, verdict.movement)
    );
    write_beside(words::name::movement(verdict.movement), &sentence, width, out)?;
    for (scheme, share) in verdict.shares.iter().skip(1) {
        write_beside("", &format!("{}, {} of the way", scheme.name(), percent(*share)), width, out)?;
    }
    let pairs: Vec<String> = verdict.evidence.iter().map(held).collect();
    if pairs.is_empty() { Ok(()) } else { write_beside("", &(pairs.join("; ") + "."), width, out) }
}

fn held(held: &Held) -> String {
    let pair = pair_words(held.nearest.upper_tooth, held.nearest.lower_tooth);
    let [from, to] = [held.from, held.to].map(|advance| two_decimals(advance.mm()));
    let where_to = if from == to { format!("at {from}") } else { format!("from {from} to {to}") };
    format!("{pair} {} {where_to}", held.kind.name())
}

fn write_in_the_way(report: &ContactsReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let intended = words::verdict::scheme::intended(report.judged.scheme);
    let to = two_decimals(report.search.to.mm());
    writeln!(out, "\n{BOLD}Interferences if {intended} is intended, up to {to} mm of advance{BOLD:#}")?;
    for followed in &report.in_the_way.followed {
        let name = movement_words(followed.movement);
        let (led, apart) = (followed.guided_to, followed.guides_apart);
        let sentence = match apart {
            None => Some("no teeth that are meant to guide oppose each other".to_owned()),
            Some(apart) if apart.mm() > report.search.least.mm() => Some(format!(
                "the teeth that are meant to guide stand {} mm apart at rest, and cannot lead at once",
                two_decimals(apart.mm())
            )),
            Some(_) => None,
        };
        if let Some(sentence) = sentence {
            writeln!(out, "{}", textwrap::fill(&format!("In {name} {sentence}."), width))?;
        }
        if led.mm() < report.search.to.mm() {
            let sentence = format!("In {name} the jaw is guided to {} mm only.", two_decimals(led.mm()));
            writeln!(out, "{}", textwrap::fill(&sentence, width))?;
        }
    }
    if report.in_the_way.interferences.is_empty() {
        let least = in_micrometres(report.search.least);
        let sentence = format!("None: no other tooth interferes by more than {least}.");
        return writeln!(out, "{}", textwrap::fill(&sentence, width));
    }
    let mut grid = Grid::new(vec![(0, 15), (2, 9), (2, 8), (2, 6), (2, 6), (2, 6), (2, 6)]);
    let mut heads = ["excursion", "teeth", "contact"].map(Cell::left).into_iter().collect::<Vec<_>>();
    heads.extend(["upper", "lower", "square", "at"].map(Cell::right));
    grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
    for interference in &report.in_the_way.interferences {
        let mut cells = about(interference);
        cells.push(Cell::right(two_decimals(interference.upper_reduction.mm())).styled(ALARM));
        let rest = [interference.lower_reduction, interference.square, interference.advance];
        cells.extend(rest.map(|length| Cell::right(two_decimals(length.mm()))));
        grid.row(cells);
    }
    grid.write(out)?;
    let caution =
        format!("These are the least amounts for {intended}. {}", words::verdict::scheme::REDUCTION_CAUTION);
    writeln!(out, "{BOLD}{}{BOLD:#}", textwrap::fill(&caution, width))
}

/// Excursion, teeth, and what their contact is called.
fn about(interference: &Interference) -> Vec<Cell> {
    let (upper, lower) = interference.teeth();
    let words = [
        movement_words(interference.movement),
        pair_words(upper, lower),
        interference.kind.name().to_owned(),
    ];
    words.map(Cell::left).into()
}

fn write_against(against: &Against, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let head = format!("On an instrument with {}", against.with.join(", "));
    writeln!(out, "\n{BOLD}{}{BOLD:#}", textwrap::fill(&head, width))?;
    if let Some(missing) = &against.missing {
        return missing::write(missing, width, out);
    }
    if against.differences.is_empty() {
        return writeln!(out, "There is no interference there either.");
    }
    let mut grid = Grid::new(vec![(0, 8), (2, 15), (2, 9), (2, 8), (2, 6), (2, 6)]);
    let mut heads = ["", "excursion", "teeth", "contact"].map(Cell::left).into_iter().collect::<Vec<_>>();
    heads.extend(["here", "there"].map(Cell::right));
    grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
    for difference in &against.differences {
        let (word, interference, here, there) = match difference {
            Difference::Hidden(before) => ("hidden", before, Some(before), None),
            Difference::Invented(after) => ("invented", after, None, Some(after)),
            Difference::Changed { before, after } => ("changed", before, Some(before), Some(after)),
        };
        let mut cells = vec![Cell::left(word)];
        cells.extend(about(interference));
        cells.extend([here, there].map(|interference| match interference {
            Some(interference) => Cell::right(two_decimals(interference.upper_reduction.mm())),
            None => Cell::right("–").styled(FAINT),
        }));
        grid.row(cells);
    }
    grid.write(out)
}

fn movement_words(movement: Movement) -> String {
    words::name::movement(movement).to_owned()
}

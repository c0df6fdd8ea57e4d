//! A remount for people: what processing did, whether centric stands, what to do, what to grind.

use std::io::{self, Write};

use sim_core::cusp::Arch;
use sim_core::excursion::Movement;
use sim_core::occlusion::{ContactKind, IntendedScheme};
use sim_core::remount::grinding::MOST_GROUND_MM;
use sim_core::remount::{Centric, CuspGrinding, Grinding, GrindingList, Processing};
use words::number::two_decimals;
use words::verdict::remount as say;

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable_line};
use report::guidance::pair_words;
use report::remount::{Grind, RemountReport};

const LEGEND: &str = "Millimetres and degrees. Gaps and amounts are along the normal of the occlusal plane. The axis is where \
    the record has it once the hinge turn is taken away, against the mounting; ±: standard error from the noise that the record states. \
    The rules of grinding are common practice.";
const LIST_LEGEND: &str = "An amount is the least that must come off that surface, the opposing one kept. A pair on the list \
    counts as clear in later steps; nothing else moves against it, but the jaw closes onto what carries then. Once anything has \
    been ground, make the list anew.";
const CUSPS_LEGEND: &str = "Incline: the one of the opposing teeth that the cusp runs into. An amount is the least that must come off \
    the surface named, with the pin on its table and raised teeth ground back: the cusp's clearance below zero at its deepest sample \
    of the excursion. Condyles and table carry the jaw, so that grinding for one cusp closes it onto none of the others; but two rows \
    that name the same surface of neighbours may be one contact: grind once, and make the list anew. –: by its name the cusp \
    holds no centric, and the rule does not say what to grind.";
const HIGH_TOOTH_UNKNOWN: &str = "Which tooth keeps the pin off its table is not told by cusps: find it with foil on the instrument, and \
    grind it first. What follows is counted with the pin on its table.";
const BALANCE_NEEDS_CASTS: &str = "By balance every tooth is meant to touch in every excursion; which cusps keep others apart there is told \
    on casts alone.";
const STEPS: [ContactKind; 4] =
    [ContactKind::Centric, ContactKind::Working, ContactKind::Orbiting, ContactKind::Protrusive];

pub(super) fn write(report: &RemountReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let paragraph = |out: &mut dyn Write, text: &str| writeln!(out, "{}", textwrap::fill(text, width));
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&report.title))?;
    paragraph(out, &format!("On the instrument of: {}", printable_line(&report.scene)))?;
    let (processing, centric) = (report.processing.as_ref(), report.centric.as_ref());
    if let Some(processing) = processing {
        writeln!(out, "\n{BOLD}Processing{BOLD:#}")?;
        paragraph(out, &say::processing(processing))?;
        if let Some(sentence) = gaps(processing) {
            paragraph(out, &sentence)?;
        }
    }
    if let Some(centric) = centric {
        writeln!(out, "\n{BOLD}Centric record with the finished dentures{BOLD:#}")?;
        paragraph(out, &say::centric(centric))?;
        paragraph(out, &format!("Against the mounting, the record has the jaw {}.", say::off(centric)))?;
        numbers(centric, out)?;
    }
    writeln!(out, "\n{BOLD}What to do{BOLD:#}")?;
    writeln!(out, "{BOLD}{}{BOLD:#}", textwrap::fill(say::to_do(processing, centric), width))?;
    match &report.grinding {
        Grind::NoCasts => {
            paragraph(
                out,
                "The scene has neither casts nor cusps, so that there is no list of what to grind.",
            )?;
        }
        Grind::Cusps(cusps) => {
            writeln!(out, "\n{BOLD}Cusps in the way{BOLD:#}")?;
            paragraph(out, &report.judged.sentence())?;
            write_cusps(cusps, report, width, out)?;
        }
        Grind::Withheld => paragraph(
            out,
            "The list of what to grind is withheld: on this mounting it would grind the error of the centric relation \
             into the teeth.",
        )?,
        Grind::List(list) => {
            writeln!(out, "\n{BOLD}Selective grinding{BOLD:#}")?;
            paragraph(out, &report.judged.sentence())?;
            write_list(list, width, out)?;
            writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(LIST_LEGEND, width))?;
        }
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

/// A sentence with one gap a tooth: that of its first cusp.
fn gaps(processing: &Processing) -> Option<String> {
    if processing.teeth.is_empty() || processing.pin_lift.mm() <= 0.0 {
        return None;
    }
    let mut seen: Vec<(&str, String)> = Vec::new();
    for one in &processing.teeth {
        let tooth = one.cusp.split('.').next().unwrap_or_default();
        if !seen.iter().any(|(other, _)| *other == tooth) {
            seen.push((tooth, two_decimals(one.gap.mm())));
        }
    }
    let gaps: Vec<String> = seen.into_iter().map(|(tooth, gap)| format!("{tooth} {gap}")).collect();
    Some(format!(
        "Gaps that the lift alone explains, at the first cusp of each lower tooth: {}.",
        gaps.join("; ")
    ))
}

/// The parts of the motion, each with its standard error where there is one.
fn numbers(centric: &Centric, out: &mut dyn Write) -> io::Result<()> {
    let errors = centric.errors.as_ref();
    let mut rows = vec![(
        "hinge turn (no error)",
        centric.turn.degrees(),
        errors.map(|errors| errors.turn.degrees()),
        "°",
    )];
    if !centric.by_gaps {
        rows.push(("axis forward", centric.shift_mm.x, errors.map(|errors| errors.shift_mm.x), "mm"));
        rows.push(("axis to the left", centric.shift_mm.y, errors.map(|errors| errors.shift_mm.y), "mm"));
    }
    rows.push(("axis up", centric.shift_mm.z, errors.map(|errors| errors.shift_mm.z), "mm"));
    rows.push(("left side higher", centric.roll.degrees(), errors.map(|errors| errors.roll.degrees()), "°"));
    if !centric.by_gaps {
        rows.push((
            "front to the left",
            centric.yaw.degrees(),
            errors.map(|errors| errors.yaw.degrees()),
            "°",
        ));
    }
    let mut grid = Grid::new(vec![(2, 22), (2, 7), (1, 8), (1, 3)]);
    for (name, value, error, unit) in rows {
        let error = error.map_or_else(String::new, |error| format!("± {}", two_decimals(error)));
        grid.row(vec![
            Cell::left(name),
            Cell::right(two_decimals(value)),
            Cell::left(error).styled(FAINT),
            Cell::left(unit),
        ]);
    }
    grid.write(out)
}

fn write_list(list: &GrindingList, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if let (Some(before), Some(after)) = (list.pin_before, list.pin_after) {
        let [before, after] = [before, after].map(|lift| two_decimals(lift.mm()));
        let sentence = format!(
            "As these casts meet, the pin stands {before} mm off its table; after the centric step {after} mm."
        );
        writeln!(out, "{}", textwrap::fill(&sentence, width))?;
    }
    for (movement, region) in &list.unreached {
        let name = movement.map_or("centric", words::name::movement);
        let sentence = format!(
            "In {name} {} can be brought to touch: the pin holds, or more than {} mm would have to come off others. Set teeth \
             anew rather than grind.",
            words::verdict::scheme::no_tooth_of(*region),
            two_decimals(MOST_GROUND_MM)
        );
        writeln!(out, "{}", textwrap::fill(&sentence, width))?;
    }
    if list.places.is_empty() {
        return writeln!(out, "Nothing is to be ground.");
    }
    let mut number = 0;
    for step in STEPS {
        let places: Vec<&Grinding> = list.places.iter().filter(|place| place.kind == step).collect();
        if places.is_empty() {
            continue;
        }
        heading(step, list.scheme, width, out)?;
        let mut grid = Grid::new(vec![(0, 3), (1, 5), (1, 30), (1, 7), (1, 9), (1, 15), (1, 5)]);
        let mut heads = ["", "tooth", "surface"].map(Cell::left).into_iter().collect::<Vec<_>>();
        heads.push(Cell::right("amount"));
        heads.extend(["against", "excursion"].map(Cell::left));
        heads.push(Cell::right("at"));
        grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
        for place in &places {
            number += 1;
            grid.row(cells(number, place));
        }
        grid.write(out)?;
        for sentence in carries(&places) {
            writeln!(out, "{}", textwrap::fill(&sentence, width))?;
        }
    }
    writeln!(out, "\n{BOLD}{}{BOLD:#}", textwrap::fill(words::verdict::scheme::REDUCTION_CAUTION, width))
}

/// Cusps in the way, in the order of the work.
fn write_cusps(
    cusps: &[CuspGrinding],
    report: &RemountReport,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let paragraph = |out: &mut dyn Write, text: &str| writeln!(out, "{}", textwrap::fill(text, width));
    let is_high = report.processing.as_ref().is_some_and(say::is_off_its_table);
    if is_high && !cusps.iter().any(|cusp| cusp.kind == ContactKind::Centric) {
        paragraph(out, HIGH_TOOTH_UNKNOWN)?;
    }
    if report.judged.by_balance() {
        paragraph(out, BALANCE_NEEDS_CASTS)?;
    } else if cusps.is_empty() {
        paragraph(out, "With the pin on its table no cusp is in the way.")?;
    }
    if cusps.is_empty() {
        return Ok(());
    }
    if cusps.iter().any(|cusp| cusp.amount.mm() > MOST_GROUND_MM) {
        let sentence = format!(
            "Where more than {} mm would have to come off, do not grind: look to the guidance first, or set teeth anew.",
            two_decimals(MOST_GROUND_MM)
        );
        paragraph(out, &sentence)?;
    }
    let mut number = 0;
    for step in STEPS {
        let of_step: Vec<&CuspGrinding> = cusps.iter().filter(|cusp| cusp.kind == step).collect();
        if of_step.is_empty() {
            continue;
        }
        heading(step, report.judged.scheme, width, out)?;
        let mut grid = Grid::new(vec![(0, 3), (1, 15), (1, 13), (1, 10), (1, 34), (1, 7), (1, 5)]);
        let mut heads: Vec<Cell> = ["", "cusp", "excursion", "incline", "grind"].map(Cell::left).into();
        heads.extend(["amount", "at"].map(Cell::right));
        grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
        for cusp in of_step {
            number += 1;
            grid.row(cusp_cells(number, cusp));
        }
        grid.write(out)?;
    }
    writeln!(out, "\n{BOLD}{}{BOLD:#}", textwrap::fill(words::verdict::scheme::REDUCTION_CAUTION, width))?;
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(CUSPS_LEGEND, width))
}

fn cusp_cells(number: usize, cusp: &CuspGrinding) -> Vec<Cell> {
    let ground = cusp.ground.map_or_else(
        || "–".to_owned(),
        |ground| {
            let arch = if ground.arch() == Arch::Upper { "upper" } else { "lower" };
            format!("{arch} {}", say::ground(ground))
        },
    );
    vec![
        Cell::left(number.to_string()),
        Cell::left(words::name::spoken(&cusp.cusp)),
        Cell::left(cusp.movement.map_or("centric", words::name::movement)),
        Cell::left(if cusp.movement.is_some() { words::name::incline(cusp.incline) } else { "" }),
        Cell::left(ground),
        Cell::right(two_decimals(cusp.amount.mm())).styled(ALARM),
        Cell::right(two_decimals(cusp.advance.mm())),
    ]
}

/// A step's name and its rule.
fn heading(step: ContactKind, scheme: IntendedScheme, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n{BOLD}Step {}: {}{BOLD:#}", step_number(step), words::name::contact(step))?;
    writeln!(out, "{}", textwrap::fill(say::rule(step, scheme), width))
}

/// The order of the work.
const fn step_number(step: ContactKind) -> u8 {
    match step {
        ContactKind::Centric => 1,
        ContactKind::Working => 2,
        ContactKind::Orbiting => 3,
        ContactKind::Protrusive => 4,
    }
}

fn cells(number: usize, place: &Grinding) -> Vec<Cell> {
    let (upper, lower) = place.teeth();
    let against = if place.tooth() == upper { lower } else { upper };
    vec![
        Cell::left(number.to_string()),
        Cell::left(place.tooth().map_or_else(|| "–".to_owned(), words::name::tooth)),
        Cell::left(say::ground(place.ground)),
        Cell::right(two_decimals(place.amount.mm())).styled(ALARM),
        Cell::left(against.map_or_else(|| "–".to_owned(), words::name::tooth)),
        Cell::left(place.movement.map_or("centric", words::name::movement)),
        Cell::right(two_decimals(place.advance.mm())),
    ]
}

/// What carries once the places of a step are ground, each said once.
fn carries(places: &[&Grinding]) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for place in places {
        let pairs: Vec<String> = place.then.iter().map(|(upper, lower)| pair_words(*upper, *lower)).collect();
        let who = if pairs.is_empty() { "the pin".to_owned() } else { pairs.join(", ") };
        let name = place.movement.map_or("centric", words::name::movement);
        let at = place
            .movement
            .map_or_else(String::new, |_: Movement| format!(" at {}", two_decimals(place.advance.mm())));
        let sentence = format!("Then in {name}{at} these carry: {who}.");
        if !said.contains(&sentence) {
            said.push(sentence);
        }
    }
    said
}

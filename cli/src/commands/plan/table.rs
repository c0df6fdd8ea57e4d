//! A plan: the inclines needed, the goal's answer, and what if.

use std::io::{self, Write};

use sim_core::cusp::Tooth;
use sim_core::instrument::Design;
use sim_core::plan::{Balanced, Disclosed, Factor, RequiredInclines, Role, Variant, WhatIf};

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, printable, printable_line};
use report::planned::{Answer, Planned, place_name};
use words::number::{as_set, is_below_zero, one_decimal, signed, three_decimals, two_decimals};

const LEGEND: &str = "Degrees to the occlusal plane that a facet needs to glide in contact. tangent: where the path \
    starts; chord: over the distance named; axis: the tangent to the plane square to the tooth's axis; across: of a \
    facet that falls outward or inward only. rule: protrusive tangent by the linear rule of proportion between \
    incisal and condylar guidance, and how far it is off. Crowns of published mean widths along the arch; teeth of \
    both sides share a row where they need the same.";
const LEGEND_OF_WHAT_IFS: &str = "Tangents in degrees at the lower left first molar. Pin: let down (raised below zero), \
    which opens the instrument; teeth are set anew where the pin stops. Plane: tilted about the incisal point, \
    anterior edge down, or shifted up. Each factor has a column for its planned value; misses: what remains at the teeth asked for.";

/// Writes it all.
pub(super) fn write(planned: &Planned, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{BOLD}{}{BOLD:#}\n", printable_line(&planned.scene.title))?;
    if let Some(verdict) = planned.verdict() {
        let verdict = textwrap::fill(&verdict, width);
        let style = if planned.is_reached() { BOLD } else { ALARM };
        writeln!(out, "{style}{verdict}{style:#}")?;
        for change in planned.changes() {
            writeln!(out, "  {}", words::verdict::plan::change(change))?;
        }
        if let Some(caution) = planned.caution() {
            writeln!(out, "{ALARM}{}{ALARM:#}", textwrap::fill(&caution, width))?;
        }
        writeln!(out)?;
    }
    match &planned.answer {
        None => {}
        Some(Answer::Balanced(balance)) => balanced(balance, width, out)?,
        Some(Answer::Disclosed(disclosure)) => disclosed(disclosure, width, out)?,
    }
    inclines(planned, out)?;
    writeln!(out, "{FAINT}{}{FAINT:#}\n", textwrap::fill(LEGEND, width))?;
    what_ifs(&planned.what_ifs, out)?;
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND_OF_WHAT_IFS, width))
}

fn head(words: &str) -> Cell {
    Cell::right(words).styled(FAINT)
}

/// A gap: below zero it is in the way.
fn gap(mm: f64) -> Cell {
    let cell = Cell::right(two_decimals(mm));
    if is_below_zero(mm, 2) { cell.styled(ALARM) } else { cell }
}

fn balanced(balance: &Balanced, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut grid = Grid::new(vec![(0, 5), (2, 10), (2, 10), (2, 10)]);
    grid.row(vec![Cell::left("Gaps as planned, mm").styled(BOLD).across(4)]);
    let mut heads = vec![Cell::left("tooth").styled(FAINT)];
    heads.extend(Role::ALL.map(|role| head(role.name())));
    grid.row(heads);
    let mut rows: Vec<(Tooth, Vec<Option<f64>>)> = Vec::new();
    for protrusive in balance.gaps.iter().filter(|protrusive| protrusive.role == Role::Protrusive) {
        let gaps = Role::ALL.map(|role| {
            let gap = balance.gaps.iter().find(|gap| gap.tooth == protrusive.tooth && gap.role == role);
            gap.map(|gap| gap.gap.mm())
        });
        rows.push((protrusive.tooth, gaps.to_vec()));
    }
    for (names, gaps) in merged(rows, |one, other| are_same(one, other)) {
        let mut cells = vec![Cell::left(names)];
        cells.extend(gaps.into_iter().map(|mm| mm.map_or(Cell::right("–"), gap)));
        grid.row(cells);
    }
    grid.write(out)?;
    writeln!(
        out,
        "{FAINT}{}{FAINT:#}\n",
        textwrap::fill(
            "Below zero the facet is in the way. Front teeth have the plate's incline; to the sides the wings are \
             their facets.",
            width
        )
    )?;
    let mut grid = Grid::new(vec![(0, 20), (2, 8), (2, 8), (2, 8), (2, 18)]);
    grid.row(vec![
        Cell::left("One factor alone").styled(BOLD),
        head("is"),
        head("must be"),
        head("change"),
        Cell::left("leaves").styled(FAINT),
    ]);
    for alone in &balance.alone {
        let change = &alone.change;
        let leaves = if alone.met {
            "balance".to_owned()
        } else {
            format!("{} mm at most", two_decimals(alone.greatest.mm()))
        };
        let radius =
            words::verdict::plan::radius(change).map(|words| format!("  ({words})")).unwrap_or_default();
        grid.row(vec![
            Cell::left(change.factor.label()),
            Cell::right(degrees(change.from.degrees())),
            Cell::right(degrees(change.to.degrees())),
            Cell::right(format!("{}°", signed((change.to - change.from).degrees()))),
            Cell::left(leaves + &radius),
        ]);
    }
    grid.write(out)?;
    writeln!(
        out,
        "{FAINT}{}{FAINT:#}\n",
        textwrap::fill("leaves: the greatest gap at the teeth and in the excursions asked for.", width)
    )?;
    let mut grid = Grid::new(vec![(0, 20), (2, 20), (2, 8), (2, 8), (2, 8), (2, 8)]);
    grid.row(vec![
        Cell::left("Rule of proportion").styled(BOLD),
        Cell::left("made up for by").styled(FAINT),
        head("is"),
        head("exact"),
        head("rule"),
        head("off"),
    ]);
    for row in &balance.proportion {
        let angle = |angle: Option<sim_core::units::Angle>| {
            Cell::right(angle.map_or("none".to_owned(), |angle| degrees(angle.degrees())))
        };
        grid.row(vec![
            Cell::left(format!("{} {}°", row.changed.label(), signed(row.by.degrees()))),
            Cell::left(row.answer.label()),
            Cell::right(degrees(row.from.degrees())),
            angle(row.exact),
            angle(row.rule),
            Cell::right(
                row.rule_is_off().map_or("–".to_owned(), |off| format!("{}°", signed(off.degrees()))),
            ),
        ]);
    }
    grid.write(out)?;
    writeln!(
        out,
        "{FAINT}{}{FAINT:#}\n",
        textwrap::fill(
            &format!(
                "What keeps contact at the lower left first molar in protrusion as it is planned. {}; it has no \
                 answer where a factor is zero. A curve is given by the angle at which it tips a tooth 30 mm behind \
                 its start.",
                words::verdict::plan::RULE_OF_PROPORTION
            ),
            width
        )
    )
}

fn degrees(degrees: f64) -> String {
    format!("{}°", two_decimals(degrees))
}

fn disclosed(disclosure: &Disclosed, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut grid = Grid::new(vec![(0, 22), (2, 10), (2, 7), (2, 6), (2, 6), (2, 7), (2, 15), (2, 8), (2, 8)]);
    let mut heads = vec![Cell::left("Clearances, mm").styled(BOLD), Cell::left("excursion").styled(FAINT)];
    heads.extend(["advance", "wanted", "is", "planned"].map(head));
    heads.extend([head("can be"), head("per ° H"), head("per ° L")]);
    grid.row(heads);
    for (index, cusp) in disclosure.reached.iter().enumerate() {
        let planned = two_decimals(cusp.reached.mm());
        let lacks = cusp.lacking().mm() > 1e-6;
        let planned = if lacks { Cell::right(planned).styled(ALARM) } else { Cell::right(planned) };
        let reach = format!("{} to {}", two_decimals(cusp.reach.0.mm()), two_decimals(cusp.reach.1.mm()));
        let mark = if disclosure.in_the_way == Some(index) {
            " (in the way)"
        } else if cusp.holds {
            " (holds)"
        } else {
            ""
        };
        let slope = |factor: Factor| {
            let slopes = disclosure.sensitivities.iter().find(|sensitivity| sensitivity.of == factor);
            let slope = slopes.and_then(|sensitivity| sensitivity.clearance_per_degree.get(index));
            Cell::right(slope.map_or("–".to_owned(), |slope| three_decimals(slope.mm())))
        };
        grid.row(vec![
            Cell::left(format!("{} {}{mark}", cusp.tooth, printable(&cusp.name))),
            Cell::left(cusp.role.name()),
            Cell::right(as_set(cusp.advance.mm())),
            Cell::right(two_decimals(cusp.wanted.mm())),
            gap(cusp.before.mm()),
            planned,
            Cell::right(reach),
            slope(Factor::CondylarGuidance),
            slope(Factor::LateralCondylarAngle),
        ]);
    }
    grid.write(out)?;
    for sensitivity in &disclosure.sensitivities {
        let answers = disclosure.changes.iter().zip(&sensitivity.answer_per_degree);
        let answers: Vec<String> =
            answers.map(|(change, slope)| format!("{} {}°", change.factor.label(), signed(*slope))).collect();
        let words = format!(
            "For each degree that the {} is steeper, the answer changes: {}.",
            sensitivity.of.label(),
            answers.join(", ")
        );
        writeln!(out, "{}", textwrap::fill(&words, width))?;
    }
    writeln!(
        out,
        "{FAINT}{}{FAINT:#}\n",
        textwrap::fill(
            "can be: over the bounds of all that may change. holds: the answer leans on this cusp. per °: what the \
             clearance gains if the condylar guidance H, or the lateral condylar (Bennett) angle L, is a degree steeper and \
             the planned guidance stays.",
            width
        )
    )?;
    let mut grid = Grid::new(vec![(0, 22), (2, 14), (2, 14), (2, 14), (2, 14)]);
    let mut heads = vec![Cell::left("Steepest opposing inclines").styled(BOLD)];
    heads.extend(["protrusive", "retrusive", "working", "orbiting"].map(head));
    grid.row(heads);
    for allowance in &disclosure.allowances {
        let mut cells = vec![Cell::left(format!("{} {}", allowance.tooth, printable(&allowance.name)))];
        for (_, stands, most) in &allowance.inclines {
            let text = match most {
                Some(most) => format!("{} ({})", degrees(most.degrees()), as_set(stands.degrees())),
                None => format!("– ({})", as_set(stands.degrees())),
            };
            let over = most.is_some_and(|most| *stands > most + sim_core::units::Angle::from_degrees(1e-6));
            cells.push(if over { Cell::right(text).styled(ALARM) } else { Cell::right(text) });
        }
        grid.row(cells);
    }
    grid.write(out)?;
    writeln!(
        out,
        "{FAINT}{}{FAINT:#}\n",
        textwrap::fill(
            "With the guidance as planned, the steepest incline that leaves the clearance wanted (in brackets: as it \
             is); – where the cusp does not run onto it, or none will do.",
            width
        )
    )
}

/// Numbers that differ by less are told as one.
const SAME: f64 = 5e-4;

/// Rows of teeth that have the same numbers on both sides, as one: `16, 26`.
fn merged<T>(rows: Vec<(Tooth, T)>, same: impl Fn(&T, &T) -> bool) -> Vec<(String, T)> {
    let mut merged: Vec<(Tooth, String, T)> = Vec::new();
    for (tooth, numbers) in rows {
        let twin =
            merged.iter_mut().find(|(other, _, theirs)| are_twins(*other, tooth) && same(theirs, &numbers));
        match twin {
            Some((_, names, _)) => *names = format!("{names}, {tooth}"),
            None => merged.push((tooth, tooth.to_string(), numbers)),
        }
    }
    merged.into_iter().map(|(_, names, numbers)| (names, numbers)).collect()
}

/// Whether two teeth are the same tooth of both sides of an arch.
fn are_twins(one: Tooth, other: Tooth) -> bool {
    (one.arch(), one.position()) == (other.arch(), other.position()) && one.side() != other.side()
}

/// Whether two rows are told as one.
fn are_same(one: &[Option<f64>], other: &[Option<f64>]) -> bool {
    one.iter().zip(other).all(|(one, other)| match (one, other) {
        (Some(one), Some(other)) => (one - other).abs() < SAME,
        (one, other) => one == other,
    })
}

fn inclines(planned: &Planned, out: &mut dyn Write) -> io::Result<()> {
    let mut columns = vec![(0, 9), (2, 7), (1, 6), (1, 6)];
    columns.extend([(3, 7), (1, 6), (1, 6), (3, 7), (1, 6), (1, 6), (3, 6), (1, 6)]);
    let mut grid = Grid::new(columns);
    let title = format!("Inclines needed, chords over {} mm", as_set(planned.plan.chord.mm()));
    grid.row(vec![Cell::left(title).styled(BOLD).across(12)]);
    let group = |words: &str| Cell::right(words).styled(BOLD).across(3);
    grid.row(vec![
        Cell::left(""),
        group("protrusive"),
        group("working"),
        group("orbiting"),
        Cell::right("rule").styled(BOLD).across(2),
    ]);
    let mut heads = vec![Cell::left("tooth").styled(FAINT)];
    heads.extend(["tangent", "chord", "axis"].map(head));
    for _ in 0..2 {
        heads.extend(["tangent", "chord", "across"].map(head));
    }
    heads.extend([head("says"), head("off")]);
    grid.row(heads);
    let row = |needed: &RequiredInclines| {
        let mut numbers = Vec::new();
        for role in Role::ALL {
            let glide = needed.glide(role);
            numbers.extend([Some(glide.tangent.along_way.degrees()), Some(glide.chord.along_way.degrees())]);
            numbers.push(match role {
                Role::Protrusive => Some(glide.tangent.to_axis.degrees()),
                _ => glide.tangent.transverse.map(|angle| angle.degrees()),
            });
        }
        numbers.extend([Some(needed.by_proportion.degrees()), Some(needed.rule_is_off().degrees())]);
        numbers
    };
    let teeth = planned.teeth.iter().map(|needed| (needed.place.tooth, row(needed))).collect();
    let teeth = merged(teeth, |one, other| are_same(one, other));
    let cusps: Vec<_> = planned.cusps.iter().map(|needed| (place_name(&needed.place), row(needed))).collect();
    for (index, (name, numbers)) in teeth.iter().chain(&cusps).enumerate() {
        if index == teeth.len() {
            grid.blank();
        }
        let mut cells = vec![Cell::left(printable(name))];
        cells.extend(numbers.iter().map(|number| Cell::right(number.map_or("–".to_owned(), one_decimal))));
        grid.row(cells);
    }
    grid.write(out)
}

/// A factor's name where there is little room.
fn short(factor: Factor) -> &'static str {
    match factor {
        Factor::CondylarGuidance => "condylar",
        Factor::LateralCondylarAngle => "lateral angle",
        Factor::IncisalGuidance => "incisal",
        Factor::LateralIncisalGuidance => "lateral",
        Factor::RightLateralIncisalGuidance => "right lat.",
        Factor::LeftLateralIncisalGuidance => "left lat.",
        Factor::OcclusalPlane => "plane",
        Factor::CompensatingCurve => "curve",
        Factor::CuspInclination => "cusps",
    }
}

fn what_ifs(all: &[WhatIf], out: &mut dyn Write) -> io::Result<()> {
    let factors: Vec<Factor> = match all.first().and_then(|what_if| what_if.answer.as_ref()) {
        Some(answer) => answer.changes.iter().map(|change| change.factor).collect(),
        None => Vec::new(),
    };
    let mut columns = vec![(0, 14), (2, 9), (2, 8), (2, 10), (2, 7), (2, 8)];
    columns.extend(factors.iter().map(|_| (2, 8)));
    columns.push((2, 8));
    let mut grid = Grid::new(columns);
    let mut heads = vec![Cell::left("What if").styled(BOLD), Cell::left("design").styled(FAINT)];
    heads.extend(["opens", "protrusive", "working", "orbiting"].map(head));
    heads.extend(factors.iter().map(|factor| head(short(*factor))));
    if !factors.is_empty() {
        heads.push(head("misses"));
    }
    grid.row(heads);
    for what_if in all {
        let words = match what_if.variant {
            Variant::AsItStands => "as it stands".to_owned(),
            Variant::Pin(by) => format!("pin {} mm", signed(by.mm())),
            Variant::Tilt(by) => format!("plane {}°", signed(by.degrees())),
            Variant::Shift(by) => format!("plane {} mm", signed(by.mm())),
        };
        let design = match what_if.design {
            Design::Arcon => "arcon",
            Design::NonArcon => "non-arcon",
        };
        let mut cells =
            vec![Cell::left(words), Cell::left(design), Cell::right(degrees(what_if.opening.degrees()))];
        cells.extend(
            Role::ALL.map(|role| {
                Cell::right(two_decimals(what_if.inclines.glide(role).tangent.along_way.degrees()))
            }),
        );
        if let Some(answer) = &what_if.answer {
            cells.extend(answer.changes.iter().map(|change| Cell::right(degrees(change.to.degrees()))));
            cells.push(if answer.met {
                Cell::right("nothing")
            } else {
                Cell::right(format!("{} mm", two_decimals(answer.greatest.mm()))).styled(ALARM)
            });
        }
        grid.row(cells);
    }
    grid.write(out)
}

//! The excursions of a scene: teeth down, excursions across, three numbers to a cell.

use std::io::{self, Write};

use sim_core::cusp::Cusp;
use sim_core::excursion::{Drive, Movement, Placement};
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::{self, Choice};

use crate::output::{ALARM, BOLD, Cell, FAINT, Grid, UNBROKEN, printable, printable_line};
use report::excursion_summary::{End, ExcursionSummary, Stretch};
use report::guidance::guidance_words;
use report::walk::SceneWalk;
use words::number::{as_set, turned, two_decimals};
use words::verdict::opened;

/// Space before each of the three numbers of an excursion, and its width. With names as long as
/// "46 mesiobuccal", three excursions fit in 80 columns.
const NUMBERS: [(usize, usize); 3] = [(0, 5), (1, 6), (2, 5)];
const BLOCK: usize = 19;
/// Space between excursions, where there is room for it.
const WIDE_GAP: usize = 5;
const NARROW_GAP: usize = 2;

const LEGEND: &str = "Millimetres. sep.: separation at the end, along the normal of the occlusal plane, counted from \
    where the excursion starts. clear.: clearance at the end, the distance from the occlusal plane less the rise of \
    the opposing incline. least: the least \
    clearance on the way; below zero it is an interference, and the words below say where.";

const CASTS_LEGEND: &str = "vert.: vertical gap, the least gap between the casts along the normal of the occlusal plane; \
    dist.: distance, their least true distance; below zero they pass through each other. lift: pin lift, how far \
    the pin is off its table.";

/// Writes a run as a table.
pub(super) fn write(run: &SceneWalk<'_>, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let scene = run.scene();
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&scene.title))?;
    let settings = textwrap::fill(&settings_line(scene), width).replace(UNBROKEN, " ");
    writeln!(out, "{settings}\n")?;
    let summaries: Vec<ExcursionSummary> =
        run.excursions().map(|solving| ExcursionSummary::of(&solving)).collect();
    let labels = label_width(scene);
    let room = width.saturating_sub(labels);
    let across = (room / (BLOCK + NARROW_GAP)).max(1);
    let gap = if across.min(summaries.len()) * (BLOCK + WIDE_GAP) <= room { WIDE_GAP } else { NARROW_GAP };
    for band in summaries.chunks(across) {
        Band { scene, summaries: band, has_casts: run.has_casts() }.grid(labels, gap).write(out)?;
        writeln!(out)?;
    }
    if run.has_casts() {
        what_guides(&summaries).write(out)?;
        writeln!(out)?;
    }
    let legend = match (scene.cusps.is_empty(), run.has_casts()) {
        (true, true) => format!("Millimetres. {CASTS_LEGEND}"),
        (false, true) => format!("{LEGEND} {CASTS_LEGEND}"),
        (_, false) => LEGEND.to_owned(),
    };
    let legend = format!("{legend}{}", opened_words(&summaries));
    writeln!(out, "{FAINT}{}{FAINT:#}", textwrap::fill(&legend, width))?;
    for no_pose in summaries.iter().filter_map(|summary| summary.stopped) {
        let sentence = textwrap::fill(&format!("Stopped short: {no_pose}."), width);
        writeln!(out, "{ALARM}{sentence}{ALARM:#}")?;
    }
    Ok(())
}

/// That the cusps stand apart before anything has moved, and which numbers count that in; empty where they
/// do not.
fn opened_words(summaries: &[ExcursionSummary]) -> String {
    let starts = summaries.iter().flat_map(|summary| &summary.at_start);
    opened::at_start(starts.map(|reading| reading.separation))
        .map_or(String::new(), |said| format!(" {said} clear. and least count that in, sep. does not."))
}

/// What is set, in a sentence: every choice, and every number that zeroing speaks of and that is
/// not 0 on the instrument nor in the baseline.
fn settings_line(scene: &Scene) -> String {
    let mut parts = Vec::new();
    let mut tell = |label: &str, right: String, left: String| {
        parts.push(if right == left {
            format!("{label}{UNBROKEN}{right}")
        } else {
            format!("{label}{UNBROKEN}{right} right, {left}{UNBROKEN}left")
        });
    };
    for choice in Choice::ALL {
        let of = |side| choice.get(scene, side).to_owned();
        tell(choice.label(), of(Side::Right), of(Side::Left));
    }
    for setting in setting::all() {
        let facts = setting.facts();
        let Some(zeroed) = facts.zeroed else { continue };
        let of = |side| setting.get(scene, side).unwrap_or_default();
        let written = |side| format!("{}{}", as_set(of(side)), facts.unit.sign());
        if zeroed != 0.0 || Side::BOTH.into_iter().any(|side| of(side) != 0.0) {
            tell(facts.label, written(Side::Right), written(Side::Left));
        }
    }
    parts.join("; ") + "."
}

fn cusp_label(cusp: &Cusp) -> String {
    format!("{} {}", cusp.tooth(), printable(cusp.name()))
}

fn label_width(scene: &Scene) -> usize {
    use unicode_width::UnicodeWidthStr as _;
    let cusps = scene.cusps.iter().map(|cusp| cusp_label(cusp).width());
    cusps.chain(["Bennett movement".len()]).max().unwrap_or_default()
}

/// As many excursions as fit beside each other.
struct Band<'s> {
    scene: &'s Scene,
    summaries: &'s [ExcursionSummary],
    has_casts: bool,
}

impl Band<'_> {
    fn grid(&self, labels: usize, gap: usize) -> Grid {
        let mut columns = vec![(0, labels)];
        for _ in self.summaries {
            columns.extend(NUMBERS);
            let first = columns.len() - NUMBERS.len();
            columns[first].0 = gap;
        }
        let mut grid = Grid::new(columns);
        self.heads(&mut grid);
        for side in Side::BOTH {
            self.teeth(&mut grid, side);
        }
        self.condyles(&mut grid);
        self.incisal_point(&mut grid);
        if self.has_casts {
            self.casts(&mut grid);
        }
        grid
    }

    /// A row of one cell an excursion.
    fn line(&self, grid: &mut Grid, label: Cell, cell: impl Fn(&ExcursionSummary) -> Cell) {
        let mut cells = vec![label];
        cells.extend(self.summaries.iter().map(|summary| cell(summary).across(3)));
        grid.row(cells);
    }

    /// A row of three numbers an excursion, or a dash.
    fn numbers(&self, grid: &mut Grid, label: &str, numbers: impl Fn(&ExcursionSummary) -> Option<[f64; 3]>) {
        let mut cells = vec![Cell::left(label)];
        for summary in self.summaries {
            match numbers(summary) {
                Some(numbers) => cells.extend(numbers.map(|number| Cell::right(two_decimals(number)))),
                None => cells.extend(no_numbers()),
            }
        }
        grid.row(cells);
    }

    /// A row that starts a section and says what its three numbers are.
    fn section(&self, grid: &mut Grid, label: &str, names: [&str; 3]) {
        let mut cells = vec![Cell::left(label).styled(BOLD)];
        for _ in self.summaries {
            cells.extend(names.map(|name| Cell::right(name).styled(FAINT)));
        }
        grid.row(cells);
    }

    fn heads(&self, grid: &mut Grid) {
        self.line(grid, Cell::left(""), |summary| Cell::left(excursion_name(summary)).styled(BOLD));
        self.line(grid, Cell::left(""), |summary| match summary.end.as_ref() {
            Some(end) if summary.stopped.is_some() => {
                Cell::left(format!("stops, {}", reach(summary, end))).styled(ALARM)
            }
            Some(end) => Cell::left(reach(summary, end)),
            None => Cell::left("no pose at rest").styled(ALARM),
        });
    }

    fn teeth(&self, grid: &mut Grid, side: Side) {
        let of_side: Vec<(usize, &Cusp)> =
            self.scene.cusps.iter().enumerate().filter(|(_, cusp)| cusp.tooth().side() == side).collect();
        if of_side.is_empty() {
            return;
        }
        grid.blank();
        let label = if side == Side::Right { "Right teeth" } else { "Left teeth" };
        self.line(grid, Cell::left(label).styled(BOLD), |summary| {
            match summary.excursion.movement().working_side() {
                Some(working) if working == side => Cell::left("working side"),
                Some(_) => Cell::left("orbiting side"),
                None => Cell::left(""),
            }
        });
        self.section(grid, "", ["sep.", "clear.", "least"]);
        for (index, cusp) in of_side {
            self.cusp(grid, index, cusp);
        }
    }

    fn cusp(&self, grid: &mut Grid, index: usize, cusp: &Cusp) {
        let mut cells = vec![Cell::left(cusp_label(cusp))];
        for summary in self.summaries {
            let Some(end) = &summary.end else {
                cells.extend(no_numbers());
                continue;
            };
            let (reading, least) = (end.readings[index], summary.least[index].reading);
            let alarm = |cell: Cell, interferes| if interferes { cell.styled(ALARM) } else { cell };
            cells.push(match summary.separation_from_start(index) {
                Some(separation) => Cell::right(two_decimals(separation.mm())),
                None => Cell::right("–").styled(FAINT),
            });
            cells.push(alarm(Cell::right(two_decimals(reading.clearance.mm())), reading.interferes()));
            cells.push(alarm(Cell::right(two_decimals(least.clearance.mm())), least.interferes()));
        }
        grid.row(cells);
        if self.summaries.iter().any(|summary| summary.interferes(index)) {
            self.line(grid, Cell::left(""), |summary| {
                let text = summary.interferes(index).then(|| {
                    let unit = if is_opening(summary) { "°" } else { "" };
                    format!("interferes at {}{unit}", two_decimals(summary.least[index].along))
                });
                Cell::left(text.unwrap_or_default()).styled(ALARM)
            });
        }
    }

    fn condyles(&self, grid: &mut Grid) {
        grid.blank();
        self.section(grid, "Condyle", ["adv.", "medial", "drop"]);
        for side in Side::BOTH {
            self.numbers(grid, side.name(), |summary| {
                let reading = summary.end.as_ref()?.placement.condyle(side);
                Some([reading.advance, reading.medial, reading.drop].map(|length| length.mm()))
            });
        }
        if self
            .summaries
            .iter()
            .any(|summary| matches!(summary.excursion.movement(), Movement::Lateral { .. }))
        {
            self.section(grid, "Bennett movement", ["out", "back", "up"]);
            self.numbers(grid, "working condyle", |summary| {
                let bennett = summary.end.as_ref()?.bennett_movement(&summary.excursion)?;
                Some([bennett.outward, bennett.backward, bennett.upward].map(|length| length.mm()))
            });
        }
    }

    fn incisal_point(&self, grid: &mut Grid) {
        self.section(grid, "Incisal point", ["ahead", "left", "down"]);
        self.numbers(grid, "moved", |summary| {
            let moved = summary.end.as_ref()?.placement.incisal_point.coords()
                - summary.start.as_ref()?.incisal_point.coords();
            Some([moved.x, moved.y, -moved.z])
        });
        let end = |summary: &ExcursionSummary, words_of: &dyn Fn(&Placement) -> String| {
            Cell::left(summary.end.as_ref().map_or("–".to_owned(), |end| words_of(&end.placement)))
        };
        self.line(grid, Cell::left("guided by"), |summary| end(summary, &guided_by));
        self.line(grid, Cell::left("jaw turned"), |summary| {
            end(summary, &|placement| turned(placement.opening()))
        });
    }

    fn casts(&self, grid: &mut Grid) {
        self.section(grid, "Casts", ["vert.", "dist.", "lift"]);
        let mut cells = vec![Cell::left("at the end")];
        for summary in self.summaries {
            let end = summary.end.as_ref();
            let closeness = end.and_then(|end| end.closeness);
            let numbers = [
                closeness.and_then(|closeness| closeness.vertical_gap),
                closeness.map(|closeness| closeness.distance),
                end.and_then(|end| end.placement.pin_lift),
            ];
            cells.extend(numbers.map(|number| match number {
                Some(number) => Cell::right(two_decimals(number.mm())),
                None => Cell::right("–").styled(FAINT),
            }));
        }
        grid.row(cells);
    }
}

/// What guides one after the other, in every excursion.
fn what_guides(summaries: &[ExcursionSummary]) -> Grid {
    let mut grid = Grid::new(vec![(0, 0), (3, 0), (1, 0), (1, 0), (1, 0), (2, 0), (2, 0)]);
    let heads = [Cell::left("What guides"), Cell::left("from").across(4), Cell::left(""), Cell::left("")];
    grid.row(heads.into_iter().map(|cell| cell.styled(BOLD)).collect());
    for summary in summaries {
        let unit = if is_opening(summary) { "°" } else { "mm" };
        for (index, stretch) in summary.stretches.kept.iter().enumerate() {
            let name = if index == 0 { excursion_name(summary) } else { String::new() };
            let [from, to] = [stretch.from, stretch.to].map(two_decimals);
            let (between, end) = if from == to { ("", String::new()) } else { ("to", to) };
            let mut cells = vec![Cell::left(name), Cell::right(from)];
            cells.extend([Cell::left(between), Cell::right(end), Cell::left(unit)]);
            cells.extend([Cell::left(guidance_words(stretch.guidance)), Cell::left(lift_words(stretch))]);
            grid.row(cells);
        }
        if summary.stretches.more > 0 {
            let more = format!("and {} more stretches", summary.stretches.more);
            grid.row(vec![Cell::left(""), Cell::left(more).across(6).styled(FAINT)]);
        }
    }
    grid
}

/// How far the pin stands off while teeth guide.
fn lift_words(stretch: &Stretch) -> String {
    match stretch.pin_lift.map(|lift| two_decimals(lift.mm())) {
        // At rest teeth and pin meet at once, but for rounding.
        Some(lift) if stretch.guidance.teeth().is_some() && lift != "0.00" => {
            format!("pin up to {lift} mm off")
        }
        _ => String::new(),
    }
}

fn no_numbers() -> [Cell; 3] {
    [(); 3].map(|()| Cell::right("–").styled(FAINT))
}

fn is_opening(summary: &ExcursionSummary) -> bool {
    matches!(summary.excursion.drive(), Drive::Opening(_))
}

fn excursion_name(summary: &ExcursionSummary) -> String {
    words::name::movement(summary.excursion.movement()).to_owned()
}

/// How far an excursion went, in what drives it.
fn reach(summary: &ExcursionSummary, end: &End) -> String {
    match summary.excursion.drive() {
        Drive::Advance(_) => format!("{} mm advance", two_decimals(end.placement.advance().mm())),
        Drive::Opening(_) => format!("{}° opening", two_decimals(end.placement.opening().degrees())),
        Drive::IncisalDisplacement(_) => {
            let start = summary
                .start
                .as_ref()
                .map_or(0.0, |start| start.incisal_point.distance_mm(&end.placement.incisal_point));
            format!("{} mm at incisor", two_decimals(start))
        }
        Drive::Tracing(_) => {
            format!("{} mm on the tracing", two_decimals(summary.on_the_tracing.mm()))
        }
    }
}

fn guided_by(placement: &Placement) -> String {
    guidance_words(placement.guidance)
}

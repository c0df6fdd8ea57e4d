//! The sheet: everything on it as words and pictures, made ready for the kinds of file.
//!
//! It is one page. Lists that could burst it are cut, and say so; the whole is in what `eminentia
//! program` prints.

mod html;
mod page;
mod pdf;

use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};
use sim_core::cusp::{Cusp, CuspReading};
use sim_core::frame::Side;
use sim_core::plan::{Goal, Role};
use sim_core::record::program::ProgrammedAngle;
use sim_core::scene::Scene;

use crate::case::WorkedCase;
use crate::figures::{Column, Figure, disclusion_figure, plate_figure};
use crate::planned::Planned;
use crate::tracing::TracingReport;
use crate::walk::SceneWalk;
use words::number::two_decimals;

/// Longest lists that fit on the page with everything else.
const MOST_CUSPS: usize = 8;
const MOST_RECORDS: usize = 8;
const MOST_GAPS: usize = 12;
const MOST_DOUBTS: usize = 5;
const LONGEST_DOUBT: usize = 260;
const LONGEST_PLAN_LINE: usize = 330;
/// The tooth whose inclines stand on the sheet.
const SHOWN_MOLAR: u8 = 36;
const LONGEST_TITLE: usize = 80;
const LONGEST_NAME: usize = 18;

/// In place of the settings.
pub const WITHHELD: &str = "Withheld: the centric record is not confirmed.";
/// Under the settings.
pub const NOTE_ON_SETTINGS: &str = "± is one standard error, from the stated noise of the landmarks and, for a \
    mounting by averages, the spread between people. H is the inclination to the horizontal reference plane, L the \
    lateral angle, both of the straight line from the seat to the record; a curved path is steeper at the seat.";
/// Under the disclusion.
pub const NOTE_ON_DISCLUSION: &str = "Millimetres as the instrument is set, at the end of each excursion. sep.: \
    separation along the normal of the occlusal plane; clear.: separation less the rise of the opposing incline; \
    least: the least clearance on the way. Below zero (marked !) the cusp interferes.";

/// Why there is no sheet as PDF. A fault of the program, not of the case.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{reason}")]
pub struct SheetError {
    /// What the drawing library says.
    pub reason: String,
}

/// Papers that a sheet is set for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 inches.
    Letter,
}

/// The kinds of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Html,
    Pdf,
}

impl Kind {
    /// By the ending of a file's name, without its dot.
    pub fn of_ending(ending: &str) -> Option<Self> {
        match ending.to_lowercase().as_str() {
            "html" | "htm" => Some(Self::Html),
            "pdf" => Some(Self::Pdf),
            _ => None,
        }
    }

    /// The sheet as such a file.
    pub fn bytes(self, sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, SheetError> {
        match self {
            Self::Html => Ok(html::text(sheet, paper).into_bytes()),
            Self::Pdf => pdf::bytes(sheet, paper).map_err(|reason| SheetError { reason }),
        }
    }
}

/// What stands on the page.
pub struct Sheet {
    pub title: String,
    pub set_up: String,
    /// The verdict's word, its sentences, and whether it is a good one.
    pub verdict: (&'static str, String),
    pub confirmed: bool,
    /// Where, how much, whether too much.
    pub gaps: Vec<(String, String, bool)>,
    /// Empty where they are withheld.
    pub settings: Vec<SettingRow>,
    /// What is planned and what must change for it; empty without a plan.
    pub plan: Vec<String>,
    pub records: Vec<Vec<String>>,
    pub doubts: Vec<String>,
    pub disclusion: Option<Disclusion>,
    pub tracing: Option<TracingPart>,
    /// Program, version, input and its hash.
    pub origin: Vec<String>,
}

/// A setting.
pub struct SettingRow {
    pub guide: String,
    pub name: &'static str,
    pub value: String,
    pub from: String,
}

/// What the settings do to the teeth.
pub struct Disclusion {
    /// Name, and how far it goes.
    pub excursions: Vec<(String, String)>,
    /// A cusp, and three numbers for each excursion.
    pub rows: Vec<(String, Vec<[String; 3]>)>,
    pub notes: Vec<String>,
    pub figure: Figure,
}

/// A tracing.
pub struct TracingPart {
    pub lines: Vec<String>,
    pub figure: Figure,
}

/// Heads of the table of records.
pub const RECORD_HEADS: [&str; 8] = ["record", "misfit", "adv.", "medial", "drop", "adv.", "medial", "drop"];

impl Sheet {
    /// Puts a sheet together.
    pub fn of(worked: &WorkedCase, tracing: Option<&TracingReport>) -> Self {
        let (word, sentences) = worked.centric_verdict();
        let check = worked.programmed.centric.as_ref();
        Self {
            title: printable(&worked.case.title, LONGEST_TITLE),
            set_up: worked.mounting_words(),
            verdict: (word, sentences),
            confirmed: check.is_some_and(|check| check.confirmed),
            gaps: gaps(worked),
            settings: settings(worked),
            plan: plan(worked),
            records: records(worked),
            doubts: doubts(worked),
            disclusion: worked.scene.as_ref().filter(|scene| !scene.cusps.is_empty()).map(disclusion),
            tracing: tracing.map(tracing_part),
            origin: origin(worked),
        }
    }
}

/// Text from a file made fit to print: no control characters, and no longer than it may be.
fn printable(text: &str, longest: usize) -> String {
    let mut printed: String = text
        .chars()
        .take(longest)
        .map(|letter| if letter.is_control() { '\u{fffd}' } else { letter })
        .collect();
    if text.chars().count() > longest {
        printed.push('…');
    }
    printed
}

fn gaps(worked: &WorkedCase) -> Vec<(String, String, bool)> {
    let Some(check) = &worked.programmed.centric else { return Vec::new() };
    let tolerance = worked.case.split_cast_tolerance_mm.length();
    let names = worked.case.groove_names().into_iter();
    let rows = names.zip(&check.gaps).map(|(name, gap)| (name, two_decimals(gap.mm()), *gap > tolerance));
    let mut rows: Vec<_> = rows.collect();
    if rows.len() > MOST_GAPS {
        // The largest are those that matter.
        rows.sort_by(|one, other| other.1.cmp(&one.1));
        rows.truncate(MOST_GAPS);
    }
    rows
}

fn settings(worked: &WorkedCase) -> Vec<SettingRow> {
    let mut rows = Vec::new();
    for side in Side::BOTH {
        let Some(own) = worked.programmed.side(side) else { continue };
        let guide = format!("{side} guide");
        let row = |name, setting: &ProgrammedAngle| {
            let read = &setting.angle;
            let error = match read.standard_error {
                Some(error) => format!(" ± {}°", two_decimals(error.degrees())),
                None => " ± not known".to_owned(),
            };
            let words = setting.from.words();
            let mut from = if read.records > 1 {
                format!("mean of {} {words}s", read.records)
            } else {
                words.to_owned()
            };
            if let Some(scatter) = read.scatter {
                let _ = write!(from, ", scatter {}°", two_decimals(scatter.degrees()));
            }
            let value = format!("{}°{error}", two_decimals(read.value.degrees()));
            SettingRow { guide: guide.clone(), name, value, from }
        };
        rows.push(row("horizontal inclination H", &own.horizontal_inclination));
        rows.push(row("lateral angle L", &own.lateral_angle));
        let immediate = worked.immediate_translation_mm(side);
        if immediate != 0.0 {
            rows.push(SettingRow {
                guide,
                name: "immediate translation",
                value: format!("{} mm", two_decimals(immediate)),
                from: "as the case gives it".to_owned(),
            });
        }
    }
    rows
}

/// The plan in short: what is reached, what changes, which cusps the answer leans on.
fn plan(worked: &WorkedCase) -> Vec<String> {
    let Some((scene, plan)) = worked.scene.as_ref().and_then(|scene| Some((scene, scene.plan.as_ref()?)))
    else {
        return Vec::new();
    };
    let planned = match Planned::of(scene, plan) {
        Ok(planned) => planned,
        Err(error) => return vec![printable(&format!("No plan: {error}."), LONGEST_DOUBT)],
    };
    let molar = planned.teeth.iter().find(|own| own.place.tooth.number() == SHOWN_MOLAR);
    let inclines = molar.map(|own| {
        let of = |role| two_decimals(own.glide(role).tangent.along_way.degrees());
        format!(
            "Inclines needed at {SHOWN_MOLAR} to glide in contact: protrusive {}°, working {}°, orbiting {}° to the \
             occlusal plane.",
            of(Role::Protrusive),
            of(Role::Working),
            of(Role::Orbiting),
        )
    });
    let changes = match planned.change_words() {
        all if all.is_empty() => planned.answer.is_some().then(|| "Nothing changes.".to_owned()),
        all => Some(format!("Changes: {}.", all.join("; "))),
    };
    let wanted = plan.goal.as_ref().map(wanted);
    let all = wanted.into_iter().chain(planned.verdict()).chain(changes).chain(inclines);
    all.map(|line| printable(&line, LONGEST_PLAN_LINE)).collect()
}

/// What the plan is to reach.
fn wanted(goal: &Goal) -> String {
    match goal {
        Goal::BalancedArticulation(goal) => format!(
            "Wanted: balanced articulation, of teeth with a cusp inclination of {}°.",
            two_decimals(goal.cusp_inclination.degrees())
        ),
        Goal::Disclusion(goal) => {
            let clearances = goal.clearances.iter().map(|own| {
                let cusp = own.name.as_deref().map(|name| format!(" {name}")).unwrap_or_default();
                let (clearance, advance) = (own.clearance.mm(), own.advance.mm());
                format!(
                    "{}{cusp} {} {} mm after {} mm",
                    own.tooth,
                    own.excursion.name(),
                    two_decimals(clearance),
                    two_decimals(advance)
                )
            });
            format!("Clearance wanted: {}.", clearances.collect::<Vec<_>>().join("; "))
        }
    }
}

fn records(worked: &WorkedCase) -> Vec<Vec<String>> {
    let all = &worked.programmed.records;
    let row = |(index, record): (usize, &sim_core::record::program::ReadRecord)| {
        let mut row = vec![
            format!("{index} {}", record.kind.name().replace('_', " ")),
            record.fit_rms.map_or("–".to_owned(), |rms| two_decimals(rms.mm())),
        ];
        for side in Side::BOTH {
            match record.reading.as_ref().map(|reading| reading.condyle(side)) {
                Some(condyle) => row.extend(
                    [condyle.advance, condyle.medial, condyle.drop].map(|length| two_decimals(length.mm())),
                ),
                None => row.extend([(); 3].map(|()| "–".to_owned())),
            }
        }
        row
    };
    let mut rows: Vec<Vec<String>> = all.iter().enumerate().take(MOST_RECORDS).map(row).collect();
    if all.len() > MOST_RECORDS {
        let more = format!("and {} more", all.len() - MOST_RECORDS);
        rows.push([vec![more], vec![String::new(); RECORD_HEADS.len() - 1]].concat());
    }
    rows
}

fn doubts(worked: &WorkedCase) -> Vec<String> {
    let all = &worked.warnings;
    let mut told: Vec<String> =
        all.iter().take(MOST_DOUBTS).map(|doubt| printable(doubt, LONGEST_DOUBT)).collect();
    if all.len() > MOST_DOUBTS {
        told.push(format!("and {} more, which eminentia program tells", all.len() - MOST_DOUBTS));
    }
    told
}

/// Which cusps stand on the sheet: all, or those with the least clearance anywhere.
fn watched(scene: &Scene, least: &[f64]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..scene.cusps.len()).collect();
    if places.len() > MOST_CUSPS {
        places.sort_by(|one, other| least[*one].total_cmp(&least[*other]));
        places.truncate(MOST_CUSPS);
        places.sort_unstable();
    }
    places
}

fn disclusion(scene: &Scene) -> Disclusion {
    let run = SceneWalk::new(scene, None);
    let mut excursions: Vec<(String, String)> = Vec::new();
    let mut gone: Vec<(Vec<f64>, Vec<Vec<CuspReading>>)> = Vec::new();
    let mut notes = Vec::new();
    for solving in run.excursions() {
        let mut along = Vec::new();
        let mut readings = Vec::new();
        for placement in solving.samples() {
            along.push(solving.along(&placement));
            readings.push(solving.cusps(&placement).map(|(_, reading)| reading).collect());
        }
        let name = solving.excursion().movement().name().replace('_', " ");
        if let Some(no_pose) = solving.stopped() {
            notes.push(format!("Stopped short: {no_pose}."));
        }
        let reach =
            along.last().map_or("no pose".to_owned(), |end| format!("{} mm advance", two_decimals(*end)));
        excursions.push((name, reach));
        gone.push((along, readings));
    }
    let least_of = |readings: &[Vec<CuspReading>], cusp: usize| {
        readings.iter().map(|sample| sample[cusp].clearance.mm()).fold(f64::INFINITY, f64::min)
    };
    let least: Vec<f64> = (0..scene.cusps.len())
        .map(|cusp| gone.iter().map(|(_, readings)| least_of(readings, cusp)).fold(f64::INFINITY, f64::min))
        .collect();
    let places = watched(scene, &least);
    if places.len() < scene.cusps.len() {
        notes.push(format!("Of {} cusps, the {} of least clearance.", scene.cusps.len(), places.len()));
    }
    let marked = |mm: f64| {
        let text = two_decimals(mm);
        if text.starts_with('−') { format!("{text}!") } else { text }
    };
    let row = |&place: &usize| {
        let cusp = &scene.cusps[place];
        let numbers = gone.iter().map(|(_, readings)| match readings.last() {
            Some(end) => [
                two_decimals(end[place].separation.mm()),
                marked(end[place].clearance.mm()),
                marked(least_of(readings, place)),
            ],
            None => [(); 3].map(|()| "–".to_owned()),
        });
        (format!("{} {}", cusp.tooth(), printable(cusp.name(), LONGEST_NAME)), numbers.collect())
    };
    let columns: Vec<Column> = gone
        .iter()
        .zip(&excursions)
        .map(|((along, readings), (name, _))| {
            let lines = |read: fn(&CuspReading) -> f64| {
                places
                    .iter()
                    .map(|place| readings.iter().map(|sample| read(&sample[*place])).collect())
                    .collect()
            };
            Column {
                name: name.clone(),
                along: along.clone(),
                separation: lines(|reading| reading.separation.mm()),
                clearance: lines(|reading| reading.clearance.mm()),
            }
        })
        .collect();
    let cusps: Vec<&Cusp> = places.iter().map(|place| &scene.cusps[*place]).collect();
    Disclusion {
        rows: places.iter().map(row).collect(),
        figure: disclusion_figure(&cusps, &columns),
        excursions,
        notes,
    }
}

fn tracing_part(report: &TracingReport) -> TracingPart {
    let findings = &report.findings;
    let angle = |estimate: &sim_core::tracing::Estimate<sim_core::units::Angle>| {
        format!(
            "{}° ± {}°",
            two_decimals(estimate.value.degrees()),
            two_decimals(estimate.standard_error.degrees())
        )
    };
    let mut lines = vec![
        printable(&crate::case::file_name(&report.name), LONGEST_NAME * 2),
        report.verdict(),
        format!("Angle at the apex {}.", angle(&findings.apex_angle)),
    ];
    lines.extend(findings.legs.iter().map(|leg| format!("{}: {}.", leg.leg, angle(&leg.tangent))));
    lines.push(format!("Rings on the legs: {} mm from the apex.", findings.radius.mm()));
    TracingPart { lines, figure: plate_figure(report) }
}

fn origin(worked: &WorkedCase) -> Vec<String> {
    let mut hash = String::new();
    for byte in Sha256::digest(worked.text.as_bytes()) {
        let _ = write!(hash, "{byte:02x}");
    }
    vec![
        format!(
            "eminentia {}; case {}",
            env!("CARGO_PKG_VERSION"),
            printable(&worked.file_name(), LONGEST_TITLE)
        ),
        format!("SHA-256 of the case: {hash}"),
    ]
}

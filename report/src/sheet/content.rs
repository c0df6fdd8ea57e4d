//! What stands on the sheet: words, numbers as they are written, and figures.

use std::fmt::Write as _;

use sim_core::cusp::{Cusp, CuspReading};
use sim_core::facts::Entry;
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::plan::{Goal, Role};
use sim_core::record::program::ProgrammedAngle;
use sim_core::scene::Scene;

use crate::case::WorkedCase;
use crate::figures::{Column, Figure, disclusion_figure, plate_figure};
use crate::planned::Planned;
use crate::tracing::TracingReport;
use crate::walk::SceneWalk;
use sim_core::units::Length;
use words::number::{is_below_zero, two_decimals};

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
pub(super) const WITHHELD: &str = "Withheld: the centric record is not confirmed.";
/// Under the settings.
pub(super) const NOTE_ON_SETTINGS: &str = "± is one standard error, from the stated noise of the landmarks and, for a \
    mounting by averages, the spread between people. H is the inclination to the horizontal reference plane, L the \
    lateral angle, both of the straight line from the seat to the record; a curved path is steeper at the seat.";
/// Under the disclusion.
pub(super) const NOTE_ON_DISCLUSION: &str = "Millimetres as the instrument is set, at the end of each excursion. sep.: \
    separation along the normal of the occlusal plane; clear.: separation less the rise of the opposing incline; \
    least: the least clearance on the way. Below zero (marked !) the cusp interferes.";

/// What stands on the page.
pub struct Sheet {
    /// Title of the case.
    pub title: String,
    /// Mounting and instrument, in a sentence.
    pub set_up: String,
    /// The verdict's word, its sentences, and whether it is a good one.
    pub verdict: (&'static str, String),
    /// Whether the centric record is confirmed.
    pub confirmed: bool,
    /// Gaps of the split cast; of many, the largest.
    pub gaps: Vec<Gap>,
    /// Empty where they are withheld.
    pub settings: Vec<SettingRow>,
    /// What is planned and what must change for it; empty without a plan.
    pub plan: Vec<String>,
    /// A row a record.
    pub records: Vec<Vec<String>>,
    /// What to doubt, in sentences.
    pub doubts: Vec<String>,
    /// What the settings do to the teeth; none without cusps or settings.
    pub disclusion: Option<Disclusion>,
    /// The tracing, if there is one.
    pub tracing: Option<TracingPart>,
    /// Program, version, input and its hash.
    pub origin: Vec<String>,
}

/// A gap between the halves of a split cast.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    /// The groove that it is at.
    pub at: String,
    /// How wide it is.
    pub mm: f64,
    /// Whether the tolerance allows it.
    pub too_large: bool,
}

/// A setting.
pub struct SettingRow {
    /// Which guide it is of.
    pub guide: String,
    /// Its name.
    pub name: String,
    /// Its value with its error.
    pub value: String,
    /// The record that it is read from.
    pub from: String,
}

/// What the settings do to the teeth.
pub struct Disclusion {
    /// Name, and how far it goes.
    pub excursions: Vec<(String, String)>,
    /// A cusp, and three numbers for each excursion.
    pub rows: Vec<(String, Vec<[String; 3]>)>,
    /// What else is to be known, in sentences.
    pub notes: Vec<String>,
    /// The figure.
    pub figure: Figure,
}

/// A tracing.
pub struct TracingPart {
    /// What is found, in sentences.
    pub lines: Vec<String>,
    /// The figure.
    pub figure: Figure,
}

/// Heads of the table of records.
pub(super) const RECORD_HEADS: [&str; 8] =
    ["record", "misfit", "adv.", "medial", "drop", "adv.", "medial", "drop"];

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

fn gaps(worked: &WorkedCase) -> Vec<Gap> {
    let Some(check) = &worked.programmed.centric else { return Vec::new() };
    let tolerance = worked.case.split_cast_tolerance_mm.length();
    let names = worked.case.groove_names().into_iter();
    let gap = |(at, gap): (String, &Length)| Gap { at, mm: gap.mm(), too_large: *gap > tolerance };
    largest(names.zip(&check.gaps).map(gap).collect())
}

/// The gaps, or the largest of more than there is room for: those are the ones that matter.
fn largest(mut gaps: Vec<Gap>) -> Vec<Gap> {
    if gaps.len() > MOST_GAPS {
        gaps.sort_by(|one, other| other.mm.total_cmp(&one.mm));
        gaps.truncate(MOST_GAPS);
    }
    gaps
}

fn settings(worked: &WorkedCase) -> Vec<SettingRow> {
    let mut rows = Vec::new();
    for side in Side::BOTH {
        let Some(angles) = worked.programmed.side(side) else { continue };
        let guide = format!("{side} guide");
        let row = |entry: &Entry<CondylarGuide>, setting: &ProgrammedAngle| {
            let read = &setting.angle;
            let error = match read.standard_error {
                Some(error) => format!(" ± {}°", two_decimals(error.degrees())),
                None => " ± not known".to_owned(),
            };
            let words = words::verdict::warning::source(setting.from);
            let mut from = if read.records > 1 {
                format!("mean of {} {words}s", read.records)
            } else {
                words.to_owned()
            };
            if let Some(scatter) = read.scatter {
                let _ = write!(from, ", scatter {}°", two_decimals(scatter.degrees()));
            }
            let value = format!("{}°{error}", two_decimals(read.value.degrees()));
            SettingRow { guide: guide.clone(), name: words::name::lettered(&entry.facts), value, from }
        };
        rows.push(row(&CondylarGuide::HORIZONTAL_INCLINATION, &angles.horizontal_inclination));
        rows.push(row(&CondylarGuide::LATERAL_ANGLE, &angles.lateral_angle));
        let immediate = worked.immediate_translation_mm(side);
        if immediate != 0.0 {
            rows.push(SettingRow {
                guide,
                name: words::name::lettered(&CondylarGuide::IMMEDIATE_TRANSLATION.facts),
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
    let molar = planned.teeth.iter().find(|tooth| tooth.place.tooth.number() == SHOWN_MOLAR);
    let inclines = molar.map(|tooth| {
        let of = |role| two_decimals(tooth.glide(role).tangent.along_way.degrees());
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
            let clearances = goal.clearances.iter().map(|target| {
                let cusp = target.name.as_deref().map(|name| format!(" {name}")).unwrap_or_default();
                let (clearance, advance) = (target.clearance.mm(), target.advance.mm());
                format!(
                    "{}{cusp} {} {} mm after {} mm",
                    target.tooth,
                    target.excursion.name(),
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
            format!("{index} {}", words::name::record(record.kind)),
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
    let mut lines: Vec<String> =
        all.iter().take(MOST_DOUBTS).map(|doubt| printable(doubt, LONGEST_DOUBT)).collect();
    if all.len() > MOST_DOUBTS {
        lines.push(format!("and {} more, which eminentia program tells", all.len() - MOST_DOUBTS));
    }
    lines
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
        let name = words::name::movement(solving.excursion().movement()).to_owned();
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
        let mark = if is_below_zero(mm, 2) { "!" } else { "" };
        format!("{}{mark}", two_decimals(mm))
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
    let hash = files::sha256([worked.text.as_bytes()]);
    vec![
        format!(
            "eminentia {}; case {}",
            env!("CARGO_PKG_VERSION"),
            printable(&worked.file_name(), LONGEST_TITLE)
        ),
        format!("SHA-256 of the case: {hash}"),
    ]
}

#[cfg(test)]
mod tests {
    use super::{Gap, MOST_GAPS, largest};

    #[test]
    fn of_many_gaps_the_largest_are_kept_by_their_size_and_not_by_their_digits() {
        let gap = |mm: f64| Gap { at: format!("groove at {mm}"), mm, too_large: false };
        let small = (0..MOST_GAPS).map(|place| gap(0.1 + place as f64 / 100.0));
        let kept = largest([9.99, 10.5].map(gap).into_iter().chain(small).collect());
        assert_eq!(kept.len(), MOST_GAPS);
        assert_eq!((kept[0].mm, kept[1].mm), (10.5, 9.99));
    }
}

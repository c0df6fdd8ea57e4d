//! What stands on the sheet: words, numbers as they are written, and figures.

use std::sync::Arc;

use sim_core::cast::Casts;
use sim_core::frame::Side;
use sim_core::programmed::AnteriorSource;
use sim_core::scene::Scene;
use sim_core::units::Length;
use words::number::two_decimals;
use words::verdict::warning::DISCLUSION_NOT_TOLD;

use super::disclusion::{self, Disclusion};
use super::graduation::Graduation;
use super::printable::{LONGEST_DOUBT, LONGEST_NAME, printable};
use super::settings::Settings;
use super::{planned, set_up};
use crate::case::{WorkedCase, file_name};
use crate::figures::{Figure, plate_figure};
use crate::tracing::TracingReport;

/// Longest lists that fit on the page with everything else.
const MOST_RECORDS: usize = 8;
const MOST_GAPS: usize = 12;
const MOST_DOUBTS: usize = 5;
const LONGEST_TITLE: usize = 80;

/// How a sheet is made.
#[derive(Clone, Debug, Default)]
pub struct SheetOptions {
    /// Of the instrument's scales.
    pub graduation: Graduation,
    /// The day on which it is made, as `2026-11-27`; the caller asks the clock.
    pub day: String,
}

/// What is read besides the case or scene.
#[derive(Default)]
pub struct Beside<'b> {
    /// The patient's tracing.
    pub tracing: Option<&'b TracingReport>,
    /// The casts, which guide where the teeth are to; without them nothing is told of teeth that do.
    pub casts: Option<Arc<Casts>>,
}

/// What stands on the page.
pub struct Sheet {
    /// Title of the case or scene.
    pub title: String,
    /// How the instrument stands before anything is set, a line each.
    pub set_up: Vec<String>,
    /// What the centric record says; none where there are no records.
    pub centric: Option<Centric>,
    /// The settings.
    pub settings: Settings,
    /// What is planned and what must change for it; empty without a plan.
    pub plan: Vec<String>,
    /// A row a record; none where there are none.
    pub records: Vec<Vec<String>>,
    /// What to doubt, in sentences.
    pub doubts: Vec<String>,
    /// What the settings do to the teeth; none without cusps or settings.
    pub disclusion: Option<Disclusion>,
    /// In place of the disclusion, why there is none.
    pub no_disclusion: Option<String>,
    /// The tracing, if there is one.
    pub tracing: Option<TracingPart>,
    /// What is filled in by hand, a line each.
    pub by_hand: Vec<String>,
    /// Program, version, day, input and its hash.
    pub origin: Vec<String>,
}

/// What the centric record says.
pub struct Centric {
    /// The verdict in a word.
    pub word: &'static str,
    /// The sentences that go with it.
    pub sentences: String,
    /// Whether it is confirmed.
    pub confirmed: bool,
    /// Gaps of the split cast; of many, the largest.
    pub gaps: Vec<Gap>,
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
    /// The sheet of a case.
    pub fn of(worked: &WorkedCase, options: &SheetOptions, beside: Beside<'_>) -> Self {
        let with_cusps = worked.scene.as_ref().filter(|scene| !scene.cusps.is_empty());
        let is_assumed = worked.anterior == Some(AnteriorSource::Assumed);
        Self {
            title: printable(&worked.case.title, LONGEST_TITLE),
            set_up: set_up::of_case(worked).iter().map(|line| printable(line, LONGEST_DOUBT)).collect(),
            centric: Some(centric(worked)),
            settings: Settings::of_case(worked, options.graduation),
            plan: worked.scene.as_ref().map(planned::lines).unwrap_or_default(),
            records: records(worked),
            doubts: doubts(worked),
            disclusion: with_cusps
                .filter(|_| !is_assumed)
                .map(|scene| disclusion::of_scene(scene, beside.casts)),
            no_disclusion: with_cusps.filter(|_| is_assumed).map(|_| format!("{DISCLUSION_NOT_TOLD}.")),
            tracing: beside.tracing.map(tracing_part),
            by_hand: set_up::by_hand(),
            origin: origin(options, "case", &worked.name, &worked.text),
        }
    }

    /// The sheet of a scene: its settings as they are, without records and without a ±. `name` is its file's, `text`
    /// what stands in it.
    pub fn of_scene(
        scene: &Scene,
        name: &str,
        text: &str,
        options: &SheetOptions,
        beside: Beside<'_>,
    ) -> Self {
        Self {
            title: printable(&scene.title, LONGEST_TITLE),
            set_up: set_up::of_scene(scene),
            centric: None,
            settings: Settings::of_instrument(&scene.instrument, options.graduation),
            plan: planned::lines(scene),
            records: Vec::new(),
            doubts: Vec::new(),
            disclusion: (!scene.cusps.is_empty()).then(|| disclusion::of_scene(scene, beside.casts)),
            no_disclusion: None,
            tracing: beside.tracing.map(tracing_part),
            by_hand: set_up::by_hand(),
            origin: origin(options, "scene", name, text),
        }
    }
}

fn centric(worked: &WorkedCase) -> Centric {
    let (word, sentences) = worked.centric_verdict();
    let confirmed = worked.programmed.centric.as_ref().is_some_and(|check| check.confirmed);
    Centric { word, sentences, confirmed, gaps: gaps(worked) }
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

fn records(worked: &WorkedCase) -> Vec<Vec<String>> {
    let all = &worked.programmed.records;
    let row = |(index, record): (usize, &sim_core::record::program::ReadRecord)| {
        let name = format!("{} {}", index + 1, words::name::record(record.kind));
        if let Some(read) = words::name::read_at_the_bench(&worked.case.records[index]) {
            let rest = vec![String::new(); RECORD_HEADS.len() - 1];
            return [vec![format!("{name}, {read}")], rest].concat();
        }
        let mut row = vec![name, record.fit_rms.map_or("–".to_owned(), |rms| two_decimals(rms.mm()))];
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
        printable(&file_name(&report.name), LONGEST_NAME * 2),
        report.verdict(),
        format!("Angle at the apex {}.", angle(&findings.apex_angle)),
    ];
    lines.extend(findings.legs.iter().map(|leg| format!("{}: {}.", leg.leg, angle(&leg.tangent))));
    lines.push(format!("Rings on the legs: {} mm from the apex.", findings.radius.mm()));
    TracingPart { lines, figure: plate_figure(report) }
}

/// What it was made from. Of a file's name the folders are left out, which are nobody's business on paper.
fn origin(options: &SheetOptions, what: &str, name: &str, text: &str) -> Vec<String> {
    let hash = files::sha256([text.as_bytes()]);
    vec![
        format!(
            "eminentia {}; made {} (UTC); {what} {}",
            env!("CARGO_PKG_VERSION"),
            options.day,
            printable(&file_name(name), LONGEST_TITLE)
        ),
        format!("SHA-256 of the {what}: {hash}"),
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

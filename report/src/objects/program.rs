//! The object of a programmed case.

use std::collections::BTreeMap;

use serde::Serialize;
use sim_core::frame::Side;
use sim_core::record::fit::BenchFit;
use sim_core::record::program::{ProgrammedAngle, ReadRecord, SideSettings, Source};
use sim_core::record::split_cast::SplitCast;
use sim_core::scene::Scene;
use sim_core::units::Length;

use super::Condyle;
use crate::anterior::AnteriorSettings;
use crate::case::WorkedCase;
use crate::rows::exact;

/// All of it.
#[derive(Serialize)]
pub struct ProgramObject<'w> {
    title: &'w str,
    /// Absent when the centric record is not confirmed, as is the scene.
    #[serde(skip_serializing_if = "Option::is_none")]
    settings: Option<Sides>,
    /// Absent likewise.
    #[serde(skip_serializing_if = "Option::is_none")]
    anterior_guide: Option<Anterior>,
    /// Null without a repeat of the centric record.
    centric: Option<Centric>,
    records: Vec<Record>,
    /// The settings by the bench way: those that close the split-cast gap over all records at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    bench: Option<Bench>,
    mounting: Mounting,
    #[serde(skip_serializing_if = "Option::is_none")]
    scene: Option<&'w Scene>,
    warnings: &'w [String],
}

#[derive(Serialize)]
struct Sides {
    right: Guide,
    left: Guide,
}

#[derive(Serialize)]
struct Guide {
    horizontal_inclination_deg: Angle,
    lateral_angle_deg: Angle,
    immediate_translation_mm: f64,
}

#[derive(Serialize)]
struct Angle {
    value: f64,
    /// Null where nothing says how noisy the records are, and for a value by rule.
    standard_error: Option<f64>,
    from: &'static str,
    /// `record` or `rule`.
    source: &'static str,
    /// The share of the standard error that a mounting by averages adds; null for a face-bow.
    mounting_error: Option<f64>,
    /// Standard deviation between repeats of the record; null for one record.
    scatter: Option<f64>,
    /// Number of records averaged.
    records: usize,
    /// What the angle is: of a straight line from the seat to the record (`chord`), or by a rule.
    read_as: &'static str,
}

/// The anterior guide, with where each of its angles comes from.
#[derive(Serialize)]
struct Anterior {
    /// What guides, in words; `not given` where nothing says.
    guide: &'static str,
    /// By the names of a scene's settings; empty where there is none to set.
    settings: BTreeMap<&'static str, AnteriorValue>,
    note: Option<String>,
}

#[derive(Serialize)]
struct AnteriorValue {
    value: f64,
    from: String,
}

#[derive(Serialize)]
struct Bench {
    right: BenchGuide,
    left: BenchGuide,
    /// Gap left over, root mean square over records and grooves.
    gap_rms_mm: f64,
    /// The greatest gap left over.
    largest_gap_mm: f64,
    /// What the noise of the landmarks would leave; null where nothing says how noisy they are.
    expected_gap_rms_mm: Option<f64>,
}

#[derive(Serialize)]
struct BenchGuide {
    horizontal_inclination_deg: f64,
    /// Null without a record in which this side orbits.
    lateral_angle_deg: Option<f64>,
}

#[derive(Serialize)]
struct Centric {
    confirmed: bool,
    largest_gap_mm: f64,
    tolerance_mm: f64,
    /// How likely noise alone is to reject a sound record; null where nothing says how noisy it is.
    false_alarm_probability: Option<f64>,
    gaps: Vec<Gap>,
    /// From the tentative position to the repeat, of the middle of the grooves.
    shift_mm: Shift,
    tilt_deg: Tilt,
    /// Words for the direction in which the tentative record is off; null when it is confirmed.
    tentative_is_off: Option<String>,
}

#[derive(Serialize)]
struct Gap {
    at: String,
    gap_mm: f64,
}

#[derive(Serialize)]
struct Shift {
    forward: f64,
    left: f64,
    up: f64,
}

#[derive(Serialize)]
struct Tilt {
    left_side_up: f64,
    opening: f64,
    front_to_left: f64,
}

#[derive(Serialize)]
struct Record {
    name: &'static str,
    /// Null for a record given as a matrix or by gaps.
    fit_rms_mm: Option<f64>,
    /// Null for a centric repeat given by gaps.
    right_condyle: Option<Condyle>,
    left_condyle: Option<Condyle>,
    /// How far the incisal point has gone along the occlusal plane, as a tracing shows it; null for a
    /// centric repeat.
    tracing_mm: Option<f64>,
    /// Misfit of each landmark, in order.
    residuals_mm: Vec<f64>,
}

#[derive(Serialize)]
struct Mounting {
    axis_length_mm: f64,
    intercondylar_distance_mm: f64,
}

/// A case worked through.
#[must_use]
pub fn program(worked: &WorkedCase) -> ProgramObject<'_> {
    let done = &worked.programmed;
    let guide = |side| Some(guide(done.side(side)?, worked.immediate_translation_mm(side)));
    ProgramObject {
        title: &worked.case.title,
        settings: guide(Side::Right).zip(guide(Side::Left)).map(|(right, left)| Sides { right, left }),
        anterior_guide: worked.anterior_settings().map(anterior),
        centric: done.centric.as_ref().map(|check| centric(check, worked)),
        records: done.records.iter().zip(&worked.distances).map(record).collect(),
        bench: worked.bench.as_ref().map(bench),
        mounting: Mounting {
            axis_length_mm: done.mounting.axis_length().mm(),
            intercondylar_distance_mm: done.intercondylar_distance.mm(),
        },
        scene: worked.scene.as_ref(),
        warnings: &worked.warnings,
    }
}

fn guide(settings: &SideSettings, immediate_translation_mm: f64) -> Guide {
    Guide {
        horizontal_inclination_deg: angle(&settings.horizontal_inclination),
        lateral_angle_deg: angle(&settings.lateral_angle),
        immediate_translation_mm: exact(immediate_translation_mm),
    }
}

fn angle(setting: &ProgrammedAngle) -> Angle {
    let read = &setting.angle;
    Angle {
        value: exact(read.value.degrees()),
        standard_error: read.standard_error.map(|error| error.degrees()),
        from: words::verdict::warning::source(setting.from),
        source: match setting.from {
            Source::Record(_) => "record",
            Source::Rule => "rule",
        },
        mounting_error: read.mounting_error.map(|error| error.degrees()),
        scatter: read.scatter.map(|scatter| scatter.degrees()),
        records: read.records,
        read_as: if setting.from == Source::Rule { "rule" } else { "chord" },
    }
}

fn anterior(settings: AnteriorSettings) -> Anterior {
    let rows = settings.rows.into_iter();
    Anterior {
        guide: settings.name,
        settings: rows
            .map(|row| (row.facts.key, AnteriorValue { value: exact(row.value), from: row.from }))
            .collect(),
        note: settings.note,
    }
}

fn bench(fit: &BenchFit) -> Bench {
    let guide = |side| {
        let settings = fit.side(side);
        BenchGuide {
            horizontal_inclination_deg: exact(settings.horizontal_inclination.degrees()),
            lateral_angle_deg: settings.lateral_angle.map(|angle| exact(angle.degrees())),
        }
    };
    Bench {
        right: guide(Side::Right),
        left: guide(Side::Left),
        gap_rms_mm: exact(fit.rms.mm()),
        largest_gap_mm: exact(fit.greatest.mm()),
        expected_gap_rms_mm: fit.expected_rms.map(|rms| exact(rms.mm())),
    }
}

fn centric(check: &SplitCast, worked: &WorkedCase) -> Centric {
    let gaps = worked.case.groove_names().into_iter().zip(&check.gaps);
    let [left_side_up, opening, front_to_left] = check.tilt.map(|turn| exact(turn.degrees()));
    Centric {
        confirmed: check.confirmed,
        largest_gap_mm: exact(check.largest_gap.mm()),
        tolerance_mm: worked.case.split_cast_tolerance_mm.length().mm(),
        false_alarm_probability: check.false_alarm,
        gaps: gaps.map(|(at, gap)| Gap { at, gap_mm: exact(gap.mm()) }).collect(),
        shift_mm: Shift {
            forward: exact(check.shift_mm.x),
            left: exact(check.shift_mm.y),
            up: exact(check.shift_mm.z),
        },
        tilt_deg: Tilt { left_side_up, opening, front_to_left },
        tentative_is_off: (!check.confirmed).then(|| words::verdict::centric::tentative_is_off(check)),
    }
}

fn record((record, distance): (&ReadRecord, &Option<Length>)) -> Record {
    let condyle = |side| Some(record.reading.as_ref()?.condyle(side).into());
    Record {
        name: record.kind.name(),
        fit_rms_mm: record.fit_rms.map(|rms| exact(rms.mm())),
        right_condyle: condyle(Side::Right),
        left_condyle: condyle(Side::Left),
        tracing_mm: distance.map(|distance| exact(distance.mm())),
        residuals_mm: record.residuals.iter().map(|misfit| exact(misfit.mm())).collect(),
    }
}

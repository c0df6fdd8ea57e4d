//! The settings of the sheet: the mark to set, beside it what was read and how sure it is, and where it comes from.

use std::fmt::Write as _;

use sim_core::doubt::{Doubt, Uncertainties, redraw};
use sim_core::facts::{Entry, Facts};
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::instrument::Instrument;
use sim_core::record::program::{ProgrammedAngle, Source};
use sim_core::record::{Case, MountingFields, RecordFields};
use sim_core::units::{Angle, Unit};
use words::caution::TISSUE;
use words::number::{as_given, as_set, two_decimals, whole, with_unit};

use super::graduation::Graduation;
use super::set_up::NAME;
use crate::anterior::AnteriorSettings;
use crate::case::WorkedCase;

/// Draws of a sheet's ±: it is then sure to some 3 % of itself, more than its two digits say.
const DRAWS: u32 = 500;
/// The same case gives the same sheet.
const SEED: u64 = 1;

/// In place of the settings.
pub(super) const WITHHELD: &str = "Withheld: the centric record is not confirmed.";
/// Heads of the table of settings.
pub(super) const SETTING_HEADS: [&str; 3] = ["set to", "read as", "from"];

/// A setting.
pub struct SettingRow {
    /// Which guide it is of.
    pub guide: String,
    /// Its name.
    pub name: String,
    /// The mark of the scale to set it to.
    pub set_to: String,
    /// What was read, with its error; empty where nothing was.
    pub read_as: String,
    /// Where it comes from.
    pub from: String,
}

/// The settings, with what is said under them.
pub struct Settings {
    /// Empty where they are withheld.
    pub rows: Vec<SettingRow>,
    /// What is to be known of single rows, in sentences.
    pub notes: Vec<String>,
    /// What the words and numbers above mean.
    pub legend: String,
}

impl Settings {
    /// Those of a case; its ± is that of the case redrawn from all its errors.
    pub(super) fn of_case(worked: &WorkedCase, graduation: Graduation) -> Self {
        if worked.programmed.settings.is_none() {
            return Self { rows: Vec::new(), notes: Vec::new(), legend: String::new() };
        }
        let uncertainties =
            Uncertainties { scale_step: graduation.angle(), ..Uncertainties::usual(&worked.case) };
        let doubt = redraw(&worked.case, &uncertainties, DRAWS, SEED);
        let mut rows = Vec::new();
        for side in Side::BOTH {
            let Some(angles) = worked.programmed.side(side) else { continue };
            let angles = [
                (&CondylarGuide::HORIZONTAL_INCLINATION, &angles.horizontal_inclination),
                (&CondylarGuide::LATERAL_ANGLE, &angles.lateral_angle),
            ];
            for (entry, read) in angles {
                rows.push(measured(side, entry, read, doubt.as_ref().ok(), graduation));
            }
            let immediate = worked.immediate_translation_mm(side);
            if immediate != 0.0 {
                let facts = &CondylarGuide::IMMEDIATE_TRANSLATION.facts;
                rows.push(given(
                    guide(side),
                    facts,
                    immediate,
                    graduation,
                    "as the case gives it".to_owned(),
                ));
            }
        }
        let mut notes = Vec::new();
        if let Some(anterior) = worked.anterior_settings() {
            anterior_rows(&anterior, graduation, &mut rows, &mut notes);
        }
        let mut spread = match &doubt {
            Ok(_) => redrawn(&worked.case, &uncertainties),
            Err(why) => format!("±: not known, since {why}."),
        };
        let by_rule =
            |side| worked.programmed.side(side).is_some_and(|own| own.lateral_angle.from == Source::Rule);
        if Side::BOTH.into_iter().any(by_rule) {
            spread += " By rule: what this patient has is not known.";
        }
        let legend = format!("{} {spread} {MEANING} {TISSUE}", marks(graduation));
        Self { rows, notes, legend }
    }

    /// Those of a scene: as somebody gave them, so that nothing says how sure they are.
    pub(super) fn of_instrument(instrument: &Instrument, graduation: Graduation) -> Self {
        let from = || "as the scene has it".to_owned();
        let always =
            [CondylarGuide::HORIZONTAL_INCLINATION.facts.key, CondylarGuide::LATERAL_ANGLE.facts.key];
        let mut rows = Vec::new();
        for side in Side::BOTH {
            for entry in CondylarGuide::SETTINGS {
                let value = entry.value(instrument.guide(side));
                if value != 0.0 || always.contains(&entry.facts.key) {
                    rows.push(given(guide(side), &entry.facts, value, graduation, from()));
                }
            }
        }
        let mut notes: Vec<String> =
            Side::BOTH.into_iter().filter_map(|side| unscaled(instrument, side)).collect();
        anterior_rows(
            &AnteriorSettings::of_scene(&instrument.anterior_guide),
            graduation,
            &mut rows,
            &mut notes,
        );
        let legend = format!(
            "{} No ±: a scene does not say how its settings were found. {MEANING}",
            marks(graduation)
        );
        Self { rows, notes, legend }
    }
}

const MEANING: &str = "H: inclination to the plane named above; L: lateral condylar angle (Bennett angle), to straight \
    ahead; both of the straight line from the seat to the record, where a curved path is steeper at the seat.";

fn marks(graduation: Graduation) -> String {
    format!("Set to: the nearest mark of a scale graduated in {}°.", as_given(graduation.angle().degrees()))
}

fn guide(side: Side) -> String {
    format!("{side} guide")
}

/// A setting read off records.
fn measured(
    side: Side,
    entry: &Entry<CondylarGuide>,
    setting: &ProgrammedAngle,
    doubt: Option<&Doubt>,
    graduation: Graduation,
) -> SettingRow {
    let read = &setting.angle;
    let value = two_decimals(read.value.degrees());
    let of_this = |doubt: &Doubt| {
        let this =
            |one: &&sim_core::doubt::SettingDoubt| one.side == side && one.setting.key == entry.facts.key;
        doubt.settings.iter().find(this).map(|one| one.spread.sd)
    };
    let read_as = match (setting.from, doubt.and_then(of_this)) {
        (Source::Rule, _) => format!("{value}° by rule"),
        (Source::Record(_), Some(sd)) => format!("{value}° ± {}°", two_decimals(sd)),
        (Source::Record(_), None) => format!("{value}° ± not known"),
    };
    let words = words::verdict::warning::source(setting.from);
    let mut from = match read.records {
        0 | 1 => words.to_owned(),
        records => format!("mean of {records} {words}s"),
    };
    if let Some(scatter) = read.scatter {
        // Writing to a String does not fail.
        let _ = write!(from, ", scatter {}°", two_decimals(scatter.degrees()));
    }
    SettingRow {
        guide: guide(side),
        name: words::name::lettered(&entry.facts),
        set_to: graduation.nearest(read.value),
        read_as,
        from,
    }
}

/// A setting that somebody gave or that teeth ask for.
fn given(guide: String, facts: &Facts, value: f64, graduation: Graduation, from: String) -> SettingRow {
    let (set_to, read_as) = match facts.unit {
        Unit::Degree => (graduation.nearest(Angle::from_degrees(value)), format!("{}°", two_decimals(value))),
        Unit::Millimetre => (with_unit(value, Unit::Millimetre, 2), String::new()),
    };
    SettingRow { guide, name: words::name::lettered(facts), set_to, read_as, from }
}

fn anterior_rows(
    anterior: &AnteriorSettings,
    graduation: Graduation,
    rows: &mut Vec<SettingRow>,
    notes: &mut Vec<String>,
) {
    for row in &anterior.rows {
        let mut row = given(anterior.name.to_owned(), row.facts, row.value, graduation, row.from.clone());
        // The guide's name stands before it already.
        row.name = row.name.replace(" of the incisal guide", "");
        if !anterior.is_set_by_scale {
            "–".clone_into(&mut row.set_to);
        }
        rows.push(row);
    }
    match &anterior.note {
        Some(note) => notes.push(format!("Anterior guide: {}. {note}", anterior.name)),
        None if anterior.rows.is_empty() => {
            notes.push(format!("Anterior guide: {} in the case; set to {NAME}", anterior.name));
        }
        None => {}
    }
}

/// What a guide has besides its scales: a path that is not straight, a translation that comes early.
fn unscaled(instrument: &Instrument, side: Side) -> Option<String> {
    use sim_core::guide::GuidePath;
    let guide = instrument.guide(side);
    let path = match &guide.path {
        GuidePath::Straight => None,
        GuidePath::Arc(arc) => Some(format!("path of {} mm radius", as_set(arc.radius.mm()))),
        GuidePath::Profile(_) => Some("path by a profile".to_owned()),
    };
    let early = &guide.early_translation;
    let early = (early.amount.mm() != 0.0).then(|| {
        format!("early translation {} mm over {} mm", as_set(early.amount.mm()), as_set(early.over.mm()))
    });
    let all: Vec<String> = path.into_iter().chain(early).collect();
    (!all.is_empty()).then(|| format!("{side} guide also: {}.", all.join("; ")))
}

/// What the ± is made of: the errors that the case states, and those common on the bench for what it does not.
fn redrawn(case: &Case, taken: &Uncertainties) -> String {
    let mut of_the_case = Vec::new();
    let mut of_the_bench = Vec::new();
    if case.lower_landmarks.is_some() {
        of_the_case.push(format!("landmarks {} mm", as_set(taken.landmark_sd.mm())));
    }
    let is_reading = |record: &RecordFields| {
        matches!(record, RecordFields::ScaleReadings(_) | RecordFields::GrooveGaps(_))
    };
    if case.records.iter().any(is_reading) {
        of_the_case.push("scale readings and gaps".to_owned());
    }
    let reference = as_set(taken.reference_sd.mm());
    match &case.mounting {
        MountingFields::FaceBow { .. } => of_the_bench
            .push(format!("axis points {} mm, reference point {reference} mm", as_set(taken.axis_sd.mm()))),
        MountingFields::Average { .. } => of_the_bench.push(format!(
            "arm and Balkwill angle as they vary between people, points of the occlusal plane {reference} mm"
        )),
        MountingFields::Named { .. } => {}
    }
    if case.records.iter().any(|record| record.pose().is_some()) {
        of_the_bench.push(format!("records uneven by {} mm", as_set(taken.record_sd.mm())));
    }
    of_the_bench.push(format!("setting within a graduation of {}°", as_set(taken.scale_step.degrees())));
    let not_the_axis = match &case.mounting {
        MountingFields::Named { .. } => {
            " The axis is not among them: without coordinates nothing tells what it adds."
        }
        MountingFields::FaceBow { .. } | MountingFields::Average { .. } => "",
    };
    format!(
        "±: one standard deviation of {} redrawings of the case, with the errors that it states ({}) and those common \
         on the bench ({}).{not_the_axis}",
        whole(u64::from(DRAWS)),
        of_the_case.join(", "),
        of_the_bench.join(", "),
    )
}

#[cfg(test)]
mod tests {
    use sim_core::anterior::{AnteriorGuide, Trough};

    use super::*;

    #[test]
    fn names_of_the_anterior_guide_do_not_say_it_twice() {
        let anterior = AnteriorSettings::of_scene(&AnteriorGuide::Table(Trough::LEVEL));
        let (mut rows, mut notes) = (Vec::new(), Vec::new());
        anterior_rows(&anterior, Graduation::default(), &mut rows, &mut notes);
        let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
        assert_eq!(names, ["incisal guide inclination", "right wing", "left wing"]);
        assert!(notes.is_empty());
        rows.clear();
        let incisors = AnteriorSettings::of_scene(&AnteriorGuide::Incisors(Trough::LEVEL));
        anterior_rows(&incisors, Graduation::default(), &mut rows, &mut notes);
        assert!(rows.iter().all(|row| row.set_to == "–"), "nobody sets incisors by a scale");
    }
}

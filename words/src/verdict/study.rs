//! What is allowed in a study but hardly meant.

use sim_core::study::{ArcPassed, StudyWarning, Tail};

use super::idle;
use crate::number::{as_given, percent, whole};

/// One warning.
#[must_use]
pub fn warning(warning: &StudyWarning) -> String {
    match warning {
        StudyWarning::Idle { setting, why } => idle::setting(setting, *why),
        StudyWarning::LeavesRange { tail, rows } => leaves_range(tail, *rows),
        StudyWarning::RowsOutOfRange { part } => {
            format!("{} of the rows have a value out of range", between(*part))
        }
        StudyWarning::GroupsOutOfRange { part, groups } => format!(
            "{} have a row with a value out of range and leave the Sobol’ indices, which then describe the \
             settings that are left and not the distributions of the study",
            expected(*part, *groups, "groups")
        ),
        StudyWarning::UnevenRows { rows } => uneven("rows", *rows),
        StudyWarning::UnevenGroups { groups } => uneven("groups", *groups),
    }
}

fn leaves_range(tail: &Tail, rows: u64) -> String {
    let (setting, facts, (least, most)) = (&tail.setting, tail.setting.facts(), tail.range);
    let remedy = if tail.is_derived {
        "it stays within it where the factor that it follows has narrower values"
    } else {
        "a TruncatedNormal stays within it"
    };
    format!(
        "{setting} leaves its range of {} to {} {} in {}, which then have no pose; {remedy}",
        as_given(least),
        as_given(most),
        facts.unit.words(),
        expected(tail.part, rows, "rows"),
    )
}

/// `about 160 of 1000 rows (16 %)`.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // a part of them
fn expected(part: f64, of: u64, what: &str) -> String {
    let about = (part * of as f64).round().max(1.0) as u64;
    format!("about {} of {} {what} ({})", whole(about), whole(of), percent(part))
}

fn between((least, most): (f64, f64)) -> String {
    let (least, most) = (percent(least), percent(most));
    if least == most { least } else { format!("between {least} and {most}") }
}

/// What is odd about a row whose column `note` says so.
#[must_use]
pub const fn arc_passed(passed: ArcPassed) -> &'static str {
    match passed {
        ArcPassed::Right => "the right condyle has passed the lowest point of its arc and rises again",
        ArcPassed::Left => "the left condyle has passed the lowest point of its arc and rises again",
        ArcPassed::Both => "both condyles have passed the lowest points of their arcs and rise again",
    }
}

fn uneven(what: &str, count: u64) -> String {
    let above = count.next_power_of_two();
    format!(
        "{what} is {count}, no power of two: the Sobol' points are then less even than {} or {above} would be",
        above / 2,
    )
}

#[cfg(test)]
mod tests {
    use sim_core::setting::Idle;

    use super::*;

    #[test]
    fn every_warning_names_what_it_is_about() {
        let setting = "lateral_angle_deg".parse().expect("a setting");
        let tail = |name: &str, is_derived| Tail {
            setting: name.parse().expect("a setting"),
            part: 0.158_655,
            range: (-30.0, 85.0),
            is_derived,
        };
        for one in [
            StudyWarning::Idle { setting, why: Idle::NoInventedCasts },
            StudyWarning::LeavesRange { tail: tail("horizontal_inclination_deg", false), rows: 9216 },
            StudyWarning::LeavesRange { tail: tail("lateral_angle_deg", true), rows: 20 },
            StudyWarning::RowsOutOfRange { part: (0.16, 0.3) },
            StudyWarning::RowsOutOfRange { part: (0.2, 0.2) },
            StudyWarning::GroupsOutOfRange { part: 0.292, groups: 1024 },
            StudyWarning::UnevenRows { rows: 1000 },
            StudyWarning::UnevenGroups { groups: 3 },
        ] {
            let wanted = match &one {
                StudyWarning::Idle { .. } => {
                    "lateral_angle_deg changes nothing: the scene has no invented_casts"
                }
                StudyWarning::LeavesRange { tail, .. } if tail.is_derived => {
                    "lateral_angle_deg leaves its range of −30 to 85 degrees in about 3 of 20 rows (16 %), which then \
                     have no pose; it stays within it where the factor that it follows has narrower values"
                }
                StudyWarning::LeavesRange { .. } => {
                    "horizontal_inclination_deg leaves its range of −30 to 85 degrees in about 1462 of 9216 rows \
                     (16 %), which then have no pose; a TruncatedNormal stays within it"
                }
                StudyWarning::RowsOutOfRange { part: (least, most) } if least == most => {
                    "20 % of the rows have a value out of range"
                }
                StudyWarning::RowsOutOfRange { .. } => {
                    "between 16 % and 30 % of the rows have a value out of range"
                }
                StudyWarning::GroupsOutOfRange { .. } => {
                    "about 299 of 1024 groups (29 %) have a row with a value out of range and leave the Sobol’ \
                     indices, which then describe the settings that are left and not the distributions of the study"
                }
                StudyWarning::UnevenRows { .. } => {
                    "rows is 1000, no power of two: the Sobol' points are then less even than 512 or 1024 would be"
                }
                StudyWarning::UnevenGroups { .. } => {
                    "groups is 3, no power of two: the Sobol' points are then less even than 2 or 4 would be"
                }
            };
            assert_eq!(warning(&one), wanted);
        }
    }
}

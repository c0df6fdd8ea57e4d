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
        StudyWarning::UnevenRows { rows, replicates } => uneven("rows", *rows, *replicates),
        StudyWarning::UnevenGroups { groups, replicates } => uneven("groups", *groups, *replicates),
    }
}

/// What an interval gets shorter by more of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// So many rows.
    Rows(u64),
    /// So many groups of rows.
    Groups(u64),
}

/// Digits after the point that a result is wanted to have: as many as tables print.
const WANTED: i32 = 2;
/// More digits than this are not spoken of.
const MOST_DIGITS: i32 = 6;

/// Whether there are enough of them, by half the length of an interval: a number has so many digits after the
/// point as its interval leaves alone, up to half of the last. How many more are needed goes by the square of the
/// interval's length, which holds for random rows; even points need fewer.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // estimates
pub fn enough(half_width: f64, counted: Counted) -> String {
    let (count, what) = match counted {
        Counted::Rows(rows) => (rows, "rows"),
        Counted::Groups(groups) => (groups, "groups"),
    };
    if !half_width.is_finite() {
        return format!("{} {what} are too few to tell", whole(count));
    }
    let digits = if half_width > 0.0 { (-(2.0 * half_width).log10()).floor() as i32 } else { MOST_DIGITS };
    if digits >= WANTED {
        let digits = spelled(digits.min(MOST_DIGITS));
        return format!("{} {what} are enough for {digits} digits after the point", whole(count));
    }
    let times = (2.0 * half_width * 10_f64.powi(WANTED)).powi(2);
    let needed = rounded_up(count as f64 * times);
    let wanted = spelled(WANTED);
    match digits {
        1 => format!("enough for one digit after the point; {wanted} need about {needed} {what}"),
        _ => format!("too few for one digit after the point; {wanted} need about {needed} {what}"),
    }
}

const fn spelled(digits: i32) -> &'static str {
    match digits {
        2 => "two",
        3 => "three",
        4 => "four",
        5 => "five",
        _ => "six",
    }
}

/// Two digits that count, rounded up.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // an estimate
fn rounded_up(count: f64) -> String {
    let step = 10_f64.powf(count.max(1.0).log10().floor() - 1.0).max(1.0);
    whole(((count / step).ceil() * step) as u64)
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

fn uneven(what: &str, count: u64, replicates: u32) -> String {
    let replicates = u64::from(replicates);
    let above = count.div_ceil(replicates).next_power_of_two();
    // Where the power of two itself would do, the rest of the division is what is uneven.
    let below = if above * replicates > count { above / 2 } else { above };
    let nearest = match below * replicates {
        0 => (above * replicates).to_string(),
        below => format!("{below} or {}", above * replicates),
    };
    let evener = format!("the Sobol' points are then less even than {nearest} would be");
    if replicates == 1 {
        format!("{what} is {count}, no power of two: {evener}")
    } else {
        format!("{what} is {count}, not {replicates} times a power of two (a scrambling each): {evener}")
    }
}

#[cfg(test)]
mod tests {
    use sim_core::setting::Idle;

    use super::*;

    #[test]
    fn a_verdict_says_how_many_digits_stand_and_what_two_would_take() {
        for (half, counted, is) in [
            (0.005, Counted::Rows(4000), "4000 rows are enough for two digits after the point"),
            (0.0004, Counted::Groups(1024), "1024 groups are enough for three digits after the point"),
            (0.0, Counted::Rows(10), "10 rows are enough for six digits after the point"),
            // Twice the wanted half: four times the rows.
            (0.01, Counted::Rows(1000), "enough for one digit after the point; two need about 4000 rows"),
            (
                0.2,
                Counted::Groups(64),
                "too few for one digit after the point; two need about 110,000 groups",
            ),
            (f64::NAN, Counted::Rows(3), "3 rows are too few to tell"),
        ] {
            assert_eq!(enough(half, counted), is);
        }
    }

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
            StudyWarning::UnevenRows { rows: 1000, replicates: 1 },
            StudyWarning::UnevenGroups { groups: 1000, replicates: 8 },
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
                    "groups is 1000, not 8 times a power of two (a scrambling each): the Sobol' points are then less even \
                     than 512 or 1024 would be"
                }
            };
            assert_eq!(warning(&one), wanted);
        }
    }
}

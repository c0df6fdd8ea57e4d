//! What is allowed in a study but hardly meant.

use sim_core::study::StudyWarning;

use super::idle;

/// One warning.
#[must_use]
pub fn warning(warning: &StudyWarning) -> String {
    match warning {
        StudyWarning::Idle { setting, why } => idle::setting(setting, *why),
        StudyWarning::UnevenRows { rows } => uneven("rows", *rows),
        StudyWarning::UnevenGroups { groups } => uneven("groups", *groups),
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
        for one in [
            StudyWarning::Idle { setting, why: Idle::NoInventedCasts },
            StudyWarning::UnevenRows { rows: 1000 },
            StudyWarning::UnevenGroups { groups: 3 },
        ] {
            let wanted = match &one {
                StudyWarning::Idle { .. } => {
                    "lateral_angle_deg changes nothing: the scene has no invented_casts"
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

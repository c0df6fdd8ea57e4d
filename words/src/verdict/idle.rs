//! Settings that change nothing in a scene, and why.

use sim_core::setting::{Change, Idle, SettingName};

use crate::name;

/// Why a setting does nothing: `left_guide.horizontal_inclination_deg changes nothing on the left
/// side: …`.
#[must_use]
pub fn setting(setting: &SettingName, idle: Idle) -> String {
    sentence(setting.written(), idle)
}

/// Why a change does nothing, as [`setting`] says it of the setting.
#[must_use]
pub fn change(change: &Change, idle: Idle) -> String {
    sentence(&change.to_string(), idle)
}

fn sentence(written: &str, idle: Idle) -> String {
    let why = match idle {
        Idle::NoInventedCasts => "changes nothing: the scene has no invented_casts".to_owned(),
        Idle::CustomTable => "changes nothing: a custom table has heights, not angles".to_owned(),
        Idle::RecordedProfile { sides } => {
            let sides: Vec<&str> = sides.iter().copied().map(name::side).collect();
            format!(
                "changes nothing on the {} side: a recorded profile is the path there, and carries its own \
                 inclination",
                sides.join(" and "),
            )
        }
    };
    format!("{written} {why}")
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;

    use super::*;

    #[test]
    fn every_idle_setting_says_why() {
        let name: SettingName = "horizontal_inclination_deg".parse().expect("a setting");
        for idle in [
            Idle::NoInventedCasts,
            Idle::CustomTable,
            Idle::RecordedProfile { sides: &[Side::Left] },
            Idle::RecordedProfile { sides: &Side::BOTH },
        ] {
            let part = match idle {
                Idle::NoInventedCasts => "nothing: the scene has no invented_casts",
                Idle::CustomTable => "nothing: a custom table has heights, not angles",
                Idle::RecordedProfile { sides: [_] } => "nothing on the left side: a recorded profile",
                Idle::RecordedProfile { .. } => "nothing on the right and left side: a recorded profile",
            };
            let said = setting(&name, idle);
            assert!(said.starts_with(&format!("horizontal_inclination_deg changes {part}")), "{said}");
        }
    }

    #[test]
    fn a_change_is_named_as_it_was_written() {
        let written: Change = "invented_casts.fineness_mm=1".parse().expect("a change");
        assert_eq!(
            change(&written, Idle::NoInventedCasts),
            "invented_casts.fineness_mm=1 changes nothing: the scene has no invented_casts"
        );
    }
}

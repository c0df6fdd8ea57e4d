//! How an answer to a practice deal was judged.

use sim_core::practice::{Fault, SettingOutcome, VerdictOutcome};

use crate::number::angle;

/// How a setting was judged.
#[must_use]
pub fn setting(outcome: SettingOutcome) -> String {
    match outcome {
        SettingOutcome::AsRead => "as the records give it, to half a graduation".to_owned(),
        SettingOutcome::WithinBand => "as near the truth as the records allow".to_owned(),
        SettingOutcome::Off { beyond } => format!("{} beyond what the records allow", angle(beyond, 1)),
        SettingOutcome::NotGiven => "not given, though the records give it".to_owned(),
        SettingOutcome::Withheld => "rightly left open: what it is set from is taken again first".to_owned(),
        SettingOutcome::FromFaulty => "set from what must be rejected".to_owned(),
        SettingOutcome::NotSaid => "not given, but what it is set from is not rejected either".to_owned(),
    }
}

/// How a verdict on a record or on the instrument was judged.
#[must_use]
pub const fn verdict(outcome: VerdictOutcome) -> &'static str {
    match outcome {
        VerdictOutcome::Found => "found",
        VerdictOutcome::Missed => "missed",
        VerdictOutcome::WronglyClaimed => "wrongly claimed: it is sound",
        VerdictOutcome::RightlyAccepted => "rightly accepted",
        VerdictOutcome::OpenAtFault => "nothing said; it is at fault",
        VerdictOutcome::OpenSound => "nothing said; it is sound",
    }
}

/// What can be wrong with a deal.
#[must_use]
pub const fn fault(fault: Fault) -> &'static str {
    match fault {
        Fault::WrongCentric => "the tentative centric record is off",
        Fault::ShortProtrusion => "the protrusive record is too short",
        Fault::SwappedSides => "the lateral records are labelled with the wrong sides",
        Fault::UnzeroedInstrument => "the instrument was not zeroed",
    }
}

#[cfg(test)]
mod tests {
    use sim_core::units::Angle;

    use super::*;

    #[test]
    fn every_setting_is_judged_in_its_own_words() {
        for one in [
            SettingOutcome::AsRead,
            SettingOutcome::WithinBand,
            SettingOutcome::Off { beyond: Angle::from_degrees(1.26) },
            SettingOutcome::NotGiven,
            SettingOutcome::Withheld,
            SettingOutcome::FromFaulty,
            SettingOutcome::NotSaid,
        ] {
            let part = match one {
                SettingOutcome::AsRead => "half a graduation",
                SettingOutcome::WithinBand => "as near the truth",
                SettingOutcome::Off { .. } => "1.3° beyond",
                SettingOutcome::NotGiven => "not given, though",
                SettingOutcome::Withheld => "rightly left open",
                SettingOutcome::FromFaulty => "set from what must",
                SettingOutcome::NotSaid => "not given, but",
            };
            assert!(setting(one).starts_with(part) || setting(one).ends_with(part), "{}", setting(one));
        }
    }

    #[test]
    fn every_verdict_and_fault_has_its_words() {
        for one in [
            VerdictOutcome::Found,
            VerdictOutcome::Missed,
            VerdictOutcome::WronglyClaimed,
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::OpenAtFault,
            VerdictOutcome::OpenSound,
        ] {
            let part = match one {
                VerdictOutcome::Found => "found",
                VerdictOutcome::Missed => "missed",
                VerdictOutcome::WronglyClaimed => "wrongly claimed",
                VerdictOutcome::RightlyAccepted => "rightly accepted",
                VerdictOutcome::OpenAtFault => "nothing said; it is at fault",
                VerdictOutcome::OpenSound => "nothing said; it is sound",
            };
            assert!(verdict(one).starts_with(part), "{}", verdict(one));
        }
        for one in Fault::ALL {
            let part = match one {
                Fault::WrongCentric => "centric record is off",
                Fault::ShortProtrusion => "protrusive record is too short",
                Fault::SwappedSides => "wrong sides",
                Fault::UnzeroedInstrument => "not zeroed",
            };
            assert!(fault(one).ends_with(part), "{}", fault(one));
        }
    }
}

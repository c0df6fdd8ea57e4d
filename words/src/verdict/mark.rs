//! How an answer to a practice deal was judged.

use sim_core::practice::{Direction, Fault, SettingOutcome, VerdictOutcome};

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

/// How a verdict was judged.
#[must_use]
pub const fn verdict(outcome: VerdictOutcome) -> &'static str {
    match outcome {
        VerdictOutcome::Found => "found",
        VerdictOutcome::FoundOtherWay => "found, but not which way it is off",
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
        Fault::DoubleTracing => "the tracing was made twice and has two apexes",
        Fault::TippedPlate => "the tracing plate is tipped",
        Fault::WrongCentric => "the tentative centric record is off",
        Fault::ShortProtrusion => "the protrusive record is too short",
        Fault::UnperforatedProtrusion => "the bearing point has not gone through the protrusive record",
        Fault::ResilientTissue => "the tissue gives way: the protrusive record does not repeat",
        Fault::SwappedSides => "the lateral records are labelled with the wrong sides",
        Fault::UnperforatedLateral => "the bearing point has not gone through a lateral record",
        Fault::UnzeroedGuide => "a guide was not zeroed",
        Fault::UnlockedGuide => "a guide is not locked: its readings drift",
        Fault::PinNotFlush => "the pin is not flush",
        Fault::WingNotZeroed => "a wing of the incisal table is not level",
    }
}

/// What is wrong with one thing: the faults, and which way a centric record is off.
#[must_use]
pub fn faults(faults: &[Fault], centric_off: Option<Direction>) -> String {
    let one = |one: &Fault| match (one, centric_off) {
        (Fault::WrongCentric, Some(off)) => format!("{}, {}", fault(*one), direction(off)),
        _ => fault(*one).to_owned(),
    };
    faults.iter().map(one).collect::<Vec<String>>().join("; ")
}

/// Where a tentative centric record holds the jaw.
#[must_use]
pub const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::Forward => "too far forward",
        Direction::Back => "too far back",
        Direction::Right => "too far to the right",
        Direction::Left => "too far to the left",
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
            VerdictOutcome::FoundOtherWay,
            VerdictOutcome::Missed,
            VerdictOutcome::WronglyClaimed,
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::OpenAtFault,
            VerdictOutcome::OpenSound,
        ] {
            let part = match one {
                VerdictOutcome::Found => "found",
                VerdictOutcome::FoundOtherWay => "found, but not which",
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
                Fault::DoubleTracing => "two apexes",
                Fault::TippedPlate => "plate is tipped",
                Fault::WrongCentric => "centric record is off",
                Fault::ShortProtrusion => "protrusive record is too short",
                Fault::UnperforatedProtrusion => "not gone through the protrusive record",
                Fault::ResilientTissue => "does not repeat",
                Fault::SwappedSides => "wrong sides",
                Fault::UnperforatedLateral => "not gone through a lateral record",
                Fault::UnzeroedGuide => "guide was not zeroed",
                Fault::UnlockedGuide => "readings drift",
                Fault::PinNotFlush => "not flush",
                Fault::WingNotZeroed => "not level",
            };
            assert!(fault(one).ends_with(part), "{}", fault(one));
        }
    }

    #[test]
    fn which_way_a_centric_record_is_off_is_said_with_it_alone() {
        for (off, said) in Direction::ALL.into_iter().zip(["forward", "back", "to the right", "to the left"])
        {
            let both = faults(&[Fault::WrongCentric, Fault::PinNotFlush], Some(off));
            assert_eq!(
                both,
                format!("the tentative centric record is off, too far {said}; the pin is not flush")
            );
        }
        assert_eq!(faults(&[], None), "");
    }
}

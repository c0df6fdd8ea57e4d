//! A remount: what processing did, whether the centric relation stands, what to do, and what to grind.

use sim_core::occlusion::{ContactKind, IntendedScheme};
use sim_core::remount::{Centric, CentricVerdict, Ground, Processing};

use crate::number::{decimals, two_decimals};

/// What is less than this rounds to nothing, in millimetres and degrees.
const SAID_FROM: f64 = 0.005;
/// A pin this near its table stands on it, in millimetres: the film under which contact is told.
const ON_ITS_TABLE_MM: f64 = 0.04;

/// What the pin's lift says, with its numbers.
#[must_use]
pub fn processing(of: &Processing) -> String {
    let lift = of.pin_lift.mm();
    if lift.abs() <= ON_ITS_TABLE_MM {
        return "The pin stands on its table: processing has not changed the vertical dimension.".to_owned();
    }
    let [turn, incisors] = [of.turn.degrees(), of.at_incisors.mm()].map(|number| two_decimals(number.abs()));
    let lift_words = two_decimals(lift.abs());
    if lift > 0.0 {
        format!(
            "The pin stands {lift_words} mm off its table. Processing has turned the instrument open by {turn}° about \
             its axis, and the vertical dimension has grown by {incisors} mm at the incisors."
        )
    } else {
        format!(
            "The teeth close {lift_words} mm farther than the pin's table. Processing has turned the instrument closed \
             by {turn}° about its axis, and the vertical dimension has shrunk by {incisors} mm at the incisors. Grinding does not give it back."
        )
    }
}

/// Where the record has the jaw, against the mounting, once the hinge turn is taken away: `1.00 mm back, left side
/// 0.50° higher`.
#[must_use]
pub fn off(of: &Centric) -> String {
    let shift = of.shift_mm;
    let parts = [
        (shift.x, ["# mm forward", "# mm back"]),
        (shift.y, ["# mm to the left", "# mm to the right"]),
        (shift.z, ["# mm higher", "# mm lower"]),
        (of.roll.degrees(), ["left side higher by #°", "right side higher by #°"]),
        (of.yaw.degrees(), ["front turned #° to the left", "front turned #° to the right"]),
    ];
    let said: Vec<String> = parts
        .into_iter()
        .filter(|(amount, _)| amount.abs() >= SAID_FROM)
        .map(|(amount, [above, below])| {
            (if amount > 0.0 { above } else { below }).replace('#', &two_decimals(amount.abs()))
        })
        .collect();
    if said.is_empty() { "nowhere by 0.01 mm or 0.01°".to_owned() } else { said.join(", ") }
}

/// What the centric record says of the mounting.
#[must_use]
pub fn centric(of: &Centric) -> String {
    let [farthest, tolerance] = [of.farthest, of.tolerance].map(|length| two_decimals(length.mm()));
    let verdict = match of.verdict {
        CentricVerdict::Stands => format!(
            "The centric relation stands: neither condyle is off by more than {farthest} mm, and {tolerance} mm is allowed."
        ),
        CentricVerdict::Wrong => format!(
            "The centric relation of the mounting is wrong: a condyle is off by {farthest} mm, and {tolerance} mm is allowed."
        ),
        CentricVerdict::Undecided => format!(
            "Whether the centric relation is right cannot be told: a condyle is off by {farthest} mm, and the record is \
             not sure enough to say whether by chance."
        ),
    };
    let chance = of.errors.map(|errors| {
        let condyle = two_decimals(errors.condyle.mm());
        let chance = if errors.chance < 0.001 { "less than 0.001".to_owned() } else { decimals(errors.chance, 3) };
        format!(" The standard error of a condyle's place is {condyle} mm; chance alone gives as much with probability {chance}.")
    });
    let blind = if of.by_gaps {
        " Gaps at teeth show a tilt and a height alone: an error forward, back or sideways is not seen by them."
    } else {
        ""
    };
    format!("{verdict}{}{blind}", chance.unwrap_or_default())
}

/// What is to be done.
#[must_use]
pub fn to_do(processing: Option<&Processing>, centric: Option<&Centric>) -> &'static str {
    let lift = processing.map(|processing| processing.pin_lift.mm());
    match centric.map(|centric| centric.verdict) {
        None => {
            "Take a centric record with the finished dentures before anything is ground: the pin's lift does not tell an \
             error of processing from a wrong centric relation."
        }
        Some(CentricVerdict::Wrong) => {
            "Grind nothing on this mounting. Take the record again; if it agrees, mount the lower denture anew by it, and \
             look for what to grind on that mounting."
        }
        Some(CentricVerdict::Undecided) => "Take the record again before anything is ground.",
        Some(CentricVerdict::Stands) => match lift {
            Some(lift) if lift > ON_ITS_TABLE_MM => {
                "Grind on this mounting, centric first, until the pin stands on its table; then the excursions."
            }
            Some(lift) if lift < -ON_ITS_TABLE_MM => {
                "Grinding only lowers the bite further: decide first whether the teeth are to be set anew."
            }
            _ => "What is to be ground can be ground on this mounting, centric first, then the excursions.",
        },
    }
}

/// Whether the pin is off its table by more than the film under which contact is told.
#[must_use]
pub fn is_off_its_table(of: &Processing) -> bool {
    of.pin_lift.mm() > ON_ITS_TABLE_MM
}

/// What is ground on a tooth: `fossa or marginal ridge`, `buccal cusp, palatal incline`.
#[must_use]
pub const fn ground(of: Ground) -> &'static str {
    match of {
        Ground::UpperFossa | Ground::LowerFossa => "fossa or marginal ridge",
        Ground::UpperPalatalCusp => "palatal cusp",
        Ground::LowerBuccalCusp => "buccal cusp",
        Ground::UpperBuccalPalatalIncline => "buccal cusp, palatal incline",
        Ground::LowerLingualBuccalIncline => "lingual cusp, buccal incline",
        Ground::LowerBuccalLingualIncline => "buccal cusp, lingual incline",
        Ground::UpperDistalIncline => "buccal cusp, distal incline",
        Ground::LowerMesialIncline => "lingual cusp, mesial incline",
        Ground::LowerEdge => "incisal edge",
    }
}

/// The rule of a step, and what is never ground in it. Common practice, no source.
#[must_use]
pub const fn rule(step: ContactKind, scheme: IntendedScheme) -> &'static str {
    match (step, scheme) {
        (ContactKind::Centric, _) => {
            "Deepen the fossa that a high cusp meets. Shorten the cusp only if it is high in an excursion too, and never \
             one that leads on the working and on the orbiting side alike."
        }
        (ContactKind::Working, _) => {
            "Grind inclines of upper buccal and lower lingual cusps. Never the upper palatal or the lower buccal cusp: \
             they hold centric."
        }
        (ContactKind::Orbiting, IntendedScheme::Balanced) => {
            "Grind the lingual incline of the lower buccal cusp alone. Never the tips of both cusps that meet there: they \
             hold centric and balance."
        }
        (ContactKind::Orbiting, _) => {
            "Grind the lingual incline of the lower buccal cusp until the side is clear. Never the tips: they hold centric."
        }
        (ContactKind::Protrusive, _) => {
            "Grind distal inclines of upper cusps and mesial inclines of lower ones; of front teeth the lower edge. Never \
             the tip of a cusp that holds centric."
        }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::remount::Remount;
    use sim_core::scene::Scene;

    use super::*;

    fn said(lift: f64, forward: f64) -> (Processing, Centric) {
        let text = format!(
            "(title: \"t\", scene: \"s\", pin_lift_mm: {lift}, centric: Transform((1, 0, 0, {forward}), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)))"
        );
        let remount = Remount::from_ron(&text).expect("a remount");
        let scene = Scene::thirty_degree();
        (
            remount.processing(&scene).expect("a turn").expect("a lift"),
            remount.centric(&scene).expect("a pose").expect("a record"),
        )
    }

    #[test]
    fn lift_and_centric_are_told_apart_and_lead_to_different_work() {
        let (lifted, right) = said(1.0, 0.1);
        assert!(
            processing(&lifted).contains("1.00 mm off its table") && processing(&lifted).contains("grown")
        );
        assert!(centric(&right).contains("stands"), "{}", centric(&right));
        assert!(to_do(Some(&lifted), Some(&right)).contains("until the pin stands on its table"));
        let (level, wrong) = said(0.0, -0.8);
        assert!(processing(&level).contains("has not changed"));
        assert_eq!(off(&wrong), "0.80 mm back");
        assert!(centric(&wrong).contains("wrong: a condyle is off by 0.80 mm"));
        assert!(to_do(Some(&lifted), Some(&wrong)).starts_with("Grind nothing on this mounting."));
        assert!(to_do(Some(&lifted), None).contains("before anything is ground"));
        let (lowered, right) = said(-1.0, 0.0);
        assert!(processing(&lowered).contains("shrunk") && off(&right).contains("nowhere"));
        assert!(to_do(Some(&lowered), Some(&right)).contains("only lowers"));
    }

    #[test]
    fn every_surface_names_the_cusp_of_its_identifier() {
        for of in Ground::ALL {
            let words = ground(of);
            for part in
                ["fossa", "edge", "palatal_incline", "buccal_incline", "lingual_incline", "distal", "mesial"]
            {
                if of.name().ends_with(part) || (of.name().contains(part) && part.len() < 7) {
                    assert!(words.contains(&part.replace('_', " ")), "{of:?}: {words}");
                }
            }
        }
    }

    #[test]
    fn every_step_says_what_is_never_ground() {
        for scheme in IntendedScheme::ALL {
            for step in
                [ContactKind::Centric, ContactKind::Working, ContactKind::Orbiting, ContactKind::Protrusive]
            {
                assert!(rule(step, scheme).to_lowercase().contains("never"), "{step:?}");
            }
        }
    }
}

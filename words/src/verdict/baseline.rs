//! The examiner's checklist of an instrument before a patient's casts are mounted: what is asked, why it
//! matters, and what the scene says. The questions and their reasons are common practice, no source.

use sim_core::instrument::Baseline;
use sim_core::setting::{BaselineCheck, ChecklistItem, Departure, DepartureValue, Standing};
use sim_core::units::Angle;

use crate::name;
use crate::number::as_set;

/// Why the whole list is gone through first.
pub const WHY_FIRST: &str = "An error here is carried by every later step.";

/// What is to be so: `Both wings of the incisal table are level.`
#[must_use]
pub fn asked(check: BaselineCheck, baseline: &Baseline) -> String {
    let (guide, table) = (baseline.guide(), baseline.table());
    match check {
        BaselineCheck::PinAcross => {
            "The pin's tip stands in the middle of the incisal table, from side to side.".to_owned()
        }
        BaselineCheck::PinForeAndAft => {
            "The pin's tip stands in the middle of the incisal table, from front to back.".to_owned()
        }
        BaselineCheck::Wings => match [table.right_wing, table.left_wing].map(level_or) {
            [right, left] if right == left => format!("Both wings of the incisal table are {right}."),
            [right, left] => {
                format!("The right wing of the incisal table is {right}, the left wing {left}.")
            }
        },
        BaselineCheck::Plate => {
            format!("The plate of the incisal table is {}.", level_or(table.sagittal_inclination))
        }
        BaselineCheck::Guides => format!(
            "Both condylar guides stand at their zero: horizontal inclination {}, lateral condylar (Bennett) \
             angle {}.",
            degrees(guide.horizontal_inclination),
            degrees(guide.lateral_angle)
        ),
        BaselineCheck::PinMark => match baseline.pin_extension().mm() {
            0.0 => "The mark of the pin is flush with the upper member.".to_owned(),
            down if down > 0.0 => format!("The pin is let down by {} mm from its mark.", as_set(down)),
            up => format!("The pin is drawn up by {} mm from its mark.", as_set(-up)),
        },
        BaselineCheck::SidePlay => {
            "With the centric locks closed, the upper member has no play from side to side.".to_owned()
        }
        BaselineCheck::Locks => "Both centric locks hold when closed, and let go when open.".to_owned(),
    }
}

/// Why it matters.
#[must_use]
pub const fn why(check: BaselineCheck) -> &'static str {
    match check {
        BaselineCheck::PinAcross => {
            "Off the middle, the tip meets one wing before the other, and right and left movements are guided \
             unlike on casts that are alike."
        }
        BaselineCheck::PinForeAndAft => {
            "A table is inclined about its middle. A tip in front of it or behind it is lifted or dropped as the \
             plate is set, and the vertical dimension changes with it."
        }
        BaselineCheck::Wings => {
            "A wing left up opens the instrument in a lateral movement, and the teeth set up against it do not \
             meet in the mouth."
        }
        BaselineCheck::Plate => {
            "A plate left inclined opens the instrument in protrusion, and the guidance found at the try-in is \
             counted from a wrong start."
        }
        BaselineCheck::Guides => {
            "A guide left as the last patient had it is taken for this patient's wherever no record sets it, and \
             guides that differ tip every movement to one side."
        }
        BaselineCheck::PinMark => {
            "The mark is the vertical dimension at which the casts are mounted. A pin off its mark opens or closes \
             the instrument, and every vertical dimension read later is off by as much."
        }
        BaselineCheck::SidePlay => {
            "Play lets the centric position wander. A split cast then closes or stays open by chance, and no \
             record can be told right from wrong."
        }
        BaselineCheck::Locks => {
            "A lock that gives lets a condylar sphere leave its stop while the casts are mounted, unseen. A lock \
             that sticks keeps the spheres from a record's advance."
        }
    }
}

/// What the scene says: `The scene has it so.`, or what is off and by how much.
#[must_use]
pub fn says(item: &ChecklistItem) -> String {
    match &item.standing {
        Standing::Stands => "The scene has it so.".to_owned(),
        Standing::CannotTell => "A scene cannot tell: look at the instrument.".to_owned(),
        Standing::Off(departures) => {
            let off: Vec<String> = departures.iter().map(|one| departure(item.check, one)).collect();
            format!("The scene has it otherwise: {}.", off.join("; "))
        }
    }
}

fn departure(check: BaselineCheck, departure: &Departure) -> String {
    let side = departure.side.map_or(String::new(), |side| format!("{} ", name::side(side)));
    match departure.value {
        DepartureValue::Number { is, .. } if check == BaselineCheck::PinAcross => {
            let way = if is > 0.0 { "left" } else { "right" };
            format!("the tip stands {} mm to the {way}", as_set(is.abs()))
        }
        DepartureValue::Number { is, zeroed, unit } => {
            let sign = unit.sign();
            format!("{side}{} {}{sign}, baseline {}{sign}", departure.label, as_set(is), as_set(zeroed))
        }
        DepartureValue::Word { is, zeroed } => {
            format!("{side}{} {is}, baseline {zeroed}", departure.label)
        }
    }
}

fn level_or(angle: Angle) -> String {
    if angle == Angle::ZERO { "level".to_owned() } else { format!("at {}", degrees(angle)) }
}

fn degrees(angle: Angle) -> String {
    format!("{}°", as_set(angle.degrees()))
}

#[cfg(test)]
mod tests {
    use sim_core::anterior::{AnteriorGuide, Trough};
    use sim_core::instrument::Instrument;
    use sim_core::scene::Scene;
    use sim_core::setting::baseline_checklist;
    use sim_core::units::Length;

    use super::*;

    fn said(instrument: &Instrument, check: BaselineCheck) -> String {
        let items = baseline_checklist(instrument, &Baseline::example());
        says(items.iter().find(|item| item.check == check).expect("the question"))
    }

    #[test]
    fn every_question_is_a_sentence_and_has_a_reason() {
        for check in BaselineCheck::ALL {
            let asked = asked(check, &Baseline::example());
            assert!(asked.ends_with('.') && why(check).ends_with('.'), "{asked}");
            assert!(why(check).len() > 60, "{asked}");
        }
    }

    #[test]
    fn questions_ask_for_what_the_baseline_has() {
        let all = |baseline: &Baseline| BaselineCheck::ALL.map(|check| asked(check, baseline)).join(" ");
        let example = all(&Baseline::example());
        for part in
            ["horizontal inclination 30°", "angle 30°", "wings of the incisal table are level", "flush"]
        {
            assert!(example.contains(part), "{example}");
        }
        let own = "baseline: (horizontal_inclination_deg: 20.0, lateral_angle_deg: 15.0, left_wing_deg: 5.0, \
            sagittal_inclination_deg: 10.0, pin_extension_mm: -1.5),\n    title:";
        let scene =
            Scene::from_ron(&Scene::thirty_degree().to_ron().replacen("title:", own, 1)).expect("a scene");
        let own = all(&scene.baseline_or_example());
        for part in [
            "horizontal inclination 20°",
            "angle 15°",
            "right wing of the incisal table is level, the left wing at 5°",
            "plate of the incisal table is at 10°",
            "drawn up by 1.5 mm",
        ] {
            assert!(own.contains(part), "{own}");
        }
    }

    #[test]
    fn what_is_off_is_said_with_its_number_and_the_baselines() {
        let mut instrument = Instrument::zeroed();
        instrument.incisal_point.y = Length::from_mm(-2.0);
        instrument.left_guide.lateral_angle = Angle::from_degrees(15.0);
        for (check, wanted) in [
            (BaselineCheck::PinAcross, "The scene has it otherwise: the tip stands 2 mm to the right."),
            (BaselineCheck::Plate, "The scene has it so."),
            (BaselineCheck::Locks, "A scene cannot tell: look at the instrument."),
        ] {
            assert_eq!(said(&instrument, check), wanted);
        }
        let guides = said(&instrument, BaselineCheck::Guides);
        assert!(
            guides.contains("otherwise: left lateral condylar") && guides.contains("15°, baseline 30°."),
            "{guides}"
        );
        instrument.anterior_guide = AnteriorGuide::Incisors(Trough::LEVEL);
        let mark = said(&instrument, BaselineCheck::PinMark);
        assert_eq!(mark, "The scene has it otherwise: anterior guide Incisors, baseline Table.");
    }
}

//! The steps of the bench: what each is called, how it stands, what to do, and what to doubt.

use sim_core::bench::{
    Centric, Closing, LateralTurn, ON_ITS_STOP_MM, Opens, RecordStep, Step, Turn, WANTED_GROOVES,
};
use sim_core::frame::Side;
use sim_core::record::program::Source;

use super::warning::source;
use crate::name::nth_record;
use crate::number::{angle, length};

/// A guide nearer than this to where the split closes is as near as hands turn it, in degrees.
const NEAR_DEG: f64 = 0.25;

/// What a step is called.
#[must_use]
pub fn title(step: &Step) -> String {
    match step {
        Step::Zeroed => "The instrument is zeroed".to_owned(),
        Step::Split { .. } => "The split closes without a record".to_owned(),
        Step::Centric(_) => "The centric record closes the split".to_owned(),
        Step::Record(record) => {
            format!("The {} ({}) closes the split", record.kind.words(), nth_record(record.record))
        }
        Step::Lateral { side, .. } => format!("The lateral angle of the {side} guide"),
        Step::Anterior { .. } => "The anterior guide".to_owned(),
    }
}

/// Why a step is taken, and why in its place (common practice, no source).
#[must_use]
pub fn why(step: &Step) -> &'static str {
    match step {
        Step::Zeroed => {
            "Every setting is counted from here: what the last patient left on a guide is carried into all that follows."
        }
        Step::Split { .. } => {
            "A split that stands open with nothing between would show the same gap on every record, and no turn of a \
             guide would close it."
        }
        Step::Centric(_) => {
            "Every record is measured from centric. If a repeat does not find it again, all settings are wrong together."
        }
        Step::Record(record) if record.kind.orbiting().is_none() => {
            "In protrusion both condyles go forward, and the superior walls alone hold the split open or let it close: the \
             record sets the inclination of both guides."
        }
        Step::Record(_) => {
            "In a lateral excursion the other condyle goes forward and toward the middle: the record sets the lateral angle \
             of that side, once its inclination stands."
        }
        Step::Lateral { .. } => {
            "The medial wall steers the condyle that orbits, in the excursion to the other side. Without a lateral record \
             a rule stands in, which knows nothing of the patient."
        }
        Step::Anterior { .. } => {
            "It comes last: a pin that touches its table holds the split open in front and hides what the guides do."
        }
    }
}

/// How a step stands, in a word or two.
#[must_use]
pub const fn state(step: &Step) -> &'static str {
    match step {
        Step::Zeroed | Step::Split { .. } => "look",
        Step::Centric(None) => "not checked",
        Step::Centric(Some(Centric { confirmed: true, .. })) => "closed",
        Step::Centric(Some(_)) => "stop",
        Step::Record(RecordStep { closing, .. }) => match closing {
            Closing::Gaps { closed: true, .. } => "closed",
            Closing::Gaps { .. } => "open",
            Closing::Not(_) => "cannot close",
            Closing::ReadOnTheScale => "read",
        },
        Step::Lateral { angle: None, .. } | Step::Anterior { given: false } => "missing",
        Step::Lateral { angle: Some(_), .. } | Step::Anterior { given: true } => "set",
    }
}

/// What to do at a step, sentence by sentence.
#[must_use]
pub fn to_do(step: &Step) -> Vec<String> {
    match step {
        Step::Zeroed => vec![
            "See that guides, wings and pin stand at their zero and that no locked part has play. No case can tell; \
             `eminentia baseline` has the list."
                .to_owned(),
        ],
        Step::Split { .. } => {
            vec!["Close the split with nothing between: no groove may show light.".to_owned()]
        }
        Step::Centric(None) => {
            vec!["Take a second centric record and close the split on it before anything is set.".to_owned()]
        }
        Step::Centric(Some(centric)) => centric_to_do(centric),
        Step::Record(record) => record_to_do(record),
        Step::Lateral { side, angle } => match angle {
            None => vec!["It waits for the centric record.".to_owned()],
            Some(setting) => vec![format!(
                "Set the {side} lateral angle to {} ({}).",
                angle_of(setting.angle.value.degrees()),
                source(setting.from),
            )],
        },
        Step::Anterior { given: true } => {
            vec!["Set plate and wings as the sheet has them.".to_owned()]
        }
        Step::Anterior { given: false } => vec![
            "The case does not say what sets it. Leave the table level until the front teeth are chosen, and read no \
             disclusion before."
                .to_owned(),
        ],
    }
}

/// What to doubt at a step, sentence by sentence.
#[must_use]
pub fn to_doubt(step: &Step) -> Vec<String> {
    match step {
        Step::Zeroed => vec!["An error here is carried by every later step.".to_owned()],
        Step::Split { grooves: 0 } => vec![
            "The case names no grooves: the gaps are read at the landmarks.".to_owned(),
        ],
        Step::Split { grooves } if *grooves < WANTED_GROOVES => vec![format!(
            "The case names {grooves} grooves, the usual key has {WANTED_GROOVES}: one misread gap is less easily seen.",
        )],
        Step::Split { .. } => Vec::new(),
        Step::Centric(None) => vec!["Nothing confirms the position that every setting starts from.".to_owned()],
        Step::Centric(Some(centric)) => off_their_stops(centric),
        Step::Record(record) => record_to_doubt(record),
        Step::Lateral { angle: Some(setting), .. } if setting.from == Source::Rule => vec![
            "The rule knows nothing of this patient; how far off it is, nobody can say. A lateral record would tell."
                .to_owned(),
        ],
        Step::Lateral { .. } | Step::Anterior { .. } => Vec::new(),
    }
}

fn centric_to_do(centric: &Centric) -> Vec<String> {
    let gap = format!(
        "The greatest gap is {}, the tolerance {}.",
        length(centric.greatest, 2),
        length(centric.tolerance, 2)
    );
    if centric.confirmed {
        vec![gap, "The record is confirmed: lock the centric, and go on.".to_owned()]
    } else {
        vec![gap, "Stop here. Take the centric record again; nothing is set from this one.".to_owned()]
    }
}

fn off_their_stops(centric: &Centric) -> Vec<String> {
    let Some(off) = centric.off_stop else { return Vec::new() };
    let sides = Side::BOTH.into_iter().filter(|side| off[*side].mm() > ON_ITS_STOP_MM);
    sides.map(|side| format!("The {side} sphere stands {} off its stop.", length(off[side], 2))).collect()
}

fn record_to_do(step: &RecordStep) -> Vec<String> {
    let mut said = match &step.closing {
        Closing::ReadOnTheScale => {
            vec!["It was closed at the bench, and the scales were read.".to_owned()]
        }
        Closing::Not(why) => vec![format!("The split cannot be brought together: {why}.")],
        Closing::Gaps { closed: true, .. } => {
            vec!["The split is closed. Lock the guides and read their scales.".to_owned()]
        }
        Closing::Gaps { opens, .. } => vec![opens_words(*opens)],
    };
    if !matches!(step.closing, Closing::ReadOnTheScale | Closing::Gaps { closed: true, .. }) {
        said.extend(step.turns.iter().filter_map(turn));
    }
    said.extend(step.lateral.as_ref().and_then(lateral_turn));
    said
}

/// Where the split stands open, and what that means.
#[must_use]
pub fn opens_words(opens: Opens) -> String {
    match opens {
        Opens::Nowhere => "The split is open.".to_owned(),
        Opens::Behind => "The split stands open behind: a guide is too steep.".to_owned(),
        Opens::InFront => "The split stands open in front: a guide is too shallow.".to_owned(),
        Opens::OnOneSide(side) => {
            format!("The split stands open on the {side}: the two guides are off by unlike amounts.")
        }
    }
}

fn turn(turn: &Turn) -> Option<String> {
    let by = turn.by().degrees();
    let way = if by > 0.0 { "steeper" } else { "shallower" };
    (by.abs() > NEAR_DEG).then(|| {
        format!(
            "Turn the {} guide about {} {way}: it closes near {}.",
            turn.side,
            angle_of(by.abs()),
            angle_of(turn.closes_at.degrees()),
        )
    })
}

fn lateral_turn(turn: &LateralTurn) -> Option<String> {
    let off = (turn.touches_at - turn.set).degrees();
    let wall = if turn.beyond.mm() > 0.0 {
        format!("carries the base {} aside", length(turn.beyond, 2))
    } else {
        format!("stands {} off its sphere", length(-turn.beyond, 2))
    };
    (off.abs() > NEAR_DEG).then(|| {
        format!(
            "The medial wall of the {} guide {wall} at {}: it touches near {}.",
            turn.side,
            angle_of(turn.set.degrees()),
            angle_of(turn.touches_at.degrees()),
        )
    })
}

fn record_to_doubt(step: &RecordStep) -> Vec<String> {
    let Closing::Gaps { at, .. } = &step.closing else { return Vec::new() };
    let mut said = Vec::new();
    for side in Side::BOTH {
        if at.stands_off[side].mm() > ON_ITS_STOP_MM {
            said.push(format!(
                "The {side} guide stands {} off its sphere. It holds from above only, so the split closes all the \
                 same: turn it until it touches before its scale is read.",
                length(at.stands_off[side], 2),
            ));
        }
        if at.too_low[side].mm() > ON_ITS_STOP_MM {
            said.push(format!(
                "With the split closed the {side} guide would pierce its sphere by {}: do not force it.",
                length(at.too_low[side], 2),
            ));
        }
    }
    said
}

fn angle_of(degrees: f64) -> String {
    angle(sim_core::units::Angle::from_degrees(degrees), 1)
}

#[cfg(test)]
mod tests {
    use sim_core::bench::{Bench, Trial};
    use sim_core::practice::{Fault, Level, deal};
    use sim_core::units::Angle;

    use super::*;

    fn walked(faults: &[Fault], at: f64) -> Vec<Step> {
        let case = deal(1, Level::First, faults).unwrap().case;
        let programmed = case.program().unwrap();
        Bench::of(&case, &programmed).walk(&Trial::level(Angle::from_degrees(at)))
    }

    #[test]
    fn every_step_has_its_title_and_says_what_to_do() {
        let steps = walked(&[], 30.0);
        assert!(steps.len() >= 7, "{steps:?}");
        for step in &steps {
            assert!(!title(step).is_empty() && !to_do(step).is_empty(), "{step:?}");
            assert!(why(step).ends_with('.') && !why(step).contains("  "), "{step:?}");
            assert!(to_do(step).iter().chain(&to_doubt(step)).all(|said| said.ends_with('.')), "{step:?}");
        }
        assert_eq!((state(&steps[0]), state(&steps[2])), ("look", "closed"));
    }

    /// Guides too steep are to be turned shallower, and are said to pierce their spheres.
    #[test]
    fn the_way_to_turn_is_said_with_how_far() {
        for (at, way, opens) in [(60.0, "shallower", "open behind"), (5.0, "steeper", "open in front")] {
            let steps = walked(&[], at);
            let Some(step) = steps.iter().find(|step| matches!(step, Step::Record(_))) else { panic!() };
            let said = to_do(step).join(" ");
            assert!(said.contains(way) && said.contains(opens), "{said}");
            assert_eq!(state(step), "open");
            assert_eq!(to_doubt(step).iter().any(|said| said.contains("pierce")), at > 30.0);
        }
    }

    #[test]
    fn a_centric_record_that_does_not_close_ends_the_walk() {
        let steps = walked(&[Fault::WrongCentric], 30.0);
        let last = steps.last().unwrap();
        assert_eq!((steps.len(), state(last)), (3, "stop"));
        assert!(to_do(last).join(" ").contains("Take the centric record again"));
    }
}

//! An angle that a guide is set to on trial, as the command line gives it.

use sim_core::bench::Trial;
use sim_core::facts::Facts;
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::units::Angle;

/// One angle of one guide.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SetAt {
    side: Side,
    is_lateral: bool,
    angle: Angle,
}

/// Reads `right=30`, `left=32`, `right-lateral=15` or `left-lateral=15`.
pub(super) fn set_at(given: &str) -> Result<SetAt, String> {
    let (guide, angle) = given.split_once('=').ok_or("give a guide and its angle, as in right=30")?;
    let (side, is_lateral) = match guide.trim() {
        "right" => (Side::Right, false),
        "left" => (Side::Left, false),
        "right-lateral" => (Side::Right, true),
        "left-lateral" => (Side::Left, true),
        other => {
            return Err(format!(
                "{other:?} is no guide; allowed are right, left, right-lateral, left-lateral"
            ));
        }
    };
    let angle: f64 = angle.trim().parse().map_err(|_| format!("{angle:?} is no number of degrees"))?;
    let facts: &'static Facts = if is_lateral {
        &CondylarGuide::LATERAL_ANGLE.facts
    } else {
        &CondylarGuide::HORIZONTAL_INCLINATION.facts
    };
    let angle = facts.check(angle).map_err(|why| why.to_string())?;
    Ok(SetAt { side, is_lateral, angle: Angle::from_degrees(angle) })
}

/// The example of a baseline with what is given set; the last word on a guide counts.
pub(super) fn trial(given: &[SetAt]) -> Trial {
    let mut trial = Trial::example();
    for one in given {
        let both = if one.is_lateral { &mut trial.lateral } else { &mut trial.inclination };
        both[one.side] = one.angle;
    }
    trial
}

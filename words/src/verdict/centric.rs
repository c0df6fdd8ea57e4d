//! The centric record, checked by its repeat.

use sim_core::record::split_cast::SplitCast;

use crate::number::two_decimals;

/// What is less than this is left out: it rounds to nothing, in millimetres and degrees.
const SAID_FROM: f64 = 0.005;

/// In which direction the tentative record is off from the repeat: `0.40 mm too far forward,
/// 0.20 mm too far right, opened 0.11° too far`. The shift is that of the middle of the grooves.
#[must_use]
pub fn tentative_is_off(check: &SplitCast) -> String {
    // The tentative record is off by what leads from the repeat back to it.
    let [x, y, z] = check.tilt.map(|turn| -turn.degrees());
    let shift = -check.shift_mm;
    let parts = [
        (shift.x, ["# mm too far forward", "# mm too far back"]),
        (shift.y, ["# mm too far left", "# mm too far right"]),
        (shift.z, ["# mm too high", "# mm too low"]),
        (y, ["opened #° too far", "closed #° too far"]),
        (x, ["tilted up by #° on the left", "tilted up by #° on the right"]),
        (z, ["front turned #° to the left", "front turned #° to the right"]),
    ];
    let directions: Vec<String> = parts
        .into_iter()
        .filter(|(amount, _)| amount.abs() >= SAID_FROM)
        .map(|(amount, [above, below])| {
            let words = if amount > 0.0 { above } else { below };
            words.replace('#', &two_decimals(amount.abs()))
        })
        .collect();
    if directions.is_empty() { "nowhere by 0.01 mm or 0.01°".to_owned() } else { directions.join(", ") }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use sim_core::units::{Angle, Length};

    use super::*;

    fn check(shift_mm: [f64; 3], tilt: [f64; 3]) -> SplitCast {
        SplitCast {
            gaps: Vec::new(),
            largest_gap: Length::ZERO,
            shift_mm: shift_mm.into(),
            tilt: tilt.map(Angle::from_degrees),
            confirmed: false,
            false_alarm: None,
        }
    }

    #[test]
    fn every_direction_is_that_of_the_tentative_record() {
        assert_eq!(
            tentative_is_off(&check([-0.4, 0.2, -0.3], [-0.5, -0.11, -0.25])),
            "0.40 mm too far forward, 0.20 mm too far right, 0.30 mm too high, opened 0.11° too far, \
             tilted up by 0.50° on the left, front turned 0.25° to the left"
        );
        assert_eq!(
            tentative_is_off(&check([0.4, -0.2, 0.3], [0.5, 0.11, 0.25])),
            "0.40 mm too far back, 0.20 mm too far left, 0.30 mm too low, closed 0.11° too far, \
             tilted up by 0.50° on the right, front turned 0.25° to the right"
        );
        assert_eq!(tentative_is_off(&check([0.004; 3], [-0.004; 3])), "nowhere by 0.01 mm or 0.01°");
    }

    proptest! {
        #[test]
        fn no_direction_has_a_sign(shift in prop::array::uniform3(-5.0..5.0_f64), tilt in prop::array::uniform3(-5.0..5.0_f64)) {
            let said = tentative_is_off(&check(shift, tilt));
            prop_assert!(!said.contains(['-', '−']), "{}", said);
        }
    }
}

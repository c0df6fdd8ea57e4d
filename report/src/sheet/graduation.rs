//! The graduation of a scale: what can be set by it.

use sim_core::units::Angle;
use words::number::as_given;

/// Finest and coarsest that a scale is taken to be graduated in, degrees.
const ALLOWED_DEG: std::ops::RangeInclusive<f64> = 0.1..=10.0;

/// The graduation of the instrument's scales.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Graduation(Angle);

/// A graduation that no scale has.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "a graduation of {given_deg}° is none; allowed are {}° to {}°",
    ALLOWED_DEG.start(),
    ALLOWED_DEG.end()
)]
pub struct NoGraduation {
    /// What was given, in degrees.
    pub given_deg: f64,
}

impl Default for Graduation {
    /// Single degrees (common practice, no source).
    fn default() -> Self {
        Self(Angle::from_degrees(1.0))
    }
}

impl Graduation {
    /// A graduation.
    ///
    /// # Errors
    /// [`NoGraduation`] below a tenth of a degree, above ten, and for what is no number.
    pub fn new(angle: Angle) -> Result<Self, NoGraduation> {
        let given_deg = angle.degrees();
        // What a file or a command line says in degrees comes back from radians with a last digit of rounding.
        let rounded = thousandths(given_deg);
        if ALLOWED_DEG.contains(&rounded) {
            Ok(Self(Angle::from_degrees(rounded)))
        } else {
            Err(NoGraduation { given_deg })
        }
    }

    /// The graduation as an angle.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.0
    }

    /// The nearest mark of the scale, as it is written on it: `33°`, or `33.5°` on a scale of half degrees.
    #[must_use]
    pub fn nearest(self, angle: Angle) -> String {
        let step = self.0.degrees();
        let marks = (angle.degrees() / step).round();
        format!("{}°", as_given(thousandths(marks * step)))
    }
}

/// A number without what multiplying leaves behind its third decimal.
fn thousandths(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(degrees: f64) -> Graduation {
        Graduation::new(Angle::from_degrees(degrees)).expect("a graduation")
    }

    #[test]
    fn a_scale_has_its_marks_and_no_others() {
        let set = |step, angle| of(step).nearest(Angle::from_degrees(angle));
        assert_eq!(set(1.0, 32.67), "33°");
        assert_eq!(set(1.0, 16.08), "16°");
        assert_eq!(set(0.5, 33.36), "33.5°");
        assert_eq!(set(5.0, 33.36), "35°");
        assert_eq!(set(0.1, 33.349), "33.3°");
        assert_eq!(set(1.0, -0.3), "0°", "no mark is minus nought");
        assert_eq!(set(1.0, -7.6), "\u{2212}8°");
        for no in [0.0, 0.05, 11.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Graduation::new(Angle::from_degrees(no)).is_err(), "{no}");
        }
    }

    proptest! {
        /// No mark of the scale is nearer, and what is set can be found on it.
        #[test]
        fn the_mark_is_within_half_a_graduation(step in 0.1..10.0_f64, angle in -90.0..90.0_f64) {
            let scale = of(step);
            let step = scale.angle().degrees();
            let text = scale.nearest(Angle::from_degrees(angle)).replace('\u{2212}', "-");
            let mark: f64 = text.trim_end_matches('°').parse().expect("a number");
            prop_assert!((mark - angle).abs() <= step / 2.0 + 1e-3, "{mark} for {angle} by {step}");
            prop_assert!((mark / step - (mark / step).round()).abs() * step < 1e-3, "{mark} by {step}");
        }
    }
}

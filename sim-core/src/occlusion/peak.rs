//! The greatest value of a function between two ends.

/// How near the place of the greatest value is found, in millimetres of travel. A depth changes by
/// less than its own length with it: a hundredth of a micrometre.
const PLACE_MM: f64 = 1e-5;
/// What is left of the bracket with each step.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// The place of a greatest value between two ends, by golden sections: the greatest, where the
/// function rises to it and falls after it. A place where the function has no value counts as lowest.
pub(super) fn peak((mut low, mut high): (f64, f64), mut function: impl FnMut(f64) -> Option<f64>) -> f64 {
    let mut value = |at| function(at).unwrap_or(f64::NEG_INFINITY);
    let (mut left, mut right) = (high - (high - low) * GOLDEN, low + (high - low) * GOLDEN);
    let (mut at_left, mut at_right) = (value(left), value(right));
    while high - low > PLACE_MM {
        if at_left >= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - (high - low) * GOLDEN;
            at_left = value(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + (high - low) * GOLDEN;
            at_right = value(right);
        }
    }
    if at_left >= at_right { left } else { right }
}

#[cfg(test)]
mod tests {
    use super::peak;

    #[test]
    fn round_and_sharp_peaks_are_found_inside_and_at_an_end() {
        let found = |function: &dyn Fn(f64) -> f64| peak((0.0, 1.0), |x| Some(function(x)));
        assert!((found(&|x| -(x - 0.3).powi(2)) - 0.3).abs() < 1e-5);
        assert!((found(&|x| -(x - 0.7).abs()) - 0.7).abs() < 1e-5);
        assert!(found(&|x| -x) < 1e-5);
        assert!(found(&|x| x) > 1.0 - 1e-5);
        assert!((peak((0.0, 1.0), |x| (x < 0.4).then_some(x)) - 0.4).abs() < 1e-5);
    }
}

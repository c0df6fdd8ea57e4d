//! The greatest value of a function between two ends.

/// How near the place of the greatest value is found, in millimetres of travel. A depth changes by
/// less than its own length with it: a hundredth of a micrometre.
const PLACE_MM: f64 = 1e-5;
/// What is left of the bracket with each step.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// Most that a depth is taken to change over a millimetre of travel: teeth steeper to each other than
/// this do not glide.
const STEEPEST: f64 = 2.0;

/// Where a function is greatest between two ends, and what it is there, by golden sections: the greatest
/// where the function rises to it and falls after it. `None` as soon as no value above `goal` is to be
/// expected: what the function may still gain is taken to be no more than it falls to either end, or
/// than it can rise over what is left. A place where the function has no value counts as lowest.
pub(super) fn peak<T: Copy>(
    (mut low, mut high): (f64, f64),
    goal: f64,
    mut function: impl FnMut(f64) -> Option<(f64, T)>,
) -> Option<T> {
    let mut value = |at| function(at).map_or((f64::NEG_INFINITY, None), |(value, of)| (value, Some(of)));
    let (mut at_low, mut at_high) = (value(low), value(high));
    let (mut left, mut right) = (high - (high - low) * GOLDEN, low + (high - low) * GOLDEN);
    let (mut at_left, mut at_right) = (value(left), value(right));
    loop {
        let ends = [at_low.0, at_high.0];
        let best = [at_left, at_right, at_low, at_high]
            .into_iter()
            .reduce(|best, next| if next.0 > best.0 { next } else { best })
            .filter(|best| best.0 > f64::NEG_INFINITY)?;
        let gain = ends.map(|end| best.0 - end).into_iter().fold(0.0, f64::max);
        if best.0 + gain.min(STEEPEST * (high - low)) <= goal {
            return None;
        }
        if high - low <= PLACE_MM {
            return if best.0 > goal { best.1 } else { None };
        }
        if at_left.0 >= at_right.0 {
            (high, at_high) = (right, at_right);
            (right, at_right) = (left, at_left);
            left = high - (high - low) * GOLDEN;
            at_left = value(left);
        } else {
            (low, at_low) = (left, at_left);
            (left, at_left) = (right, at_right);
            right = low + (high - low) * GOLDEN;
            at_right = value(right);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::peak;

    fn found(goal: f64, function: &dyn Fn(f64) -> f64) -> Option<f64> {
        peak((0.0, 1.0), goal, |x| Some((function(x), x)))
    }

    #[test]
    fn round_and_sharp_peaks_are_found_inside_and_at_an_end() {
        let near = |function: &dyn Fn(f64) -> f64, place: f64| {
            let at = found(-9.0, function).expect("a peak");
            assert!((at - place).abs() < 1e-5, "{at} for {place}");
        };
        near(&|x| -(x - 0.3).powi(2), 0.3);
        near(&|x| -(x - 0.7).abs(), 0.7);
        near(&|x| -x, 0.0);
        near(&|x| x, 1.0);
        let at = peak((0.0, 1.0), -9.0, |x| (x < 0.4).then_some((x, x))).expect("a peak");
        assert!((at - 0.4).abs() < 1e-5, "{at}");
        assert_eq!(peak((0.0, 1.0), -9.0, |_| None::<(f64, f64)>), None);
    }

    #[test]
    fn what_cannot_come_up_to_the_goal_is_given_up_soon() {
        let mut asked = 0;
        let mut count = |goal: f64| {
            asked = 0;
            let at = peak((0.0, 1.0), goal, |x: f64| {
                asked += 1;
                Some((-(x - 0.3).abs(), x))
            });
            (at, asked)
        };
        let (none, few) = count(0.1);
        let (place, many) = count(-0.1);
        assert_eq!(none, None);
        assert!(few * 2 < many, "{few} and {many}");
        assert!((place.expect("a peak") - 0.3).abs() < 1e-5);
    }
}

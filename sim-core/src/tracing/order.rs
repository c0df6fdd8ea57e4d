//! In what order the points of a leg were recorded.

/// A turn back counts when it is longer than this part of the leg: noise turns too.
const TURN_PART: f64 = 0.25;
/// More turns than a hand makes: the points are in no order.
const MOST_TURNS: usize = 9;
/// A way of fewer steps is the jump back to the start of the next one.
const FEWEST_STEPS: usize = 5;

/// The order in which the points of a leg came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// From one end to the other.
    Once,
    /// Back and forth, so many ways.
    Retraced {
        /// Ways along the leg, 2 or more.
        passes: usize,
    },
    /// In no order.
    Mixed,
}

impl Order {
    /// From the places along the leg, as they were recorded.
    pub(super) fn of(along: impl Iterator<Item = f64> + Clone) -> Self {
        let (low, high) = along
            .clone()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), s| (low.min(s), high.max(s)));
        let turn = (high - low) * TURN_PART;
        let (mut passes, mut turns) = (0, 0);
        // +1 outward, −1 inward, 0 until it shows.
        let (mut way, mut least, mut most) = (0, f64::INFINITY, f64::NEG_INFINITY);
        // Where the way now gone began, and where it has come farthest.
        let (mut start, mut end, mut count) = (0, 0, 0);
        for (index, s) in along.enumerate() {
            count = index + 1;
            if (way >= 0 && s > most) || (way <= 0 && s < least) {
                end = index;
            }
            least = least.min(s);
            most = most.max(s);
            let turned = match way {
                1 => most - s > turn,
                -1 => s - least > turn,
                _ => false,
            };
            if turned {
                turns += 1;
                passes += usize::from(end - start >= FEWEST_STEPS);
                way = -way;
                (start, end) = (end, index);
                (least, most) = (s, s);
            } else if way == 0 && most - least > turn {
                way = if s > least { 1 } else { -1 };
            }
        }
        passes += usize::from(count - start > FEWEST_STEPS);
        match passes {
            _ if turns > MOST_TURNS => Self::Mixed,
            0 | 1 => Self::Once,
            _ => Self::Retraced { passes },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Order;

    #[test]
    fn ways_along_a_leg_are_counted_and_noise_is_not() {
        let noise = |step: i32| if step % 2 == 0 { 0.3 } else { -0.3 };
        let out: Vec<f64> = (0..60).map(|step| f64::from(step) * 0.15 + noise(step)).collect();
        let back: Vec<f64> = out.iter().rev().copied().collect();
        assert_eq!(Order::of(out.iter().copied()), Order::Once);
        assert_eq!(Order::of(back.iter().copied()), Order::Once);
        let thrice = [out.clone(), back, out.clone()].concat();
        assert_eq!(Order::of(thrice.iter().copied()), Order::Retraced { passes: 3 });
        let again = [out.clone(), out.clone()].concat();
        assert_eq!(Order::of(again.iter().copied()), Order::Retraced { passes: 2 });
        let mixed = (0..60).map(|step| out[(step * 23) % 60]);
        assert_eq!(Order::of(mixed), Order::Mixed);
    }
}

//! That an instrument stands open before it moves.

use sim_core::units::Length;

use crate::number::two_decimals;

/// A distance that two decimals show.
const SEEN_MM: f64 = 0.005;

/// How far the cusps stand from the occlusal plane where an excursion starts; none where they do not.
#[must_use]
pub fn at_start(separations: impl Iterator<Item = Length>) -> Option<String> {
    let all = separations.map(Length::mm).fold(None, |all, one| {
        let (least, most) = all.unwrap_or((one, one));
        Some((one.min(least), one.max(most)))
    });
    let (least, most) = all?;
    if least.abs().max(most.abs()) < SEEN_MM {
        return None;
    }
    let [least, most] = [least, most].map(two_decimals);
    let between = if least == most { least } else { format!("{least} to {most}") };
    Some(format!(
        "Where the excursion starts the cusps are {between} mm from where they meet with the pin flush."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_opened_start_is_told_and_a_closed_one_is_not() {
        let said = |all: &[f64]| at_start(all.iter().map(|mm| Length::from_mm(*mm)));
        assert_eq!(said(&[]), None);
        assert_eq!(said(&[0.0, -0.001]), None);
        assert_eq!(
            said(&[2.731, 3.84]).as_deref(),
            Some(
                "Where the excursion starts the cusps are 2.73 to 3.84 mm from where they meet with the pin flush."
            )
        );
        assert!(said(&[-0.5]).is_some_and(|said| said.contains("are −0.50 mm from")));
    }
}

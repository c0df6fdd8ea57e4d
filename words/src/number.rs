//! Numbers rounded for people.
//!
//! Written by hand, because what a reader sees here is settled and no crate writes it. `indicatif`
//! 0.18, which draws the progress bars, comes nearest: its `DecimalBytes` always has two decimals and
//! says `B`, its `HumanDuration` counts in weeks and years and knows no `about`, and its `HumanCount`
//! parts the thousands of every number as [`in_threes`] does, but would bring a terminal's library
//! into the viewer and Python for these ten lines. None of them writes a real minus, or leaves the
//! sign off what rounds to zero.

use sim_core::units::{Angle, Length, Unit};

/// A number with so many decimals, with a real minus and no negative zero.
#[must_use]
pub fn decimals(number: f64, places: usize) -> String {
    let size = format!("{:.places$}", number.abs());
    if number < 0.0 && !is_zero(&size) { format!("−{size}") } else { size }
}

/// As [`decimals`], with a plus before what is above zero: for a change.
#[must_use]
pub fn change(number: f64, places: usize) -> String {
    let size = format!("{:.places$}", number.abs());
    match number {
        _ if is_zero(&size) => size,
        below if below < 0.0 => format!("−{size}"),
        _ => format!("+{size}"),
    }
}

/// Whether a number is below zero as [`decimals`] writes it: what rounds to zero is not.
#[must_use]
pub fn is_below_zero(number: f64, places: usize) -> bool {
    number < 0.0 && !is_zero(&format!("{:.places$}", number.abs()))
}

fn is_zero(size: &str) -> bool {
    size.bytes().all(|digit| matches!(digit, b'0' | b'.'))
}

/// How far the jaw has turned about a line from side to side, and which way: `2.60°, front up`. Of an
/// opening by less than nothing nobody could tell what it means.
#[must_use]
pub fn turned(opening: Angle) -> String {
    let size = decimals(opening.degrees().abs(), 2);
    match opening.degrees() {
        _ if is_zero(&size) => format!("{size}°"),
        below if below < 0.0 => format!("{size}°, front up"),
        _ => format!("{size}°, front down"),
    }
}

/// A length with its unit, as [`decimals`]: `1.23 mm`.
#[must_use]
pub fn length(length: Length, places: usize) -> String {
    with_unit(length.mm(), Unit::Millimetre, places)
}

/// An angle with its unit, as [`decimals`]: `4.0°`.
#[must_use]
pub fn angle(angle: Angle, places: usize) -> String {
    with_unit(angle.degrees(), Unit::Degree, places)
}

/// A number with its unit, as [`decimals`].
#[must_use]
pub fn with_unit(number: f64, unit: Unit, places: usize) -> String {
    format!("{}{}", decimals(number, places), unit.sign())
}

/// One decimal, as [`decimals`].
#[must_use]
pub fn one_decimal(number: f64) -> String {
    decimals(number, 1)
}

/// Two decimals, as [`decimals`].
#[must_use]
pub fn two_decimals(number: f64) -> String {
    decimals(number, 2)
}

/// Three decimals, as [`decimals`].
#[must_use]
pub fn three_decimals(number: f64) -> String {
    decimals(number, 3)
}

/// Two decimals and a sign, as [`change`].
#[must_use]
pub fn signed(number: f64) -> String {
    change(number, 2)
}

/// A length that is thin: `40 µm`, in whole micrometres.
#[must_use]
pub fn in_micrometres(length: Length) -> String {
    format!("{} µm", decimals(length.mm() * 1000.0, 0))
}

/// A part as percent with so many decimals: `14 %`.
#[must_use]
pub fn percent_with(part: f64, places: usize) -> String {
    format!("{} %", decimals(part * 100.0, places))
}

/// A part as percent: whole ones, but a tenth where less would read as none or all of it.
#[must_use]
pub fn percent(part: f64) -> String {
    if !part.is_finite() {
        return "–".to_owned();
    }
    let whole = decimals(part * 100.0, 0);
    let hides = (whole == "0" && part > 0.0) || (whole == "100" && part < 1.0);
    if !hides {
        return format!("{whole} %");
    }
    match part * 100.0 {
        low if low < 0.1 => "under 0.1 %".to_owned(),
        high if high > 99.9 => "over 99.9 %".to_owned(),
        between => format!("{between:.1} %"),
    }
}

/// A setting as it was given, but to no more than four decimals: more is rounding, or a record's
/// noise. With a real minus and no negative zero.
#[must_use]
pub fn as_set(number: f64) -> String {
    let written = decimals(number, 4);
    written.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A number exactly as it was given, with a real minus and no negative zero.
#[must_use]
pub fn as_given(number: f64) -> String {
    (number + 0.0).to_string().replace('-', "−")
}

/// A whole number, its digits in threes from 10,000 on.
#[must_use]
pub fn whole(number: u64) -> String {
    if number < 10_000 { number.to_string() } else { in_threes(number) }
}

/// A whole number, its digits in threes: `1,234`.
#[must_use]
pub fn in_threes(number: u64) -> String {
    let digits = number.to_string();
    let mut grouped = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    grouped
}

/// Bytes, in the decimal unit that fits.
#[must_use]
pub fn bytes(bytes: f64) -> String {
    scaled(bytes, 1000.0, &["bytes", "kB", "MB", "GB", "TB", "PB"])
}

/// About so many seconds, in the unit that fits.
#[must_use]
pub fn duration(seconds: f64) -> String {
    let units: [(f64, &str); 4] = [(86_400.0, "days"), (3_600.0, "hours"), (60.0, "min"), (1.0, "s")];
    match units.into_iter().find(|(size, _)| seconds >= 2.0 * size) {
        None if seconds < 1.0 => "less than a second".to_owned(),
        None => "about 1 s".to_owned(),
        Some((size, unit)) if seconds / size >= 10_000.0 => format!("about {:.1e} {unit}", seconds / size),
        Some((size, unit)) => format!("about {:.0} {unit}", seconds / size),
    }
}

/// Three digits at least, in the first unit that leaves less than `step`.
fn scaled(number: f64, step: f64, units: &[&str]) -> String {
    let (mut number, mut unit) = (number, 0);
    while number >= step - 0.5 && unit + 1 < units.len() {
        number /= step;
        unit += 1;
    }
    let decimals = usize::from(unit > 0 && number < 99.95);
    format!("{number:.decimals$} {}", units[unit])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn large_numbers_are_set_in_threes_and_in_fitting_units() {
        assert_eq!(whole(9_999), "9999");
        assert_eq!(whole(1_234_567), "1,234,567");
        assert_eq!([in_threes(0), in_threes(999), in_threes(1_000)], ["0", "999", "1,000"]);
        assert_eq!(bytes(999.0), "999 bytes");
        assert_eq!(bytes(999_600.0), "1.0 MB");
        assert_eq!(bytes(31_415_926.0), "31.4 MB");
        assert_eq!(bytes(271e12), "271 TB");
        assert_eq!(duration(0.4), "less than a second");
        assert_eq!(duration(100.0), "about 100 s");
        assert_eq!(duration(7_100.0), "about 118 min");
        assert_eq!(duration(1e6), "about 12 days");
    }

    #[test]
    fn a_turn_says_which_way_the_front_has_gone() {
        let said = |degrees| turned(Angle::from_degrees(degrees));
        assert_eq!(said(-2.597), "2.60°, front up");
        assert_eq!(said(12.5), "12.50°, front down");
        assert_eq!([said(0.004), said(-0.004)], ["0.00°", "0.00°"]);
    }

    #[test]
    fn what_rounds_to_zero_has_no_sign() {
        assert_eq!(two_decimals(-0.004), "0.00");
        assert_eq!(two_decimals(-0.0), "0.00");
        assert_eq!(signed(0.004), "0.00");
        assert_eq!(signed(-0.004), "0.00");
        assert_eq!(as_set(-0.0), "0");
    }

    #[test]
    fn below_zero_is_what_is_written_so() {
        assert!(is_below_zero(-0.006, 2) && !is_below_zero(-0.004, 2) && !is_below_zero(0.006, 2));
        assert!(!is_below_zero(f64::NAN, 2));
    }

    #[test]
    fn a_little_is_not_nothing_and_nearly_all_is_not_all() {
        let told = [0.0, 0.0004, 0.004, 0.25, 0.996, 0.9999, 1.0, f64::NAN].map(percent);
        assert_eq!(told, ["0 %", "under 0.1 %", "0.4 %", "25 %", "99.6 %", "over 99.9 %", "100 %", "–"]);
    }

    #[test]
    fn what_is_below_zero_has_a_real_minus() {
        assert_eq!(two_decimals(-0.006), "−0.01");
        assert_eq!(signed(-1.234), "−1.23");
        assert_eq!(signed(1.236), "+1.24");
        assert_eq!(as_set(-12.5), "−12.5");
        assert_eq!(as_set(-0.00001), "0");
        assert_eq!(as_set(32.669_944_320_143_78), "32.6699");
        assert_eq!([as_set(30.0), as_set(100.0), as_set(-1e20)], ["30", "100", "−100000000000000000000"]);
        assert_eq!(as_set(-f64::MAX).len(), "−".len() + 309);
    }

    #[test]
    fn lengths_and_angles_carry_their_units() {
        assert_eq!(length(Length::from_mm(1.234), 2), "1.23 mm");
        assert_eq!(length(Length::from_mm(-0.001), 2), "0.00 mm");
        assert_eq!(angle(Angle::from_degrees(-4.0), 1), "−4.0°");
        assert_eq!([as_given(-2.5), as_given(-0.0), as_given(3.0)], ["−2.5", "0", "3"]);
    }

    /// Digits behind the point; none where there is no point.
    fn digits_behind(text: &str) -> usize {
        text.split_once('.').map_or(0, |(_, behind)| behind.bytes().filter(u8::is_ascii_digit).count())
    }

    /// No ASCII minus, and a minus only before what is not zero.
    fn is_signed_well(text: &str) -> bool {
        let is_zero = !text.bytes().any(|byte| (b'1'..=b'9').contains(&byte));
        !(text.contains('-') || is_zero && text.contains('−'))
    }

    fn numbers() -> impl Strategy<Value = f64> {
        prop_oneof![
            -1.0e-3..1.0e-3,
            -200.0..200.0_f64,
            any::<f64>().prop_filter("a number", |number| number.is_finite()),
            Just(-0.0),
        ]
    }

    proptest! {
        #[test]
        fn a_number_has_the_decimals_asked_for_and_a_real_sign(number in numbers(), places in 0_usize..6) {
            for text in [
                decimals(number, places),
                change(number, places),
                length(Length::from_mm(number), places),
                angle(Angle::from_degrees(number), places),
            ] {
                prop_assert!(is_signed_well(&text), "{}", text);
                prop_assert_eq!(digits_behind(&text), places, "{}", text);
            }
            prop_assert_eq!(is_below_zero(number, places), decimals(number, places).starts_with('−'));
        }

        #[test]
        fn a_setting_has_four_decimals_at_most(number in numbers()) {
            let text = as_set(number);
            prop_assert!(is_signed_well(&text), "{}", text);
            prop_assert!(digits_behind(&text) <= 4, "{}", text);
            prop_assert!(is_signed_well(&as_given(number)));
        }

        #[test]
        fn a_part_has_a_tenth_of_a_percent_at_most(part in -2.0..2.0_f64) {
            let text = percent(part);
            prop_assert!(is_signed_well(&text), "{}", text);
            prop_assert!(digits_behind(&text) <= 1, "{}", text);
        }

        #[test]
        fn digits_in_threes_are_the_number(number in any::<u64>()) {
            prop_assert_eq!(in_threes(number).replace(',', ""), number.to_string());
        }
    }
}

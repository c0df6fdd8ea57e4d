//! Numbers rounded for people.

/// Two decimals, with a real minus and no negative zero.
pub(crate) fn two_decimals(number: f64) -> String {
    let size = format!("{:.2}", number.abs());
    if number < 0.0 && size != "0.00" { format!("−{size}") } else { size }
}

/// One decimal, with a real minus and no negative zero.
pub(crate) fn one_decimal(number: f64) -> String {
    let size = format!("{:.1}", number.abs());
    if number < 0.0 && size != "0.0" { format!("−{size}") } else { size }
}

/// Two decimals and a sign, for a change.
pub(crate) fn signed(number: f64) -> String {
    let size = format!("{:.2}", number.abs());
    match size.as_str() {
        "0.00" => size,
        _ if number < 0.0 => format!("−{size}"),
        _ => format!("+{size}"),
    }
}

/// A setting as it was given, but to no more than four decimals: more is rounding, or a record's
/// noise. With a real minus and no negative zero.
pub(crate) fn as_set(number: f64) -> String {
    ((number * 1e4).round() / 1e4 + 0.0).to_string().replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_rounds_to_zero_has_no_sign() {
        assert_eq!(two_decimals(-0.004), "0.00");
        assert_eq!(two_decimals(-0.0), "0.00");
        assert_eq!(signed(0.004), "0.00");
        assert_eq!(signed(-0.004), "0.00");
        assert_eq!(as_set(-0.0), "0");
    }

    #[test]
    fn what_is_below_zero_has_a_real_minus() {
        assert_eq!(two_decimals(-0.006), "−0.01");
        assert_eq!(signed(-1.234), "−1.23");
        assert_eq!(signed(1.236), "+1.24");
        assert_eq!(as_set(-12.5), "−12.5");
        assert_eq!(as_set(-0.00001), "0");
        assert_eq!(as_set(32.669_944_320_143_78), "32.6699");
    }
}

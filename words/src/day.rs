//! A day, as it is written.

/// A day by its number from 1 January 1970 (Gregorian calendar).
#[must_use]
pub fn written(number: u64) -> String {
    // Counted from 1 March of the year 0, so that a leap day ends a year: 719,468 days earlier. 400 years have
    // 146,097 days whatever year they begin with.
    let since = number.saturating_add(719_468);
    let (era, mut left) = (since / 146_097, since % 146_097);
    let century = (left / 36_524).min(3);
    left -= century * 36_524;
    let four = left / 1_461;
    left -= four * 1_461;
    let year = (left / 365).min(3);
    left -= year * 365;
    // Months from March have 31, 30, 31, 30, 31 days, over and over: 153 in five.
    let month = (5 * left + 2) / 153;
    let of_month = left - (153 * month + 2) / 5 + 1;
    let year = 400 * era + 100 * century + 4 * four + year + u64::from(month >= 10);
    let month = if month >= 10 { month - 9 } else { month + 3 };
    format!("{year:04}-{month:02}-{of_month:02}")
}

#[cfg(test)]
mod tests {
    use super::written;

    /// Every day of four centuries after each other, by the rule of leap years said plainly.
    #[test]
    fn days_follow_each_other_as_in_the_calendar() {
        let mut number = 0;
        for year in 1970..2400_u32 {
            let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
            let february = if leap { 29 } else { 28 };
            for (month, days) in
                [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate()
            {
                for of_month in 1..=days {
                    assert_eq!(written(number), format!("{year:04}-{:02}-{of_month:02}", month + 1));
                    number += 1;
                }
            }
        }
    }
}

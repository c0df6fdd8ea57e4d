//! Means, shares and quantiles of a column with their intervals.
//!
//! What is drawn independently is a unit: a row, a group of rows, or all rows of one scrambling of
//! Sobol' points ([`SampleUnits`]). A mean is the ratio of two sums over units, and its standard error
//! that of the ratio (Cochran, Sampling Techniques, 1977, ch. 2.11 and 6.3, from memory), with as many degrees of
//! freedom as there are units but one. So an interval is right whatever hangs together within a unit.

use super::estimate::{CONFIDENCE, Estimate};
use super::quantile::quantile;
use super::student::student_quantile;
use crate::study::plan::SampleUnits;

/// A column of a table and how its rows were drawn.
#[derive(Clone, Copy, Debug)]
pub struct Sampled<'c> {
    column: &'c [f64],
    units: SampleUnits,
    first_row: u64,
}

/// A share counted as rows come in, in flat memory.
#[derive(Clone, Debug)]
pub struct ShareTally {
    units: SampleUnits,
    row: u64,
    /// Numbers and those that are meant, of the group under way.
    group: (f64, f64),
    /// Of the scramblings; nothing where groups count.
    replicates: Vec<(f64, f64)>,
    /// Number of groups, sums of counts and of those meant, and their squares and products.
    groups: Sums,
}

/// Sums over units that a ratio and its error are made of.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    units: f64,
    counts: f64,
    totals: f64,
    counts_squared: f64,
    products: f64,
    totals_squared: f64,
}

/// A share of the rows that are numbers, with what its interval stands on.
struct Share {
    value: f64,
    /// Rows that would say as much if each were drawn by itself.
    rows: f64,
    degrees: f64,
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl<'c> Sampled<'c> {
    /// A column that begins with this row of its study.
    #[must_use]
    pub const fn new(column: &'c [f64], units: SampleUnits, first_row: u64) -> Self {
        Self { column, units, first_row }
    }

    /// The mean, with Student's interval over units.
    #[must_use]
    pub fn mean(&self) -> Estimate {
        // Less a number of their size, so that no digits are lost in sums of squares.
        let shift = self.column.iter().copied().find(|number| number.is_finite()).unwrap_or_default();
        let value = super::Moments::of(self.column.iter().copied()).mean();
        match ratio(&self.sums(|number| number - shift)) {
            Some((_, error, degrees)) => Estimate::student(value, error, degrees),
            None => Estimate::bare(value),
        }
    }

    /// The share of rows below a limit, of those that are numbers, with Wilson's interval.
    ///
    /// Where rows hang together, or lie more evenly than by chance, the interval is that of as many
    /// rows as would give the standard error which the units show (as in Korn and Graubard, Survey
    /// Methodology 1998;24:193–201, from memory). A share of none or all shows none: then each group
    /// counts as one row.
    #[must_use]
    pub fn share_below(&self, limit: f64) -> Estimate {
        let (numbers, below) = self.count(|number| number < limit);
        if numbers == 0 {
            return Estimate::bare(f64::NAN);
        }
        let value = below as f64 / numbers as f64;
        self.share(|number| number < limit).map_or(Estimate::bare(value), |share| share.estimate(value))
    }

    /// A quantile, with the interval between the order statistics at the ends of Wilson's interval of
    /// its part (after Woodruff, J Am Stat Assoc 1952;47:635–646, from memory); `sorted` is the column in rising
    /// order. No interval where an end lies past the last number: there are too few.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // ranks
    pub fn quantile(&self, sorted: &[f64], part: f64) -> Estimate {
        let value = quantile(sorted, part);
        let Some(share) = self.share(|number| number <= value) else { return Estimate::bare(value) };
        let (low, high) = Share { value: part, ..share }.wilson();
        let count = sorted.len() as f64;
        // Ranks from 1, so that at least so many numbers lie below the quantile and at most so many.
        let (lower, upper) = ((low * count).floor() as usize, (high * count).ceil() as usize + 1);
        match (lower.checked_sub(1).and_then(|place| sorted.get(place)), sorted.get(upper - 1)) {
            (Some(low), Some(high)) => Estimate { value, low: *low, high: *high },
            _ => Estimate::bare(value),
        }
    }

    fn count(&self, is: impl Fn(f64) -> bool) -> (u64, u64) {
        let numbers = self.column.iter().copied().filter(|number| !number.is_nan());
        numbers.fold((0, 0), |(all, those), number| (all + 1, those + u64::from(is(number))))
    }

    fn share(&self, is: impl Fn(f64) -> bool) -> Option<Share> {
        let sums = self.sums(|number| f64::from(u8::from(is(number))));
        let mut all = Sums::default();
        sums.iter().for_each(|sum| all.take(*sum));
        all.share(self.units)
    }

    /// How many numbers each unit has and their sum, without units of none.
    #[allow(clippy::cast_possible_truncation)] // below the number of scramblings
    fn sums(&self, of: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
        let mut sums: Vec<(f64, f64)> = Vec::new();
        let take = |sum: &mut (f64, f64), number: f64| {
            if !number.is_nan() {
                *sum = (sum.0 + 1.0, sum.1 + of(number));
            }
        };
        match self.units {
            SampleUnits::Chosen => {}
            SampleUnits::Groups { rows } => {
                let rows = rows.max(1);
                let begun = (self.first_row % rows as u64) as usize;
                let (lead, rest) = self.column.split_at((rows - begun).min(self.column.len()));
                for group in std::iter::once(lead).chain(rest.chunks(rows)) {
                    let mut sum = (0.0, 0.0);
                    group.iter().for_each(|number| take(&mut sum, *number));
                    sums.push(sum);
                }
            }
            SampleUnits::Replicates { rows, replicates } => {
                sums.resize(replicates, (0.0, 0.0));
                for (row, number) in (self.first_row..).zip(self.column) {
                    let group = row / rows.max(1) as u64;
                    take(&mut sums[(group % replicates as u64) as usize], *number);
                }
            }
        }
        sums.retain(|(count, _)| *count > 0.0);
        sums
    }
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl ShareTally {
    /// Nothing counted yet; the first row will be this one of the study.
    #[must_use]
    pub fn new(units: SampleUnits, first_row: u64) -> Self {
        let replicates = vec![(0.0, 0.0); units.replicates().unwrap_or_default()];
        Self { units, row: first_row, group: (0.0, 0.0), replicates, groups: Sums::default() }
    }

    /// Counts the next row: whether it is meant, or nothing where it does not say.
    pub fn push(&mut self, is: Option<bool>) {
        if let Some(is) = is {
            self.group = (self.group.0 + 1.0, self.group.1 + f64::from(u8::from(is)));
        }
        self.row += 1;
        if self.row.is_multiple_of(self.units.group_rows() as u64) {
            self.end_group(self.row - 1);
        }
    }

    fn end_group(&mut self, last_row: u64) {
        let group = std::mem::take(&mut self.group);
        if self.replicates.is_empty() {
            self.groups.take(group);
        } else if let Some(sum) = self.replicates.get_mut(self.units.part_of(last_row)) {
            *sum = (sum.0 + group.0, sum.1 + group.1);
        }
    }

    /// The share of those that are meant, with the interval of [`Sampled::share_below`].
    #[must_use]
    pub fn estimate(&self) -> Estimate {
        let mut whole = self.clone();
        if whole.group.0 > 0.0 {
            whole.end_group(self.row.saturating_sub(1));
        }
        let mut all = whole.groups;
        whole.replicates.iter().for_each(|sum| all.take(*sum));
        let value = all.totals / all.counts;
        match self.units {
            SampleUnits::Chosen => Estimate::bare(value),
            units => all.share(units).map_or(Estimate::bare(value), |share| share.estimate(value)),
        }
    }
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl Sums {
    /// Takes a unit; one of no numbers says nothing.
    fn take(&mut self, (count, total): (f64, f64)) {
        if count > 0.0 {
            self.units += 1.0;
            self.counts += count;
            self.totals += total;
            self.counts_squared += count * count;
            self.products += count * total;
            self.totals_squared += total * total;
        }
    }

    /// The share, where there are units to compare. Sums of whole numbers are exact, so that nothing is lost
    /// in their differences.
    fn share(&self, units: SampleUnits) -> Option<Share> {
        if self.units < 2.0 {
            return None;
        }
        let value = self.totals / self.counts;
        let squares = self.totals_squared - 2.0 * value * self.products + value * value * self.counts_squared;
        let degrees = self.units - 1.0;
        let error = (squares.max(0.0) * self.units / degrees).sqrt() / self.counts;
        // What rounding leaves of units that are all alike.
        if error > 1e-12 {
            return Some(Share { value, rows: value * (1.0 - value) / (error * error), degrees });
        }
        let groups = match units {
            SampleUnits::Replicates { rows, .. } => self.counts / rows as f64,
            SampleUnits::Groups { .. } | SampleUnits::Chosen => self.units,
        };
        // As many degrees as make it the normal distribution.
        Some(Share { value, rows: groups.max(1.0), degrees: f64::from(u32::MAX) })
    }
}

impl Share {
    fn estimate(&self, value: f64) -> Estimate {
        let (low, high) = self.wilson();
        Estimate { value, low, high }
    }

    /// Wilson's interval (J Am Stat Assoc 1927;22:209–212, from memory).
    fn wilson(&self) -> (f64, f64) {
        let z = student_quantile(f64::midpoint(CONFIDENCE, 1.0), self.degrees);
        let (p, n) = (self.value, self.rows);
        let whole = 1.0 + z * z / n;
        let middle = (p + z * z / (2.0 * n)) / whole;
        let half = z * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt() / whole;
        ((middle - half).max(0.0), (middle + half).min(1.0))
    }
}

/// Ratio of two sums over units, its standard error and its degrees of freedom; `None` of fewer than two.
#[allow(clippy::cast_precision_loss)] // counts are below 2^53
fn ratio(sums: &[(f64, f64)]) -> Option<(f64, f64, f64)> {
    if sums.len() < 2 {
        return None;
    }
    let (count, total) = sums.iter().fold((0.0, 0.0), |all, sum| (all.0 + sum.0, all.1 + sum.1));
    let value = total / count;
    let squares: f64 = sums.iter().map(|(count, total)| (total - value * count).powi(2)).sum();
    let degrees = (sums.len() - 1) as f64;
    let error = (squares * sums.len() as f64 / degrees).sqrt() / count;
    Some((value, error, degrees))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::statistics::sorted;
    use proptest::prelude::*;

    const BY_ROW: SampleUnits = SampleUnits::Groups { rows: 1 };

    #[test]
    fn a_mean_of_rows_has_student_s_interval() {
        let column = [4.0, f64::NAN, 6.0, 8.0, 2.0];
        // Mean 5, deviation √(20/3), error √(5/3), t of three degrees 3.18245 (from memory).
        let mean = Sampled::new(&column, BY_ROW, 0).mean();
        assert!((mean.value - 5.0).abs() < 1e-12);
        assert!((mean.half_width() - 3.18245 * (5.0_f64 / 3.0).sqrt()).abs() < 1e-4, "{mean:?}");
        let chosen = Sampled::new(&column, SampleUnits::Chosen, 0).mean();
        assert!(chosen.value == 5.0 && !chosen.has_interval());
    }

    /// The example that is printed everywhere: none of 10 has 0 to 0.2775, five of 10 have 0.2366 to
    /// 0.7634 (Wilson without continuity correction, from memory); t of nine degrees is for z.
    #[test]
    fn shares_have_wilson_s_interval() {
        let share = |value: f64| Share { value, rows: 10.0, degrees: 1e9 }.wilson();
        let (low, high) = share(0.0);
        assert!(low == 0.0 && (high - 0.2775).abs() < 5e-5, "{high}");
        let (low, high) = share(0.5);
        assert!((low - 0.2366).abs() < 5e-5 && (high - 0.7634).abs() < 5e-5, "{low} {high}");
        let none = Sampled::new(&[1.0; 10], BY_ROW, 0).share_below(0.0);
        assert!(none.value == 0.0 && (none.high - 0.2775).abs() < 5e-5, "{none:?}");
        assert!(Sampled::new(&[f64::NAN; 3], BY_ROW, 0).share_below(0.0).value.is_nan());
    }

    #[test]
    fn rows_that_repeat_each_other_say_no_more_than_one() {
        let once: Vec<f64> = (0..40).map(|row| f64::from(row * 7 % 40) - 9.5).collect();
        let thrice: Vec<f64> = once.iter().flat_map(|number| [*number; 3]).collect();
        let (alone, grouped) =
            (Sampled::new(&once, BY_ROW, 0), Sampled::new(&thrice, SampleUnits::Groups { rows: 3 }, 0));
        let (one, other) = (alone.mean(), grouped.mean());
        assert!((one.low - other.low).abs() < 1e-12 && (one.high - other.high).abs() < 1e-12);
        let (one, other) = (alone.share_below(0.0), grouped.share_below(0.0));
        assert!((one.low - other.low).abs() < 1e-12 && (one.high - other.high).abs() < 1e-12);
    }

    #[test]
    fn a_table_that_begins_within_a_group_keeps_its_groups() {
        let column: Vec<f64> = (0..31).map(|row| f64::from(row * row % 13)).collect();
        for units in [SampleUnits::Groups { rows: 3 }, SampleUnits::Replicates { rows: 3, replicates: 4 }] {
            let mut padded = vec![f64::NAN; 4];
            padded.extend(&column);
            let (cut, whole) = (Sampled::new(&column, units, 4), Sampled::new(&padded, units, 0));
            assert_eq!(cut.mean(), whole.mean());
            assert_eq!(cut.share_below(6.0), whole.share_below(6.0));
        }
    }

    #[test]
    fn a_quantile_that_too_few_numbers_bound_has_no_interval() {
        let column: Vec<f64> = (0..20).map(f64::from).collect();
        let at = |part| Sampled::new(&column, BY_ROW, 0).quantile(&column, part);
        assert!(!at(0.05).has_interval() && !at(0.99).has_interval() && at(0.5).has_interval());
    }

    proptest! {
        #[test]
        fn a_share_counted_row_by_row_is_that_of_the_column(
            rows in prop::collection::vec(0_u8..3, 1..200), group in 1_usize..4, replicates in 2_usize..9, first in 0_u64..9,
        ) {
            let column: Vec<f64> = rows.iter().map(|row| [-1.0, 1.0, f64::NAN][usize::from(*row)]).collect();
            for units in [
                SampleUnits::Groups { rows: group }, SampleUnits::Replicates { rows: group, replicates }, SampleUnits::Chosen,
            ] {
                let mut tally = ShareTally::new(units, first);
                column.iter().for_each(|number| tally.push((!number.is_nan()).then_some(*number < 0.0)));
                let (counted, whole) = (tally.estimate(), Sampled::new(&column, units, first).share_below(0.0));
                for (one, other) in [(counted.value, whole.value), (counted.low, whole.low), (counted.high, whole.high)] {
                    prop_assert!((one - other).abs() < 1e-12 || (one.is_nan() && other.is_nan()), "{:?} {:?}", counted, whole);
                }
            }
        }

        #[test]
        fn every_interval_holds_its_estimate(
            column in prop::collection::vec(-5.0..5.0, 20..300), group in 1_usize..4, replicates in 2_usize..9,
        ) {
            let ordered = sorted(column.iter().copied());
            for units in [SampleUnits::Groups { rows: group }, SampleUnits::Replicates { rows: group, replicates }] {
                let sampled = Sampled::new(&column, units, 0);
                for estimate in [sampled.mean(), sampled.share_below(0.0), sampled.quantile(&ordered, 0.5)] {
                    prop_assert!(
                        !estimate.has_interval() || (estimate.low <= estimate.value && estimate.value <= estimate.high),
                        "{:?} {:?}", units, estimate
                    );
                }
            }
        }
    }
}

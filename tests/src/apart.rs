//! How far two computations are apart: quantiles, the maximum, and the worst row.

use std::fmt::{self, Write as _};

use crate::table::Outcome;

/// How far apart two sides are in one respect, place by place.
pub struct Apart<R> {
    what: &'static str,
    tolerance: f64,
    each: Vec<(f64, R)>,
}

impl<R: fmt::Display + Copy> Apart<R> {
    /// Nothing compared yet; differences above the tolerance will be failures.
    pub const fn new(what: &'static str, tolerance: f64) -> Self {
        Self { what, tolerance, each: Vec::new() }
    }

    /// Notes differences, with the row they were found at.
    pub fn note<'d>(&mut self, differences: impl IntoIterator<Item = &'d f64>, row: R) {
        self.each.extend(differences.into_iter().map(|difference| (difference.abs(), row)));
    }

    /// Every difference is within the tolerance, and there was one. Prints what was found.
    ///
    /// # Errors
    /// As [`Self::checked`].
    pub fn check(self) -> Outcome<()> {
        println!("{}", self.checked()?);
        Ok(())
    }

    /// Every difference is within the tolerance, and there was one: quantiles and maximum, in words.
    ///
    /// # Errors
    /// Quantiles, maximum and the worst row, when a difference is larger or is not a number.
    pub fn checked(mut self) -> Outcome<String> {
        // The absolute value has no sign, so in this order what is not a number comes last: worst.
        self.each.sort_by(|one, other| one.0.total_cmp(&other.0));
        let Some((greatest, worst)) = self.each.last() else {
            return Err(format!("{}: nothing was compared", self.what).into());
        };
        let mut report = format!("{}: {} compared, apart by", self.what, self.each.len());
        for percent in [50, 90, 99] {
            let (difference, _) = &self.each[(self.each.len() - 1) * percent / 100];
            write!(report, " {difference:.1e} ({percent} %)")?;
        }
        write!(report, " {greatest:.1e} (most), allowed {:.1e}", self.tolerance)?;
        // Written so that what is not a number fails.
        if *greatest <= self.tolerance { Ok(report) } else { Err(format!("{report}\nworst: {worst}").into()) }
    }
}

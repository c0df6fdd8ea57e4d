//! How much of a study falls out of its settings' ranges, told from the distributions before any row is
//! computed.
//!
//! A normal distribution has no ends and a setting has; what follows from a factor may leave its range too. For
//! a factor's value x, a setting that follows is a·x + b, so that the values of x at which every setting is in
//! range are one interval, and the part of the distribution outside it is a difference of cumulated
//! probabilities. Independent factors then multiply; of correlated ones only bounds are known: rows fall out at
//! least as often as by the factor that falls out most, and at most as often as by all of them one after the other.

use super::distribution::Distribution;
use super::make::Derived;
use super::plan::{SamplingDesign, SamplingPlan};
use crate::facts::Facts;
use crate::setting::SettingName;

/// Expected rows below which nothing is told: one in two such studies loses no row at all.
const FEWEST_ROWS: f64 = 0.5;

/// A setting that leaves its range in some rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Tail {
    /// The setting.
    pub setting: SettingName,
    /// Part of the rows in which it does; of a grid or of one factor at a time exact, else what is expected.
    pub part: f64,
    /// Least and greatest value of the setting's range, in its unit.
    pub range: (f64, f64),
    /// Whether it follows from a factor.
    pub is_derived: bool,
}

/// What falls out of range.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct LeftOut {
    /// Rows of the study.
    pub of: u64,
    /// Each setting that does in half a row or more, in the order of the columns.
    pub tails: Vec<Tail>,
    /// Part of the rows that have a value out of range: the least and the greatest that it can be, which differ
    /// for correlated factors only.
    pub rows: (f64, f64),
    /// Part of the groups that have such a row and so leave Sobol' indices; `None` where the plan has no groups.
    pub groups: Option<f64>,
}

/// A setting as a line over a factor: `times`·x + `plus`.
struct Line<'s> {
    setting: &'s SettingName,
    factor: usize,
    times: f64,
    plus: f64,
    is_derived: bool,
}

impl Line<'_> {
    fn facts(&self) -> &'static Facts {
        self.setting.facts()
    }

    /// The factor's values at which the setting is in range.
    fn allowed(&self) -> (f64, f64) {
        let Facts { min, max, .. } = *self.facts();
        if self.times == 0.0 {
            let always = self.facts().check(self.plus).is_ok();
            return if always {
                (f64::NEG_INFINITY, f64::INFINITY)
            } else {
                (f64::INFINITY, f64::NEG_INFINITY)
            };
        }
        let (one, other) = ((min - self.plus) / self.times, (max - self.plus) / self.times);
        (one.min(other), one.max(other))
    }

    /// Whether the setting is in range at a level of the factor, without the rounding of [`Self::allowed`].
    fn takes(&self, level: f64) -> bool {
        self.facts().check(self.times * level + self.plus).is_ok()
    }
}

/// Part of a factor's values at which one of these settings, all of which follow it, is out of range.
fn part_outside(distribution: &Distribution, lines: &[&Line<'_>]) -> f64 {
    if let Some(levels) = distribution.levels() {
        let outside = levels.iter().filter(|level| !lines.iter().all(|line| line.takes(**level))).count();
        #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
        return outside as f64 / levels.len().max(1) as f64;
    }
    let (least, most) = lines
        .iter()
        .map(|line| line.allowed())
        .fold((f64::NEG_INFINITY, f64::INFINITY), |(least, most), (from, to)| {
            (least.max(from), most.min(to))
        });
    distribution.part_outside(least, most)
}

/// Works it out for a study made ready.
pub(super) fn left_out(
    plan: &SamplingPlan,
    names: &[&SettingName],
    derived: &[Derived],
    design: &SamplingDesign,
) -> LeftOut {
    let lines = lines(names, derived);
    let taken = design.distributions_taken();
    #[allow(clippy::cast_precision_loss)] // rows are below 2^53
    let rows = design.rows() as f64;
    // Of one factor at a time, a factor leaves its base value in its own rows only.
    let share = |factor: usize| match design.one_at_a_time_levels() {
        #[allow(clippy::cast_precision_loss)]
        Some(levels) => levels.get(factor).map_or(0.0, |levels| *levels as f64 / rows),
        None => 1.0,
    };
    let of_line = |line: &Line<'_>| {
        let part =
            taken.get(line.factor).map_or(0.0, |taken| part_outside(taken, &[line])) * share(line.factor);
        let Facts { min, max, .. } = *line.facts();
        Tail { setting: line.setting.clone(), part, range: (min, max), is_derived: line.is_derived }
    };
    let tails: Vec<Tail> = lines.iter().map(of_line).filter(|tail| tail.part * rows >= FEWEST_ROWS).collect();
    let of_factor = |(factor, distribution): (usize, &Distribution)| {
        let own: Vec<&Line<'_>> = lines.iter().filter(|line| line.factor == factor).collect();
        part_outside(distribution, &own) * share(factor)
    };
    let parts: Vec<f64> = taken.iter().enumerate().map(of_factor).collect();
    let (sum, most) = parts.iter().fold((0.0, 0.0_f64), |(sum, most), part| (sum + part, most.max(*part)));
    let stay: f64 = parts.iter().map(|part| 1.0 - part).product();
    let of_rows = match plan {
        SamplingPlan::OneAtATime => (sum, sum),
        _ if design.is_correlated() => (most, sum.min(1.0)),
        _ => (1.0 - stay, 1.0 - stay),
    };
    // A group has two values of each factor: of A and of B, before and after its step, kept and drawn anew.
    // Where these depend on each other, by a step or a correlation, no closed form is told.
    let independent = match plan {
        SamplingPlan::Indices { .. } => true,
        SamplingPlan::Shapley { .. } => !design.is_correlated(),
        _ => false,
    };
    let groups = independent.then_some(1.0 - stay * stay);
    LeftOut { of: design.rows(), tails, rows: of_rows, groups }
}

fn lines<'s>(names: &[&'s SettingName], derived: &'s [Derived]) -> Vec<Line<'s>> {
    let of_factors = names.iter().enumerate();
    let mut lines: Vec<Line<'s>> = of_factors
        .map(|(factor, setting)| Line { setting, factor, times: 1.0, plus: 0.0, is_derived: false })
        .collect();
    for own in derived {
        let Some(from) = lines.get(own.from) else { continue };
        // Every rule is a straight line, told by two of its points.
        let plus = own.formula.of(0.0);
        let slope = own.formula.of(1.0) - plus;
        let (factor, times, plus) = (from.factor, slope * from.times, slope * from.plus + plus);
        lines.push(Line { setting: &own.name, factor, times, plus, is_derived: true });
    }
    lines
}

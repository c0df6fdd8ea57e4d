//! What a measure came to with parts of the rows.

use sim_core::study::statistics::{BAND, Estimate, Sampled, sorted};
use sim_core::study::{GroupSensitivity, SampleUnits};

use super::options::Options;
use super::sensitivity::{Sensitivity, of_groups};
use crate::study::study_table::StudyTable;

/// Parts of the rows, as divisors: from a sixteenth to all.
const DIVISORS: [u64; 5] = [16, 8, 4, 2, 1];

/// A measure with a sixteenth of the rows, an eighth and so on up to all of them.
pub struct Convergence {
    /// The fewest rows first.
    pub steps: Vec<Step>,
}

/// What a measure came to with so many rows from the first on.
pub struct Step {
    /// Number of rows.
    pub rows: u64,
    /// Number of groups that they are, where rows come in groups.
    pub groups: Option<u64>,
    /// The mean.
    pub mean: Estimate,
    /// The quantiles, at [`BAND`].
    pub quantiles: [Estimate; BAND.len()],
    /// How much each factor matters, where groups of rows tell it; nothing where so few do not.
    pub factors: Option<Vec<Estimate>>,
    /// The longest half of an interval among all that groups tell of factors.
    pub widest: f64,
}

/// Of a column and what is made of all of it. Groups stay whole, and every scrambling has as many.
pub(super) fn of(
    opened: &StudyTable,
    column: &[f64],
    (mean, quantiles): (Estimate, [Estimate; BAND.len()]),
    sensitivity: Option<&Sensitivity>,
    options: &Options,
) -> Option<Convergence> {
    let units = opened.study.prepared.design().units();
    if units == SampleUnits::Chosen || !mean.has_interval() {
        return None;
    }
    let size = units.group_rows() as u64;
    let at_once = size * units.replicates().unwrap_or(1) as u64;
    let groups = |rows: u64| (size > 1).then_some(rows / size);
    let all = column.len() as u64;
    let mut steps = Vec::with_capacity(DIVISORS.len());
    for divisor in DIVISORS {
        let rows = all / divisor / at_once * at_once;
        let by_groups = sensitivity.and_then(Sensitivity::of_groups);
        if divisor == 1 {
            let factors = by_groups.map(GroupSensitivity::main);
            let widest = by_groups.map_or(f64::NAN, widest);
            steps.push(Step { rows: all, groups: groups(all), mean, quantiles, factors, widest });
        } else if rows > 0 {
            let part = column.get(..usize::try_from(rows).ok()?)?;
            let sampled = Sampled::new(part, units, opened.table.first_row());
            let ordered = sorted(part.iter().copied());
            let told = by_groups.and_then(|_| of_groups(opened, part, options).ok());
            steps.push(Step {
                rows,
                groups: groups(rows),
                mean: sampled.mean(),
                quantiles: BAND.map(|part| sampled.quantile(&ordered, part)),
                factors: told.as_ref().map(GroupSensitivity::main),
                widest: told.as_ref().map_or(f64::NAN, widest),
            });
        }
    }
    Some(Convergence { steps })
}

/// Not a number where there is no interval.
fn widest(told: &GroupSensitivity) -> f64 {
    let all: Vec<Estimate> = match told {
        GroupSensitivity::Indices(indices) => {
            indices.factors.iter().flat_map(|own| [own.first, own.total]).collect()
        }
        other => other.main(),
    };
    all.iter().map(Estimate::half_width).fold(f64::NAN, f64::max)
}

impl Convergence {
    /// The step with all rows.
    pub fn whole(&self) -> Option<&Step> {
        self.steps.last()
    }
}

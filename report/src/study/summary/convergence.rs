//! What a measure came to with a quarter and with half of the rows.

use sim_core::study::SampleUnits;
use sim_core::study::statistics::{BAND, Estimate, Sampled, SobolIndices, sorted};

use super::options::Options;
use super::sensitivity::{Sensitivity, of_groups};
use crate::study::study_table::StudyTable;

/// Parts of the rows, as divisors: a quarter, half, all.
const DIVISORS: [u64; 3] = [4, 2, 1];

/// A measure with a quarter of the rows, with half and with all of them.
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
    /// Sobol’ indices, if the plan gives them.
    pub indices: Option<SobolIndices>,
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
        let indices = match sensitivity {
            Some(Sensitivity::Indices(indices)) => Some(indices),
            _ => None,
        };
        if divisor == 1 {
            steps.push(Step { rows: all, groups: groups(all), mean, quantiles, indices: indices.cloned() });
        } else if rows > 0 {
            let part = column.get(..usize::try_from(rows).ok()?)?;
            let sampled = Sampled::new(part, units, opened.table.first_row());
            let ordered = sorted(part.iter().copied());
            let indices = indices.and_then(|_| match of_groups(opened, part, options) {
                Ok(Sensitivity::Indices(indices)) => Some(indices),
                _ => None,
            });
            steps.push(Step {
                rows,
                groups: groups(rows),
                mean: sampled.mean(),
                quantiles: BAND.map(|part| sampled.quantile(&ordered, part)),
                indices,
            });
        }
    }
    Some(Convergence { steps })
}

impl Convergence {
    /// The step with all rows.
    pub fn whole(&self) -> Option<&Step> {
        self.steps.last()
    }
}

impl Step {
    /// The longest half of an interval among its indices; not a number where there is none.
    pub fn widest_index(&self) -> f64 {
        let factors = self.indices.iter().flat_map(|indices| &indices.factors);
        factors
            .flat_map(|factor| [factor.first, factor.total])
            .map(|estimate| estimate.half_width())
            .fold(f64::NAN, f64::max)
    }

    /// The same among mean and quantiles of a band; infinite where one of them has none.
    pub fn widest_of_spread(&self) -> f64 {
        let all = self.quantiles.iter().chain([&self.mean]).map(Estimate::half_width);
        all.fold(0.0, |widest, half| if half.is_nan() { f64::INFINITY } else { half.max(widest) })
    }
}

//! How the intervals of a summary are made, in sentences.

use sim_core::study::{Sample, SampleUnits, SamplingPlan};

use super::options::Options;
use crate::study::study_table::StudyTable;
use words::number::whole;

/// How intervals are made, in sentences; each says what holds under the study's plan.
pub struct Intervals {
    /// Of means, quantiles and shares.
    pub of_spread: String,
    /// Of what tells where the spread comes from; empty where the plan tells nothing of it by samples.
    pub of_sensitivity: String,
}

impl Intervals {
    /// Of a table under its study's plan.
    pub(super) fn of(opened: &StudyTable, options: &Options) -> Self {
        let prepared = &opened.study.prepared;
        let units = prepared.design().units();
        let plan = &prepared.study().plan;
        let over = match units {
            SampleUnits::Chosen => {
                return Self {
                    of_spread: "No intervals: the plan chose its rows, which are no sample.".to_owned(),
                    of_sensitivity: String::new(),
                };
            }
            SampleUnits::Replicates { replicates, .. } => {
                format!("over {replicates} independent scramblings of the Sobol’ points")
            }
            SampleUnits::Groups { rows: 1 } => "over rows".to_owned(),
            SampleUnits::Groups { .. } => "over groups of rows".to_owned(),
        };
        let holds = match plan {
            SamplingPlan::LatinHypercube { .. } => {
                " They count rows as independent; a Latin hypercube is more even than that, so that they are rather \
                 too wide than too narrow (of means at most one in n − 1 too narrow)."
            }
            SamplingPlan::Rows => " They hold if the rows are independent draws from what they stand for.",
            SamplingPlan::Sobol { .. }
            | SamplingPlan::Indices { points: Sample::Sobol, .. }
            | SamplingPlan::Shapley { points: Sample::Sobol, .. }
                if units.replicates().is_none() =>
            {
                " The points are of one scrambling, which has no other to be compared with: the intervals count them \
                 as independent and are too wide, often several times. `replicates: 8` in the plan gives true ones."
            }
            _ => "",
        };
        let of_spread = format!(
            "Intervals of 95 %: of means Student’s t {over}; of shares Wilson’s, with the standard error {over}; of \
             quantiles the numbers at the ends of the same interval of their part.{holds}"
        );
        let of_sensitivity = match (plan, units.replicates()) {
            (SamplingPlan::Indices { .. }, None) => format!(
                "Intervals: the middle 95 % of {} bootstrap resamples of whole groups, seed {}.{}",
                whole(u64::from(options.resamples)),
                options.seed,
                holds
            ),
            (SamplingPlan::OneAtATime | SamplingPlan::FullGrid, _) => String::new(),
            (_, Some(replicates)) => format!(
                "Intervals of 95 %: Student’s t by the jackknife over {replicates} independent scramblings of the Sobol’ \
                 points."
            ),
            (_, None) => format!(
                "Intervals of 95 %: Student’s t by the jackknife over {} parts of the {}.{holds}",
                units.parts(),
                match plan {
                    SamplingPlan::ElementaryEffects { .. } => "trajectories",
                    SamplingPlan::Shapley { .. } => "groups",
                    _ => "rows",
                }
            ),
        };
        Self { of_spread, of_sensitivity }
    }
}

//! Which factor a measure's spread comes from, as far as the plan tells.

use sim_core::study::statistics::{
    GroupsError, Regression, RegressionError, Standardised, TornadoError, tornado,
};
use sim_core::study::{GroupSensitivity, SamplingPlan};

use super::options::Options;
use crate::study::study_table::StudyTable;

/// Below this part of a measure's variance explained, straight lines do not tell how it goes with the
/// factors (common practice, no source).
const LEAST_R_SQUARED: f64 = 0.7;

/// How a measure goes with the factors.
pub enum Sensitivity {
    /// What groups of rows tell.
    Groups(GroupSensitivity),
    /// How far each factor alone moves it, the farthest first.
    Tornado {
        /// The measure in the base scene.
        base: f64,
        /// The farthest first.
        bars: Vec<TornadoBar>,
    },
    /// Straight lines.
    Coefficients(Standardised),
}

impl Sensitivity {
    /// What groups of rows tell, if they do.
    pub const fn of_groups(&self) -> Option<&GroupSensitivity> {
        match self {
            Self::Groups(told) => Some(told),
            Self::Tornado { .. } | Self::Coefficients(_) => None,
        }
    }
}

/// One factor of a tornado.
pub struct TornadoBar {
    /// The factor's place, from 0.
    pub factor: usize,
    /// The measure's least value, and the factor's there.
    pub least: TornadoEnd,
    /// Its greatest value, and the factor's there.
    pub greatest: TornadoEnd,
    /// Levels without a value.
    pub left_out: usize,
}

/// A value of a measure and the factor's value with it.
#[derive(Clone, Copy)]
pub struct TornadoEnd {
    /// The measure.
    pub measure: f64,
    /// The factor.
    pub factor: f64,
}

/// Why it could not be determined.
#[derive(Debug, thiserror::Error)]
#[allow(missing_docs)] // the message of each says it
pub enum NoSensitivity {
    #[error("{0}")]
    Groups(GroupsError),
    #[error("{0}")]
    Tornado(TornadoError),
    #[error("{0}")]
    Regression(RegressionError),
    #[error("factor `{0}` has the same value in every row")]
    ConstantFactor(String),
    #[error("the rows of the plan are not all there")]
    NotWhole,
}

/// Whether rows of a plan are spread so that straight lines through them mean something.
pub(super) fn takes_regression(plan: &SamplingPlan) -> bool {
    plan.groups().is_none() && !matches!(plan, SamplingPlan::OneAtATime)
}

/// Of one measured column, whole.
pub(super) fn of(
    opened: &StudyTable,
    column: &[f64],
    regression: Option<&[Regression]>,
    options: &Options,
) -> Result<Sensitivity, NoSensitivity> {
    let prepared = &opened.study.prepared;
    let design = prepared.design();
    let factors = design.factors().len();
    if prepared.study().plan.groups().is_some() {
        return of_groups(opened, column, options).map(Sensitivity::Groups);
    }
    if let Some(levels) = design.one_at_a_time_levels() {
        if !opened.is_whole() {
            return Err(NoSensitivity::NotWhole);
        }
        let result = tornado(column, &levels).map_err(NoSensitivity::Tornado)?;
        let mut values = vec![0.0; factors];
        let mut part = |factor: usize, (measure, row): (f64, u64)| {
            design.row(row, &mut values);
            TornadoEnd { measure, factor: values[factor] }
        };
        let bars = result.bars.iter().map(|bar| TornadoBar {
            factor: bar.factor,
            least: part(bar.factor, bar.least),
            greatest: part(bar.factor, bar.greatest),
            left_out: bar.left_out,
        });
        return Ok(Sensitivity::Tornado { base: result.base, bars: bars.collect() });
    }
    let Some(regression) = regression else { return Err(NoSensitivity::NotWhole) };
    Regression::jackknife(regression).map(Sensitivity::Coefficients).map_err(|error| match error {
        RegressionError::ConstantFactor { factor } => NoSensitivity::ConstantFactor(
            design.factors().get(factor).map_or_else(String::new, |factor| factor.name.clone()),
        ),
        other => NoSensitivity::Regression(other),
    })
}

/// Of the groups of rows that are there in full; they tell something wherever a run was stopped.
pub(super) fn of_groups(
    opened: &StudyTable,
    column: &[f64],
    options: &Options,
) -> Result<GroupSensitivity, NoSensitivity> {
    let bootstrap = (options.resamples, options.seed);
    let told = opened.study.prepared.group_sensitivity(column, opened.table.first_row(), bootstrap);
    told.ok_or(NoSensitivity::NotWhole)?.map_err(NoSensitivity::Groups)
}

/// What the plan does not tell, in sentences.
pub(super) fn notes(opened: &StudyTable) -> Vec<String> {
    let prepared = &opened.study.prepared;
    let study = prepared.study();
    let mut notes = Vec::new();
    match study.plan {
        SamplingPlan::Indices { .. } | SamplingPlan::Shapley { .. } => {
            let what = if let SamplingPlan::Shapley { .. } = study.plan {
                "Shapley effects"
            } else {
                "Sobol’ indices"
            };
            if !opened.is_whole() {
                notes.push(format!("{what} are those of the groups of rows that are there in full."));
            }
            notes.push(
                "Rows of a group share their values: quantiles and means are those of all rows, but the rows \
                 are not independent of each other. A tornado needs the plan OneAtATime."
                    .to_owned(),
            );
        }
        SamplingPlan::ElementaryEffects { .. } => {
            if !opened.is_whole() {
                notes.push(
                    "Elementary effects are those of the trajectories that are there in full.".to_owned(),
                );
            }
            notes.push(
                "Rows stand on a few levels, and those of a trajectory share their values: mean, deviation and \
                 quantiles describe the rows of the plan, the population only roughly. Elementary effects say which \
                 factors matter; how much of the spread each has, Sobol’ indices (plan Indices) or Shapley effects \
                 (plan Shapley) of those that do."
                    .to_owned(),
            );
        }
        SamplingPlan::OneAtATime => {
            notes.push(
                "Only one factor at a time departs from the base scene: mean, deviation and quantiles describe \
                 the rows of the plan and no population, and what factors do together is not seen. Sobol’ indices \
                 need the plan Indices, coefficients and response curves a grid or a random plan."
                    .to_owned(),
            );
        }
        SamplingPlan::FullGrid => {
            notes.push(
                "A grid gives every level the same weight: mean, deviation and quantiles are those of the levels \
                 chosen. Sobol’ indices need the plan Indices, a tornado OneAtATime."
                    .to_owned(),
            );
        }
        SamplingPlan::Rows => {
            notes.push(
                "Rows are those of the study's file: mean, deviation, quantiles and shares describe them, and \
                 what they stand for only as far as they are a sample of it. Sobol’ indices need the plan \
                 Indices, a tornado OneAtATime."
                    .to_owned(),
            );
        }
        SamplingPlan::LatinHypercube { .. }
        | SamplingPlan::Sobol { .. }
        | SamplingPlan::MonteCarlo { .. } => {
            notes.push("Sobol’ indices need the plan Indices, a tornado OneAtATime.".to_owned());
        }
    }
    let correlated = study
        .constraints
        .iter()
        .any(|constraint| matches!(constraint, sim_core::study::Constraint::Correlated { .. }));
    if correlated && takes_regression(&study.plan) {
        notes.push(
            "Factors are correlated: a coefficient is what a factor does while the others stay, and what is \
             common to several is shared out among them by the plan Shapley alone."
                .to_owned(),
        );
    }
    if takes_regression(&study.plan) && !opened.is_whole() && study.plan == SamplingPlan::FullGrid {
        notes.push(
            "In a grid the last factor changes fastest: the rows that are there do not hold the others’ levels \
             alike often."
                .to_owned(),
        );
    }
    notes
}

/// What has to be said of coefficients where straight lines do not tell.
pub fn coefficients_caution(r_squared: f64) -> Option<&'static str> {
    (r_squared < LEAST_R_SQUARED).then_some(
        "Straight lines explain too little of it for the coefficients to tell how it goes with the factors; look at \
         the response curves.",
    )
}

//! A plan made ready: which values the factors take in a row.

use super::super::correlation::Correlation;
use super::super::distribution::Distribution;
use super::super::error::StudyError;
use super::latin::Latin;
use super::levels;
use super::random::Random;
use super::sobol::{self, Scramblings};
use super::subsets::{self, Conditional};
use super::trajectories::{self, FactorStep, Trajectories};
use super::units::SampleUnits;
use super::{MOST_ROWS, PlannedFactor, Sample, SamplingPlan, USUAL_LEVELS};
use crate::lanes::Lane;

/// A plan made ready: rows of factor values by number.
#[derive(Clone, Debug)]
pub struct SamplingDesign {
    factors: Vec<PlannedFactor>,
    correlations: Vec<Correlation>,
    rows: u64,
    layout: Layout,
    units: SampleUnits,
}

#[derive(Clone, Debug)]
enum Layout {
    Grid,
    OneAtATime { base: Vec<f64>, levels: Vec<Vec<f64>> },
    Rows(Vec<Vec<f64>>),
    Latin(Latin),
    Sobol(Scramblings),
    MonteCarlo(Random),
    Indices { points: GroupPoints, second_order: bool },
    ElementaryEffects(Trajectories),
    Shapley { points: GroupPoints, conditionals: Vec<Conditional> },
}

/// Where the numbers of a group of rows come from.
#[derive(Clone, Debug)]
enum GroupPoints {
    Sobol(Scramblings),
    Random(Box<Random>),
}

impl GroupPoints {
    /// Of a plan, for so many numbers a group.
    fn new(
        sample: Sample,
        seed: u64,
        replicates: u32,
        dimensions: impl FnOnce() -> Result<usize, StudyError>,
    ) -> Result<Self, StudyError> {
        Ok(match sample {
            Sample::Sobol => Self::Sobol(Scramblings::new(seed, dimensions()?, replicates)),
            Sample::Random => Self::Random(Box::new(Random::new(seed))),
        })
    }

    /// Writes two samples' numbers of a group, A's and B's.
    #[inline]
    fn both(&self, group: u64, a: &mut [f64], b: &mut [f64]) {
        match self {
            Self::Sobol(points) => {
                for (dimension, number) in a.iter_mut().chain(b).enumerate() {
                    *number = points.part(group, dimension);
                }
            }
            Self::Random(random) => {
                let mut draws = random.row(group);
                a.iter_mut().chain(b).for_each(|number| *number = draws.part());
            }
        }
    }
}

/// What a row of an [`SamplingPlan::Indices`] group holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Member {
    A,
    /// A with this factor's value from B.
    AWithB(usize),
    /// B with this factor's value from A.
    BWithA(usize),
    B,
}

impl Member {
    /// The member at a place of a group of so many factors.
    const fn at(place: usize, factors: usize, size: usize) -> Self {
        match place {
            0 => Self::A,
            last if last + 1 == size => Self::B,
            place if place <= factors => Self::AWithB(place - 1),
            place => Self::BWithA(place - 1 - factors),
        }
    }

    /// Whether it has this factor's value from B.
    const fn is_of_b(self, factor: usize) -> bool {
        match self {
            Self::A => false,
            Self::AWithB(exchanged) => factor == exchanged,
            Self::BWithA(exchanged) => factor != exchanged,
            Self::B => true,
        }
    }
}

impl SamplingDesign {
    /// Makes a plan ready.
    ///
    /// # Errors
    /// [`StudyError`] for factors without levels in a grid, more than [`MOST_ROWS`] rows,
    /// correlations under a plan that cannot keep them, more factors than there are Sobol'
    /// dimensions, and a base scene without a single value where one is needed.
    pub fn new(
        plan: &SamplingPlan,
        factors: Vec<PlannedFactor>,
        correlations: Vec<Correlation>,
    ) -> Result<Self, StudyError> {
        if factors.is_empty() {
            return Err(StudyError::NoFactor);
        }
        if !correlations.is_empty() && !plan.takes_correlations() {
            return Err(StudyError::CorrelationNotKept { plan: plan.name() });
        }
        let count = factors.len();
        let dimensions = |per_factor: usize| match count * per_factor {
            needed if needed > sobol::MOST_DIMENSIONS => {
                Err(StudyError::TooManyFactors { count, most: sobol::MOST_DIMENSIONS / per_factor })
            }
            needed => Ok(needed),
        };
        let (rows, layout) = match *plan {
            SamplingPlan::FullGrid => (levels::grid_rows(&factors)?, Layout::Grid),
            SamplingPlan::OneAtATime => {
                let (base, levels) = levels::one_at_a_time(&factors)?;
                let changed: u64 = levels.iter().map(|levels| levels.len() as u64).sum();
                (1 + changed, Layout::OneAtATime { base, levels })
            }
            SamplingPlan::Rows => {
                let (rows, columns) = levels::side_by_side(&factors)?;
                (rows, Layout::Rows(columns))
            }
            SamplingPlan::LatinHypercube { rows, seed } => {
                (rows, Layout::Latin(Latin::new(rows, seed, count)))
            }
            SamplingPlan::Sobol { rows, seed, .. } => {
                let replicates = checked_replicates(plan, rows)?;
                (rows, Layout::Sobol(Scramblings::new(seed, dimensions(1)?, replicates)))
            }
            SamplingPlan::MonteCarlo { rows, seed } => (rows, Layout::MonteCarlo(Random::new(seed))),
            SamplingPlan::Indices { groups, seed, points, second_order, .. } => {
                let size = group_size(plan, count);
                let replicates = checked_replicates(plan, groups)?;
                let points = GroupPoints::new(points, seed, replicates, || dimensions(2))?;
                (groups.saturating_mul(size as u64), Layout::Indices { points, second_order })
            }
            SamplingPlan::ElementaryEffects { trajectories, seed, levels } => {
                let levels = levels.unwrap_or(USUAL_LEVELS);
                few_enough(count, trajectories::MOST_FACTORS)?;
                let size = group_size(plan, count) as u64;
                let trajectories_of = Trajectories::new(Random::new(seed), levels, count);
                (trajectories.saturating_mul(size), Layout::ElementaryEffects(trajectories_of))
            }
            SamplingPlan::Shapley { groups, seed, points, .. } => {
                few_enough(count, subsets::MOST_FACTORS)?;
                let replicates = checked_replicates(plan, groups)?;
                let points = GroupPoints::new(points, seed, replicates, || dimensions(2))?;
                let conditionals = correlations.iter().map(Conditional::of).collect();
                let size = group_size(plan, count) as u64;
                (groups.saturating_mul(size), Layout::Shapley { points, conditionals })
            }
        };
        if !(1..=MOST_ROWS).contains(&rows) {
            return Err(StudyError::TooManyRows { plan: plan.name(), most: MOST_ROWS });
        }
        let units = match *plan {
            SamplingPlan::FullGrid | SamplingPlan::OneAtATime => SampleUnits::Chosen,
            _ => SampleUnits::of(group_size(plan, count), plan.replicates()),
        };
        Ok(Self { factors, correlations, rows, layout, units })
    }

    /// Number of rows, 1 or more.
    #[must_use]
    pub const fn rows(&self) -> u64 {
        self.rows
    }

    /// The factors, in the order of a row's values.
    #[must_use]
    pub fn factors(&self) -> &[PlannedFactor] {
        &self.factors
    }

    /// How its rows hang together, on which intervals stand.
    #[must_use]
    pub const fn units(&self) -> SampleUnits {
        self.units
    }

    /// Number of levels of each factor in a [`SamplingPlan::OneAtATime`], whose rows are the base scene and
    /// then factor by factor; `None` of any other plan.
    #[must_use]
    pub fn one_at_a_time_levels(&self) -> Option<Vec<usize>> {
        match &self.layout {
            Layout::OneAtATime { levels, .. } => Some(levels.iter().map(Vec::len).collect()),
            _ => None,
        }
    }

    /// The step that leads to a row from the row before, under [`SamplingPlan::ElementaryEffects`]; `None`
    /// of a trajectory's first row, and of any other plan.
    #[must_use]
    pub fn step(&self, row: u64) -> Option<FactorStep> {
        let Layout::ElementaryEffects(trajectories) = &self.layout else { return None };
        let (trajectory, place) = within_group(row, self.units.group_rows());
        trajectories.step(trajectory, place)
    }

    /// What each factor takes: its distribution, or the levels that stand for it where one factor at a time varies.
    pub(in crate::study) fn distributions_taken(&self) -> Vec<Distribution> {
        match &self.layout {
            Layout::OneAtATime { levels, .. } => {
                levels.iter().cloned().map(Distribution::of_levels).collect()
            }
            _ => self.factors.iter().map(|factor| factor.distribution.clone()).collect(),
        }
    }

    /// Whether any factors are correlated.
    pub(in crate::study) const fn is_correlated(&self) -> bool {
        !self.correlations.is_empty()
    }

    /// Writes the factor values of a row into `values`, one for each factor. A row past the last is
    /// the last. Allocates nothing; costs the same for every row.
    ///
    /// # Panics
    /// Where `values` has not a place for each factor.
    #[inline]
    pub fn row(&self, row: u64, values: &mut [f64]) {
        let row = row.min(self.rows - 1);
        let values = &mut values[..self.factors.len()];
        match &self.layout {
            Layout::Grid => return levels::grid_row(&self.factors, row, values),
            Layout::OneAtATime { base, levels } => {
                return levels::one_at_a_time_row(base, levels, row, values);
            }
            Layout::Rows(columns) => return levels::row_side_by_side(columns, row, values),
            Layout::Latin(latin) => latin.parts(row, values),
            Layout::Sobol(points) => {
                for (dimension, value) in values.iter_mut().enumerate() {
                    *value = points.part(row, dimension);
                }
            }
            Layout::MonteCarlo(random) => {
                let mut draws = random.row(row);
                values.iter_mut().for_each(|value| *value = draws.part());
            }
            Layout::ElementaryEffects(trajectories) => {
                let (trajectory, place) = within_group(row, values.len() + 1);
                trajectories.parts(trajectory, place, values);
            }
            Layout::Shapley { points, conditionals } => {
                let count = values.len();
                let (group, place) = within_group(row, subsets::group_rows(count));
                let mut kept = [0.0; subsets::MOST_FACTORS];
                let kept = &mut kept[..count];
                points.both(group, kept, values);
                for correlation in &self.correlations {
                    correlation.mix(kept);
                    correlation.mix(values);
                }
                // What is correlated with nothing is kept or not.
                let is_tied = |factor| self.correlations.iter().any(|own| own.places().contains(&factor));
                for factor in (0..count).filter(|factor| !is_tied(*factor)) {
                    if !subsets::is_anew(place, factor) {
                        values[factor] = kept[factor];
                    }
                }
                for (conditional, correlation) in conditionals.iter().zip(&self.correlations) {
                    conditional.draw(place, kept, values);
                    correlation.unscore(values);
                }
                return self.values_of_parts(values);
            }
            Layout::Indices { points, second_order } => {
                let count = values.len();
                let size = rows_for_indices(count, *second_order);
                let (group, place) = within_group(row, size);
                let member = Member::at(place, count, size);
                match points {
                    GroupPoints::Sobol(points) => {
                        for (factor, value) in values.iter_mut().enumerate() {
                            let from = if member.is_of_b(factor) { count + factor } else { factor };
                            *value = points.part(group, from);
                        }
                    }
                    GroupPoints::Random(random) => {
                        let mut draws = random.row(group);
                        values.iter_mut().for_each(|value| *value = draws.part());
                        for (factor, value) in values.iter_mut().enumerate() {
                            let of_b = draws.part();
                            if member.is_of_b(factor) {
                                *value = of_b;
                            }
                        }
                    }
                }
            }
        }
        for correlation in &self.correlations {
            correlation.impose(values);
        }
        self.values_of_parts(values);
    }

    /// Turns parts of the factors' distributions into their values.
    fn values_of_parts(&self, values: &mut [f64]) {
        for (value, factor) in values.iter_mut().zip(&self.factors) {
            *value = factor.distribution.quantile(*value);
        }
    }
}

impl SamplingDesign {
    /// As [`Self::row`] for `count` rows from `first` on, as many as lanes at most: a lane for each factor.
    pub(in crate::study) fn rows_at_once(&self, first: u64, count: usize, values: &mut [Lane]) {
        match &self.layout {
            Layout::Sobol(points) if self.correlations.is_empty() => {
                for ((dimension, lane), factor) in values.iter_mut().enumerate().zip(&self.factors) {
                    points.parts(first, dimension, lane);
                    factor.distribution.quantiles(&mut lane[..count]);
                }
            }
            _ => {
                let mut row = vec![0.0; self.factors.len()];
                for lane in 0..count {
                    self.row(first + lane as u64, &mut row);
                    for (to, value) in values.iter_mut().zip(&row) {
                        to[lane] = *value;
                    }
                }
            }
        }
    }
}

fn few_enough(count: usize, most: usize) -> Result<(), StudyError> {
    if count > most { Err(StudyError::TooManyFactors { count, most }) } else { Ok(()) }
}

/// Rows of a group of the plan: 1 where each row stands for itself.
const fn group_size(plan: &SamplingPlan, factors: usize) -> usize {
    match plan {
        SamplingPlan::Indices { second_order, .. } => rows_for_indices(factors, *second_order),
        SamplingPlan::ElementaryEffects { .. } => factors + 1,
        // More are refused; a shift by more would be none.
        SamplingPlan::Shapley { .. } if factors <= subsets::MOST_FACTORS => subsets::group_rows(factors),
        _ => 1,
    }
}

const fn rows_for_indices(factors: usize, second_order: bool) -> usize {
    if second_order { 2 * factors + 2 } else { factors + 2 }
}

/// A row's group and its place in it.
#[allow(clippy::cast_possible_truncation)] // below the size
const fn within_group(row: u64, size: usize) -> (u64, usize) {
    (row / size as u64, (row % size as u64) as usize)
}

/// The plan's scramblings, for so many points.
fn checked_replicates(plan: &SamplingPlan, points: u64) -> Result<u32, StudyError> {
    let replicates = plan.replicates().unwrap_or(1);
    if let SamplingPlan::Indices { points: Sample::Random, replicates: Some(_), .. }
    | SamplingPlan::Shapley { points: Sample::Random, replicates: Some(_), .. } = plan
    {
        return Err(StudyError::ReplicatesOfRandom);
    }
    if points < u64::from(replicates) {
        return Err(StudyError::TooManyReplicates { replicates, points });
    }
    Ok(replicates)
}

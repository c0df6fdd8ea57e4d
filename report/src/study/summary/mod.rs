//! What a study's table comes to: spread of every measure, shares of words and flags, and which factor
//! it comes from.
//!
//! The table is gone through once in flat memory for everything that can be told row by row (counts,
//! means, deviations, regression). Quantiles, indices and tornados need a whole column at once, 8
//! bytes a row and as much again while it is sorted; as many columns are held as fit into
//! `HELD_BYTES`, and always one.

mod convergence;
mod intervals;
mod left_out;
mod measured;
mod options;
mod reasons;
mod sensitivity;
mod survey;

use sim_core::study::statistics::{BAND, Sampled, sorted};
use sim_core::study::{ColumnKind, ColumnRole, Content, Sample, SamplingPlan, USUAL_LEVELS};

use super::error::SummaryError;
use super::origin::TableOrigin;
use super::study_table::StudyTable;
use words::number::whole;

pub use convergence::{Convergence, Step};
pub use intervals::Intervals;
pub use left_out::of_measure as left_out_of_measure;
pub use measured::{Flags, Numbers, Spread, Words, share};
pub use options::Options;
pub use reasons::Reason;
pub use sensitivity::{NoSensitivity, Sensitivity, TornadoBar, TornadoEnd, coefficients_caution};

/// Memory for whole columns, as long as one alone does not need more.
const HELD_BYTES: u64 = 256_000_000;

/// All that is told of a table.
pub struct StudySummary {
    /// The files, in the order of their rows.
    pub files: Vec<String>,
    /// Title of the study.
    pub title: String,
    /// Hash of the study.
    pub study_sha256: String,
    /// Version that made the table, where it says so.
    pub version: Option<String>,
    /// Where the table comes from.
    pub origin: TableOrigin,
    /// The plan, in words.
    pub plan: String,
    /// Name of the plan, as study files have it.
    pub plan_name: &'static str,
    /// Rows that are there.
    pub rows: u64,
    /// Rows of the whole study.
    pub study_rows: u64,
    /// Rows in which something could not be measured, by reason.
    pub reasons: Vec<Reason>,
    /// Rows with a note on what is odd about them, by what it says.
    pub noted: Vec<Reason>,
    /// What is allowed but hardly meant, in sentences.
    pub warnings: Vec<String>,
    /// What this plan and table do not tell, in sentences.
    pub notes: Vec<String>,
    /// Factors, in the order of the study.
    pub factors: Vec<Spread>,
    /// Settings that follow from factors.
    pub derived: Vec<Spread>,
    /// Measures that are numbers.
    pub numbers: Vec<Numbers>,
    /// Measures that are yes or no.
    pub flags: Vec<Flags>,
    /// Measures that are words.
    pub words: Vec<Words>,
    /// How intervals are made.
    pub intervals: Intervals,
    /// Bootstrap resamples of Sobol’ indices.
    pub resamples: u32,
    /// Seed of the resamples.
    pub seed: u64,
}

impl StudySummary {
    /// Works it out.
    pub fn of(opened: &StudyTable, options: &Options) -> Result<Self, SummaryError> {
        let prepared = &opened.study.prepared;
        let study = prepared.study();
        let mut surveyed = survey::survey(opened, &options.measures)?;
        let mut numbers = Vec::new();
        let of_numbers: Vec<usize> = (options.measures.iter().copied())
            .filter(|place| prepared.columns()[*place].kind == ColumnKind::Number)
            .collect();
        let at_once = HELD_BYTES / 8 / opened.rows.max(1);
        let at_once = usize::try_from(at_once).unwrap_or(usize::MAX).clamp(1, of_numbers.len().max(1));
        for places in of_numbers.chunks(at_once) {
            for (place, column) in places.iter().zip(opened.table.numbers(places, opened.rows)?) {
                let taken = surveyed.take(*place);
                let sensitivity = sensitivity::of(opened, &column, taken.regression.as_deref(), options);
                let ordered = sorted(column.iter().copied());
                let sampled = Sampled::new(&column, prepared.design().units(), opened.table.first_row());
                let mean = sampled.mean();
                let quantiles = BAND.map(|part| sampled.quantile(&ordered, part));
                let is_clearance = matches!(prepared.columns()[*place].content, Content::Clearance { .. });
                let told = sensitivity.as_ref().ok();
                let convergence = convergence::of(opened, &column, (mean, quantiles), told, options);
                numbers.push(Numbers {
                    place: *place,
                    column: prepared.columns()[*place].clone(),
                    moments: taken.moments,
                    mean,
                    quantiles,
                    below_zero: is_clearance.then(|| sampled.share_below(0.0)),
                    convergence,
                    missing: taken.missing,
                    sensitivity,
                });
            }
        }
        let mut notes = opened.notes.clone();
        notes.extend(sensitivity::notes(opened));
        notes.extend(left_out::notes(&surveyed.noted, opened.rows));
        let mut warnings: Vec<String> =
            prepared.warnings().iter().map(words::verdict::study::warning).collect();
        warnings.extend(left_out::warnings(&numbers));
        let settings = |role| -> Vec<Spread> {
            let of_role =
                prepared.columns().iter().enumerate().filter(move |(_, column)| column.role == role);
            of_role
                .map(|(place, column)| Spread {
                    column: column.clone(),
                    moments: surveyed.moments[place],
                    in_whole_rows: surveyed.whole_moments[place],
                })
                .collect()
        };
        let (factors, derived) = (settings(ColumnRole::Factor), settings(ColumnRole::Derived));
        Ok(Self {
            files: opened.table.names(),
            title: study.title.clone(),
            study_sha256: opened.study_sha256().to_owned(),
            version: opened.metadata.version.clone(),
            origin: TableOrigin::of(opened),
            plan: plan_in_words(opened),
            plan_name: study.plan.name(),
            rows: opened.rows,
            study_rows: prepared.row_count(),
            reasons: surveyed.reasons,
            noted: surveyed.noted,
            warnings,
            notes,
            factors,
            derived,
            numbers,
            flags: surveyed.flags,
            words: surveyed.words,
            intervals: Intervals::of(opened, options),
            resamples: options.resamples,
            seed: options.seed,
        })
    }

    /// Rows in which everything was measured.
    pub fn whole_rows(&self) -> u64 {
        self.rows - self.reasons.iter().map(|reason| reason.rows).sum::<u64>()
    }
}

pub(super) fn plan_in_words(opened: &StudyTable) -> String {
    let prepared = &opened.study.prepared;
    let levels = || -> Vec<String> {
        let factors = prepared.design().factors().iter();
        factors.filter_map(|factor| Some(factor.distribution.levels()?.len().to_string())).collect()
    };
    match &prepared.study().plan {
        SamplingPlan::FullGrid => match &levels()[..] {
            [one] => format!("full grid of {one} levels"),
            all => format!("full grid of {} levels", all.join(" × ")),
        },
        SamplingPlan::OneAtATime => "one factor at a time, the others as in the base scene".to_owned(),
        SamplingPlan::LatinHypercube { rows, seed } => {
            format!("Latin hypercube of {} rows, seed {seed}", whole(*rows))
        }
        SamplingPlan::Sobol { rows, seed, .. } => {
            format!("{} scrambled Sobol’ points{}, seed {seed}", whole(*rows), in_scramblings(opened))
        }
        SamplingPlan::Rows => format!("{} rows as given", whole(prepared.row_count())),
        SamplingPlan::MonteCarlo { rows, seed } => {
            format!("{} independent random rows, seed {seed}", whole(*rows))
        }
        SamplingPlan::Indices { groups, seed, points, second_order, .. } => {
            let points = points_in_words(*points);
            let indices =
                if *second_order { "Sobol’ indices up to the second order" } else { "Sobol’ indices" };
            let scramblings = in_scramblings(opened);
            format!(
                "{} groups of rows for {indices}, from {points}{scramblings}, seed {seed}",
                whole(*groups)
            )
        }
        SamplingPlan::Shapley { groups, seed, points, .. } => format!(
            "{} groups of rows for Shapley effects, from {}{}, seed {seed}",
            whole(*groups),
            points_in_words(*points),
            in_scramblings(opened)
        ),
        SamplingPlan::ElementaryEffects { trajectories, seed, levels } => format!(
            "{} trajectories for elementary effects on {} levels, seed {seed}",
            whole(*trajectories),
            levels.unwrap_or(USUAL_LEVELS)
        ),
    }
}

const fn points_in_words(points: Sample) -> &'static str {
    match points {
        Sample::Sobol => "scrambled Sobol’ points",
        Sample::Random => "independent random points",
    }
}

/// How many scramblings there are, if it is more than one.
fn in_scramblings(opened: &StudyTable) -> String {
    let replicates = opened.study.prepared.design().units().replicates();
    replicates.map_or_else(String::new, |replicates| format!(" in {replicates} independent scramblings"))
}

//! What a study's table comes to: spread of every measure, shares of words and flags, and which factor
//! it comes from.
//!
//! The table is gone through once in flat memory for everything that can be told row by row (counts,
//! means, deviations, regression). Quantiles, indices and tornados need a whole column at once, 8
//! bytes a row and as much again while it is sorted; as many columns are held as fit into
//! [`HELD_BYTES`], and always one.

mod reasons;
mod sensitivity;
mod survey;

use sim_core::study::statistics::{BAND, Moments, quantile, sorted};
use sim_core::study::{Column, ColumnKind, ColumnRole, Sample, SamplingPlan};

use super::{StudyTable, SummaryError};
use words::number::whole;

pub use reasons::Reason;
pub use sensitivity::{NoSensitivity, Part, Sensitivity, coefficients_caution};
pub use survey::RowNumbers;

/// Memory for whole columns, as long as one alone does not need more.
const HELD_BYTES: u64 = 256_000_000;

/// What is worked out of a table.
pub struct Options {
    /// Places of the measured columns that are summed up.
    pub measures: Vec<usize>,
    /// Bootstrap resamples of Sobol' indices.
    pub resamples: u32,
    /// Seed of the resamples.
    pub seed: u64,
}

/// All that is told of a table.
pub struct StudySummary {
    /// The files, in the order of their rows.
    pub files: Vec<String>,
    pub title: String,
    pub study_sha256: String,
    /// Version that made the table, where it says so.
    pub version: Option<String>,
    /// The plan, in words.
    pub plan: String,
    pub plan_name: &'static str,
    pub rows: u64,
    /// Rows of the whole study.
    pub study_rows: u64,
    /// Rows in which something could not be measured, by reason.
    pub reasons: Vec<Reason>,
    /// What is allowed but hardly meant, in sentences.
    pub warnings: Vec<String>,
    /// What this plan and table do not tell, in sentences.
    pub notes: Vec<String>,
    /// Factors, in the order of the study.
    pub factors: Vec<Spread>,
    /// Settings that follow from factors.
    pub derived: Vec<Spread>,
    pub numbers: Vec<Numbers>,
    pub flags: Vec<Flags>,
    pub words: Vec<Words>,
    pub resamples: u32,
    pub seed: u64,
}

/// Mean and ends of a setting's values.
pub struct Spread {
    pub column: Column,
    pub moments: Moments,
}

/// A measured column of numbers.
pub struct Numbers {
    /// Its place among the study's columns.
    pub place: usize,
    pub column: Column,
    pub moments: Moments,
    /// At [`BAND`].
    pub quantiles: [f64; BAND.len()],
    /// Rows without a number, by reason.
    pub missing: Vec<Reason>,
    pub sensitivity: Result<Sensitivity, NoSensitivity>,
}

/// A measured column of yes or no.
pub struct Flags {
    pub column: Column,
    pub yes: u64,
    pub no: u64,
    pub missing: Vec<Reason>,
}

/// A measured column of words.
pub struct Words {
    pub column: Column,
    /// Each word with its rows, the most frequent first.
    pub counts: Vec<(String, u64)>,
    pub missing: Vec<Reason>,
}

impl Flags {
    /// Part of the rows that say yes; not a number where none says anything.
    pub fn share(&self) -> f64 {
        share(self.yes, self.yes + self.no)
    }
}

/// A count as part of another.
#[allow(clippy::cast_precision_loss)] // counts are below 2^53
pub fn share(count: u64, of: u64) -> f64 {
    count as f64 / of as f64
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
                let sensitivity = sensitivity::of(opened, &column, taken.regression.as_ref(), options);
                let ordered = sorted(column);
                numbers.push(Numbers {
                    place: *place,
                    column: prepared.columns()[*place].clone(),
                    moments: taken.moments,
                    quantiles: BAND.map(|part| quantile(&ordered, part)),
                    missing: taken.missing,
                    sensitivity,
                });
            }
        }
        let mut notes = opened.notes.clone();
        notes.extend(sensitivity::notes(opened));
        let settings = |role| -> Vec<Spread> {
            let own = prepared.columns().iter().enumerate().filter(move |(_, column)| column.role == role);
            own.map(|(place, column)| Spread { column: column.clone(), moments: surveyed.moments[place] })
                .collect()
        };
        let (factors, derived) = (settings(ColumnRole::Factor), settings(ColumnRole::Derived));
        Ok(Self {
            files: opened.table.names(),
            title: study.title.clone(),
            study_sha256: opened
                .said
                .study_sha256
                .clone()
                .unwrap_or_else(|| opened.study.sha256().to_owned()),
            version: opened.said.version.clone(),
            plan: plan_in_words(opened),
            plan_name: study.plan.name(),
            rows: opened.rows,
            study_rows: prepared.row_count(),
            reasons: surveyed.reasons,
            warnings: prepared.warnings().to_vec(),
            notes,
            factors,
            derived,
            numbers,
            flags: surveyed.flags,
            words: surveyed.words,
            resamples: options.resamples,
            seed: options.seed,
        })
    }

    /// Rows in which everything was measured.
    pub fn whole_rows(&self) -> u64 {
        self.rows - self.reasons.iter().map(|reason| reason.rows).sum::<u64>()
    }
}

fn plan_in_words(opened: &StudyTable) -> String {
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
        SamplingPlan::Sobol { rows, seed } => {
            format!("{} scrambled Sobol’ points, seed {seed}", whole(*rows))
        }
        SamplingPlan::MonteCarlo { rows, seed } => {
            format!("{} independent random rows, seed {seed}", whole(*rows))
        }
        SamplingPlan::Indices { groups, seed, points } => {
            let points = match points {
                Sample::Sobol => "scrambled Sobol’ points",
                Sample::Random => "independent random points",
            };
            format!("{} groups of rows for Sobol’ indices, from {points}, seed {seed}", whole(*groups))
        }
    }
}

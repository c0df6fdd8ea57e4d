//! Where a table comes from: all that a paper says of how it was made.
//!
//! What follows from study and program stands in the table itself. The day, the machine and the threads do not: the
//! same study and the same program make the same bytes, whenever and wherever they do, and whoever checks a table does
//! it by them. They stand in a file beside the table, and so does everything for a CSV, which has no room for it.

use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::thread::available_parallelism;

use files::{InputFile, Loaded};
use serde::{Deserialize, Serialize};
use sim_core::study::SamplingPlan;

use built::{BUILD, COMMIT, COMPILER, PLATFORM, VERSION};

/// What the name of the file ends with.
const ENDING: &str = ".origin.json";

/// Where a table comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Origin {
    /// The study's title.
    pub title: String,
    /// Hash of all that the table depends on; see [`Loaded::sha256`].
    pub study_sha256: String,
    /// Version of the program.
    pub version: String,
    /// Commit of its sources, where it is known.
    pub commit: Option<String>,
    /// How it was built.
    pub build: String,
    /// The compiler that built it.
    pub compiler: String,
    /// Seed of the study's plan, where it has one.
    pub seed: Option<u64>,
    /// Every file that was read, with its hash.
    pub inputs: Vec<InputFile>,
    /// The day on which the run ended (`2026-11-28`, Universal Time).
    pub day: String,
    /// Processor and system.
    pub platform: String,
    /// Threads that computed rows.
    pub threads: usize,
    /// What to keep in mind: [`words::CAUTION`].
    pub caution: String,
}

impl Origin {
    /// Of a run that ends now; `threads` as they were asked for, 0 for one each processor.
    #[must_use]
    pub fn of(loaded: &Loaded, threads: usize) -> Self {
        let threads = if threads == 0 { available_parallelism().map_or(1, usize::from) } else { threads };
        Self {
            title: loaded.prepared.study().title.clone(),
            study_sha256: loaded.sha256().to_owned(),
            version: VERSION.to_owned(),
            commit: COMMIT.map(str::to_owned),
            build: BUILD.to_owned(),
            compiler: COMPILER.to_owned(),
            seed: seed(&loaded.prepared.study().plan),
            inputs: loaded.inputs.clone(),
            day: files::day::today(),
            platform: PLATFORM.to_owned(),
            threads,
            caution: words::CAUTION.to_owned(),
        }
    }

    /// The file beside a table.
    #[must_use]
    pub fn beside(table: &Path) -> PathBuf {
        let mut name = OsString::from(table);
        name.push(ENDING);
        PathBuf::from(name)
    }

    /// Writes it beside a table, over what was said there of an older one.
    ///
    /// # Errors
    /// What the system says.
    pub fn write(&self, table: &Path) -> io::Result<PathBuf> {
        let path = Self::beside(table);
        let mut text = serde_json::to_string_pretty(self)?;
        text.push('\n');
        fs::write(&path, text)?;
        Ok(path)
    }

    /// What stands beside a table, if anything does.
    #[must_use]
    pub fn read(table: &Path) -> Option<Self> {
        serde_json::from_str(&fs::read_to_string(Self::beside(table)).ok()?).ok()
    }
}

/// The seed of a plan that has one, whatever the plan: it is written as `seed` in all of them.
pub(crate) fn seed(plan: &SamplingPlan) -> Option<u64> {
    serde_json::to_value(plan).ok()?.as_object()?.values().next()?.get("seed")?.as_u64()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_s_seed_is_found_and_a_grid_has_none() {
        assert_eq!(seed(&SamplingPlan::Sobol { rows: 8, seed: u64::MAX, replicates: None }), Some(u64::MAX));
        assert_eq!(seed(&SamplingPlan::LatinHypercube { rows: 8, seed: 0 }), Some(0));
        assert_eq!(seed(&SamplingPlan::FullGrid), None);
    }
}

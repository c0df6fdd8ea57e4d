//! What a table and the files beside it say of where it comes from.

use files::InputFile;
use study_run::Origin;

use super::StudyTable;

/// Where a table comes from, as far as is said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TableOrigin {
    /// Commit of the program's sources.
    pub commit: Option<String>,
    /// How the program was built.
    pub build: Option<String>,
    /// Every file that was read, with its hash.
    pub inputs: Vec<InputFile>,
    /// Of each part of the table, what its run left beside it.
    pub runs: Vec<Origin>,
}

impl TableOrigin {
    /// By the table itself, else by what stands beside it.
    pub(super) fn of(opened: &StudyTable) -> Self {
        let metadata = &opened.metadata;
        let hash = opened.study_sha256();
        // What stands beside a table may be left there of another one.
        let runs: Vec<Origin> = opened
            .table
            .paths()
            .filter_map(Origin::read)
            .filter(|origin| {
                origin.study_sha256 == hash
                    && metadata.version.as_ref().is_none_or(|own| *own == origin.version)
            })
            .collect();
        let first = runs.first();
        let own = metadata.inputs.as_deref().and_then(|text| serde_json::from_str(text).ok());
        Self {
            commit: metadata.commit.clone().or_else(|| first?.commit.clone()),
            build: metadata.build.clone().or_else(|| Some(first?.build.clone())),
            inputs: own.or_else(|| Some(first?.inputs.clone())).unwrap_or_default(),
            runs,
        }
    }

    /// Version, commit and build in a line, as far as they are known.
    pub fn made_by(&self, version: Option<&str>) -> Option<String> {
        let version = version.or_else(|| Some(self.runs.first()?.version.as_str()))?;
        let line = built::in_a_line(version, self.commit.as_deref(), self.build.as_deref());
        Some(format!("eminentia {line}"))
    }

    /// Days and machines, each once.
    pub fn made_on(&self) -> Option<String> {
        let mut said: Vec<String> = Vec::new();
        for run in &self.runs {
            let threads =
                if run.threads == 1 { "1 thread".to_owned() } else { format!("{} threads", run.threads) };
            let line = format!("{}, {}, {threads}", run.day, run.platform);
            if !said.contains(&line) {
                said.push(line);
            }
        }
        (!said.is_empty()).then(|| said.join("; "))
    }

    /// Names and hashes.
    pub fn read(&self) -> Option<String> {
        let each = self.inputs.iter().map(|input| format!("{} (SHA-256 {})", input.file, input.sha256));
        (!self.inputs.is_empty()).then(|| each.collect::<Vec<_>>().join("; "))
    }
}

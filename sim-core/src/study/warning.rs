//! What is allowed in a study but hardly meant.

use super::Study;
use super::plan::{Sample, SamplingPlan};
use crate::scene::Scene;
use crate::setting::{Idle, SettingName};

/// One thing that is allowed but hardly meant.
#[derive(Clone, Debug, PartialEq)]
pub enum StudyWarning {
    /// A setting that changes nothing.
    Idle {
        /// The setting.
        setting: SettingName,
        /// Why.
        why: Idle,
    },
    /// As many Sobol' rows as are less even than a power of two would be.
    UnevenRows {
        /// The rows.
        rows: u64,
        /// Scramblings that they are dealt out to.
        replicates: u32,
    },
    /// The same of groups of rows for indices.
    UnevenGroups {
        /// The groups.
        groups: u64,
        /// Scramblings that they are dealt out to.
        replicates: u32,
    },
}

pub(super) fn warnings<'n>(
    study: &Study,
    scene: &Scene,
    names: impl Iterator<Item = &'n SettingName>,
) -> Vec<StudyWarning> {
    let idle = |name: &SettingName| {
        Some(StudyWarning::Idle { why: name.idle_because(scene)?, setting: name.clone() })
    };
    let uneven = |points: u64, replicates: u32| {
        let each = u64::from(replicates);
        !points.is_multiple_of(each) || !(points / each).is_power_of_two()
    };
    let replicates = study.plan.replicates().unwrap_or(1);
    let uneven = match study.plan {
        SamplingPlan::Sobol { rows, .. } if uneven(rows, replicates) => {
            Some(StudyWarning::UnevenRows { rows, replicates })
        }
        SamplingPlan::Indices { groups, points: Sample::Sobol, .. } if uneven(groups, replicates) => {
            Some(StudyWarning::UnevenGroups { groups, replicates })
        }
        _ => None,
    };
    names.filter_map(idle).chain(uneven).collect()
}

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
    },
    /// The same of groups of rows for indices.
    UnevenGroups {
        /// The groups.
        groups: u64,
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
    let uneven = match study.plan {
        SamplingPlan::Sobol { rows, .. } if !rows.is_power_of_two() => {
            Some(StudyWarning::UnevenRows { rows })
        }
        SamplingPlan::Indices { groups, points: Sample::Sobol, .. } if !groups.is_power_of_two() => {
            Some(StudyWarning::UnevenGroups { groups })
        }
        _ => None,
    };
    names.filter_map(idle).chain(uneven).collect()
}

//! What is allowed in a study but hardly meant.

use super::Study;
use super::plan::{Sample, SamplingPlan};
use super::tails::{LeftOut, Tail};
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
    /// A setting whose values leave its range in some rows, which then have no pose.
    LeavesRange {
        /// The setting, how often and the range.
        tail: Tail,
        /// Rows of the study.
        rows: u64,
    },
    /// Several such settings: what comes of them together.
    RowsOutOfRange {
        /// Part of the rows, between these two.
        part: (f64, f64),
    },
    /// Groups of rows that leave Sobol' indices since one of their rows has a value out of range.
    GroupsOutOfRange {
        /// Part of the groups.
        part: f64,
        /// Groups of the study.
        groups: u64,
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
    left_out: &LeftOut,
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
        SamplingPlan::Indices { groups, points: Sample::Sobol, .. }
        | SamplingPlan::Shapley { groups, points: Sample::Sobol, .. }
            if uneven(groups, replicates) =>
        {
            Some(StudyWarning::UnevenGroups { groups, replicates })
        }
        _ => None,
    };
    let tails = left_out.tails.iter();
    let leave = tails.map(|tail| StudyWarning::LeavesRange { tail: tail.clone(), rows: left_out.of });
    let several = left_out.tails.len() > 1;
    let together = several.then_some(StudyWarning::RowsOutOfRange { part: left_out.rows });
    let lost = study.plan.groups().filter(|_| !left_out.tails.is_empty());
    let lost =
        lost.and_then(|groups| Some(StudyWarning::GroupsOutOfRange { part: left_out.groups?, groups }));
    names.filter_map(idle).chain(leave).chain(together).chain(lost).chain(uneven).collect()
}

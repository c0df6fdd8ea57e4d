//! Outputs in groups of rows, each of which tells something only as a whole.

use super::terms::LEAST_RESAMPLES;

/// Why groups of rows tell nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum GroupsError {
    /// Outputs that are not laid out in groups.
    #[error("{rows} rows are no whole number of groups of {size}: {needs}")]
    Layout {
        /// Number of rows.
        rows: usize,
        /// Rows of a group.
        size: usize,
        /// The plan and layout that is needed.
        needs: &'static str,
    },
    /// Too few groups.
    #[error("only {whole} groups have an output in every row; 2 or more are needed")]
    TooFew {
        /// Groups that are whole.
        whole: usize,
    },
    /// So few resamples that an interval's ends are where chance put them.
    #[error("{resamples} resamples have no interval; give {LEAST_RESAMPLES} or more, or 0 for no intervals")]
    FewResamples {
        /// How many were asked for.
        resamples: u32,
    },
    /// An output that does not vary.
    #[error("the output is the same in every row: no part of a variance of 0 comes from any factor")]
    Constant,
}

/// The groups that have an output in every row, each with its number, from 0.
///
/// # Errors
/// [`GroupsError::Layout`] and [`GroupsError::TooFew`].
pub(super) fn whole_groups<'o>(
    outputs: &'o [f64],
    size: usize,
    needs: &'static str,
) -> Result<Vec<(u64, &'o [f64])>, GroupsError> {
    if outputs.is_empty() || !outputs.len().is_multiple_of(size) {
        return Err(GroupsError::Layout { rows: outputs.len(), size, needs });
    }
    let groups = (0..).zip(outputs.chunks_exact(size));
    let whole: Vec<_> = groups.filter(|(_, group)| group.iter().all(|output| output.is_finite())).collect();
    if whole.len() < 2 {
        return Err(GroupsError::TooFew { whole: whole.len() });
    }
    Ok(whole)
}

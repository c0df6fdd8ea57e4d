//! Gaps at the grooves of a split, two to a row.

use anstyle::Style;
use sim_core::units::Length;
use words::number::two_decimals;

use super::grid::{Cell, Grid};

/// The gap at each groove, so many columns of text from the margin; what is past the tolerance stands out.
pub(crate) fn groove_gaps(
    names: Vec<String>,
    gaps: &[Length],
    tolerance: Length,
    indent: usize,
    past: Style,
) -> Grid {
    let mut grid = Grid::new(vec![(indent, 0), (2, 6), (4, 0), (2, 6)]);
    let mut cells = names.into_iter().zip(gaps).map(|(name, gap)| {
        let cell = Cell::right(two_decimals(gap.mm()));
        [Cell::left(name), if *gap > tolerance { cell.styled(past) } else { cell }]
    });
    while let Some(first) = cells.next() {
        grid.row(first.into_iter().chain(cells.next().into_iter().flatten()).collect());
    }
    grid
}

//! An output over two factors.

use super::Moments;

/// How a factor is cut into cells.
#[derive(Clone, Debug, PartialEq)]
pub enum Axis {
    /// A cell for each value.
    Levels(Vec<f64>),
    /// Cells of equal width from the least value to the greatest: their edges, one more than cells.
    Edges(Vec<f64>),
}

/// An output over two factors, cell by cell.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatMap {
    /// The first factor's cells.
    pub across: Axis,
    /// The second factor's cells.
    pub up: Axis,
    /// Count, mean and spread of the output, row by row of `up`.
    pub cells: Vec<Moments>,
}

impl Axis {
    /// A cell for each value of a factor that has no more than `cells`, else that many of equal width.
    #[must_use]
    #[allow(clippy::cast_precision_loss)] // few cells
    pub fn of(factor: &[f64], cells: usize) -> Self {
        let mut levels = super::sorted(factor.iter().copied());
        levels.dedup();
        match levels[..] {
            [least, .., greatest] if levels.len() > cells.max(1) => {
                let cells = cells.max(1);
                let part = |edge: usize| edge as f64 / cells as f64;
                let edges = (0..=cells).map(|edge| least * (1.0 - part(edge)) + greatest * part(edge));
                Self::Edges(edges.collect())
            }
            _ => Self::Levels(levels),
        }
    }

    /// Number of cells.
    #[must_use]
    pub fn cells(&self) -> usize {
        match self {
            Self::Levels(levels) => levels.len(),
            Self::Edges(edges) => edges.len().saturating_sub(1),
        }
    }

    /// The cell that a value lies in; a value on an edge lies in the cell above it, the greatest in
    /// the last. `None` for a value beyond the ends or not a number.
    #[must_use]
    pub fn cell(&self, value: f64) -> Option<usize> {
        match self {
            Self::Levels(levels) => levels.iter().position(|level| *level == value),
            Self::Edges(edges) => {
                let (least, greatest) = (edges.first()?, edges.last()?);
                if !(*least..=*greatest).contains(&value) {
                    return None;
                }
                Some(edges.partition_point(|edge| *edge <= value).clamp(1, self.cells()) - 1)
            }
        }
    }
}

/// The output over two factors, each cut into at most `cells`.
#[must_use]
pub fn heat_map(across: &[f64], up: &[f64], output: &[f64], cells: usize) -> HeatMap {
    let (across_axis, up_axis) = (Axis::of(across, cells), Axis::of(up, cells));
    let mut found = vec![Moments::default(); across_axis.cells() * up_axis.cells()];
    for ((x, y), output) in across.iter().zip(up).zip(output) {
        if let (Some(column), Some(row)) = (across_axis.cell(*x), up_axis.cell(*y)) {
            found[row * across_axis.cells() + column].push(*output);
        }
    }
    HeatMap { across: across_axis, up: up_axis, cells: found }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn levels_have_a_cell_each_and_their_mean() {
        let map =
            heat_map(&[1.0, 2.0, 1.0, 2.0, 2.0], &[5.0, 5.0, 7.0, 7.0, 7.0], &[1.0, 2.0, 3.0, 4.0, 6.0], 4);
        assert_eq!((&map.across, &map.up), (&Axis::Levels(vec![1.0, 2.0]), &Axis::Levels(vec![5.0, 7.0])));
        assert_eq!(map.cells.iter().map(Moments::mean).collect::<Vec<_>>(), [1.0, 2.0, 3.0, 5.0]);
    }

    proptest! {
        #[test]
        fn every_row_is_in_one_cell_and_that_cell_holds_its_values(
            values in prop::collection::vec(-50.0..50.0, 30..200), cells in 1_usize..12,
        ) {
            let axis = Axis::of(&values, cells);
            prop_assert_eq!(axis.cells(), cells);
            let Axis::Edges(edges) = &axis else { return Err(TestCaseError::fail("edges")) };
            for value in &values {
                let cell = axis.cell(*value).expect("a cell");
                prop_assert!(edges[cell] <= *value && *value <= edges[cell + 1]);
            }
            let map = heat_map(&values, &values, &values, cells);
            prop_assert_eq!(map.cells.iter().map(Moments::count).sum::<u64>(), values.len() as u64);
        }
    }
}

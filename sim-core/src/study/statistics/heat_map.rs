//! An output over two factors.

use super::Moments;

/// How a factor is cut into cells.
#[derive(Clone, Debug, PartialEq)]
pub enum Axis {
    /// A cell for each value.
    Levels(Vec<f64>),
    /// Cells from the least value to the greatest: their edges, one more than cells.
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
    /// Mean of the first factor in each of its cells; not a number in an empty one.
    pub across_at: Vec<f64>,
    /// Mean of the second factor in each of its cells.
    pub up_at: Vec<f64>,
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

    /// No more than `cells` cells, as many values in each as in every other, but that equal values are never parted:
    /// where values are drawn at random, no cell then stands on a few of them.
    #[must_use]
    pub fn of_equal_counts(factor: &[f64], cells: usize) -> Self {
        let values = super::sorted(factor.iter().copied());
        let (Some(least), Some(greatest)) = (values.first(), values.last()) else {
            return Self::Levels(Vec::new());
        };
        let inner = (1..cells.max(1)).filter_map(|cell| values.get(cell * values.len() / cells)).copied();
        let mut edges: Vec<f64> = std::iter::once(*least).chain(inner).chain([*greatest]).collect();
        edges.dedup();
        if edges.len() < 2 { Self::Levels(edges) } else { Self::Edges(edges) }
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

/// The output over two factors, each with its values and how it is cut.
#[must_use]
pub fn heat_map(across: (&[f64], Axis), up: (&[f64], Axis), output: &[f64]) -> HeatMap {
    let ((xs, across), (ys, up)) = (across, up);
    let mut cells = vec![Moments::default(); across.cells() * up.cells()];
    let mut across_at = vec![Moments::default(); across.cells()];
    let mut up_at = vec![Moments::default(); up.cells()];
    for ((x, y), output) in xs.iter().zip(ys).zip(output) {
        if let (Some(column), Some(row)) = (across.cell(*x), up.cell(*y)) {
            cells[row * across.cells() + column].push(*output);
            across_at[column].push(*x);
            up_at[row].push(*y);
        }
    }
    let means = |moments: Vec<Moments>| moments.iter().map(Moments::mean).collect();
    HeatMap { across, up, cells, across_at: means(across_at), up_at: means(up_at) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn levels_have_a_cell_each_and_their_mean() {
        let (x, y) = ([1.0, 2.0, 1.0, 2.0, 2.0], [5.0, 5.0, 7.0, 7.0, 7.0]);
        let map = heat_map((&x, Axis::of(&x, 4)), (&y, Axis::of(&y, 4)), &[1.0, 2.0, 3.0, 4.0, 6.0]);
        assert_eq!((&map.across, &map.up), (&Axis::Levels(vec![1.0, 2.0]), &Axis::Levels(vec![5.0, 7.0])));
        assert_eq!((&map.across_at[..], &map.up_at[..]), (&[1.0, 2.0][..], &[5.0, 7.0][..]));
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
            let map = heat_map((&values, axis.clone()), (&values, axis), &values);
            prop_assert_eq!(map.cells.iter().map(Moments::count).sum::<u64>(), values.len() as u64);
        }

        #[test]
        fn cells_of_equal_counts_hold_as_many_values_to_one(
            values in prop::collection::btree_set(-5000_i32..5000, 2..300), cells in 1_usize..12,
        ) {
            let values: Vec<f64> = values.into_iter().map(f64::from).collect();
            let axis = Axis::of_equal_counts(&values, cells);
            let mut counts = vec![0_usize; axis.cells()];
            for value in &values {
                counts[axis.cell(*value).expect("a cell")] += 1;
            }
            prop_assert_eq!(counts.iter().sum::<usize>(), values.len());
            if values.len() >= 2 * cells {
                prop_assert_eq!(axis.cells(), cells);
                let (least, most) = (counts.iter().min(), counts.iter().max());
                // The greatest value lies on the last edge, and so in the last cell.
                prop_assert!(most.zip(least).is_some_and(|(most, least)| most - least <= 1), "{:?}", counts);
            }
        }

        #[test]
        fn equal_values_are_never_parted_and_there_is_a_cell_for_each(
            values in prop::collection::vec(0_u8..6, 1..200), cells in 1_usize..12,
        ) {
            let values: Vec<f64> = values.into_iter().map(f64::from).collect();
            let axis = Axis::of_equal_counts(&values, cells);
            prop_assert!(axis.cells() >= 1 && axis.cells() <= cells.max(1));
            prop_assert!(values.iter().all(|value| axis.cell(*value).is_some()), "{:?}", axis);
        }
    }
}

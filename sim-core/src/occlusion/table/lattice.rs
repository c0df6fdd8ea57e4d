//! The net of excursions, solved where it bends and filled in where it does not.
//!
//! A pose that teeth guide is a search among their triangles, and a net as fine as a table for the bench
//! has tens of thousands. Most of it is smooth; what is not are the creases where guidance passes from
//! tooth to tooth. So squares of several meshes are solved at their corners, middles and centre. Where
//! these nine lie in a plane the square's other places are interpolated, elsewhere it is cut in four.

use nalgebra::Vector3;

/// A place that is farther than this from the plane of its square, in millimetres, tells something new: a
/// tenth of what a printed table may be off. How the places lie within the plane does not matter: their
/// meshes have its height.
const NEW_MM: f64 = 0.003;

/// One place of the net.
#[derive(Clone, Copy)]
enum Node {
    Unknown,
    Interpolated(Vector3<f64>),
    Solved(Vector3<f64>),
    /// No tooth guides there.
    Lost,
}

impl Node {
    const fn place(&self) -> Option<Vector3<f64>> {
        match self {
            Self::Solved(place) | Self::Interpolated(place) => Some(*place),
            Self::Unknown | Self::Lost => None,
        }
    }
}

/// Rows of places, one an excursion.
pub(super) struct Lattice {
    nodes: Vec<Node>,
    columns: usize,
}

impl Lattice {
    pub(super) fn new(rows: usize, columns: usize) -> Self {
        Self { nodes: vec![Node::Unknown; rows * columns], columns }
    }

    /// Gives the places of a row; beyond them no tooth guides.
    pub(super) fn set_row(&mut self, row: usize, places: &[Vector3<f64>]) {
        for column in 0..self.columns {
            self.nodes[row * self.columns + column] =
                places.get(column).map_or(Node::Lost, |place| Node::Solved(*place));
        }
    }

    /// Knows all places of a square of `size` meshes, a power of two, from its first corner.
    pub(super) fn know(
        &mut self,
        [row, column]: [usize; 2],
        size: usize,
        solve: &mut impl FnMut(usize, usize) -> Option<Vector3<f64>>,
    ) {
        for at in [[row, column], [row, column + size], [row + size, column], [row + size, column + size]] {
            self.solve(at, solve);
        }
        if size == 1 {
            return;
        }
        let half = size / 2;
        let (middle_row, middle_column) = (row + half, column + half);
        let nine = [row, middle_row, row + size]
            .map(|row| [[row, column], [row, middle_column], [row, column + size]]);
        let mut places = [[None; 3]; 3];
        for (places, nine) in places.iter_mut().zip(nine) {
            for (place, at) in places.iter_mut().zip(nine) {
                self.solve(at, solve);
                *place = self.at(at);
            }
        }
        let smooth = are_in_a_plane(&places);
        for first in [[row, column], [row, middle_column], [middle_row, column], [middle_row, middle_column]]
        {
            if smooth { self.fill(first, half) } else { self.know(first, half, solve) }
        }
    }

    /// The places of a row, from rest on, as far as teeth guide.
    pub(super) fn row(&self, row: usize) -> Vec<Vector3<f64>> {
        let nodes = &self.nodes[row * self.columns..(row + 1) * self.columns];
        nodes.iter().map_while(Node::place).collect()
    }

    fn at(&self, [row, column]: [usize; 2]) -> Option<Vector3<f64>> {
        self.nodes[row * self.columns + column].place()
    }

    fn solve(
        &mut self,
        [row, column]: [usize; 2],
        solve: &mut impl FnMut(usize, usize) -> Option<Vector3<f64>>,
    ) {
        let node = &mut self.nodes[row * self.columns + column];
        if matches!(node, Node::Unknown | Node::Interpolated(_)) {
            *node = solve(row, column).map_or(Node::Lost, Node::Solved);
        }
    }

    /// Fills a square in from its corners.
    #[allow(clippy::cast_precision_loss)] // a few meshes
    fn fill(&mut self, [row, column]: [usize; 2], size: usize) {
        let corners =
            [[row, column], [row, column + size], [row + size, column], [row + size, column + size]];
        let [Some(a), Some(b), Some(c), Some(d)] = corners.map(|corner| self.at(corner)) else { return };
        for down in 0..=size {
            for right in 0..=size {
                let node = &mut self.nodes[(row + down) * self.columns + column + right];
                if matches!(node, Node::Unknown) {
                    let (down, right) = (down as f64 / size as f64, right as f64 / size as f64);
                    let (back, front) = (a + (b - a) * right, c + (d - c) * right);
                    *node = Node::Interpolated(back + (front - back) * down);
                }
            }
        }
    }
}

/// Whether three by three places lie in the plane that is spanned by their diagonals; no where one is lost.
fn are_in_a_plane(places: &[[Option<Vector3<f64>>; 3]; 3]) -> bool {
    let corners = [places[0][0], places[0][2], places[2][0], places[2][2]];
    let [Some(a), Some(b), Some(c), Some(d)] = corners else { return false };
    let Some(normal) = (d - a).cross(&(c - b)).try_normalize(f64::EPSILON) else { return false };
    let middle = (a + b + c + d) / 4.0;
    let is_in = |place: &Option<Vector3<f64>>| {
        place.is_some_and(|place| normal.dot(&(place - middle)).abs() <= NEW_MM)
    };
    places.iter().flatten().all(is_in)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::cast_precision_loss)] // a few meshes

    use std::collections::HashSet;

    use nalgebra::Vector3;

    use super::{Lattice, NEW_MM};

    /// Sixteen by sixteen meshes of a surface, and how many of its places were solved.
    fn known(surface: impl Fn(f64, f64) -> Option<f64>) -> (Lattice, usize) {
        let mut solved = HashSet::new();
        let mut lattice = Lattice::new(17, 17);
        let place = |row: usize, column: usize| {
            let (x, y) = (0.1 * row as f64, 0.1 * column as f64);
            surface(x, y).map(|z| Vector3::new(x, y, z))
        };
        let mut solve = |row, column| {
            assert!(solved.insert((row, column)), "solved twice");
            place(row, column)
        };
        for row in [0, 8] {
            for column in [0, 8] {
                lattice.know([row, column], 8, &mut solve);
            }
        }
        for row in 0..17 {
            let places = lattice.row(row);
            let wanted = (0..17).map_while(|column| place(row, column)).collect::<Vec<_>>();
            assert_eq!(places.len(), wanted.len());
            for (is, wanted) in places.iter().zip(wanted) {
                assert!((is - wanted).norm() <= 2.0 * NEW_MM, "{is} {wanted}");
            }
        }
        (lattice, solved.len())
    }

    #[test]
    fn a_plane_is_solved_at_corners_and_middles_only() {
        assert_eq!(known(|x, y| Some(0.4 * x - 0.2 * y)).1, 25);
    }

    #[test]
    fn a_crease_is_solved_along_itself_and_the_rest_filled_in() {
        let solved = known(|x, y| Some((0.5 * (x - 0.63)).max(0.3 * (y - 0.71)))).1;
        assert!(solved > 25 && solved < 17 * 17, "{solved}");
    }

    #[test]
    fn places_that_turn_within_their_plane_are_filled_in() {
        let mut solved = 0;
        let mut lattice = Lattice::new(9, 9);
        // Round about a corner on a plane.
        let place = |row: usize, column: usize| {
            let (angle, way) = (0.02 * row as f64, 1.0 + 0.1 * column as f64);
            let (x, y) = (way * angle.cos(), way * angle.sin());
            Vector3::new(x, y, 0.3 * x - 0.1 * y)
        };
        let mut solve = |row, column| {
            solved += 1;
            Some(place(row, column))
        };
        lattice.know([0, 0], 8, &mut solve);
        for row in 0..9 {
            for at in lattice.row(row) {
                assert!((at.z - (0.3 * at.x - 0.1 * at.y)).abs() < 1e-12);
            }
        }
        assert_eq!(solved, 9);
    }

    #[test]
    fn a_row_ends_where_nothing_guides() {
        let (lattice, _) = known(|x, y| (x + y < 1.95).then_some(0.1 * x));
        assert!(lattice.row(16).len() < lattice.row(0).len());
    }
}

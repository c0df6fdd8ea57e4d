//! Large triangles in pieces, so that the boxes of a tree stay small.
//!
//! The box about a triangle that spans the cast holds half the cast: a search that prunes by boxes prunes
//! nothing there. A tree is therefore built over pieces no larger than [`LARGE_MM`]; what a leaf is asked is
//! still the whole triangle, so that no answer hangs on how it was cut.

use std::collections::BinaryHeap;

use nalgebra::Vector3;

use super::Surface;

/// A triangle with an edge longer than this, in millimetres, goes in pieces. Triangles of scanned teeth are
/// far smaller (tens of micrometres to half a millimetre; common practice, no source), and a base of sixty
/// by fifty millimetres comes to some 3,000 pieces.
const LARGE_MM: f64 = 2.0;
/// Pieces there may be in all, beyond one for each triangle; the largest are cut first.
const MOST_PIECES: usize = 1 << 16;

/// The pieces of a surface: its triangles, or what they were cut into.
pub(super) struct Pieces<'s> {
    surface: &'s Surface,
    /// A triangle, and the corners of the part of it that this is.
    cut: Vec<(u32, [Vector3<f64>; 3])>,
    /// All of them: triangles by number, and beyond those the places in `cut`.
    pub(super) all: Vec<u32>,
}

impl<'s> Pieces<'s> {
    #[allow(clippy::cast_possible_truncation)] // triangles and pieces are counted in 32 bits
    pub(super) fn of(surface: &'s Surface) -> Self {
        let count = surface.triangles().len() as u32;
        let (mut all, mut large) = (Vec::with_capacity(count as usize), BinaryHeap::new());
        for triangle in 0..count {
            let piece = Large::new(triangle, surface.corners(triangle as usize));
            if piece.square > LARGE_MM * LARGE_MM { large.push(piece) } else { all.push(triangle) }
        }
        let mut cut = Vec::new();
        let most = large.len() + MOST_PIECES;
        while let Some(piece) = large.pop() {
            if piece.square <= LARGE_MM * LARGE_MM || cut.len() + large.len() + 1 >= most {
                all.push(count + cut.len() as u32);
                cut.push((piece.triangle, piece.corners));
            } else {
                large.extend(piece.halves());
            }
        }
        Self { surface, cut, all }
    }

    fn cut(&self, piece: u32) -> Option<&(u32, [Vector3<f64>; 3])> {
        (piece as usize).checked_sub(self.surface.triangles().len()).and_then(|at| self.cut.get(at))
    }

    /// The triangle that a piece is of.
    pub(super) fn triangle(&self, piece: u32) -> u32 {
        self.cut(piece).map_or(piece, |(triangle, _)| *triangle)
    }

    /// The corners of a piece.
    pub(super) fn corners(&self, piece: u32) -> [Vector3<f64>; 3] {
        self.cut(piece).map_or_else(|| self.surface.corners(piece as usize), |(_, corners)| *corners)
    }
}

/// A triangle or a part of one, ordered by its longest edge.
struct Large {
    square: f64,
    /// The longest edge runs from this corner to the next.
    edge: usize,
    triangle: u32,
    corners: [Vector3<f64>; 3],
}

impl Large {
    fn new(triangle: u32, corners: [Vector3<f64>; 3]) -> Self {
        let (edge, square) = longest(&corners);
        Self { square, edge, triangle, corners }
    }

    /// Cut across the longest edge.
    fn halves(self) -> [Self; 2] {
        halves(&self.corners, self.edge).map(|corners| Self::new(self.triangle, corners))
    }
}

/// The longest edge of a triangle by the corner it begins at, and the square of its length.
pub(super) fn longest(corners: &[Vector3<f64>; 3]) -> (usize, f64) {
    let squares = [0, 1, 2].map(|at| (corners[(at + 1) % 3] - corners[at]).norm_squared());
    let edge = if squares[0] >= squares[1] && squares[0] >= squares[2] {
        0
    } else if squares[1] >= squares[2] {
        1
    } else {
        2
    };
    (edge, squares[edge])
}

/// A triangle in two, across an edge; both the same way round as it was.
fn halves(corners: &[Vector3<f64>; 3], edge: usize) -> [[Vector3<f64>; 3]; 2] {
    let [from, to, apex] = [0, 1, 2].map(|step| corners[(edge + step) % 3]);
    let middle = (from + to) / 2.0;
    [[from, middle, apex], [middle, to, apex]]
}

impl PartialEq for Large {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Large {}

impl PartialOrd for Large {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Large {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.square.total_cmp(&other.square).then(other.triangle.cmp(&self.triangle))
    }
}

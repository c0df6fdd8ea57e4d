//! The lines in which a plane cuts a surface.

use super::{Cut, SectionLine};
use crate::cast::Surface;

/// An end of a piece: which piece, and which of its two ends.
type End = (usize, usize);

/// The part of the section within one triangle, from one of its edges to another.
struct Piece {
    ends: [[f64; 2]; 2],
    next: [Option<End>; 2],
}

/// Cuts a surface. A vertex in the plane counts as in front of it, so every triangle is cut in two
/// edges or in none and the lines break only where the surface does.
pub(super) fn cut(surface: &Surface, cut: &Cut) -> Vec<SectionLine> {
    let toward = cut.across.cross(&cut.up);
    let level = toward.dot(&cut.origin);
    let heights: Vec<f64> = surface.vertices().iter().map(|vertex| vertex.dot(&toward) - level).collect();
    let mut pieces = Vec::new();
    let mut edges = Vec::new();
    for triangle in surface.triangles() {
        let front = triangle.map(|corner| heights[corner as usize] >= 0.0);
        if front[0] == front[1] && front[1] == front[2] {
            continue;
        }
        let mut ends = [[0.0; 2]; 2];
        for side in 0..3 {
            let (from, to) = (triangle[side], triangle[(side + 1) % 3]);
            if front[side] == front[(side + 1) % 3] {
                continue;
            }
            // Leaving the front or coming back to it.
            let end = usize::from(!front[side]);
            // From the lesser number to the greater, so that both triangles find the same place.
            let (low, high) = (from.min(to), from.max(to));
            let (a, b) = (heights[low as usize], heights[high as usize]);
            let (p, q) = (surface.vertices()[low as usize], surface.vertices()[high as usize]);
            let at = p + (q - p) * (a / (a - b)) - cut.origin;
            ends[end] = [at.dot(&cut.across), at.dot(&cut.up)];
            edges.push(((low, high), (pieces.len(), end)));
        }
        pieces.push(Piece { ends, next: [None; 2] });
    }
    join(&mut pieces, edges);
    walk(&pieces)
}

/// Joins pieces that meet in an edge, two and two where more than two meet.
fn join(pieces: &mut [Piece], mut edges: Vec<((u32, u32), End)>) {
    edges.sort_unstable();
    let mut rest = edges.as_slice();
    while let [(edge, a), after @ ..] = rest {
        rest = after;
        if let [(same, b), after @ ..] = after
            && same == edge
        {
            pieces[a.0].next[a.1] = Some(*b);
            pieces[b.0].next[b.1] = Some(*a);
            rest = after;
        }
    }
}

/// Follows the pieces to lines: first from loose ends, then round what is closed.
fn walk(pieces: &[Piece]) -> Vec<SectionLine> {
    let mut walked = vec![false; pieces.len()];
    let mut lines = Vec::new();
    let loose = (0..pieces.len())
        .flat_map(|piece| [(piece, 0), (piece, 1)])
        .filter(|(piece, end)| pieces[*piece].next[*end].is_none());
    for (piece, end) in loose.chain((0..pieces.len()).map(|piece| (piece, 0))) {
        if walked[piece] {
            continue;
        }
        let mut line = vec![pieces[piece].ends[end]];
        let mut entered = Some((piece, end));
        while let Some((piece, end)) = entered.filter(|(piece, _)| !walked[*piece]) {
            walked[piece] = true;
            line.push(pieces[piece].ends[1 - end]);
            entered = pieces[piece].next[1 - end];
        }
        lines.push(line);
    }
    lines
}

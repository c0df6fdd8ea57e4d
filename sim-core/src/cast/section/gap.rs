//! The vertical gap between the two casts within a section.

use super::SectionLine;
use crate::units::Length;

/// Where the two casts come nearest along the vertical within a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionGap {
    /// The gap; below zero where the lower cast stands above the upper one.
    pub gap: Length,
    /// Where across.
    pub across: Length,
    /// Height of the upper cast there.
    pub upper: Length,
    /// Height of the lower cast there.
    pub lower: Length,
}

/// A straight piece of a line, its lesser across first.
type Piece = [[f64; 2]; 2];

/// Between its corners each line is straight, so the gap is least above or below a corner of either.
pub(super) fn least(upper: &[SectionLine], lower: &[SectionLine]) -> Option<SectionGap> {
    let (roof, floor) = (pieces(upper), pieces(lower));
    let corners = upper.iter().chain(lower).flatten();
    let gaps = corners.filter_map(|[across, _]| {
        let upper = extreme(&roof, *across, f64::min)?;
        let lower = extreme(&floor, *across, f64::max)?;
        Some([upper - lower, *across, upper, lower])
    });
    let [gap, across, upper, lower] = gaps.min_by(|a, b| a[0].total_cmp(&b[0]))?.map(Length::from_mm);
    Some(SectionGap { gap, across, upper, lower })
}

fn pieces(lines: &[SectionLine]) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = lines
        .iter()
        .flat_map(|line| line.windows(2))
        .map(|ends| if ends[0][0] <= ends[1][0] { [ends[0], ends[1]] } else { [ends[1], ends[0]] })
        .collect();
    pieces.sort_unstable_by(|a, b| a[0][0].total_cmp(&b[0][0]));
    pieces
}

/// The lowest or topmost of the pieces at a place across.
fn extreme(pieces: &[Piece], across: f64, of: fn(f64, f64) -> f64) -> Option<f64> {
    let begun = pieces.partition_point(|[from, _]| from[0] <= across);
    let heights = pieces[..begun].iter().filter(|[_, to]| to[0] >= across).map(|[from, to]| {
        let width = to[0] - from[0];
        if width > 0.0 {
            from[1] + (to[1] - from[1]) * ((across - from[0]) / width)
        } else {
            of(from[1], to[1])
        }
    });
    heights.reduce(of)
}

//! A table whose form is given by heights over a square grid.

use serde::{Deserialize, Serialize};

use super::PinTip;
use crate::facts::OutOfRange;
use crate::units::Length;

/// Most heights of a table: a grid of a tenth of a millimetre over 30 × 30 mm.
pub(crate) const MOST_HEIGHTS: usize = 100_000;
/// No table rises or falls farther than this from the pin's place, in millimetres.
const HIGHEST_MM: f64 = 60.0;
/// Spacing of the grid that is allowed, in millimetres.
const STEP_MM: (f64, f64) = (0.05, 5.0);
/// No table reaches farther than this from the pin's place, in millimetres.
const FARTHEST_MM: f64 = 100.0;

/// Heights of a table over a square grid, in the lower member's frame and counted from the pin tip's
/// place at rest with the pin flush: `x` anterior, `y` left, `z` up, millimetres.
///
/// Of a pin whose tip is a ball ([`PinTip`]) they are the heights of the ball's centre, counted from its own
/// place at rest: the surface that the centre keeps to, not the one that the ball touches.
///
/// Between the grid's points each square is two flat triangles that share the lower of its diagonals. So a
/// table and its mirror image are mirror images of each other between the points too, and the valleys that
/// guiding teeth form, one after the other holding the pin up, are followed the more closely.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Fields", into = "Fields")]
pub struct HeightField {
    corner: [f64; 2],
    step: f64,
    heights: Vec<f64>,
    columns: usize,
    tip: PinTip,
}

/// Why heights are no table.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoHeightField {
    /// No square between the points.
    #[error("heights_mm has {rows} rows of {columns}; at least 2 rows of 2 heights are needed")]
    TooFew {
        /// Rows given.
        rows: usize,
        /// Heights in the first of them.
        columns: usize,
    },
    /// More than any table needs.
    #[error("heights_mm has {given} heights; allowed are up to {MOST_HEIGHTS}")]
    TooMany {
        /// Heights given.
        given: usize,
    },
    /// A row that is longer or shorter than the first.
    #[error("row {row} of heights_mm has {given} heights; the first has {wanted}, and all must have as many")]
    Ragged {
        /// Which row, from 1.
        row: usize,
        /// Its heights.
        given: usize,
        /// Heights of the first row.
        wanted: usize,
    },
    /// A height that no table has.
    #[error(
        "height {column} of row {row} of heights_mm is {given}; allowed are -{HIGHEST_MM} to {HIGHEST_MM} mm"
    )]
    Height {
        /// Which row, from 1.
        row: usize,
        /// Which height in it, from 1.
        column: usize,
        /// The height given.
        given: f64,
    },
    /// A spacing that is too narrow, too wide or no number.
    #[error("step_mm is {given}; allowed are {} to {} mm", STEP_MM.0, STEP_MM.1)]
    Step {
        /// The spacing given.
        given: f64,
    },
    /// A tip that no pin has.
    #[error(transparent)]
    Tip(#[from] OutOfRange),
    /// A grid that reaches too far, or starts at no number.
    #[error(
        "the table reaches from {from} to {to} mm along {axis}; allowed are -{FARTHEST_MM} to {FARTHEST_MM} mm from the pin"
    )]
    Reach {
        /// `x` (anterior) or `y` (left).
        axis: char,
        /// Where it starts.
        from: f64,
        /// Where it ends.
        to: f64,
    },
}

impl HeightField {
    /// A table from the place of its rear right corner, the spacing of its grid and its heights: rows
    /// go from back to front, heights in a row from right to left. Millimetres, counted from the pin
    /// tip's place at rest.
    ///
    /// # Errors
    /// [`NoHeightField`] for fewer than 2 × 2 heights, uneven rows, and numbers out of range.
    pub fn new(corner_mm: [f64; 2], step_mm: f64, rows: &[Vec<f64>]) -> Result<Self, NoHeightField> {
        let columns = rows.first().map_or(0, Vec::len);
        if rows.len() < 2 || columns < 2 {
            return Err(NoHeightField::TooFew { rows: rows.len(), columns });
        }
        let given = rows.iter().map(Vec::len).sum();
        if given > MOST_HEIGHTS {
            return Err(NoHeightField::TooMany { given });
        }
        if !(STEP_MM.0..=STEP_MM.1).contains(&step_mm) {
            return Err(NoHeightField::Step { given: step_mm });
        }
        for (index, row) in rows.iter().enumerate() {
            if row.len() != columns {
                return Err(NoHeightField::Ragged { row: index + 1, given: row.len(), wanted: columns });
            }
            if let Some(at) = row.iter().position(|height| height.is_nan() || height.abs() > HIGHEST_MM) {
                return Err(NoHeightField::Height { row: index + 1, column: at + 1, given: row[at] });
            }
        }
        #[allow(clippy::cast_precision_loss)] // at most MOST_HEIGHTS
        for (axis, from, count) in [('x', corner_mm[0], rows.len()), ('y', corner_mm[1], columns)] {
            let to = from + step_mm * (count - 1) as f64;
            if !(from.abs() <= FARTHEST_MM && to.abs() <= FARTHEST_MM) {
                return Err(NoHeightField::Reach { axis, from, to });
            }
        }
        Ok(Self { corner: corner_mm, step: step_mm, heights: rows.concat(), columns, tip: PinTip::POINT })
    }

    /// The same for a pin with this tip: the heights are those of its centre.
    ///
    /// # Errors
    /// [`NoHeightField::Tip`] for a radius that no tip has.
    pub fn with_tip(self, tip: PinTip) -> Result<Self, NoHeightField> {
        PinTip::RADIUS.facts.check(tip.radius.mm())?;
        Ok(Self { tip, ..self })
    }

    /// The tip of the pin that glides on it.
    #[must_use]
    pub const fn tip(&self) -> PinTip {
        self.tip
    }

    /// The same grid with other heights, in the same order, and a tip without extent.
    pub(crate) fn with_heights(&self, heights: &[f64]) -> Result<Self, NoHeightField> {
        let rows: Vec<Vec<f64>> = heights.chunks(self.columns).map(<[f64]>::to_vec).collect();
        Self::new(self.corner, self.step, &rows)
    }

    /// Rows from back to front, and heights in each from right to left.
    #[must_use]
    pub fn size(&self) -> (usize, usize) {
        (self.heights.len() / self.columns, self.columns)
    }

    /// The spacing of the grid, in millimetres.
    #[must_use]
    pub const fn step_mm(&self) -> f64 {
        self.step
    }

    /// A point of the grid, counted from the pin tip's place at rest, in millimetres: anterior, left,
    /// up. `None` outside the grid.
    #[must_use]
    pub fn point(&self, row: usize, column: usize) -> Option<[f64; 3]> {
        let index = row * self.columns + column;
        (column < self.columns && index < self.heights.len()).then(|| self.at(index))
    }

    /// Every triangle of the table as three of its points, counter-clockwise seen from above.
    pub fn triangles(&self) -> impl Iterator<Item = [[f64; 3]; 3]> {
        self.meshes().map(|mesh| mesh.map(|index| self.at(index)))
    }

    /// Every triangle as three places in the list of points, row by row.
    pub(crate) fn meshes(&self) -> impl Iterator<Item = [usize; 3]> {
        let (rows, columns) = self.size();
        (1..rows).flat_map(move |row| (1..columns).flat_map(move |column| self.square(row, column)))
    }

    /// The two triangles of the square with this front left corner.
    pub(crate) fn square(&self, row: usize, column: usize) -> [[usize; 3]; 2] {
        let front_left = row * self.columns + column;
        let (front_right, rear_left) = (front_left - 1, front_left - self.columns);
        let rear_right = rear_left - 1;
        let twice = |one: usize, other: usize| self.heights[one] + self.heights[other];
        // Where both are as high the square is flat, and either will do.
        if twice(rear_right, front_left) <= twice(front_right, rear_left) {
            [[rear_right, front_right, front_left], [rear_right, front_left, rear_left]]
        } else {
            [[front_right, front_left, rear_left], [front_right, rear_left, rear_right]]
        }
    }

    /// A point by its place in the list of points.
    #[allow(clippy::cast_precision_loss)] // at most MOST_HEIGHTS
    pub(crate) fn at(&self, index: usize) -> [f64; 3] {
        let (row, column) = (index / self.columns, index % self.columns);
        [
            self.corner[0] + self.step * row as f64,
            self.corner[1] + self.step * column as f64,
            self.heights[index],
        ]
    }
}

/// A table as a scene file gives it.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "CustomTable")]
struct Fields {
    corner_mm: (f64, f64),
    step_mm: f64,
    heights_mm: Vec<Vec<f64>>,
    #[serde(default, skip_serializing_if = "is_nought")]
    tip_radius_mm: f64,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde hands it over so
fn is_nought(number: &f64) -> bool {
    *number == 0.0
}

impl TryFrom<Fields> for HeightField {
    type Error = NoHeightField;
    fn try_from(fields: Fields) -> Result<Self, NoHeightField> {
        let tip = PinTip { radius: Length::from_mm(fields.tip_radius_mm) };
        Self::new(fields.corner_mm.into(), fields.step_mm, &fields.heights_mm)?.with_tip(tip)
    }
}

impl From<HeightField> for Fields {
    fn from(field: HeightField) -> Self {
        Self {
            corner_mm: field.corner.into(),
            step_mm: field.step,
            heights_mm: field.heights.chunks(field.columns).map(<[f64]>::to_vec).collect(),
            tip_radius_mm: field.tip.radius.mm(),
        }
    }
}

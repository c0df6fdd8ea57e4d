//! The incisal table that makes the pin repeat what the teeth do.
//!
//! With the pin raised the teeth alone guide every excursion, and the place where the flush pin's tip
//! would be sweeps out a surface in the lower member's frame. A table of that form holds the pin, and
//! so the jaw, where the teeth held it.
//!
//! 1. [`sweep`]: excursions to both sides, lateral to protrusive in even ratios, each stopped at even
//!    steps. So the places form a net of two coordinates, ratio and travel, whose meshes are no wider
//!    than a step of the table.
//! 2. [`net`]: the net's meshes as flat triangles. Over each point of the table's grid that they cover
//!    the lowest counts: the pin carves away what is in its way.
//! 3. [`margin`]: beyond the sweep the table goes on as the nearest triangle of the net does, for two
//!    steps, and from there on level.
//! 4. [`print`]: the table as a closed solid.

mod error;
mod margin;
mod net;
mod print;
mod sweep;

pub use error::NoTable;
pub use print::TablePrint;
pub use sweep::TableSweep;

use super::Mounted;
use crate::anterior::{AnteriorGuide, HeightField};
use crate::instrument::Instrument;
use crate::units::Length;
use net::Net;

/// A table formed to the teeth.
#[derive(Clone, Debug, PartialEq)]
pub struct FormedTable {
    field: HeightField,
    swept: Vec<bool>,
    guided_to: Length,
}

impl FormedTable {
    /// The heights, counted from the pin tip's place at rest.
    #[must_use]
    pub const fn field(&self) -> &HeightField {
        &self.field
    }

    /// Whether a point of the grid was swept by the pin; where it was not, the margin was put on. No
    /// for a point that the grid has not.
    #[must_use]
    pub fn is_swept(&self, row: usize, column: usize) -> bool {
        let (_, columns) = self.field.size();
        column < columns && self.swept.get(row * columns + column).copied().unwrap_or_default()
    }

    /// How much of the grid was swept, 0 to 1.
    #[must_use]
    #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
    pub fn swept_share(&self) -> f64 {
        self.swept.iter().filter(|swept| **swept).count() as f64 / self.swept.len() as f64
    }

    /// Advance up to which teeth guide every excursion: less than asked for where in one of them they
    /// lose each other.
    #[must_use]
    pub const fn guided_to(&self) -> Length {
        self.guided_to
    }

    /// The instrument with this table on it, and the pin flush.
    #[must_use]
    pub fn mount(&self, instrument: &Instrument) -> Instrument {
        Instrument {
            anterior_guide: AnteriorGuide::CustomTable(self.field.clone()),
            pin_extension: Length::ZERO,
            ..instrument.clone()
        }
    }
}

impl Mounted {
    /// The incisal table that the pin tip sweeps when the teeth guide and the pin is out of the way.
    ///
    /// The table is formed by the tip of the flush pin, taken as a point. An instrument guided by it
    /// follows the teeth but for what lies between the points of its grid: that falls with the square
    /// of the step where the surface is smooth, and with the step where the guidance passes from one
    /// tooth to another. Where edges pass each other and the jaw drops within a step, the table is a slope
    /// instead.
    ///
    /// # Errors
    /// [`NoTable`] for sizes that no table has, and where the teeth do not guide.
    pub fn form_table(&self, asked: &TableSweep) -> Result<FormedTable, NoTable> {
        asked.check()?;
        let sweep = sweep::sweep(self, asked)?;
        let net = Net::of(&sweep.fans);
        let grid = net::Grid::around(&net, asked);
        let covered = net.heights(&grid);
        let heights = margin::filled(&net, &grid, &covered);
        let field = HeightField::new(grid.corner(), asked.step.mm(), &heights)?;
        let swept = covered.iter().flatten().map(Option::is_some).collect();
        Ok(FormedTable { field, swept, guided_to: sweep.guided_to })
    }
}

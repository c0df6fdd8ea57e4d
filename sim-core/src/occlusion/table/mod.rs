//! The incisal table that makes the pin repeat what the teeth do.
//!
//! With the pin raised the teeth alone guide every excursion, and the place where the flush pin's tip
//! would be sweeps out a surface in the lower member's frame. A table of that form holds the pin, and
//! so the jaw, where the teeth held it.
//!
//! 1. [`sweep`]: excursions to both sides, lateral to protrusive in even ratios, each stopped at even
//!    steps. So the places form a net of two coordinates, ratio and travel, whose meshes are no wider
//!    than a step of the table; [`lattice`] solves it where it bends.
//! 2. [`net`]: the net's meshes as flat triangles. Over each point of the table's grid that they cover
//!    the lowest counts: the pin carves away what is in its way.
//! 3. [`margin`]: beyond the sweep the table goes on as the nearest triangle of the net does, for two
//!    steps and the radius of the tip, and from there on level.
//! 4. [`tip`]: for a pin whose tip is a ball, the surface on which it rolls while its centre keeps to the
//!    heights found.
//! 5. [`print`]: the table as a closed solid.

mod error;
mod lattice;
mod margin;
mod net;
mod print;
mod sweep;
mod tip;

pub use error::{NoTable, TableSize};
pub use print::TablePrint;
pub use sweep::TableSweep;

use super::Mounted;
use crate::anterior::{AnteriorGuide, HeightField, PinTip};
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
    /// The heights, counted from the pin tip's place at rest; of a tip that is a ball those of its
    /// centre, from the centre's.
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

    /// The surface to print, counted from the pin tip's place at rest: the heights themselves for a tip
    /// that is a point, and for a ball the surface on which it rolls while its centre keeps to them.
    ///
    /// # Errors
    /// [`NoTable::Field`] where the surface goes deeper than any table.
    pub fn printed(&self) -> Result<HeightField, NoTable> {
        if self.field.tip() == PinTip::POINT { Ok(self.field.clone()) } else { tip::printed(&self.field) }
    }

    /// Where the tip of the pin comes to stand on a printed surface: a ball's centre, counted from its place
    /// at rest. Lower than the heights found at ridges that are sharper than the ball.
    ///
    /// # Errors
    /// [`NoTable::Field`] for a surface of another table.
    pub fn rolled(&self, printed: &HeightField) -> Result<HeightField, NoTable> {
        let tip = self.field.tip();
        if tip == PinTip::POINT {
            return Ok(printed.clone());
        }
        // Counted from the lowest point of the ball at rest, whose centre is higher by its radius.
        let radius = tip.radius.mm();
        let centres: Vec<f64> =
            tip::over(printed, radius).into_iter().map(|height| height - radius).collect();
        Ok(self.field.with_heights(&centres)?.with_tip(tip)?)
    }

    /// How far heights on which the tip rolls are from those found, at most, wherever the pin has been.
    #[must_use]
    pub fn runs_off(&self, rolled: &HeightField) -> Length {
        let swept = self.swept.iter().enumerate().filter(|(_, swept)| **swept);
        let (rows, columns) = rolled.size();
        let off = swept.filter(|(index, _)| *index < rows * columns);
        let off = off.map(|(index, _)| (rolled.at(index)[2] - self.field.at(index)[2]).abs());
        Length::from_mm(off.fold(0.0, f64::max))
    }

    /// An instrument with a table on which its pin rolls as told, and the pin flush.
    #[must_use]
    pub fn mount_rolled(instrument: &Instrument, rolled: HeightField) -> Instrument {
        Instrument {
            anterior_guide: AnteriorGuide::CustomTable(rolled),
            pin_extension: Length::ZERO,
            ..instrument.clone()
        }
    }

    /// The instrument with this table on it, and the pin flush.
    #[must_use]
    pub fn mount(&self, instrument: &Instrument) -> Instrument {
        Self::mount_rolled(instrument, self.field.clone())
    }
}

impl Mounted {
    /// The incisal table that the pin tip sweeps when the teeth guide and the pin is out of the way.
    ///
    /// The table is formed by the tip of the flush pin: a point, or the centre of a ball. An instrument guided by it
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
        let heights = margin::filled(&net, &grid, &covered, asked.tip);
        let field = HeightField::new(grid.corner(), asked.step.mm(), &heights)?.with_tip(asked.tip)?;
        let swept = covered.iter().flatten().map(Option::is_some).collect();
        Ok(FormedTable { field, swept, guided_to: sweep.guided_to })
    }
}

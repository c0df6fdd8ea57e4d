//! How a figure is set for print: how wide, how many dots an inch, with its title or without.

/// Millimetres of an inch.
pub(super) const INCH_MM: f64 = 25.4;
/// Units of a figure to an inch: its letters then have the size on paper that they have on a screen, 10 units being
/// 7.5 points.
const UNITS: f64 = 96.0;

/// How a figure is set. A figure that is laid out anew for every width keeps the size of its letters; one that is not
/// is made larger or smaller as a whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Print {
    /// Width on paper, from [`Print::LEAST_MM`] to [`Print::MOST_MM`].
    pub width_mm: f64,
    /// Dots an inch of a PNG, from [`Print::LEAST_DPI`] to [`Print::MOST_DPI`].
    pub dpi: u32,
    /// Whether title and explanation stand above it; a journal sets them under the figure.
    pub titled: bool,
}

impl Print {
    /// One column of two on a page, at the least; below it the words of a figure find no room.
    pub const LEAST_MM: f64 = 80.0;
    /// The long side of a sheet of A3.
    pub const MOST_MM: f64 = 420.0;
    /// Of a screen.
    pub const LEAST_DPI: u32 = 72;
    /// What journals ask for of lines at the most (common practice, no source).
    pub const MOST_DPI: u32 = 1200;

    /// Both columns of a page, 300 dots an inch, with title and explanation.
    pub const TITLED: Self = Self { width_mm: 190.5, dpi: 300, titled: true };
    /// The same without title and explanation.
    pub const USUAL: Self = Self { titled: false, ..Self::TITLED };

    /// Width in the units of a figure.
    pub(super) fn units(&self) -> f64 {
        self.width_mm / INCH_MM * UNITS
    }
}

/// A length in the units of a figure as it stands on paper at their usual size, in millimetres.
pub(super) fn mm(units: f64) -> f64 {
    units / UNITS * INCH_MM
}

#[cfg(test)]
mod tests {
    use super::{Print, mm};

    #[test]
    fn both_columns_are_as_wide_as_figures_on_a_screen_are() {
        assert!((Print::USUAL.units() - 720.0).abs() < 1e-9);
        // A point is a 72nd of an inch: ten units are 7.5 points.
        assert!((mm(10.0) - 7.5 * 25.4 / 72.0).abs() < 1e-12);
    }
}

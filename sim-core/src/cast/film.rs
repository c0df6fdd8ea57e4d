//! Articulating film, by its thickness.

use crate::units::Length;

/// A film laid between the teeth that prints where they come within its thickness.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Film {
    thickness: Length,
}

/// A thickness that no film has.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "{} is the thickness of no film; allowed are {} to {} micrometres",
    given_mm * 1000.0,
    Film::THINNEST.mm() * 1000.0,
    Film::THICKEST.mm() * 1000.0
)]
pub struct NoSuchFilm {
    /// The thickness given, in millimetres.
    pub given_mm: f64,
}

impl Film {
    /// Examples of thicknesses, from a thin film to a thick paper: 8, 20, 40, 100 and 200 µm. Common
    /// practice, no source.
    pub const THICKNESSES: [Length; 5] = [
        Length::from_mm(0.008),
        Length::from_mm(0.02),
        Length::from_mm(0.04),
        Length::from_mm(0.1),
        Length::from_mm(0.2),
    ];
    /// The thinnest that can be asked for, 1 µm: a scan tells no less.
    pub const THINNEST: Length = Length::from_mm(0.001);
    /// The thickest that can be asked for, 1 mm.
    pub const THICKEST: Length = Length::from_mm(1.0);

    /// A film of a thickness.
    ///
    /// # Errors
    /// [`NoSuchFilm`] outside [`Self::THINNEST`] to [`Self::THICKEST`].
    pub fn new(thickness: Length) -> Result<Self, NoSuchFilm> {
        let given_mm = thickness.mm();
        if (Self::THINNEST..=Self::THICKEST).contains(&thickness) {
            Ok(Self { thickness })
        } else {
            Err(NoSuchFilm { given_mm })
        }
    }

    /// Its thickness.
    #[must_use]
    pub const fn thickness(self) -> Length {
        self.thickness
    }
}

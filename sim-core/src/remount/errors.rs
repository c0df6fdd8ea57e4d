//! How sure an error of the centric relation is.

use nalgebra::Vector3;
use statrs::distribution::{ChiSquared, ContinuousCDF as _};

use crate::units::{Angle, Length};

/// How sure the parts of a [`Centric`](super::Centric) are, by propagation of covariance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CentricErrors {
    /// Of the hinge turn.
    pub turn: Angle,
    /// Of the shift.
    pub shift_mm: Vector3<f64>,
    /// Of the roll.
    pub roll: Angle,
    /// Of the yaw.
    pub yaw: Angle,
    /// Of the place of a condyle, in the direction in which it is least sure.
    pub condyle: Length,
    /// The parts squared over their covariance: chi-square of so many degrees of freedom, if there is no error.
    pub chi_square: f64,
    /// The degrees of freedom: 5, or 2 by gaps.
    pub freedom: u8,
    /// How often chance alone gives as much.
    pub chance: f64,
}

/// How often chance alone gives a chi-square of at least so much.
pub(super) fn chance(chi_square: f64, freedom: u8) -> f64 {
    ChiSquared::new(f64::from(freedom)).map_or(1.0, |law| law.sf(chi_square))
}

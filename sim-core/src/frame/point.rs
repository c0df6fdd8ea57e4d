//! Points that carry the member they are fixed to in their type.

use std::fmt;
use std::marker::PhantomData;
use std::ops::{Add, Sub};

use nalgebra::Vector3;

/// A frame: of a member, or of a scan. Implemented by [`Upper`], [`Lower`] and [`Scan`] only.
pub trait Frame: Copy + fmt::Debug + PartialEq + sealed::Sealed {}

/// The frame fixed to the upper member.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Upper;

/// The frame fixed to the lower member.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lower;

/// The frame that a scanned upper cast came in; a mounting relates it to the upper member's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scan;

impl Frame for Upper {}
impl Frame for Lower {}
impl Frame for Scan {}

mod sealed {
    pub trait Sealed {}
    impl Sealed for super::Upper {}
    impl Sealed for super::Lower {}
    impl Sealed for super::Scan {}
}

/// A point given in the frame `F`, in millimetres.
///
/// ```
/// use nalgebra::Vector3;
/// use sim_core::frame::LowerPoint;
/// let edge = LowerPoint::mm(98.0, 0.0, -42.0);
/// assert_eq!(edge.z(), -42.0);
/// // The vector from one point to another of the same frame, in millimetres, and a point beside one:
/// let tip = edge + Vector3::new(2.0, 0.0, -1.0);
/// assert_eq!(tip - edge, Vector3::new(2.0, 0.0, -1.0));
/// ```
///
/// Points of different frames are kept apart by the compiler; a [`JawPose`](super::JawPose) leads from
/// one to the other:
///
/// ```compile_fail
/// use sim_core::frame::{LowerPoint, UpperPoint};
/// let apart = UpperPoint::mm(0.0, 0.0, 0.0) - LowerPoint::mm(98.0, 0.0, -42.0);
/// ```
#[derive(Clone, Copy, PartialEq)]
pub struct Point<F: Frame> {
    coords: Vector3<f64>,
    frame: PhantomData<F>,
}

/// A point fixed to, or seen from, the upper member.
pub type UpperPoint = Point<Upper>;
/// A point fixed to, or seen from, the lower member.
pub type LowerPoint = Point<Lower>;
/// A point in the coordinates of a scanned cast.
pub type ScanPoint = Point<Scan>;

impl<F: Frame> Point<F> {
    /// A point from its coordinates in millimetres: anterior, left, up.
    #[must_use]
    pub const fn mm(x: f64, y: f64, z: f64) -> Self {
        Self::from_coords(Vector3::new(x, y, z))
    }

    /// A point from its coordinates as a vector in millimetres.
    #[must_use]
    pub const fn from_coords(coords: Vector3<f64>) -> Self {
        Self { coords, frame: PhantomData }
    }

    /// The coordinates as a vector in millimetres.
    #[must_use]
    pub const fn coords(&self) -> &Vector3<f64> {
        &self.coords
    }

    /// Anterior coordinate in millimetres.
    #[must_use]
    pub fn x(&self) -> f64 {
        self.coords.x
    }

    /// Left coordinate in millimetres.
    #[must_use]
    pub fn y(&self) -> f64 {
        self.coords.y
    }

    /// Upward coordinate in millimetres.
    #[must_use]
    pub fn z(&self) -> f64 {
        self.coords.z
    }

    /// Straight-line distance to another point of the same frame, in millimetres.
    #[must_use]
    pub fn distance_mm(&self, other: &Self) -> f64 {
        (*self - *other).norm()
    }
}

/// The vector from the other point to this one, in millimetres.
impl<F: Frame> Sub for Point<F> {
    type Output = Vector3<f64>;
    #[inline]
    fn sub(self, other: Self) -> Vector3<f64> {
        self.coords - other.coords
    }
}

impl<F: Frame> Add<Vector3<f64>> for Point<F> {
    type Output = Self;
    #[inline]
    fn add(self, millimetres: Vector3<f64>) -> Self {
        Self::from_coords(self.coords + millimetres)
    }
}

impl<F: Frame> Sub<Vector3<f64>> for Point<F> {
    type Output = Self;
    #[inline]
    fn sub(self, millimetres: Vector3<f64>) -> Self {
        Self::from_coords(self.coords - millimetres)
    }
}

impl<F: Frame> fmt::Debug for Point<F> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "({}, {}, {}) mm", self.coords.x, self.coords.y, self.coords.z)
    }
}

//! Where the teeth first meet as the jaw closes.

use nalgebra::{Matrix3, Vector3};

use super::casts::{Casts, LastPairs};
use super::map::Map;
use super::opening::FirstTouch;
use super::turning::Turning;
use crate::cusp::Tooth;

/// Where the first teeth meet as the jaw closes about an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Touch {
    /// Opening at which they meet, in radians; front down is positive.
    pub(crate) opening_radians: f64,
    /// Triangle of the upper surface that is met.
    pub(crate) upper_triangle: u32,
    /// Triangle of the lower surface that meets it.
    pub(crate) lower_triangle: u32,
    /// The tooth that the upper triangle belongs to.
    pub upper_tooth: Option<Tooth>,
    /// The tooth that the lower triangle belongs to.
    pub lower_tooth: Option<Tooth>,
    /// Where they meet, in the frame of the closing axis.
    pub at: Vector3<f64>,
}

impl Casts {
    /// The greatest opening above `floor` (radians) at which the casts touch; `None` if they are clear
    /// down to the floor.
    ///
    /// Both members are given as rigid maps (turn, then shift) into the frame of the closing axis: y
    /// along it, the origin on it. The lower one then opens by θ about it: x' = x cos θ + z sin θ,
    /// z' = −x sin θ + z cos θ. Only sides that face each other along that turn count. Openings are
    /// told apart within half a turn either way.
    pub(crate) fn first_touch(
        &self,
        upper: &(Matrix3<f64>, Vector3<f64>),
        lower: &(Matrix3<f64>, Vector3<f64>),
        floor: f64,
        warm: &mut LastPairs,
    ) -> Option<Touch> {
        let maps = [upper, lower].map(|(turn, shift)| Map::new(*turn, *shift));
        let mut closing = FirstTouch::new(Turning::new(), maps[0], maps[1]);
        let found = self.best_stop(&mut closing, floor, warm)?;
        warm.closing = Some(found.pair);
        let (upper_triangle, lower_triangle) = found.pair;
        Some(Touch {
            opening_radians: found.meeting.score,
            upper_triangle,
            lower_triangle,
            upper_tooth: self.upper.tooth(upper_triangle),
            lower_tooth: self.lower.tooth(lower_triangle),
            at: found.meeting.upper,
        })
    }
}

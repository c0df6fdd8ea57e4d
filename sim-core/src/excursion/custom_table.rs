//! Closing until the pin meets a table formed to the teeth.

use super::closed_form::Axis;
use super::closing::Closed;
use super::mechanism::Mechanism;
use super::{Guidance, Obstacle};
use crate::anterior::{Facet, Facets};
use crate::frame::{JawPose, UpperPoint};

/// What the way of the tip is thought wider than it is, in millimetres: above rounding.
const SPARE_MM: f64 = 1e-6;

impl Mechanism {
    /// The jaw closed about the placed axis until the pin tip meets a triangle of its table. Each
    /// triangle's plane has its stop in closed form; it counts where the tip then stands on the
    /// triangle, and the most open one that counts is met first.
    pub(super) fn close_on_custom_table(&self, axis: &Axis, facets: &Facets) -> Result<Closed, Obstacle> {
        let first = match self.way_down(axis, facets) {
            Some((ends, reach)) => self.first_facet(axis, facets.near(ends, reach)),
            None => self.first_facet(axis, facets.all()),
        };
        let jaw = first.ok_or(Obstacle::OffTable)?;
        Ok(Closed { jaw, guidance: Guidance::CustomTable, pin_lift: None })
    }

    fn first_facet<'f>(&self, axis: &Axis, facets: impl Iterator<Item = &'f Facet>) -> Option<JawPose> {
        let tip = UpperPoint::from_coords(self.guided_point);
        let seen = self.seen(axis);
        let mut first: Option<(f64, f64, JawPose)> = None;
        for facet in facets {
            let (cos, sin, true) = seen.gap(facet.normal.as_ref(), facet.offset).stop() else { continue };
            if first.is_some_and(|(first_cos, first_sin, _)| sin * first_cos - first_sin * cos <= 0.0) {
                continue;
            }
            let jaw = self.jaw_pose(axis, cos, sin);
            if cos > 0.0 && facet.holds(jaw.to_lower(&tip).coords()) {
                first = Some((cos, sin, jaw));
            }
        }
        first.map(|(_, _, jaw)| jaw)
    }

    /// Where the tip comes down from the table's greatest height to its least, seen from above, and how
    /// far it may leave the straight way between: the tip goes along a circle about the axis, and a turn
    /// by φ over a chord c has the height c/2·tan(φ/4). None where the tip does not reach these heights.
    fn way_down(&self, axis: &Axis, facets: &Facets) -> Option<([nalgebra::Vector2<f64>; 2], f64)> {
        let tip = UpperPoint::from_coords(self.guided_point);
        let seen = self.seen(axis);
        let [low, high] = facets.heights().map(|height| seen.gap(&[0.0, 0.0, 1.0], height).stop());
        let ((low_cos, low_sin, true), (high_cos, high_sin, true)) = (low, high) else { return None };
        let at = |cos: f64, sin: f64| *self.jaw_pose(axis, cos, sin).to_lower(&tip).coords();
        let ends = [at(low_cos, low_sin), at(high_cos, high_sin)];
        let turn = (high_sin * low_cos - high_cos * low_sin).atan2(high_cos * low_cos + high_sin * low_sin);
        let height = (ends[1] - ends[0]).norm() / 2.0 * (turn.abs() / 4.0).tan();
        Some((ends.map(|end| end.xy()), height + SPARE_MM))
    }
}

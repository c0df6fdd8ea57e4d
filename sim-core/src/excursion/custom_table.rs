//! Closing until the pin meets a table formed to the teeth.

use super::closing::{Carrier, Closed};
use super::mechanism::Mechanism;
use super::{Guidance, Obstacle};
use crate::anterior::Facets;
use crate::frame::{JawPose, UpperPoint};

impl Mechanism {
    /// The jaw closed about the placed axis until the pin tip meets a triangle of its table. Each
    /// triangle's plane has its stop in closed form; it counts where the tip then stands on the
    /// triangle, and the most open one that counts is met first.
    pub(super) fn close_on_custom_table(
        &self,
        carrier: &Carrier,
        facets: &Facets,
    ) -> Result<Closed, Obstacle> {
        let tip = UpperPoint::from_coords(self.guided_point);
        let gap_to = self.gap_to(carrier);
        let mut first: Option<(f64, f64, JawPose)> = None;
        for facet in facets.iter() {
            let Some((cos, sin)) = gap_to(&facet.normal, facet.offset).stop() else { continue };
            if first.is_some_and(|(first_cos, first_sin, _)| sin * first_cos - first_sin * cos <= 0.0) {
                continue;
            }
            let jaw = self.jaw_pose(carrier, cos, sin);
            if cos > 0.0 && facet.holds(jaw.to_lower(&tip).coords()) {
                first = Some((cos, sin, jaw));
            }
        }
        let (_, _, jaw) = first.ok_or(Obstacle::OffTable)?;
        Ok(Closed { jaw, guidance: Guidance::CustomTable, pin_lift: None })
    }
}

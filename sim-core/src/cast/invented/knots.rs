//! Places along the arch that tips and borders of both arches ask for.

/// Two places along the arch nearer than this become one, so that no sliver comes between.
const SAME_PLACE_MM: f64 = 0.25;

/// Places along the arch that the grid must hit.
pub(super) struct Knots(Vec<f64>);

impl Knots {
    pub(super) fn new(borders: &[f64]) -> Self {
        Self(borders.to_vec())
    }

    /// All places, in order.
    pub(super) fn in_order(self) -> Vec<f64> {
        self.0
    }

    /// A place at or very near the one asked for, kept in order.
    pub(super) fn place(&mut self, along: f64) -> f64 {
        let next = self.0.partition_point(|&knot| knot < along);
        let near = [next.checked_sub(1), Some(next)];
        let same = near.into_iter().flatten().filter_map(|index| self.0.get(index)).copied();
        let nearest = same.min_by(|a, b| (a - along).abs().total_cmp(&(b - along).abs()));
        match nearest {
            Some(knot) if (knot - along).abs() < SAME_PLACE_MM => knot,
            _ => {
                self.0.insert(next, along);
                along
            }
        }
    }
}

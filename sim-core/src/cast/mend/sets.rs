//! Sets that grow together: which triangles hang together in one shell.

/// Disjoint sets of whole numbers from 0.
pub(in crate::cast) struct Sets(Vec<u32>);

impl Sets {
    /// Each of the first `count` numbers in a set of its own.
    pub(in crate::cast) fn apart(count: usize) -> Self {
        Self((0_u32..).take(count).collect())
    }

    /// The number that stands for the set; every member gives the same one.
    pub(in crate::cast) fn of(&mut self, mut member: u32) -> u32 {
        while self.0[member as usize] != member {
            let above = self.0[member as usize];
            self.0[member as usize] = self.0[above as usize];
            member = self.0[member as usize];
        }
        member
    }

    /// Makes one set of two. The lesser number stands for it, so that the outcome does not hang on
    /// the order of joining.
    pub(in crate::cast) fn join(&mut self, one: u32, other: u32) {
        let (one, other) = (self.of(one), self.of(other));
        self.0[one.max(other) as usize] = one.min(other);
    }
}

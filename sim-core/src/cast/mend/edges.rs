//! Which triangles share which edges.

/// No triangle lies across this edge: it is open.
pub(in crate::cast) const OPEN: u32 = u32::MAX;
/// More than two triangles share this edge.
pub(in crate::cast) const CROWDED: u32 = u32::MAX - 1;

/// The edges of a mesh, sorted so that all uses of one lie together. A use is 3 × triangle + side,
/// where side k runs from corner k to corner k + 1.
///
/// Built in O(n log n) with memory linear in the triangles.
pub(in crate::cast) struct Edges {
    /// Where the uses of the edges whose lesser vertex is `v` begin.
    starts: Vec<u32>,
    /// Greater vertex and use, by lesser vertex, then greater, then use.
    uses: Vec<(u32, u32)>,
}

impl Edges {
    /// The edges of triangles over so many vertices; there are fewer than 2³⁰ triangles.
    pub(in crate::cast) fn of(triangles: &[[u32; 3]], vertices: usize) -> Self {
        let mut starts = vec![0_u32; vertices + 1];
        for (_, (lesser, _)) in sides(triangles) {
            starts[lesser as usize + 1] += 1;
        }
        for at in 1..starts.len() {
            starts[at] += starts[at - 1];
        }
        let mut next = starts.clone();
        let mut uses = vec![(0, 0); triangles.len() * 3];
        for (using, (lesser, greater)) in sides(triangles) {
            let place = &mut next[lesser as usize];
            uses[*place as usize] = (greater, using);
            *place += 1;
        }
        for window in starts.windows(2) {
            uses[window[0] as usize..window[1] as usize].sort_unstable();
        }
        Self { starts, uses }
    }

    /// Every edge as its lesser vertex, greater vertex and uses.
    pub(in crate::cast) fn each(&self) -> impl Iterator<Item = (u32, u32, &[(u32, u32)])> {
        self.starts.windows(2).zip(0_u32..).flat_map(|(window, lesser)| {
            self.uses[window[0] as usize..window[1] as usize]
                .chunk_by(|one, other| one.0 == other.0)
                .map(move |uses| (lesser, uses[0].0, uses))
        })
    }

    /// Whether an edge joins these two vertices.
    pub(in crate::cast) fn joins(&self, one: u32, other: u32) -> bool {
        let (lesser, greater) = (one.min(other), one.max(other));
        let of_lesser = self.starts[lesser as usize] as usize..self.starts[lesser as usize + 1] as usize;
        self.uses[of_lesser].binary_search_by_key(&greater, |&(greater, _)| greater).is_ok()
    }

    /// For each use, the one use of the same edge by another triangle; [`OPEN`] or [`CROWDED`] where
    /// there is none or more than one.
    pub(in crate::cast) fn across(&self) -> Vec<u32> {
        let mut across = vec![OPEN; self.uses.len()];
        for (_, _, uses) in self.each() {
            match *uses {
                [_] => {}
                [(_, one), (_, other)] => {
                    across[one as usize] = other;
                    across[other as usize] = one;
                }
                _ => {
                    for &(_, using) in uses {
                        across[using as usize] = CROWDED;
                    }
                }
            }
        }
        across
    }
}

/// The two ends of a use, in the triangle's order.
pub(in crate::cast) fn ends(triangles: &[[u32; 3]], using: u32) -> (u32, u32) {
    let (triangle, side) = (triangles[using as usize / 3], using as usize % 3);
    (triangle[side], triangle[(side + 1) % 3])
}

/// Every use with its lesser and greater vertex.
fn sides(triangles: &[[u32; 3]]) -> impl Iterator<Item = (u32, (u32, u32))> + '_ {
    let ends = triangles.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]);
    (0_u32..).zip(ends.map(|(from, to)| (from.min(to), from.max(to))))
}

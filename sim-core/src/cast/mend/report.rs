//! What mending found and did, in numbers.

use crate::units::Length;

/// Small shells that were taken out: under a hundredth of the largest shell's area and under 20 mm²,
/// which is less than any tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Islands {
    /// How many.
    pub count: usize,
    /// Their triangles.
    pub triangles: usize,
    /// Their area together, mm².
    pub area_mm2: f64,
    /// The largest one's area, mm².
    pub largest_mm2: f64,
}

impl Islands {
    pub(super) const NONE: Self = Self { count: 0, triangles: 0, area_mm2: 0.0, largest_mm2: 0.0 };
}

/// What mending found and did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MendReport {
    /// Vertices given.
    pub vertices_read: usize,
    /// Triangles given.
    pub triangles_read: usize,
    /// Vertices with exactly the coordinates of another, merged with it.
    pub vertices_merged_same: usize,
    /// Vertices nearer another than [`WELD`](super::WELD), merged with it.
    pub vertices_merged_near: usize,
    /// Vertices that no triangle uses, taken out.
    pub vertices_unused: usize,
    /// Triangles with a repeated corner or without area, taken out.
    pub triangles_degenerate: usize,
    /// Triangles without area between two others, whose long side was given to the triangle beyond.
    pub needles_swapped: usize,
    /// Triangles on the same three vertices as another, taken out.
    pub triangles_twice: usize,
    /// Stray islands, taken out.
    pub islands: Islands,
    /// Triangles turned to agree with the rest of their shell.
    pub triangles_turned: usize,
    /// Closed shells turned as a whole, because they were inside out.
    pub closed_shells_turned: usize,
    /// Edges whose two triangles cannot be made to agree: the surface has one side only.
    pub one_sided_edges: usize,
    /// Edges of more than two triangles.
    pub crowded_edges: usize,
    /// Shells that the surface consists of: pieces that hang together over edges.
    pub shells: usize,
    /// Those of them that enclose a volume.
    pub closed_shells: usize,
    /// Those of the closed that are walls of hollows in the largest.
    pub hollows: usize,
    /// Open borders; two that meet at a vertex count as one.
    pub borders: usize,
    /// How long the borders are together.
    pub border_length: Length,
    /// Triangles whose label is a tooth of the other arch; the label was taken off.
    pub labels_of_other_arch: usize,
}

impl MendReport {
    pub(super) const EMPTY: Self = Self {
        vertices_read: 0,
        triangles_read: 0,
        vertices_merged_same: 0,
        vertices_merged_near: 0,
        vertices_unused: 0,
        triangles_degenerate: 0,
        needles_swapped: 0,
        triangles_twice: 0,
        islands: Islands::NONE,
        triangles_turned: 0,
        closed_shells_turned: 0,
        one_sided_edges: 0,
        crowded_edges: 0,
        shells: 0,
        closed_shells: 0,
        hollows: 0,
        borders: 0,
        border_length: Length::ZERO,
        labels_of_other_arch: 0,
    };

    /// The triangles that the mended surface has.
    #[must_use]
    pub const fn triangles_kept(&self) -> usize {
        self.triangles_read - self.triangles_degenerate - self.triangles_twice - self.islands.triangles
    }

    /// The vertices that the mended surface has but for what was taken out with triangles.
    #[must_use]
    pub const fn vertices_kept(&self) -> usize {
        self.vertices_read - self.vertices_merged_same - self.vertices_merged_near - self.vertices_unused
    }
}

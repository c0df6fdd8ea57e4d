//! From what a file holds to a sound surface, with a report of what had to be done.

mod edges;
mod layers;
mod needles;
mod orient;
mod outward;
mod report;
mod sets;
mod shells;
mod weld;

use nalgebra::Vector3;

pub use report::{Islands, MendReport};
pub use weld::WELD;

pub(super) use edges::{CROWDED, Edges, OPEN};
pub(super) use shells::{Borders, Shells, area_mm2, doubled_area};

use super::{Soup, Surface, SurfaceError};
use crate::cusp::{Arch, Tooth};
use crate::units::Length;

/// The most triangles that a cast may have. Scanners write up to some two million an arch (common
/// practice, no source); four times that is a mistake or another kind of scan.
pub const MOST_TRIANGLES: usize = 8_000_000;

/// The farthest from the origin that a vertex may lie. Beyond it even 64 bits begin to lose what
/// contacts need, and no scanner's frame is a kilometre away.
const FARTHEST: Length = Length::from_mm(1e6);

/// A shell of less area than this part of the largest one's may be a stray island.
const ISLAND_PART: f64 = 0.01;

/// … if it is also smaller than this. A lower central incisor's crown, the smallest, is some 5 mm wide
/// and 9 mm high (from memory), so a scan or die of it shows over 100 mm²; a fifth of that is no tooth.
const ISLAND_MOST_MM2: f64 = 20.0;

/// Why triangles cannot be made a surface.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MendError {
    /// Not a mesh at all.
    #[error(transparent)]
    Unsound(#[from] SurfaceError),
    /// Nothing is left.
    #[error("none of the {read} triangles has an area; a cast is a surface of triangles")]
    NoArea {
        /// Triangles given.
        read: usize,
    },
    /// Corners joined at random.
    #[error(
        "its triangles have {area_mm2:.0} mm² in all, {times:.0} times the area of the box about them; a cast \
         has some once, and up to {most} times is accepted; are its triangles joined to the right corners?"
    )]
    Tangled {
        /// Area of all triangles, mm².
        area_mm2: f64,
        /// How many times the area of the box that is.
        times: f64,
        /// How many times are accepted.
        most: f64,
    },
    /// More than [`MOST_TRIANGLES`].
    #[error("there are {triangles} triangles in it; a cast may have up to {MOST_TRIANGLES}")]
    TooMany {
        /// Triangles given.
        triangles: usize,
    },
    /// Too far away to tell places apart.
    #[error(
        "vertex {vertex} is at ({x:.0}, {y:.0}, {z:.0}) mm; a cast lies within {} mm of its origin in every \
         direction; is the unit right?",
        FARTHEST.mm()
    )]
    TooFar {
        /// Which vertex, from 1.
        vertex: usize,
        /// First coordinate, mm.
        x: f64,
        /// Second coordinate, mm.
        y: f64,
        /// Third coordinate, mm.
        z: f64,
    },
}

/// Makes a sound surface of triangles (millimetres, any frame) and says what had to be done.
///
/// In this order: vertices that are one point are merged ([`WELD`]); triangles with a repeated corner
/// or without area go, and those there are twice; small shells beside a large one go as stray
/// ([`Islands`]); triangles are turned so that neighbours agree which side is out, the side that most
/// of the area has; a closed shell is turned outward, unless it is the wall of a hollow; vertices that
/// nothing uses go. An open shell keeps the side that most of its area has: which way the teeth face
/// is known only in the instrument's frame, where [`toward_opposing`](super::toward_opposing) sees to
/// it. Labels of teeth of the other arch are taken off.
///
/// Takes O(n log n) time and memory linear in the triangles.
///
/// # Errors
/// [`MendError`] for indices out of range, coordinates that are no numbers or too far away, nothing
/// with an area, too much, or triangles so tangled that they have eight times the area of their box.
pub fn mend(soup: Soup, arch: Arch) -> Result<(Surface, MendReport), MendError> {
    check(&soup)?;
    let mut report = MendReport {
        vertices_read: soup.vertices.len(),
        triangles_read: soup.triangles.len(),
        ..MendReport::EMPTY
    };
    let mut mesh = Mesh::welded(soup, &mut report);
    mesh.take_out_degenerate(&mut report);
    if mesh.triangles.is_empty() {
        return Err(MendError::NoArea { read: report.triangles_read });
    }
    layers::check(&mesh.vertices, &mesh.triangles).map_err(|layers| {
        let layers::Layers { area_mm2, times, most } = layers;
        MendError::Tangled { area_mm2, times, most }
    })?;
    mesh.take_out_islands(&mut report);

    let across = mesh.edges().across();
    let agreed = orient::agree(&mesh.vertices, &mut mesh.triangles, &across);
    drop(across);
    report.triangles_turned = agreed.turned;
    report.one_sided_edges = agreed.one_sided_edges;
    let closed = outward::turn(&mesh.vertices, &mut mesh.triangles, &agreed.patches);
    report.closed_shells = closed.count;
    report.closed_shells_turned = closed.turned;
    report.hollows = closed.hollows;
    if agreed.turned > 0 || closed.turned > 0 {
        mesh.edges = None;
    }

    mesh.take_out_unused(&mut report);
    mesh.look_over(&mut report);
    mesh.check_labels(arch, &mut report);
    Ok((mesh.surface()?, report))
}

/// What mending relies on.
fn check(soup: &Soup) -> Result<(), MendError> {
    if soup.triangles.len() > MOST_TRIANGLES {
        return Err(MendError::TooMany { triangles: soup.triangles.len() });
    }
    Surface::check(&soup.vertices, &soup.triangles)?;
    let (vertices, triangles) = (soup.vertices.len(), soup.triangles.len());
    if let Some(given) = soup.colours.as_ref().map(Vec::len).filter(|&given| given != vertices) {
        return Err(SurfaceError::Uneven { what: "colours", given, wanted: vertices }.into());
    }
    if let Some(given) = soup.teeth.as_ref().map(Vec::len).filter(|&given| given != triangles) {
        return Err(SurfaceError::Uneven { what: "tooth labels", given, wanted: triangles }.into());
    }
    // Only of what the triangles use: an unused point may be anywhere.
    let is_far = |&&index: &&u32| soup.vertices[index as usize].amax() > FARTHEST.mm();
    match soup.triangles.iter().flatten().find(is_far) {
        Some(&index) => {
            let [x, y, z] = soup.vertices[index as usize].into();
            Err(MendError::TooFar { vertex: index as usize + 1, x, y, z })
        }
        None => Ok(()),
    }
}

/// A mesh being mended.
struct Mesh {
    vertices: Vec<Vector3<f64>>,
    triangles: Vec<[u32; 3]>,
    /// Those of the triangles as they are, once they have been asked for.
    edges: Option<Edges>,
    colours: Option<Vec<[u8; 3]>>,
    teeth: Option<Vec<Option<Tooth>>>,
}

impl Mesh {
    fn welded(soup: Soup, report: &mut MendReport) -> Self {
        let welded = weld::weld(&soup.vertices);
        report.vertices_merged_same = welded.same;
        report.vertices_merged_near = welded.near;
        Self {
            vertices: welded.kept.iter().map(|&at| soup.vertices[at as usize]).collect(),
            triangles: soup
                .triangles
                .iter()
                .map(|triangle| triangle.map(|index| welded.becomes[index as usize]))
                .collect(),
            edges: None,
            colours: soup.colours.map(|colours| welded.kept.iter().map(|&at| colours[at as usize]).collect()),
            teeth: soup.teeth,
        }
    }

    /// The edges, found anew where triangles were changed since.
    fn edges(&mut self) -> &Edges {
        self.edges.get_or_insert_with(|| Edges::of(&self.triangles, self.vertices.len()))
    }

    /// Keeps the triangles for which this is true.
    fn keep(&mut self, keep: &[bool]) {
        if keep.iter().all(|&keep| keep) {
            return;
        }
        self.edges = None;
        let mut each = keep.iter();
        self.triangles.retain(|_| each.next() == Some(&true));
        if let Some(teeth) = &mut self.teeth {
            let mut each = keep.iter();
            teeth.retain(|_| each.next() == Some(&true));
        }
    }

    /// Takes out triangles with a repeated corner, those there are twice, and needles.
    fn take_out_degenerate(&mut self, report: &mut MendReport) {
        let keep: Vec<bool> = self.triangles.iter().map(|&[a, b, c]| a != b && b != c && c != a).collect();
        report.triangles_degenerate += keep.iter().filter(|&&keep| !keep).count();
        self.keep(&keep);

        let keep = self.are_first();
        report.triangles_twice = keep.iter().filter(|&&keep| !keep).count();
        self.keep(&keep);

        let needles = needles::take_out(&self.vertices, &mut self.triangles);
        report.needles_swapped = needles.swapped;
        if needles.swapped > 0 {
            self.edges = None;
        }
        report.triangles_degenerate += needles.dropped.len();
        let mut keep = vec![true; self.triangles.len()];
        for at in needles.dropped {
            keep[at as usize] = false;
        }
        self.keep(&keep);
    }

    /// Which triangles are not on the same three vertices as one before them.
    fn are_first(&mut self) -> Vec<bool> {
        let mut are_first = vec![true; self.triangles.len()];
        self.edges();
        let Some(edges) = &self.edges else { return are_first };
        let mut seen = Vec::new();
        for (lesser, greater, uses) in edges.each() {
            if uses.len() < 2 {
                continue;
            }
            // Each triangle at the edge of its two lesser corners, by the third.
            let third = |&(_, using): &(u32, u32)| {
                let at = using / 3;
                let greatest = self.triangles[at as usize].into_iter().max()?;
                (greatest > greater && greatest > lesser).then_some((greatest, at))
            };
            seen.clear();
            seen.extend(uses.iter().filter_map(third));
            seen.sort_unstable();
            for pair in seen.windows(2).filter(|pair| pair[0].0 == pair[1].0) {
                are_first[pair[1].1 as usize] = false;
            }
        }
        are_first
    }

    fn take_out_islands(&mut self, report: &mut MendReport) {
        let count = self.triangles.len();
        let shells = Shells::of(self.edges(), count);
        let areas = shells.sums(|at| shells::area_mm2(&self.vertices, &self.triangles[at]));
        let largest = areas.iter().copied().fold(0.0, f64::max);
        let most = ISLAND_MOST_MM2.min(ISLAND_PART * largest);
        let keep: Vec<bool> = shells.of.iter().map(|&shell| areas[shell as usize] >= most).collect();
        let mut islands = Islands::NONE;
        for &area_mm2 in areas.iter().filter(|&&area| area < most) {
            islands.count += 1;
            islands.area_mm2 += area_mm2;
            islands.largest_mm2 = islands.largest_mm2.max(area_mm2);
        }
        islands.triangles = keep.iter().filter(|&&keep| !keep).count();
        report.islands = islands;
        self.keep(&keep);
    }

    /// Takes out the vertices that no triangle uses.
    fn take_out_unused(&mut self, report: &mut MendReport) {
        const UNUSED: u32 = u32::MAX;
        let mut becomes = vec![UNUSED; self.vertices.len()];
        for &index in self.triangles.iter().flatten() {
            becomes[index as usize] = 0;
        }
        let mut next = 0;
        for place in becomes.iter_mut().filter(|place| **place != UNUSED) {
            *place = next;
            next += 1;
        }
        report.vertices_unused = self.vertices.len() - next as usize;
        if report.vertices_unused == 0 {
            return;
        }
        self.edges = None;
        for index in self.triangles.iter_mut().flatten() {
            *index = becomes[*index as usize];
        }
        let mut each = becomes.iter();
        self.vertices.retain(|_| each.next() != Some(&UNUSED));
        if let Some(colours) = &mut self.colours {
            let mut each = becomes.iter();
            colours.retain(|_| each.next() != Some(&UNUSED));
        }
    }

    /// Counts what the mended mesh consists of.
    fn look_over(&mut self, report: &mut MendReport) {
        self.edges();
        let Some(edges) = &self.edges else { return };
        let shells = Shells::of(edges, self.triangles.len());
        let borders = Borders::of(edges, &shells, &self.vertices, &self.triangles);
        report.shells = shells.count;
        report.borders = borders.count;
        report.border_length = Length::from_mm(borders.length_mm);
        report.crowded_edges = edges.each().filter(|(_, _, uses)| uses.len() > 2).count();
    }

    fn check_labels(&mut self, arch: Arch, report: &mut MendReport) {
        for tooth in self.teeth.iter_mut().flatten() {
            if tooth.is_some_and(|tooth| tooth.arch() != arch) {
                *tooth = None;
                report.labels_of_other_arch += 1;
            }
        }
        if self.teeth.as_ref().is_some_and(|teeth| teeth.iter().all(Option::is_none)) {
            self.teeth = None;
        }
    }

    fn surface(self) -> Result<Surface, SurfaceError> {
        let mut surface = Surface::new(self.vertices, self.triangles)?;
        if let Some(colours) = self.colours {
            surface = surface.with_colours(colours)?;
        }
        match self.teeth {
            Some(teeth) => surface.with_teeth(teeth),
            None => Ok(surface),
        }
    }
}

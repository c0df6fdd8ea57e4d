//! What is read off the casts in one pose: no more than is seen, and nothing twice.

use std::sync::Arc;

use sim_core::cast::{CastsReading, Cut, Film, LastPairs, Mark, Section, SectionGap, TooIntricate};
use sim_core::cusp::Arch;
use sim_core::frame::{JawPose, OcclusalPlane};
use sim_core::units::Length;

use super::cut_plane::CutPlane;
use super::mounted::Mounted;
use super::view::{CAP_MM, CastView, Show};

/// What a plane square to the arch cuts is of that side if it comes this near to the row of teeth: less
/// than half the width of any arch, more than half that of any tooth, in millimetres.
const BESIDE_ARCH_MM: f64 = 8.0;

/// The vertical gap in millimetres at each vertex of a cast, where something is opposite.
pub type GapMap = Arc<Vec<Option<f64>>>;

/// What is read off the casts.
#[derive(Clone, Debug)]
pub struct Readout {
    mounted: Arc<Mounted>,
    jaw: JawPose,
    plane: OcclusalPlane,
    view: CastView,
    is_sectioned: bool,
    /// Vertical gaps, upper and lower cast, where the clearance map is seen.
    pub clearance: [Option<GapMap>; 2],
    /// What film prints, where that is seen.
    pub print: Option<Arc<Print>>,
    /// The section, where the panel shows it.
    pub section: Option<Arc<SectionRead>>,
    /// Where the casts come nearest, where the panel shows it.
    pub nearest: Option<Arc<CastsReading>>,
}

/// What film of one thickness prints.
#[derive(Clone, Debug)]
pub struct Print {
    /// Its thickness.
    pub film: Length,
    /// The marks on both casts, or why there are none: no mark would else be read as no contact.
    pub marks: Result<Vec<Mark>, TooIntricate>,
}

impl Print {
    /// The marks that were worked out.
    #[must_use]
    pub fn marks(&self) -> &[Mark] {
        self.marks.as_deref().unwrap_or_default()
    }
}

/// A section.
#[derive(Clone, Debug)]
pub struct SectionRead {
    /// The plane.
    pub plane: CutPlane,
    /// Where it stands, in millimetres.
    pub at_mm: f64,
    /// The plane in the upper frame.
    pub cut: Cut,
    /// The lines.
    pub section: Section,
    /// The least vertical gap within it.
    pub gap: Option<SectionGap>,
}

impl Readout {
    /// Reads the casts in a pose as they are looked at, with a section if one is shown. What was read `before` is kept where it holds.
    #[must_use]
    pub fn of(
        mounted: &Arc<Mounted>,
        jaw: &JawPose,
        plane: OcclusalPlane,
        view: &CastView,
        is_sectioned: bool,
        before: Option<&Arc<Self>>,
    ) -> Arc<Self> {
        // Of another pose or other casts nothing holds.
        let before = before.filter(|before| {
            Arc::ptr_eq(&before.mounted, mounted) && before.jaw == *jaw && before.plane == plane
        });
        if let Some(before) =
            before.filter(|before| before.view == *view && before.is_sectioned == is_sectioned)
        {
            return before.clone();
        }
        let casts = &mounted.casts;
        let clearance = [Arch::Upper, Arch::Lower].map(|arch| {
            (view.show == Show::Clearance && view.seen.has(arch)).then(|| {
                let kept = before.and_then(|before| before.clearance_of(arch).cloned());
                kept.unwrap_or_else(|| {
                    let map = casts.clearance_map(jaw, plane, arch, Length::from_mm(CAP_MM));
                    Arc::new(map.into_iter().map(|gap| gap.map(Length::mm)).collect())
                })
            })
        });
        let print = Film::new(view.film).ok().filter(|_| view.show == Show::Film).map(|film| {
            let kept = before.and_then(|before| before.print.clone()).filter(|print| print.film == view.film);
            kept.unwrap_or_else(|| Arc::new(Print { film: view.film, marks: casts.marks(jaw, film) }))
        });
        let section = is_sectioned.then(|| {
            let kept = before.and_then(|before| before.section.clone());
            kept.filter(|section| {
                section.plane == view.plane && section.at_mm.total_cmp(&view.cut_at_mm()).is_eq()
            })
            .or_else(|| SectionRead::of(mounted, jaw, plane, view).map(Arc::new))
        });
        let nearest = is_sectioned.then(|| {
            let kept = before.and_then(|before| before.nearest.clone());
            kept.unwrap_or_else(|| Arc::new(casts.measure(jaw, plane, &mut LastPairs::default())))
        });
        let (mounted, jaw, view) = (mounted.clone(), *jaw, *view);
        Arc::new(Self {
            mounted,
            jaw,
            plane,
            view,
            is_sectioned,
            clearance,
            print,
            section: section.flatten(),
            nearest,
        })
    }

    /// The clearance map of an arch.
    #[must_use]
    pub const fn clearance_of(&self, arch: Arch) -> Option<&GapMap> {
        match arch {
            Arch::Upper => self.clearance[0].as_ref(),
            Arch::Lower => self.clearance[1].as_ref(),
        }
    }
}

impl SectionRead {
    fn of(mounted: &Mounted, jaw: &JawPose, plane: OcclusalPlane, view: &CastView) -> Option<Self> {
        let at_mm = view.cut_at_mm();
        let at = Length::from_mm(at_mm);
        let cut = match view.plane {
            CutPlane::Sagittal => Cut::sagittal(plane, at),
            CutPlane::Frontal => Cut::frontal(plane, at),
            CutPlane::Square => Cut::square_to(mounted.row()?, at),
        };
        let [upper, lower] = [Arch::Upper, Arch::Lower].map(|arch| mounted.casts.surface(arch));
        let mut section = Section::of(upper, lower, jaw, &cut);
        if view.plane == CutPlane::Square {
            // The plane goes on to the other side of the arch, which is not what it is square to.
            for lines in [&mut section.upper, &mut section.lower] {
                lines.retain(|line| line.iter().any(|[across, _]| across.abs() < BESIDE_ARCH_MM));
            }
        }
        let gap = section.least_gap();
        Some(Self { plane: view.plane, at_mm, cut, section, gap })
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use sim_core::cast::Surface;
    use sim_core::scene::{CastFiles, Scene};

    use super::*;
    use crate::casts::Scans;
    use crate::opened::OpenedScene;
    use crate::state::State;

    /// Triangles of all sizes that lie anyhow in one place, as no teeth do.
    fn tangle(seed: u64) -> Surface {
        const TRIANGLES: u32 = 300;
        let mut drawn = seed;
        let mut unit = || {
            // Knuth's multiplier for numbers of 64 bits; the upper ones are random enough here.
            drawn = drawn.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            f64::from(u32::try_from(drawn >> 32).unwrap()) / f64::from(u32::MAX) - 0.5
        };
        let vertices = (0..3 * TRIANGLES)
            .map(|_| Vector3::new(90.0, 0.0, -30.0) + 40.0 * Vector3::from_fn(|_, _| unit()));
        let vertices = vertices.collect();
        Surface::new(vertices, (0..TRIANGLES).map(|at| [3 * at, 3 * at + 1, 3 * at + 2]).collect()).unwrap()
    }

    #[test]
    fn marks_that_are_refused_are_told_from_no_marks() {
        let mut scene = Scene::thirty_degree();
        let [upper, lower] = ["upper.stl", "lower.stl"].map(str::to_owned);
        let names = [upper.clone(), lower.clone()];
        scene.casts = Some(CastFiles { upper, lower, unit: None, mounting: None });
        let surfaces = [tangle(1), tangle(2)];
        let scans = Scans { surfaces, names, notes: Vec::new() };
        let opened = OpenedScene { scans: Some(Arc::new(scans)), ..OpenedScene::from(scene) };
        let state = State::open(opened).unwrap();
        // They stand where no casts do, and the window says so before it says what was mended.
        let note = state.file_note.as_ref().unwrap();
        assert!(note.title.contains("hardly stand where they belong"), "{note:?}");
        let mounted = state.shown.mounted.as_ref().unwrap();
        let view = CastView { show: Show::Film, ..state.casts };
        let plane = state.shown.scene.occlusal_plane;
        let jaw = state.sample().placement.jaw;
        let readout = Readout::of(mounted, &jaw, plane, &view, false, None);
        let print = readout.print.as_ref().unwrap();
        assert!(print.marks.is_err() && print.marks().is_empty(), "{:?}", print.marks.as_ref().map(Vec::len));
        // Nor is it asked for again while nothing changes.
        let again =
            Readout::of(mounted, &jaw, plane, &CastView { close: true, ..view }, false, Some(&readout));
        assert!(Arc::ptr_eq(print, again.print.as_ref().unwrap()));
    }
}

//! Casts that stand where casts do not.
//!
//! A search finds a first touch, a gap and a mark wherever two surfaces stand; whether they were put where
//! teeth are, it cannot know. What is asked here is rough on purpose: every bound is ours, and far beyond what
//! a mounting by hand, a bite opened by a record or casts without teeth come to.

use nalgebra::Vector3;

use super::map::axes_of;
use super::mend::area_mm2;
use super::{Casts, LastPairs, Surface};
use crate::cusp::Arch;
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::Length;

/// Casts that were put together pass through each other by tenths of a millimetre, and by a few where the
/// relation was taken with soft wax or a heavy bite. By more than a high cusp (some 3 mm; common practice, no
/// source) they do not. A record that opens the bite, or gums without teeth, only part them.
const THROUGH: Length = Length::from_mm(5.0);
/// The upper cast's surface lies on the whole above the lower's, by about a crown's height and more. Counted
/// as below only where rounding and flat samples are no excuse.
const BELOW: Length = Length::from_mm(1.0);
/// Edentulous ridges stand some 20 to 40 mm apart, dentate arches touch (common practice, no source).
const APART: Length = Length::from_mm(70.0);
/// A quadrant against a whole arch is opposed by all of its length; a lower arch one tooth too far forward
/// by nine tenths. Less than a quarter in either direction is beside it.
const OPPOSED: f64 = 0.25;
/// Teeth stand in front of the condylar axis, the hindmost molar some 40 mm and the front ones some 100
/// (Bonwill's triangle of four inches a side, from memory): a cast's middle is not nearer than 20 nor
/// farther than 160.
const FORWARD: [Length; 2] = [Length::from_mm(20.0), Length::from_mm(160.0)];
/// A condyle is 55 mm from the midline (half of Bonwill's 110 to within a millimetre), and teeth stand between
/// the condyles.
const ASIDE: Length = Length::from_mm(55.0);

/// What looks wrong about where the casts stand, at rest as they were mounted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Misplaced {
    /// Both are one surface.
    Same,
    /// The upper stands below the lower.
    Exchanged {
        /// How far below, on the whole.
        by: Length,
    },
    /// They pass through each other, measured along the occlusal plane's normal.
    Through {
        /// How far.
        by: Length,
    },
    /// Nothing opposes them within reach: the least vertical gap.
    Apart {
        /// How far apart.
        by: Length,
    },
    /// They stand beside each other in plan.
    Beside {
        /// How far their middles are apart in plan.
        by: Length,
    },
    /// Both stand away from where teeth are between the condyles and in front of them.
    Away {
        /// How far the middle of both is in front of the axis.
        forward: Length,
        /// How far it is from the midline.
        aside: Length,
    },
}

impl Casts {
    /// What looks wrong about where the casts stand at rest; nothing, if they may well be mounted so. The
    /// first is the one to look at first.
    #[must_use]
    pub fn misplaced(&self, plane: OcclusalPlane) -> Vec<Misplaced> {
        let surfaces = [Arch::Upper, Arch::Lower].map(|arch| self.surface(arch));
        let axes = axes_of(plane);
        let mut found = Vec::new();
        if is_same(surfaces) {
            found.push(Misplaced::Same);
        }
        let boxes = surfaces.map(|surface| {
            let seen = surface.triangles().iter().flatten().map(|&at| axes * surface.vertices()[at as usize]);
            let empty = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
            seen.fold(empty, |(least, most), at| (least.inf(&at), most.sup(&at)))
        });
        if let Some(by) = beside(&boxes) {
            found.push(Misplaced::Beside { by });
        } else {
            let below = (axes * (middle(surfaces[1]) - middle(surfaces[0]))).z;
            let (vertical, _) = self.measure_overall(&JawPose::identity(), plane, &mut LastPairs::default());
            let gap = vertical.map(|nearest| nearest.gap);
            if below > BELOW.mm() {
                found.push(Misplaced::Exchanged { by: Length::from_mm(below) });
            } else if let Some(gap) = gap.filter(|gap| *gap < -THROUGH) {
                found.push(Misplaced::Through { by: -gap });
            } else if let Some(by) = gap.filter(|gap| *gap > APART) {
                found.push(Misplaced::Apart { by });
            }
        }
        let whole = surfaces.map(Surface::bounds);
        let middle = (whole[0].0.inf(&whole[1].0) + whole[0].1.sup(&whole[1].1)) / 2.0;
        let [forward, aside] = [middle.x, middle.y].map(Length::from_mm);
        let is_in_front = (FORWARD[0]..=FORWARD[1]).contains(&forward);
        if !is_in_front || aside.mm().abs() > ASIDE.mm() {
            found.push(Misplaced::Away { forward, aside });
        }
        found
    }
}

/// Whether the surfaces have the same triangles, wherever they stand: the same file read twice.
fn is_same([one, other]: [&Surface; 2]) -> bool {
    /// What a mounting leaves of equal areas, in parts.
    const ROUNDING: f64 = 1e-9;
    let sorted = |mut corners: [u32; 3]| {
        corners.sort_unstable();
        corners
    };
    let area = |surface: &Surface| -> f64 {
        surface.triangles().iter().map(|triangle| area_mm2(surface.vertices(), triangle)).sum()
    };
    one.vertices().len() == other.vertices().len()
        && one.triangles().len() == other.triangles().len()
        && one.triangles().iter().zip(other.triangles()).all(|(one, other)| sorted(*one) == sorted(*other))
        && (area(one) / area(other) - 1.0).abs() < ROUNDING
        && is_as_curved(one, other)
}

/// Whether corners lie as far from the first of them in both: areas alone are alike in two flat sheets.
fn is_as_curved(one: &Surface, other: &Surface) -> bool {
    const ROUNDING_MM: f64 = 1e-6;
    let from_first = |surface: &Surface| {
        let first = surface.vertices()[0];
        surface.vertices().iter().map(move |vertex| (vertex - first).norm()).collect::<Vec<_>>()
    };
    from_first(one).iter().zip(from_first(other)).all(|(one, other)| (one - other).abs() < ROUNDING_MM)
}

/// The middle of a surface by area.
fn middle(surface: &Surface) -> Vector3<f64> {
    let mut sum = (0.0, Vector3::zeros());
    for (at, triangle) in surface.triangles().iter().enumerate() {
        let area = area_mm2(surface.vertices(), triangle);
        sum.0 += area;
        sum.1 += surface.corners(at).iter().sum::<Vector3<f64>>() * (area / 3.0);
    }
    sum.1 / sum.0.max(f64::MIN_POSITIVE)
}

/// How far the middles are apart in plan where one box hardly overlaps the other.
fn beside([one, other]: &[(Vector3<f64>, Vector3<f64>); 2]) -> Option<Length> {
    let is_opposed = [0, 1].iter().all(|&axis| {
        let common = one.1[axis].min(other.1[axis]) - one.0[axis].max(other.0[axis]);
        let lesser = (one.1[axis] - one.0[axis]).min(other.1[axis] - other.0[axis]);
        common >= OPPOSED * lesser
    });
    let apart = (one.0 + one.1 - other.0 - other.1) / 2.0;
    (!is_opposed).then(|| Length::from_mm(apart.xy().norm()))
}

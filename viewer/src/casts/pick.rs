//! A place picked on a cast, on its way to become a cusp of the scene.

use nalgebra::Vector3;
use sim_core::cast::ToothRow;
use sim_core::cusp::{Arch, Cusp, CuspError, OpposingInclines, Tooth};
use sim_core::frame::{Side, UpperPoint};
use sim_core::scene::Scene;
use sim_core::units::Angle;

use super::mounted::Mounted;
use crate::geometry::arch::position_at;
use crate::geometry::poses::MemberPoses;

/// Inclines that oppose a cusp picked where the scene has none to take them from (our choice, as the
/// cusp angle of invented casts).
const DEFAULT_INCLINE: Angle = Angle::from_degrees(25.0);
/// A place this far from the middle of its tooth, as part of half the tooth's width, is mesial or
/// distal of it, buccal or lingual.
const OFF_MIDDLE: f64 = 0.1;

/// A cusp picked and not yet added.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The tooth.
    pub tooth: Tooth,
    /// Its name on that tooth.
    pub name: String,
    /// Where it is, in the frame of its member, in millimetres.
    pub at_mm: Vector3<f64>,
    /// What opposes it.
    pub opposing: OpposingInclines,
    /// Where the opposing inclines come from, in words.
    pub opposing_from: String,
}

impl Proposal {
    /// The cusp.
    ///
    /// # Errors
    /// [`CuspError`] for an empty name or a tooth of the other side.
    pub fn cusp(&self) -> Result<Cusp, CuspError> {
        Cusp::new(self.tooth, &self.name, self.at_mm.into(), self.opposing)
    }

    /// What lies under a ray of the drawn world: the nearest place on the casts that are seen.
    #[must_use]
    pub fn under(
        mounted: &Mounted,
        scene: &Scene,
        poses: &MemberPoses,
        seen: impl Fn(Arch) -> bool,
        (from, toward): (Vector3<f64>, Vector3<f64>),
    ) -> Option<Self> {
        let met = [(Arch::Upper, &poses.upper), (Arch::Lower, &poses.lower)].into_iter().filter_map(
            |(arch, pose)| {
                let turn = pose.rotation.transpose();
                let hit = seen(arch)
                    .then(|| mounted.hit(arch, &(turn * (from - pose.translation)), &(turn * toward)))?;
                hit.map(|(along, place, triangle)| (along, arch, place, triangle))
            },
        );
        let (_, arch, place, triangle) = met.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let tooth =
            mounted.casts.tooth_of(arch, triangle).or_else(|| tooth_beside(mounted, scene, arch, &place))?;
        let (opposing, opposing_from) = opposing(scene, arch, &place);
        let name = free_name(scene, tooth, &name_on(mounted, tooth, &place));
        Some(Self { tooth, name, at_mm: place, opposing, opposing_from })
    }
}

/// The tooth of the nearest cusp; without one, that which usually stands so far along the arch.
fn tooth_beside(mounted: &Mounted, scene: &Scene, arch: Arch, place: &Vector3<f64>) -> Option<Tooth> {
    if let Some((cusp, _)) = nearest_cusp(scene, arch, place) {
        return Some(cusp.tooth());
    }
    let along = mounted.row()?.along(&UpperPoint::from_coords(*place)).mm();
    let quadrant = match (arch, if along < 0.0 { Side::Right } else { Side::Left }) {
        (Arch::Upper, Side::Right) => 1,
        (Arch::Upper, Side::Left) => 2,
        (Arch::Lower, Side::Left) => 3,
        (Arch::Lower, Side::Right) => 4,
    };
    Tooth::new(quadrant * 10 + i64::from(position_at(arch, along.abs()))).ok()
}

fn nearest_cusp<'s>(scene: &'s Scene, arch: Arch, place: &Vector3<f64>) -> Option<(&'s Cusp, f64)> {
    let far = |cusp: &Cusp| (cusp.at_mm() - place).norm();
    let cusps = scene.cusps.iter().filter(|cusp| cusp.tooth().arch() == arch);
    cusps.map(|cusp| (cusp, far(cusp))).min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The inclines that oppose the nearest cusp of the arch, or the default, and which.
fn opposing(scene: &Scene, arch: Arch, place: &Vector3<f64>) -> (OpposingInclines, String) {
    match nearest_cusp(scene, arch, place) {
        Some((cusp, _)) => (*cusp.opposing(), format!("taken from {} {}", cusp.tooth(), cusp.name())),
        None => {
            let every = DEFAULT_INCLINE;
            let inclines =
                OpposingInclines { protrusive: every, retrusive: every, working: every, nonworking: every };
            (inclines, format!("{}° each: the arch has no other cusp", every.degrees()))
        }
    }
}

/// What a cusp there is called, from where on its tooth it stands.
fn name_on(mounted: &Mounted, tooth: Tooth, place: &Vector3<f64>) -> String {
    const PICKED: &str = "picked";
    let position = tooth.position();
    if position <= 2 {
        return "edge".to_owned();
    }
    if position == 3 {
        return "tip".to_owned();
    }
    let Some(row) = mounted.row() else { return PICKED.to_owned() };
    let Some([mesial, buccal]) = on_tooth(mounted, row, tooth, place) else { return PICKED.to_owned() };
    let lingual = if tooth.arch() == Arch::Upper { "palatal" } else { "lingual" };
    let along = match mesial {
        m if position > 5 && m > OFF_MIDDLE => "mesio",
        m if position > 5 && m < -OFF_MIDDLE => "disto",
        _ => "",
    };
    let across = match buccal {
        b if b > OFF_MIDDLE => "buccal",
        b if b < -OFF_MIDDLE => lingual,
        _ => "",
    };
    match (along, across) {
        ("", "") => "middle".to_owned(),
        ("mesio", "") => "mesial".to_owned(),
        ("disto", "") => "distal".to_owned(),
        (along, across) => format!("{along}{across}"),
    }
}

/// How far toward mesial and toward buccal a place stands on its tooth, each as part of half the
/// tooth's extent; `None` where no triangles are known to be the tooth's.
fn on_tooth(mounted: &Mounted, row: &ToothRow, tooth: Tooth, place: &Vector3<f64>) -> Option<[f64; 2]> {
    let surface = mounted.casts.surface(tooth.arch());
    let corners = || {
        let all = 0..surface.triangles().len();
        all.filter(|triangle| mounted.casts.tooth_of(tooth.arch(), *triangle) == Some(tooth))
            .flat_map(|triangle| surface.corners(triangle))
    };
    let (sum, count) =
        corners().fold((Vector3::zeros(), 0.0), |(sum, count), corner| (sum + corner, count + 1.0));
    if count == 0.0 {
        return None;
    }
    let (_, outward) = row.at(row.along(&UpperPoint::from_coords(sum / count)));
    let along = row.plane().normal().cross(&outward);
    // Toward the midline.
    let mesial = if along.y * tooth.side().outward_y() > 0.0 { -along } else { along };
    let mut part = [0.0; 2];
    for (part, direction) in part.iter_mut().zip([mesial, outward]) {
        let reaches = corners().map(|corner| corner.dot(&direction));
        let (low, high) = reaches
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), reach| (low.min(reach), high.max(reach)));
        *part = (place.dot(&direction) - (low + high) / 2.0) / ((high - low) / 2.0).max(f64::EPSILON);
    }
    Some(part)
}

/// The name, or with a number behind it where the tooth has a cusp of that name.
fn free_name(scene: &Scene, tooth: Tooth, name: &str) -> String {
    let is_taken = |name: &str| scene.cusps.iter().any(|cusp| cusp.tooth() == tooth && cusp.name() == name);
    let numbered = (2..).map(|number| format!("{name} {number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(|name| !is_taken(name)).unwrap_or_default()
}

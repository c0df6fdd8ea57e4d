//! The named cusps of the surfaces, with the inclines that oppose them.

use super::InventedError;
use super::crowns::Tip;
use super::curves::CompensatingCurves;
use super::frame::PlaneFrame;
use super::layout::Layout;
use super::lines::line;
use super::mesh::{mirrored, tooth};
use super::occlusal::OcclusalSurfaces;
use super::stations::Stations;
use super::teeth::CANINE;
use crate::cusp::{Arch, Cusp, OpposingInclines};
use crate::units::Angle;

/// Cusps of both arches and sides, each at a vertex of its surface.
pub(super) fn cusps(
    layout: &Layout,
    stations: &Stations,
    surfaces: &OcclusalSurfaces,
    curves: &CompensatingCurves,
    frame: &PlaneFrame,
) -> Result<Vec<Cusp>, InventedError> {
    let mut cusps = Vec::new();
    for (arch, tips) in [(Arch::Lower, &layout.lower.tips), (Arch::Upper, &layout.upper.tips)] {
        for left in [false, true] {
            for tip in tips {
                let (station, grid) = (stations.at(tip.along), stations.line(tip.line));
                let place = stations.plan(station, grid);
                let height = match arch {
                    Arch::Lower => surfaces.lower(station, grid),
                    Arch::Upper => surfaces.upper(station, grid),
                };
                let at = frame.place(place[0], place[1], height + curves.height(place));
                let at = if left { at } else { mirrored(&at) };
                let Some(tooth) = tooth(arch, left, tip.place) else { continue };
                let opposing = opposing(layout, arch, tip, curves.gradient(place));
                cusps.push(Cusp::new(tooth, tip.name, at.into(), opposing)?);
            }
        }
    }
    Ok(cusps)
}

/// The inclines that a tip runs against, relative to the occlusal plane.
///
/// The built incline is relative to the compensating curves. Where these rise by g in the direction
/// that the lower jaw moves, the opposing incline comes down by so much less: its tangent is the
/// built one less g. Incisors guide forward only, canines forward and sideways.
fn opposing(layout: &Layout, arch: Arch, tip: &Tip, [forward, outward]: [f64; 2]) -> OpposingInclines {
    let angle = |tangent: f64| Angle::from_radians(tangent.max(0.0).atan());
    if tip.place <= CANINE {
        let guide = layout.guides[tip.place - 1];
        let working = if tip.place == CANINE { angle(guide - outward) } else { Angle::ZERO };
        let protrusive = angle(guide - forward);
        return OpposingInclines { protrusive, retrusive: Angle::ZERO, working, nonworking: Angle::ZERO };
    }
    // The outer row of each arch has nothing beside it on its outer side.
    let outer = match arch {
        Arch::Lower => line::LOWER_LINGUAL,
        Arch::Upper => line::UPPER_BUCCAL,
    };
    let incline = layout.incline;
    OpposingInclines {
        protrusive: angle(incline - forward),
        retrusive: angle(incline + forward),
        working: angle(incline - outward),
        nonworking: if tip.line == outer { Angle::ZERO } else { angle(incline + outward) },
    }
}

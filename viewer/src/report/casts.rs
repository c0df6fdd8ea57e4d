//! What the report says of the casts.

use serde::Serialize;
use sim_core::cusp::{Arch, Tooth};
use sim_core::units::Length;

use crate::casts::{CutPlane, Seen, Show};
use crate::page::Page;
use crate::palette;
use crate::state::State;

/// The casts as they are looked at, and what is read off them.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct CastsLine {
    show: Show,
    seen: Seen,
    close: bool,
    page: Page,
    film_um: f64,
    /// Invented casts coarser than the scene says, for now.
    rough: bool,
    /// Upper and lower cast.
    triangles: [usize; 2],
    guided_by: &'static str,
    pin_lift_mm: Option<f64>,
    /// Upper and lower cast, where their maps are seen.
    clearance: [Option<Clearance>; 2],
    print: Option<Print>,
    section: Option<Section>,
    vertical_gap_mm: Option<f64>,
    distance_mm: Option<f64>,
    picked: Option<Picked>,
}

/// A clearance map in figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Clearance {
    least_mm: Option<f64>,
    /// Vertices with something opposite, and vertices where the casts pass through each other.
    opposed: usize,
    pierced: usize,
}

/// What film prints.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Print {
    marks: usize,
    area_mm2: f64,
    teeth: Vec<u8>,
    /// Why no marks were worked out.
    refused: Option<String>,
}

/// A section in figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Section {
    plane: CutPlane,
    at_mm: f64,
    /// Lines on the upper and lower cast.
    lines: [usize; 2],
    least_gap_mm: Option<f64>,
}

/// A cusp picked and not yet added.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Picked {
    tooth: u8,
    name: String,
    at_mm: [f64; 3],
}

pub(super) fn line(state: &State) -> Option<CastsLine> {
    let mounted = state.shown.mounted.as_ref()?;
    let readout = state.readout.as_ref()?;
    let (view, placement) = (&state.casts, &state.sample().placement);
    Some(CastsLine {
        show: view.show,
        seen: view.seen,
        close: view.close,
        page: state.page,
        film_um: view.film.mm() * 1000.0,
        rough: state.rough.is_some(),
        triangles: [Arch::Upper, Arch::Lower].map(|arch| mounted.casts.surface(arch).triangles().len()),
        guided_by: placement.guidance.name(),
        pin_lift_mm: placement.pin_lift.map(Length::mm),
        clearance: [Arch::Upper, Arch::Lower]
            .map(|arch| readout.clearance_of(arch).map(|gaps| clearance(gaps))),
        print: readout.print.as_ref().map(|print| {
            let mut teeth: Vec<u8> =
                print.marks().iter().filter_map(|mark| mark.tooth).map(Tooth::number).collect();
            teeth.sort_unstable();
            teeth.dedup();
            let area_mm2 = print.marks().iter().map(|mark| mark.area_mm2).sum();
            let refused = print.marks.as_ref().err().map(|why| words::verdict::unmarked::sentence(*why));
            Print { marks: print.marks().len(), area_mm2, teeth, refused }
        }),
        section: readout.section.as_ref().map(|read| Section {
            plane: read.plane,
            at_mm: read.at_mm,
            lines: [read.section.upper.len(), read.section.lower.len()],
            least_gap_mm: read.gap.map(|gap| gap.gap.mm()),
        }),
        vertical_gap_mm: readout.nearest.as_ref().and_then(|reading| Some(reading.vertical?.gap.mm())),
        distance_mm: readout.nearest.as_ref().map(|reading| reading.distance.gap.mm()),
        picked: state.proposal.as_ref().map(|picked| Picked {
            tooth: picked.tooth.number(),
            name: picked.name.clone(),
            at_mm: picked.at_mm.into(),
        }),
    })
}

fn clearance(gaps: &[Option<f64>]) -> Clearance {
    let opposed = || gaps.iter().flatten().copied();
    Clearance {
        least_mm: opposed().min_by(f64::total_cmp),
        opposed: opposed().count(),
        pierced: opposed().filter(|gap| *gap < -palette::PIERCED_FROM_MM).count(),
    }
}

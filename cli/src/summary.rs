//! What is kept of an excursion for people: its end, and the least clearances on the way.

use sim_core::cusp::CuspReading;
use sim_core::excursion::{BennettMovement, Excursion, NoPose, Placement};

use crate::run::Solving;

/// An excursion gone through to its end.
pub(crate) struct Summary {
    pub(crate) excursion: Excursion,
    /// The last pose and what is read there; none where not even rest has a pose.
    pub(crate) end: Option<End>,
    /// Where the guidance stood at the start, to which the incisal point's way is measured.
    pub(crate) start: Option<Placement>,
    /// Per cusp, in the scene's order.
    pub(crate) least: Vec<Least>,
    pub(crate) stopped: Option<NoPose>,
}

/// The last pose of an excursion.
pub(crate) struct End {
    pub(crate) placement: Placement,
    /// Per cusp, in the scene's order.
    pub(crate) readings: Vec<CuspReading>,
}

/// The least clearance of a cusp on the way.
#[derive(Clone, Copy)]
pub(crate) struct Least {
    pub(crate) reading: CuspReading,
    /// Where it is: millimetres of advance, degrees of an opening.
    pub(crate) along: f64,
}

impl Summary {
    /// Goes through an excursion.
    pub(crate) fn of(solving: &Solving<'_>) -> Self {
        let (mut start, mut last, mut least) = (None, None, Vec::new());
        for placement in solving.samples() {
            let along = solving.along(&placement);
            let here = |(_, reading)| Least { reading, along };
            if start.is_none() {
                start = Some(placement);
                least.extend(solving.cusps(&placement).map(here));
            } else {
                for (least, here) in least.iter_mut().zip(solving.cusps(&placement).map(here)) {
                    if here.reading.clearance < least.reading.clearance {
                        *least = here;
                    }
                }
            }
            last = Some(placement);
        }
        let end = last.map(|placement| {
            let readings = solving.cusps(&placement).map(|(_, reading)| reading).collect();
            End { placement, readings }
        });
        Self { excursion: *solving.excursion(), end, start, least, stopped: solving.stopped() }
    }
}

impl End {
    /// Where the working condyle has gone; none where no side is the working one.
    pub(crate) fn bennett_movement(&self, excursion: &Excursion) -> Option<BennettMovement> {
        Some(BennettMovement::of(&self.placement, excursion.movement().working_side()?))
    }
}

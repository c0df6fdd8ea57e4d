//! What is kept of an excursion for people: its end, and the least clearances on the way.

use sim_core::cusp::CuspReading;
use sim_core::excursion::{BennettMovement, Excursion, Guidance, Movement, NoPose, Placement};
use sim_core::units::Length;

use crate::walk::{Closeness, ExcursionWalk};

/// An excursion gone through to its end.
pub struct ExcursionSummary {
    /// The excursion.
    pub excursion: Excursion,
    /// The last pose and what is read there; none where not even rest has a pose.
    pub end: Option<End>,
    /// Where the guidance stood at the start, to which the incisal point's way is measured.
    pub start: Option<Placement>,
    /// How far the incisal point has gone along the occlusal plane by the end, as a tracing shows it.
    pub on_the_tracing: Length,
    /// What was read at the start, per cusp, in the scene's order.
    pub at_start: Vec<CuspReading>,
    /// Per cusp, in the scene's order.
    pub least: Vec<Least>,
    /// What guided, one after the other.
    pub stretches: Stretches,
    /// What stopped it short.
    pub stopped: Option<NoPose>,
}

/// The last pose of an excursion.
pub struct End {
    /// The pose.
    pub placement: Placement,
    /// Per cusp, in the scene's order.
    pub readings: Vec<CuspReading>,
    /// How near the casts come; none without casts.
    pub closeness: Option<Closeness>,
}

/// The least clearance of a cusp on the way.
#[derive(Clone, Copy)]
pub struct Least {
    /// What is read there.
    pub reading: CuspReading,
    /// Where it is: millimetres of advance, degrees of an opening.
    pub along: f64,
}

/// What guided one after the other; no more is kept than people read.
#[derive(Default)]
pub struct Stretches {
    /// The first of them.
    pub kept: Vec<Stretch>,
    /// How many more there were.
    pub more: usize,
    last: Option<Stretch>,
}

/// A stretch over which one thing guided.
#[derive(Clone, Copy)]
pub struct Stretch {
    /// What guides.
    pub guidance: Guidance,
    /// Its first and its last sample: millimetres of advance, degrees of an opening.
    pub from: f64,
    /// Its last sample, likewise.
    pub to: f64,
    /// Greatest height of the pin over its table; none where no casts share in the guidance.
    pub pin_lift: Option<Length>,
}

impl Stretches {
    /// Most that are kept of an excursion.
    const MOST: usize = 8;

    fn add(&mut self, placement: &Placement, along: f64) {
        let here =
            Stretch { guidance: placement.guidance, from: along, to: along, pin_lift: placement.pin_lift };
        match &mut self.last {
            Some(last) if last.is_the_same(&here) => last.lengthen(&here),
            _ => {
                self.end();
                self.last = Some(here);
            }
        }
    }

    fn end(&mut self) {
        let Some(last) = self.last.take() else { return };
        if self.kept.len() < Self::MOST {
            self.kept.push(last);
        } else {
            self.more += 1;
        }
    }
}

impl Stretch {
    /// Whether the same plane or the same pair of teeth guides.
    fn is_the_same(&self, other: &Self) -> bool {
        match (self.guidance, other.guidance) {
            (Guidance::Teeth(one), Guidance::Teeth(other)) => {
                (one.upper_tooth, one.lower_tooth) == (other.upper_tooth, other.lower_tooth)
            }
            (one, other) => one == other,
        }
    }

    fn lengthen(&mut self, here: &Self) {
        self.to = here.to;
        if here.pin_lift.map(Length::mm) > self.pin_lift.map(Length::mm) {
            self.pin_lift = here.pin_lift;
        }
    }
}

impl ExcursionSummary {
    /// Goes through an excursion.
    pub fn of(solving: &ExcursionWalk<'_>) -> Self {
        let (mut start, mut last, mut least, mut at_start) = (None, None, Vec::new(), Vec::new());
        let mut stretches = Stretches::default();
        for placement in solving.samples() {
            let along = solving.along(&placement);
            stretches.add(&placement, along);
            let here = |(_, reading)| Least { reading, along };
            if start.is_none() {
                start = Some(placement);
                at_start.extend(solving.cusps(&placement).map(|(_, reading)| reading));
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
        stretches.end();
        let end = last.map(|placement| {
            let readings = solving.cusps(&placement).map(|(_, reading)| reading).collect();
            let closeness = solving.closeness(&placement);
            End { placement, readings, closeness }
        });
        let way = start
            .zip(last)
            .map(|(start, last): (Placement, Placement)| last.incisal_point - start.incisal_point);
        let on_the_tracing = way.map_or(Length::ZERO, |way| solving.occlusal_plane().along(&way));
        let (excursion, stopped) = (*solving.excursion(), solving.stopped());
        Self { excursion, end, start, at_start, on_the_tracing, least, stretches, stopped }
    }

    /// How much farther from the occlusal plane a cusp, by its place in the scene, ends than it starts. On an
    /// instrument opened at its pin the separation itself has the opening in it.
    #[must_use]
    pub fn separation_from_start(&self, cusp: usize) -> Option<Length> {
        let (start, end) = (self.at_start.get(cusp)?, self.end.as_ref()?.readings.get(cusp)?);
        Some(end.separation - start.separation)
    }

    /// Whether a cusp, by its place in the scene, interferes anywhere on the way.
    #[must_use]
    pub fn interferes(&self, cusp: usize) -> bool {
        self.least.get(cusp).is_some_and(|least| least.reading.interferes())
    }
}

impl End {
    /// Where the working condyle has gone in a lateral excursion. In a lateroprotrusive one it advances as
    /// well, which is the excursion and no Bennett movement: none is told.
    pub fn bennett_movement(&self, excursion: &Excursion) -> Option<BennettMovement> {
        match excursion.movement() {
            Movement::Lateral { working } => Some(BennettMovement::of(&self.placement, working)),
            Movement::Protrusive | Movement::Lateroprotrusive { .. } | Movement::Opening => None,
        }
    }
}

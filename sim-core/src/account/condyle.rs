//! What a condyle does, by the equations of its walls.

use super::part::{Part, PartKind};
use crate::excursion::{Movement, Placement};
use crate::frame::Side;
use crate::guide::{CondylarGuide, GuidePath};
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A condyle of a solved pose.
pub(super) struct Condyle<'s> {
    pub(super) instrument: &'s Instrument,
    pub(super) movement: Movement,
    pub(super) placed: &'s Placement,
    pub(super) side: Side,
}

impl Condyle<'_> {
    fn guide(&self) -> &CondylarGuide {
        self.instrument.guide(self.side)
    }

    fn works(&self) -> bool {
        self.movement.working_side() == Some(self.side)
    }

    /// How far to the side the movement is, 1 − k.
    fn share(&self) -> f64 {
        match self.movement {
            Movement::Lateroprotrusive { ratio, .. } => 1.0 - ratio.get(),
            Movement::Lateral { .. } => 1.0,
            Movement::Protrusive | Movement::Opening => 0.0,
        }
    }

    /// v = f(a) + m·tan τ where it protrudes or orbits; f(k·t) − s·tan κ where it works.
    pub(super) fn drop(&self) -> Vec<Part> {
        let (t, medial) = (self.placed.advance(), self.placed.condyle(self.side).medial);
        match self.movement {
            Movement::Opening => vec![Part::new(PartKind::Seated, 0.0)],
            Movement::Lateroprotrusive { ratio, .. } if self.works() => {
                vec![self.path(t * ratio.get()), self.surtrusion(-medial)]
            }
            _ if self.works() => vec![self.surtrusion(-medial)],
            _ => vec![self.path(t), self.wall_tilt(medial)],
        }
    }

    /// a = t where it protrudes or orbits; k·t − s·tan ρ where it works.
    pub(super) fn advance(&self) -> Vec<Part> {
        let (t, outward) = (self.placed.advance(), -self.placed.condyle(self.side).medial);
        let angle = self.guide().lateroretrusion;
        let back = Part::new(PartKind::Retrusion { angle, outward }, -outward.mm() * angle.tan());
        match self.movement {
            Movement::Opening => vec![Part::new(PartKind::Seated, 0.0)],
            Movement::Lateroprotrusive { ratio, .. } if self.works() => {
                let ratio = ratio.get();
                vec![Part::new(PartKind::Share { ratio, advance: t }, ratio * t.mm()), back]
            }
            _ if self.works() => vec![back],
            _ => vec![Part::new(PartKind::Driven, t.mm())],
        }
    }

    /// m = (1 − k)(i + e(a) + a·tan L) where it orbits; where it works or protrudes, what keeps the distance of
    /// the spheres: with σ = +1 for arcon and −1 for non-arcon, w − σ(m_R + m_L) = √(w² − Δa² − Δv²).
    pub(super) fn medial(&self) -> Vec<Part> {
        match self.movement {
            Movement::Opening => vec![Part::new(PartKind::Seated, 0.0)],
            Movement::Protrusive => vec![self.swing(2)],
            _ if self.works() => {
                let medial = self.placed.condyle(self.side.opposite()).medial;
                vec![Part::new(PartKind::Carried { medial }, -medial.mm()), self.swing(1)]
            }
            _ => self.medial_wall(),
        }
    }

    fn medial_wall(&self) -> Vec<Part> {
        let (guide, share, advance) = (self.guide(), self.share(), self.placed.advance());
        let made = self.placed.station.shifted();
        let (translation, angle) = (guide.immediate_translation, guide.lateral_angle);
        let (amount, over) = (guide.early_translation.amount, guide.early_translation.over);
        let spent = (advance / over).min(1.0);
        vec![
            Part::new(PartKind::Immediate { translation, made, share }, translation.mm() * made * share),
            Part::new(PartKind::Early { amount, over, advance, share }, amount.mm() * spent * share),
            Part::new(PartKind::Progressive { angle, advance, share }, advance.mm() * angle.tan() * share),
        ]
    }

    fn path(&self, advance: Length) -> Part {
        let guide = self.guide();
        let (inclination, radius) = match &guide.path {
            GuidePath::Straight => (Some(guide.horizontal_inclination), None),
            GuidePath::Arc(arc) => (Some(guide.horizontal_inclination), Some(arc.radius)),
            GuidePath::Profile(_) => (None, None),
        };
        // A pose that was solved lies within its path.
        let drop = guide.drop_at(advance).unwrap_or_default();
        Part::new(PartKind::Path { path: guide.path.name(), inclination, radius, advance }, drop.mm())
    }

    fn wall_tilt(&self, medial: Length) -> Part {
        let tilt = self.guide().wall_tilt;
        Part::new(PartKind::WallTilt { tilt, medial }, medial.mm() * tilt.tan())
    }

    fn surtrusion(&self, outward: Length) -> Part {
        let angle: Angle = self.guide().laterosurtrusion;
        Part::new(PartKind::Surtrusion { angle, outward }, -outward.mm() * angle.tan())
    }

    /// σ(w − √(w² − Δa² − Δv²)), shared by one condyle or two, in the form that does not cancel.
    fn swing(&self, shared_by: u8) -> Part {
        let distance = self.instrument.intercondylar_distance;
        let (right, left) = (&self.placed.right, &self.placed.left);
        let (ahead, below) = ((left.advance - right.advance).abs(), (left.drop - right.drop).abs());
        let square = ahead.mm() * ahead.mm() + below.mm() * below.mm();
        let w = distance.mm();
        let less = square / (w + (w * w - square).max(0.0).sqrt());
        let amount = self.instrument.design.sense() * less / f64::from(shared_by);
        Part::new(PartKind::Swing { distance, ahead, below, shared_by }, amount)
    }
}

//! Teeth that are meant to touch and do not.

use super::contact::ContactKind;
use super::{Contact, Intended, Mounted, Stretch, ToothGroup};
use crate::cast::{LastPairs, Nearest, ToothReading};
use crate::cusp::{Arch, Tooth};
use crate::excursion::{Movement, NoPose, Placement};
use crate::frame::Side;
use crate::units::Length;

/// Teeth of which at least one is to touch for a scheme to hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Region {
    /// Those of the side that the jaw moves to.
    Working,
    /// Those of the side whose condyle orbits.
    Orbiting,
    /// Incisors and canines, in protrusion.
    Front,
    /// Premolars and molars of one side, in protrusion.
    Back(Side),
}

impl Region {
    /// `working`, `orbiting`, `front`, `right_back` or `left_back`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Working => "working",
            Self::Orbiting => "orbiting",
            Self::Front => "front",
            Self::Back(Side::Right) => "right_back",
            Self::Back(Side::Left) => "left_back",
        }
    }

    /// Those that a scheme asks a contact of in a movement. Not all teeth of one are asked to touch: a
    /// denture that touches anywhere in each does not tip (common practice, no source).
    fn asked(movement: Movement, intended: &Intended) -> Vec<Self> {
        let mut asked = Vec::new();
        let of = |kind| {
            let guides = intended.guides(kind);
            (guides.incisors || guides.canines, guides.premolars || guides.molars)
        };
        match movement {
            Movement::Opening => {}
            Movement::Protrusive => {
                let (front, back) = of(ContactKind::Protrusive);
                asked.extend(front.then_some(Self::Front));
                asked.extend(Side::BOTH.into_iter().filter(|_| back).map(Self::Back));
            }
            Movement::Lateral { .. } | Movement::Lateroprotrusive { .. } => {
                let any = |kind| of(kind) != (false, false);
                asked.extend(any(ContactKind::Working).then_some(Self::Working));
                asked.extend(any(ContactKind::Orbiting).then_some(Self::Orbiting));
            }
        }
        asked
    }

    /// Whether a pair of teeth away from rest is of this region.
    fn has(self, kind: ContactKind, side: Side, group: ToothGroup) -> bool {
        match self {
            Self::Working => kind == ContactKind::Working,
            Self::Orbiting => kind == ContactKind::Orbiting,
            Self::Front => !group.is_back(),
            Self::Back(of) => group.is_back() && side == of,
        }
    }
}

/// How far apart teeth are where they are meant to touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missing {
    /// Where on the stretch they are farthest apart, and the true distance there. `None` where the casts
    /// have no such teeth.
    pub nearest: Option<Nearest>,
    /// Advance at which that is.
    pub advance: Length,
    /// Advance at which they are first seen apart.
    pub from: Length,
    /// Advance at which they are last seen apart.
    pub to: Length,
    /// At how many of the looks they are apart, 0 to 1.
    pub share: f64,
}

/// A region without any contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lack {
    /// The teeth of which one is to touch.
    pub region: Region,
    /// How far the nearest of them is from its antagonist.
    pub missing: Missing,
}

/// What is missing of the contacts that are intended in an excursion.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingContacts {
    /// The movement.
    pub movement: Movement,
    /// What the scheme lacks: regions without any contact somewhere on the stretch. Empty where the
    /// scheme holds all the way.
    pub lacks: Vec<Lack>,
    /// Upper teeth that are meant to touch and somewhere do not, with what their contact would be called;
    /// the farthest apart first.
    pub teeth: Vec<(Tooth, ContactKind, Missing)>,
    /// Advance at the first look.
    pub from: Length,
    /// Advance at the last look: less than asked for where the jaw finds no guide any farther.
    pub to: Length,
}

impl Mounted {
    /// Which of the contacts that are intended are missing over a stretch of a movement, and how far
    /// those teeth are apart.
    ///
    /// Two teeth touch where they come within the stretch's film, as in [`Mounted::scheme`]. Upper teeth
    /// are asked, each against the whole lower arch.
    ///
    /// # Errors
    /// [`NoPose`] where the movement has no pose even at the first look.
    pub fn missing(&self, movement: Movement, stretch: &Stretch) -> Result<MissingContacts, NoPose> {
        let looks = self.looks(movement, stretch)?;
        let asked = Region::asked(movement, &stretch.intended);
        let mut warm = LastPairs::default();
        let mut lacks: Vec<Lack> = Vec::new();
        let mut teeth: Vec<(Tooth, ContactKind, Missing)> = Vec::new();
        for placement in &looks {
            let contacts = self.contacts(movement, placement, stretch.film);
            let reading = self.casts.measure(&placement.jaw, self.plane, &mut warm);
            let look = Look { movement, placement, contacts: &contacts };
            let upper = || reading.teeth.iter().filter(|reading| reading.tooth.arch() == Arch::Upper);
            for &region in &asked {
                let Some(missing) = look.lack(region, upper()) else { continue };
                match lacks.iter_mut().find(|seen| seen.region == region) {
                    Some(seen) => seen.missing.join(&missing),
                    None => lacks.push(Lack { region, missing }),
                }
            }
            for reading in upper() {
                let kind = look.kind(reading.tooth.side());
                if !is_asked(&stretch.intended, kind, reading.tooth) || look.touches(reading.tooth) {
                    continue;
                }
                let missing = look.missing(Some(reading.distance));
                match teeth.iter_mut().find(|(tooth, ..)| *tooth == reading.tooth) {
                    Some((_, _, seen)) => seen.join(&missing),
                    None => teeth.push((reading.tooth, kind, missing)),
                }
            }
        }
        let count = looks.len() as f64;
        lacks.iter_mut().for_each(|lack| lack.missing.share /= count);
        teeth.iter_mut().for_each(|(.., missing)| missing.share /= count);
        teeth.sort_by(|(.., one), (.., other)| other.gap_mm().total_cmp(&one.gap_mm()));
        let advance = |look: Option<&Placement>| look.map_or(Length::ZERO, Placement::advance);
        let (from, to) = (advance(looks.first()), advance(looks.last()));
        Ok(MissingContacts { movement, lacks, teeth, from, to })
    }
}

/// Whether a tooth is asked to touch. Where balance is intended front teeth are not in a lateral
/// excursion, though they may: back teeth hold the bases (common practice, no source).
fn is_asked(intended: &Intended, kind: ContactKind, upper: Tooth) -> bool {
    let group = ToothGroup::of(upper);
    let of_base = kind == ContactKind::Protrusive || group.is_back() || !intended.is_balance();
    kind != ContactKind::Centric && of_base && intended.guides(kind).has(group)
}

/// One pose that is looked at.
struct Look<'l> {
    movement: Movement,
    placement: &'l Placement,
    contacts: &'l [Contact],
}

impl Look<'_> {
    fn kind(&self, side: Side) -> ContactKind {
        ContactKind::of(self.movement, self.placement, side)
    }

    fn touches(&self, upper: Tooth) -> bool {
        self.contacts.iter().any(|contact| contact.nearest.upper_tooth == Some(upper))
    }

    /// How far a region is from any contact; `None` where it has one, or the jaw is at rest.
    fn lack<'r>(&self, region: Region, upper: impl Iterator<Item = &'r ToothReading>) -> Option<Missing> {
        if self.kind(Side::Right) == ContactKind::Centric {
            return None;
        }
        let is_of_it = |nearest: &Nearest| {
            let side = super::contact::side_of(nearest);
            ToothGroup::of_pair(nearest.upper_tooth, nearest.lower_tooth)
                .is_some_and(|group| region.has(self.kind(side), side, group))
        };
        if self.contacts.iter().any(|contact| is_of_it(&contact.nearest)) {
            return None;
        }
        let nearest = upper
            .map(|reading| reading.distance)
            .filter(is_of_it)
            .min_by(|one, other| one.gap.mm().total_cmp(&other.gap.mm()));
        Some(self.missing(nearest))
    }

    fn missing(&self, nearest: Option<Nearest>) -> Missing {
        let advance = self.placement.advance();
        Missing { nearest, advance, from: advance, to: advance, share: 1.0 }
    }
}

impl Missing {
    /// How far apart; infinitely where there is nothing to touch.
    fn gap_mm(&self) -> f64 {
        self.nearest.map_or(f64::INFINITY, |nearest| nearest.gap.mm())
    }

    fn join(&mut self, next: &Self) {
        self.to = next.to;
        self.share += next.share;
        if next.gap_mm() > self.gap_mm() {
            (self.nearest, self.advance) = (next.nearest, next.advance);
        }
    }
}

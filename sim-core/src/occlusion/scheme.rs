//! Which teeth guide an excursion.

use super::contact::{Contact, ContactKind, side_of};
use super::steps::stops;
use super::{Mounted, ToothGroup};
use crate::cast::{LastPairs, Nearest};
use crate::cusp::Tooth;
use crate::excursion::{Movement, NoPose, Placement};
use crate::frame::Side;
use crate::units::Length;

/// How an excursion is guided, known from the teeth that touch in it.
///
/// The names and what they ask for are common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scheme {
    /// The canine alone.
    CanineGuided,
    /// The canine together with back teeth of its side.
    GroupFunction,
    /// Both sides at once; in protrusion front and back.
    Balanced,
    /// Front teeth alone.
    AnteriorGuided,
    /// Back teeth alone.
    PosteriorGuided,
    /// Teeth of the orbiting side alone.
    OrbitingGuided,
    /// In protrusion, front teeth and back teeth of one side.
    Uneven,
    /// No tooth touches.
    NoContact,
    /// Something touches whose tooth is not known.
    Undetermined,
}

impl Scheme {
    /// `canine-guided`, `group function`, `balanced`, …: as a sentence would have it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::CanineGuided => "canine-guided",
            Self::GroupFunction => "group function",
            Self::Balanced => "balanced",
            Self::AnteriorGuided => "anterior-guided",
            Self::PosteriorGuided => "posterior-guided",
            Self::OrbitingGuided => "orbiting-guided",
            Self::Uneven => "uneven",
            Self::NoContact => "no tooth contact",
            Self::Undetermined => "undetermined",
        }
    }

    /// What the contacts of one pose show.
    #[must_use]
    pub(crate) fn of(movement: Movement, contacts: &[Contact]) -> Self {
        let away = || contacts.iter().filter(|contact| contact.kind != ContactKind::Centric);
        let group =
            |contact: &Contact| ToothGroup::of_pair(contact.nearest.upper_tooth, contact.nearest.lower_tooth);
        if away().next().is_none() {
            return Self::NoContact;
        }
        if away().any(|contact| group(contact).is_none()) {
            return Self::Undetermined;
        }
        let touches = |is_meant: &dyn Fn(&Contact, ToothGroup) -> bool| {
            away().any(|contact| group(contact).is_some_and(|group| is_meant(contact, group)))
        };
        if movement.working_side().is_some() {
            let works = |contact: &Contact| contact.kind == ContactKind::Working;
            let canine = touches(&|contact, group| works(contact) && group == ToothGroup::Canine);
            let incisor = touches(&|contact, group| works(contact) && group == ToothGroup::Incisor);
            let back = touches(&|contact, group| works(contact) && group.is_back());
            let orbiting = touches(&|contact, _| !works(contact));
            match (orbiting, canine, incisor, back) {
                (true, false, false, false) => Self::OrbitingGuided,
                (true, ..) => Self::Balanced,
                (false, true, false, false) => Self::CanineGuided,
                (false, true, _, true) => Self::GroupFunction,
                (false, false, _, true) => Self::PosteriorGuided,
                (false, _, _, false) => Self::AnteriorGuided,
            }
        } else {
            let front = touches(&|_, group| !group.is_back());
            let back = Side::BOTH
                .map(|side| touches(&|contact, group| group.is_back() && side_of(&contact.nearest) == side));
            match (front, back) {
                (true, [false, false]) => Self::AnteriorGuided,
                (true, [true, true]) => Self::Balanced,
                (true, _) => Self::Uneven,
                (false, _) => Self::PosteriorGuided,
            }
        }
    }
}

/// The stretch of an excursion over which a scheme is told, and how. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Teeth that come this near are taken to touch: the thickness of the film that would be marked.
    pub film: Length,
    /// Advance from which on it is looked at: before, teeth are still parting from centric.
    pub from: Length,
    /// Advance up to which it is looked at.
    pub to: Length,
    /// Advance from one look to the next, at most.
    pub step: Length,
}

impl Default for Stretch {
    /// A film of 40 µm, from half a millimetre to three, ten looks a millimetre.
    fn default() -> Self {
        Self {
            film: Length::from_mm(0.04),
            from: Length::from_mm(0.5),
            to: Length::from_mm(3.0),
            step: Length::from_mm(0.1),
        }
    }
}

/// A pair of teeth that touches somewhere on a stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// What its contact is called.
    pub kind: ContactKind,
    /// Where on the stretch it comes nearest, or is deepest in.
    pub nearest: Nearest,
    /// Advance at which that is.
    pub advance: Length,
    /// Advance at which it is first seen to touch.
    pub from: Length,
    /// Advance at which it is last seen to touch.
    pub to: Length,
    /// At how many of the looks it touches, 0 to 1.
    pub share: f64,
}

impl Held {
    fn teeth(&self) -> (Option<Tooth>, Option<Tooth>) {
        (self.nearest.upper_tooth, self.nearest.lower_tooth)
    }
}

/// How an excursion is guided over a stretch of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The movement.
    pub movement: Movement,
    /// The scheme that holds over more of the stretch than any other; of equals the one met first.
    pub scheme: Scheme,
    /// At how many of the looks it holds, 0 to 1.
    pub share: f64,
    /// Every scheme that holds somewhere, with its share, the greatest share first.
    pub shares: Vec<(Scheme, f64)>,
    /// The pairs of teeth that touch somewhere, longest first.
    pub evidence: Vec<Held>,
    /// Advance at the first look.
    pub from: Length,
    /// Advance at the last look: less than asked for where the jaw finds no guide any farther.
    pub to: Length,
}

impl Mounted {
    /// Which teeth guide a movement on this instrument, over a stretch of it.
    ///
    /// # Errors
    /// [`NoPose`] where the movement has no pose even at the first look.
    pub fn scheme(&self, movement: Movement, stretch: &Stretch) -> Result<Verdict, NoPose> {
        let mechanism = self.mechanism();
        let travel = mechanism.travel(movement, stretch.to);
        let from = stretch.from.mm().clamp(0.0, stretch.to.mm().max(0.0));
        let from = travel.sideways() + Length::from_mm(from);
        let mut warm = LastPairs::default();
        let mut looks = Vec::new();
        for stop in stops(&travel, from, stretch.step) {
            match mechanism.at_from(movement, travel.station(stop), &mut warm) {
                Ok(placement) => {
                    looks.push((placement, self.contacts(movement, &placement, stretch.film)));
                }
                Err(failed) if looks.is_empty() => return Err(failed),
                Err(_) => break,
            }
        }
        Ok(verdict(movement, &looks))
    }
}

/// At least one look.
#[allow(clippy::cast_precision_loss)] // counts are far below 2^53
fn verdict(movement: Movement, looks: &[(Placement, Vec<Contact>)]) -> Verdict {
    // Looks are counted, and divided once: the shares of a whole then come to no more than it.
    let all = looks.len() as f64;
    let mut shares: Vec<(Scheme, f64)> = Vec::new();
    let mut evidence: Vec<Held> = Vec::new();
    for (placement, contacts) in looks {
        let scheme = Scheme::of(movement, contacts);
        match shares.iter_mut().find(|(seen, _)| *seen == scheme) {
            Some((_, share)) => *share += 1.0,
            None => shares.push((scheme, 1.0)),
        }
        for contact in contacts {
            let advance = placement.advance();
            let held = Held {
                kind: contact.kind,
                nearest: contact.nearest,
                advance,
                from: advance,
                to: advance,
                share: 1.0,
            };
            match evidence.iter_mut().find(|seen| seen.teeth() == held.teeth() && seen.kind == held.kind) {
                Some(seen) => seen.join(&held),
                None => evidence.push(held),
            }
        }
    }
    shares.iter_mut().for_each(|(_, share)| *share /= all);
    evidence.iter_mut().for_each(|held| held.share /= all);
    // Both sorts keep the order met among equals.
    shares.sort_by(|one, other| other.1.total_cmp(&one.1));
    evidence.sort_by(|one, other| other.share.total_cmp(&one.share));
    let (scheme, share) = shares.first().copied().unwrap_or((Scheme::NoContact, 0.0));
    let advance = |look: Option<&(Placement, Vec<Contact>)>| {
        look.map_or(Length::ZERO, |(placement, _)| placement.advance())
    };
    let (from, to) = (advance(looks.first()), advance(looks.last()));
    Verdict { movement, scheme, share, shares, evidence, from, to }
}

impl Held {
    fn join(&mut self, next: &Self) {
        self.to = next.to;
        self.share += next.share;
        if next.nearest.gap.mm() < self.nearest.gap.mm() {
            (self.nearest, self.advance) = (next.nearest, next.advance);
        }
    }
}

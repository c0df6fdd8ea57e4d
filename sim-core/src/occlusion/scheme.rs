//! Which teeth guide an excursion.

use super::contact::{Contact, ContactKind, side_of};
use super::steps::stops;
use super::{Intended, Mounted, ToothGroup};
use crate::cast::{LastPairs, Nearest};
use crate::cusp::Tooth;
use crate::excursion::{Movement, NoPose, Placement};
use crate::frame::Side;
use crate::units::Length;

/// How an excursion is guided, known from the teeth that touch in it and from what they are meant to do.
///
/// The names and what they ask for are common practice, no source. A pair of teeth is a back pair where
/// either tooth is a premolar or a molar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scheme {
    /// The canine of the working side alone.
    CanineGuided,
    /// Several teeth of the working side at once, back teeth among them, with the canine or without.
    GroupFunction,
    /// Where balance is intended: both sides at once; in protrusion front teeth and back teeth of both
    /// sides.
    Balanced,
    /// Front teeth alone.
    AnteriorGuided,
    /// One pair of back teeth alone on the working side. In protrusion, where balance is intended, back
    /// teeth alone.
    PosteriorGuided,
    /// Where balance is intended: teeth of the orbiting side alone.
    OrbitingGuided,
    /// Where balance is intended: in protrusion, front teeth and back teeth of one side.
    Uneven,
    /// Where balance is not intended: teeth of the orbiting side touch.
    OrbitingInterference,
    /// Where balance is not intended: back teeth touch in protrusion.
    ProtrusiveInterference,
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
            Self::OrbitingInterference => "orbiting interference",
            Self::ProtrusiveInterference => "protrusive interference",
            Self::NoContact => "no tooth contact",
            Self::Undetermined => "undetermined",
        }
    }

    /// What the contacts of one pose show of teeth that are meant to touch as intended.
    #[must_use]
    pub(crate) fn of(movement: Movement, contacts: &[Contact], intended: &Intended) -> Self {
        let pairs: Option<Vec<Pair>> = contacts.iter().filter_map(Pair::of).collect();
        let Some(pairs) = pairs else { return Self::Undetermined };
        if pairs.is_empty() {
            Self::NoContact
        } else if movement.working_side().is_some() {
            Self::of_lateral(&pairs, intended)
        } else {
            Self::of_protrusive(&pairs, intended)
        }
    }

    fn of_lateral(pairs: &[Pair], intended: &Intended) -> Self {
        let working: Vec<ToothGroup> =
            pairs.iter().filter(|pair| pair.kind == ContactKind::Working).map(|pair| pair.group).collect();
        if working.len() < pairs.len() {
            return match (intended.is_balance(), working.is_empty()) {
                (false, _) => Self::OrbitingInterference,
                (true, true) => Self::OrbitingGuided,
                (true, false) => Self::Balanced,
            };
        }
        if working.iter().any(|group| group.is_back()) {
            if working.len() > 1 { Self::GroupFunction } else { Self::PosteriorGuided }
        } else if working.iter().all(|group| *group == ToothGroup::Canine) {
            Self::CanineGuided
        } else {
            Self::AnteriorGuided
        }
    }

    fn of_protrusive(pairs: &[Pair], intended: &Intended) -> Self {
        let front = pairs.iter().any(|pair| !pair.group.is_back());
        let back = Side::BOTH.map(|side| pairs.iter().any(|pair| pair.group.is_back() && pair.side == side));
        match (front, back) {
            (_, [false, false]) => Self::AnteriorGuided,
            _ if !intended.is_balance() => Self::ProtrusiveInterference,
            (true, [true, true]) => Self::Balanced,
            (true, _) => Self::Uneven,
            (false, _) => Self::PosteriorGuided,
        }
    }
}

/// What a scheme is known by of one contact.
struct Pair {
    kind: ContactKind,
    group: ToothGroup,
    side: Side,
}

impl Pair {
    /// Nothing of a contact in centric; of one that belongs to no tooth, nothing that can be told.
    fn of(contact: &Contact) -> Option<Option<Self>> {
        let (kind, side) = (contact.kind, side_of(&contact.nearest));
        let group = ToothGroup::of_pair(contact.nearest.upper_tooth, contact.nearest.lower_tooth);
        (kind != ContactKind::Centric).then(|| group.map(|group| Self { kind, group, side }))
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
    /// What the teeth are meant to do: contact of the orbiting side is balance or an interference.
    pub intended: Intended,
}

impl Default for Stretch {
    /// A film of 40 µm, from half a millimetre to three, ten looks a millimetre; canine guidance.
    fn default() -> Self {
        Self {
            film: Length::from_mm(0.04),
            from: Length::from_mm(0.5),
            to: Length::from_mm(3.0),
            step: Length::from_mm(0.1),
            intended: Intended::CANINE_GUIDED,
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
        let contacts = |placement: &Placement| self.contacts(movement, placement, stretch.film);
        let looks: Vec<_> =
            self.looks(movement, stretch)?.into_iter().map(|at| (at, contacts(&at))).collect();
        Ok(verdict(movement, &looks, &stretch.intended))
    }

    /// The poses at which a stretch of a movement is looked at: at least one.
    pub(super) fn looks(&self, movement: Movement, stretch: &Stretch) -> Result<Vec<Placement>, NoPose> {
        let mechanism = self.mechanism();
        let travel = mechanism.travel(movement, stretch.to);
        let from = stretch.from.mm().clamp(0.0, stretch.to.mm().max(0.0));
        let from = travel.sideways() + Length::from_mm(from);
        let mut warm = LastPairs::default();
        let mut looks = Vec::new();
        for stop in stops(&travel, from, stretch.step) {
            match mechanism.at_from(movement, travel.station(stop), &mut warm) {
                Ok(placement) => looks.push(placement),
                Err(failed) if looks.is_empty() => return Err(failed),
                Err(_) => break,
            }
        }
        Ok(looks)
    }
}

/// At least one look.
#[allow(clippy::cast_precision_loss)] // counts are far below 2^53
fn verdict(movement: Movement, looks: &[(Placement, Vec<Contact>)], intended: &Intended) -> Verdict {
    // Looks are counted, and divided once: the shares of a whole then come to no more than it.
    let all = looks.len() as f64;
    let mut shares: Vec<(Scheme, f64)> = Vec::new();
    let mut evidence: Vec<Held> = Vec::new();
    for (placement, contacts) in looks {
        let scheme = Scheme::of(movement, contacts, intended);
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

#[cfg(test)]
mod tests {
    use super::{Contact, ContactKind, Scheme};
    use crate::cast::Nearest;
    use crate::cusp::Tooth;
    use crate::excursion::Movement;
    use crate::frame::{LowerPoint, Side, UpperPoint};
    use crate::occlusion::IntendedScheme;
    use crate::occlusion::contact::side_of;
    use crate::units::Length;

    const RIGHT: Movement = Movement::Lateral { working: Side::Right };

    /// A contact of two teeth by their numbers; 0 is no known tooth.
    fn contact(movement: Movement, (upper, lower): (i64, i64)) -> Contact {
        let tooth = |number| Tooth::new(number).ok();
        let nearest = Nearest {
            gap: Length::ZERO,
            upper: UpperPoint::mm(0.0, 0.0, 0.0),
            lower: LowerPoint::mm(0.0, 0.0, 0.0),
            upper_tooth: tooth(upper),
            lower_tooth: tooth(lower),
        };
        Contact { kind: ContactKind::away(movement, side_of(&nearest)), nearest }
    }

    #[test]
    fn verdicts_on_invented_contacts() {
        use Movement::Protrusive;
        use Scheme::{
            AnteriorGuided, Balanced, CanineGuided, GroupFunction, NoContact, OrbitingGuided,
            OrbitingInterference, PosteriorGuided, ProtrusiveInterference, Undetermined, Uneven,
        };
        // Pairs in contact, the verdict on natural teeth, and that on complete dentures.
        type Row = (Movement, &'static [(i64, i64)], Scheme, Scheme);
        let rows: &[Row] = &[
            (RIGHT, &[], NoContact, NoContact),
            (RIGHT, &[(13, 43)], CanineGuided, CanineGuided),
            (RIGHT, &[(13, 43), (13, 42)], CanineGuided, CanineGuided),
            (RIGHT, &[(13, 43), (12, 42)], AnteriorGuided, AnteriorGuided),
            (RIGHT, &[(11, 41)], AnteriorGuided, AnteriorGuided),
            // Several teeth of the working side are a group, with the canine or without.
            (RIGHT, &[(13, 43), (14, 44), (16, 46)], GroupFunction, GroupFunction),
            (RIGHT, &[(14, 44), (15, 45), (16, 46)], GroupFunction, GroupFunction),
            (RIGHT, &[(16, 46), (17, 47)], GroupFunction, GroupFunction),
            (RIGHT, &[(13, 43), (16, 46)], GroupFunction, GroupFunction),
            // A lower premolar on the upper canine is a back tooth.
            (RIGHT, &[(13, 43), (13, 44)], GroupFunction, GroupFunction),
            (RIGHT, &[(16, 46)], PosteriorGuided, PosteriorGuided),
            // The orbiting side: balance in dentures, an interference in natural teeth.
            (RIGHT, &[(13, 43), (26, 36)], OrbitingInterference, Balanced),
            (RIGHT, &[(16, 46), (26, 36)], OrbitingInterference, Balanced),
            (RIGHT, &[(16, 46), (17, 47), (27, 37)], OrbitingInterference, Balanced),
            (RIGHT, &[(26, 36)], OrbitingInterference, OrbitingGuided),
            (RIGHT, &[(23, 33)], OrbitingInterference, OrbitingGuided),
            (Protrusive, &[], NoContact, NoContact),
            (Protrusive, &[(11, 41), (21, 31)], AnteriorGuided, AnteriorGuided),
            (Protrusive, &[(11, 41), (13, 43)], AnteriorGuided, AnteriorGuided),
            (Protrusive, &[(11, 41), (13, 44)], ProtrusiveInterference, Uneven),
            (Protrusive, &[(11, 41), (13, 44), (23, 34)], ProtrusiveInterference, Balanced),
            (Protrusive, &[(11, 41), (16, 46), (26, 36)], ProtrusiveInterference, Balanced),
            (Protrusive, &[(11, 41), (26, 36)], ProtrusiveInterference, Uneven),
            (Protrusive, &[(16, 46), (26, 36)], ProtrusiveInterference, PosteriorGuided),
            (Protrusive, &[(0, 0), (11, 41)], Undetermined, Undetermined),
            (RIGHT, &[(0, 0)], Undetermined, Undetermined),
            // One tooth of a pair is enough to tell it.
            (RIGHT, &[(13, 0)], CanineGuided, CanineGuided),
            (Protrusive, &[(0, 36)], ProtrusiveInterference, PosteriorGuided),
        ];
        for (movement, pairs, natural, denture) in rows {
            let contacts: Vec<Contact> = pairs.iter().map(|pair| contact(*movement, *pair)).collect();
            for (intended, expected) in [
                (IntendedScheme::CanineGuided, natural),
                (IntendedScheme::GroupFunction, natural),
                (IntendedScheme::Balanced, denture),
            ] {
                let scheme = Scheme::of(*movement, &contacts, &intended.intended());
                assert_eq!(scheme, *expected, "{} {pairs:?} by {intended:?}", movement.name());
            }
        }
    }

    #[test]
    fn contacts_at_rest_tell_no_scheme() {
        let at_rest = Contact { kind: ContactKind::Centric, ..contact(RIGHT, (26, 36)) };
        let scheme = Scheme::of(RIGHT, &[at_rest], &IntendedScheme::CanineGuided.intended());
        assert_eq!(scheme, Scheme::NoContact);
    }
}

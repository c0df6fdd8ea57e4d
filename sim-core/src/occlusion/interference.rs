//! Teeth that stand in the way of those that are meant to guide.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::contact::{ContactKind, side_of};
use super::peak::peak;
use super::steps::stops;
use super::{Intended, Mounted};
use crate::anterior::AnteriorGuide;
use crate::cast::{LastPairs, Nearest};
use crate::cusp::{Arch, Tooth};
use crate::excursion::{Mechanism, Movement, NoPose, Placement, Travel};
use crate::units::Length;

/// A pair of teeth that stands in the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interference {
    /// The excursion.
    pub movement: Movement,
    /// What its contact is called.
    pub kind: ContactKind,
    /// The pair, and the place where the upper tooth must lose most; the gap there is minus
    /// [`Self::upper_reduction`].
    pub nearest: Nearest,
    /// Advance at which that is.
    pub advance: Length,
    /// The least that must come off the upper tooth there for the pair to go clear of each other over
    /// the whole excursion, the lower one kept: along the occlusal plane's normal, which the upper
    /// member carries.
    pub upper_reduction: Length,
    /// The least that must come off the lower tooth, the upper one kept: along the normal that the
    /// lower member carries.
    pub lower_reduction: Length,
    /// How deep the pair is in each other there, square to the surface: the greatest distance of a
    /// vertex behind the other surface from that surface.
    pub square: Length,
    /// Advance at which the pair is first seen to be in the way.
    pub from: Length,
    /// Advance at which it is last seen to be.
    pub to: Length,
}

impl Interference {
    /// The upper and the lower tooth.
    #[must_use]
    pub const fn teeth(&self) -> (Option<Tooth>, Option<Tooth>) {
        (self.nearest.upper_tooth, self.nearest.lower_tooth)
    }
}

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InterferenceSearch {
    /// The contacts that are meant to be there.
    pub intended: Intended,
    /// Advance up to which the excursion is followed.
    pub to: Length,
    /// Advance from one look to the next, at most; between looks the deepest place is searched for.
    pub step: Length,
    /// What is no deeper than this is not listed.
    pub least: Length,
}

impl Default for InterferenceSearch {
    /// Canine guidance, three millimetres, ten looks a millimetre, and no less than the thinnest film
    /// that the trade uses, 8 µm.
    fn default() -> Self {
        Self {
            intended: Intended::CANINE_GUIDED,
            to: Length::from_mm(3.0),
            step: Length::from_mm(0.1),
            least: Length::from_mm(0.008),
        }
    }
}

/// What stands in the way in one excursion.
#[derive(Clone, Debug, PartialEq)]
pub struct Interferences {
    /// The excursion.
    pub movement: Movement,
    /// The pairs in the way, the deepest first.
    pub found: Vec<Interference>,
    /// Advance up to which the intended guides lead: less than asked for where they lose each other.
    pub guided_to: Length,
    /// How far the intended guides stand apart, along the occlusal plane's normal, in the pose in which
    /// all teeth are closed at rest: more than nothing where they cannot lead at once. `None` where
    /// none of them oppose each other.
    pub guides_apart: Option<Length>,
}

impl Mounted {
    /// The pairs of teeth that are in the way of a movement as it would go if only the intended teeth
    /// guided it, and how much must come off each.
    ///
    /// On an instrument guided by casts the intended teeth (or the pin, where it is met first) stop the
    /// closing and all others are passed through; how deep is what must come off. On one guided by its
    /// table or by incisors the movement is theirs, and teeth are passed through where they are in its
    /// way; intended ones are not listed. Contacts at rest are all intended.
    ///
    /// # Errors
    /// [`NoPose`] where the movement has no pose even at its start.
    pub fn interferences(
        &self,
        movement: Movement,
        search: &InterferenceSearch,
    ) -> Result<Interferences, NoPose> {
        let watch = Watch::new(self, movement, search);
        let mut looks = Vec::new();
        let mut warm = LastPairs::default();
        for stop in stops(&watch.travel, Length::ZERO, search.step) {
            let stop = stop.mm();
            match watch.placed(stop, &mut warm) {
                Ok(placement) => looks.push((stop, placement)),
                Err(failed) if looks.is_empty() => return Err(failed),
                Err(_) => break,
            }
        }
        let in_the_way = |upper, lower| !watch.is_intended(upper, lower);
        let of_upper: BTreeMap<Teeth, Track> = watch
            .tracks(Arch::Upper, &looks, in_the_way)
            .into_iter()
            .filter(|(_, track)| track.deepest_mm() > search.least.mm().max(0.0))
            .collect();
        let of_lower =
            watch.tracks(Arch::Lower, &looks, |upper, lower| of_upper.contains_key(&(upper, lower)));
        let mut found: Vec<Interference> = of_upper
            .iter()
            .filter_map(|(teeth, track)| watch.interference(track, of_lower.get(teeth), &looks))
            .collect();
        found.sort_by(|one, other| other.upper_reduction.mm().total_cmp(&one.upper_reduction.mm()));
        let guided_to = looks.last().map_or(Length::ZERO, |(_, placement)| placement.advance());
        Ok(Interferences { movement, found, guided_to, guides_apart: watch.guides_apart() })
    }
}

type Teeth = (Option<Tooth>, Option<Tooth>);
/// Millimetres of the way, and the pose there.
type Look = (f64, Placement);

/// A pair through the looks: the depth at each at which it is near, and the greatest of all.
struct Track {
    depths: Vec<(usize, f64)>,
    /// Millimetres of the way, and the gap there.
    deepest: (f64, Nearest),
}

/// A movement guided as intended, and what is watched in it.
struct Watch<'m> {
    mounted: &'m Mounted,
    movement: Movement,
    search: &'m InterferenceSearch,
    mechanism: Mechanism,
    travel: Travel,
}

impl<'m> Watch<'m> {
    fn new(mounted: &'m Mounted, movement: Movement, search: &'m InterferenceSearch) -> Self {
        let guides = |upper, lower| search.intended.allows(movement, upper, lower);
        let mechanism = match mounted.instrument.anterior_guide {
            AnteriorGuide::Casts(_) => {
                Mechanism::new(&mounted.instrument).with_casts(Arc::new(mounted.casts.stopped_by(guides)))
            }
            _ => mounted.mechanism(),
        };
        let travel = mechanism.travel(movement, search.to);
        Self { mounted, movement, search, mechanism, travel }
    }

    fn placed(&self, stop: f64, warm: &mut LastPairs) -> Result<Placement, NoPose> {
        self.mechanism.at_from(self.movement, self.travel.station(Length::from_mm(stop)), warm)
    }

    fn is_intended(&self, upper: Option<Tooth>, lower: Option<Tooth>) -> bool {
        self.search.intended.allows(self.movement, upper, lower)
    }

    /// Every pair that is in the way at some look or may be between two, with its deepest place.
    fn tracks(
        &self,
        member: Arch,
        looks: &[Look],
        is_asked: impl Fn(Option<Tooth>, Option<Tooth>) -> bool,
    ) -> BTreeMap<Teeth, Track> {
        // What comes no nearer than this at one look is clear until the next, unless the teeth close on
        // each other by more than they move.
        let near = Length::from_mm(self.search.step.mm() / 2.0);
        let mut tracks: BTreeMap<Teeth, Track> = BTreeMap::new();
        for (index, (stop, placement)) in looks.iter().enumerate() {
            let gaps =
                self.mounted.casts.vertical_gaps(&placement.jaw, self.mounted.plane, member, near, &is_asked);
            for nearest in gaps {
                let depth = -nearest.gap.mm();
                let track = tracks
                    .entry((nearest.upper_tooth, nearest.lower_tooth))
                    .or_insert_with(|| Track { depths: Vec::new(), deepest: (*stop, nearest) });
                track.depths.push((index, depth));
                track.offer(*stop, nearest);
            }
        }
        for (teeth, track) in &mut tracks {
            self.refine(member, *teeth, track, looks);
        }
        tracks
    }

    /// Searches between the looks beside each that is deeper than its neighbours, where that may yet
    /// beat the deepest.
    fn refine(&self, member: Arch, teeth: Teeth, track: &mut Track, looks: &[Look]) {
        let depth_at = |index: usize| {
            track
                .depths
                .binary_search_by_key(&index, |(at, _)| *at)
                .map_or(f64::NEG_INFINITY, |found| track.depths[found].1)
        };
        let mut brackets = Vec::new();
        for &(index, depth) in &track.depths {
            let before = index.checked_sub(1).map_or(f64::NEG_INFINITY, depth_at);
            if depth >= before && depth >= depth_at(index + 1) {
                let ends = (looks[index.saturating_sub(1)].0, looks[(index + 1).min(looks.len() - 1)].0);
                brackets.push((depth, ends));
            }
        }
        brackets.sort_by(|one, other| other.0.total_cmp(&one.0));
        for (_, ends) in brackets {
            let goal = track.deepest_mm().max(self.search.least.mm());
            let mut warm = LastPairs::default();
            let found = peak(ends, goal, |stop| {
                let nearest = self.gap(member, teeth, stop, &mut warm)?;
                Some((-nearest.gap.mm(), (stop, nearest)))
            });
            if let Some((stop, nearest)) = found {
                track.offer(stop, nearest);
            }
        }
    }

    /// The gap of one pair; `None` where it is far from touching, or the movement has no pose.
    fn gap(&self, member: Arch, teeth: Teeth, stop: f64, warm: &mut LastPairs) -> Option<Nearest> {
        let placement = self.placed(stop, warm).ok()?;
        let gaps = self.mounted.casts.vertical_gaps(
            &placement.jaw,
            self.mounted.plane,
            member,
            self.search.step,
            |upper, lower| (upper, lower) == teeth,
        );
        gaps.first().copied()
    }

    fn interference(&self, upper: &Track, lower: Option<&Track>, looks: &[Look]) -> Option<Interference> {
        let (stop, nearest) = upper.deepest;
        let (of_upper, of_lower) = (upper.deepest_mm(), lower.map_or(0.0, Track::deepest_mm).max(0.0));
        let placement = self.placed(stop, &mut LastPairs::default()).ok()?;
        let teeth = (nearest.upper_tooth, nearest.lower_tooth);
        let distances =
            self.mounted.casts.distances(&placement.jaw, self.mounted.plane, Length::ZERO, |upper, lower| {
                (upper, lower) == teeth
            });
        let square = distances.first().map_or(0.0, |distance| -distance.gap.mm()).max(0.0);
        let advance = placement.advance();
        let seen = upper.depths.iter().filter(|(_, depth)| *depth > 0.0);
        let (from, to) = seen
            .map(|(index, _)| looks[*index].1.advance())
            .fold((advance, advance), |(from, to), at| (from.min(at), to.max(at)));
        Some(Interference {
            movement: self.movement,
            kind: ContactKind::away(self.movement, side_of(&nearest)),
            nearest,
            advance,
            upper_reduction: Length::from_mm(of_upper),
            lower_reduction: Length::from_mm(of_lower),
            square: Length::from_mm(square),
            from,
            to,
        })
    }

    /// How far the intended guides stand apart where all teeth close at rest.
    fn guides_apart(&self) -> Option<Length> {
        let rest = self.mounted.mechanism().rest().ok()?;
        let gaps = self.mounted.casts.vertical_gaps(
            &rest.jaw,
            self.mounted.plane,
            Arch::Upper,
            Length::from_mm(f64::INFINITY),
            |upper, lower| self.is_intended(upper, lower),
        );
        gaps.iter().map(|nearest| nearest.gap.mm()).reduce(f64::min).map(Length::from_mm)
    }
}

impl Track {
    fn deepest_mm(&self) -> f64 {
        -self.deepest.1.gap.mm()
    }

    fn offer(&mut self, stop: f64, nearest: Nearest) {
        if nearest.gap.mm() < self.deepest.1.gap.mm() {
            self.deepest = (stop, nearest);
        }
    }
}

//! Selective grinding: which pair of teeth, which surface, how much, and what carries then.

use std::sync::Arc;

use super::ground::Ground;
use super::rule::{Meeting, ground};
use crate::anterior::AnteriorGuide;
use crate::cast::{Casts, LastPairs, Nearest};
use crate::cusp::{Arch, Tooth};
use crate::excursion::{Mechanism, Movement, NoPose, Placement, Station};
use crate::frame::Side;
use crate::instrument::Instrument;
use crate::occlusion::{ContactKind, IntendedScheme, InterferenceSearch, Mounted, Region, Stretch};
use crate::scene::Scene;
use crate::units::Length;

type Pair = (Option<Tooth>, Option<Tooth>);

/// One place to grind.
#[derive(Clone, Debug, PartialEq)]
pub struct Grinding {
    /// The step that it belongs to: centric first, then working, orbiting, protrusive.
    pub kind: ContactKind,
    /// The excursion; none in centric.
    pub movement: Option<Movement>,
    /// The pair, and the place where most must come off.
    pub nearest: Nearest,
    /// Advance at which that is.
    pub advance: Length,
    /// What is ground.
    pub ground: Ground,
    /// The least that must come off it, along the occlusal plane's normal.
    pub amount: Length,
    /// Pairs that carry once it is done. Empty where the pin does.
    pub then: Vec<(Option<Tooth>, Option<Tooth>)>,
}

impl Grinding {
    /// The upper and the lower tooth.
    #[must_use]
    pub const fn teeth(&self) -> (Option<Tooth>, Option<Tooth>) {
        (self.nearest.upper_tooth, self.nearest.lower_tooth)
    }

    /// The tooth that is ground.
    #[must_use]
    pub const fn tooth(&self) -> Option<Tooth> {
        match self.ground.arch() {
            Arch::Upper => self.nearest.upper_tooth,
            Arch::Lower => self.nearest.lower_tooth,
        }
    }
}

/// What to grind, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct GrindingList {
    /// The scheme whose rule it follows.
    pub scheme: IntendedScheme,
    /// How far the pin is off its table before.
    pub pin_before: Option<Length>,
    /// How far it is once the centric step is done.
    pub pin_after: Option<Length>,
    /// The places, in order.
    pub places: Vec<Grinding>,
    /// What the list does not reach, by excursion (none is centric): to bring those teeth together more than
    /// [`MOST_GROUND_MM`] would have to come off others, or the pin holds.
    pub unreached: Vec<(Option<Movement>, Region)>,
}

/// More is not ground off a tooth: teeth are set anew (our choice).
pub const MOST_GROUND_MM: f64 = 1.0;
/// Rounds of taking away what carries, at most.
const ROUNDS: usize = 12;
/// Advance from one look to the next.
const STEP_MM: f64 = 0.5;

/// What to grind on casts as they stand on a scene's instrument, for the teeth to be as a scheme wants them.
///
/// - Centric, in every scheme: pairs that carry are taken away one after the other until back teeth of both sides touch and
///   the pin, if it is in use, stands on its table.
/// - Canine guidance and group function: then what interferes in each excursion.
/// - Balance: then, in each excursion, pairs that carry where a side (or the front) has no contact, until it has.
///
/// A pair that is on the list counts as clear in later steps. Once anything has been ground the list is to be made anew.
///
/// # Errors
/// [`NoPose`] where the teeth do not meet at all.
pub fn list(scene: &Scene, casts: &Arc<Casts>, scheme: IntendedScheme) -> Result<GrindingList, NoPose> {
    let movements = movements(scene);
    let bench = Bench { scene, casts, stretch: stretch(scheme) };
    let rest = bench.placed(&[], None, Length::ZERO)?;
    let mut unreached = Vec::new();
    let (centric, after) = bench.centric(&mut unreached)?;
    let mut taken: Vec<Pair> = centric.iter().map(|(nearest, ..)| pair_of(nearest)).collect();
    let mut away = Vec::new();
    for movement in movements {
        if scheme == IntendedScheme::Balanced {
            bench.balance(movement, &mut taken, &mut away, &mut unreached)?;
        } else {
            bench.interferences(movement, scheme, &mut away)?;
        }
    }
    let mut places = Vec::new();
    for (nearest, amount, then) in centric {
        let of_pair = |one: &&Grinding| one.teeth() == pair_of(&nearest);
        let leads_in: Vec<ContactKind> = away.iter().filter(of_pair).map(|one| one.kind).collect();
        let ground = ground(ContactKind::Centric, Meeting::of(casts, &nearest), &leads_in);
        let (kind, advance) = (ContactKind::Centric, Length::ZERO);
        places.push(Grinding { kind, movement: None, nearest, advance, ground, amount, then });
    }
    let order = |kind| {
        [ContactKind::Working, ContactKind::Orbiting, ContactKind::Protrusive]
            .iter()
            .position(|one| *one == kind)
    };
    away.sort_by_key(|one: &Grinding| order(one.kind));
    places.extend(away);
    Ok(GrindingList { scheme, pin_before: rest.pin_lift, pin_after: after.pin_lift, places, unreached })
}

/// The scene's movements, each once; where it has none, protrusion and both laterals.
fn movements(scene: &Scene) -> Vec<Movement> {
    let mut movements = Vec::new();
    for movement in scene.excursions.iter().map(crate::excursion::Excursion::movement) {
        if movement != Movement::Opening && !movements.contains(&movement) {
            movements.push(movement);
        }
    }
    if movements.is_empty() {
        movements.extend(Side::BOTH.map(|working| Movement::Lateral { working }));
        movements.push(Movement::Protrusive);
    }
    movements
}

fn stretch(scheme: IntendedScheme) -> Stretch {
    Stretch { step: Length::from_mm(STEP_MM), intended: scheme.intended(), ..Stretch::default() }
}

fn pair_of(nearest: &Nearest) -> Pair {
    (nearest.upper_tooth, nearest.lower_tooth)
}

struct Bench<'b> {
    scene: &'b Scene,
    casts: &'b Arc<Casts>,
    stretch: Stretch,
}

impl Bench<'_> {
    /// Whether the pin is in use: not drawn up out of the way.
    fn has_pin(&self) -> bool {
        self.scene.instrument.pin_extension.mm() >= 0.0
    }

    /// The instrument, guided by its casts whatever guides it else: a remount closes on the teeth.
    fn instrument(&self) -> Instrument {
        let mut instrument = self.scene.instrument.clone();
        if let AnteriorGuide::Table(trough) = instrument.anterior_guide {
            instrument.anterior_guide = AnteriorGuide::Casts(trough);
        }
        instrument
    }

    /// The jaw with some pairs taken away; without a movement, at rest.
    fn placed(
        &self,
        taken: &[Pair],
        movement: Option<Movement>,
        advance: Length,
    ) -> Result<Placement, NoPose> {
        let casts = self.casts.stopped_by(|upper, lower| !taken.contains(&(upper, lower)));
        let mechanism = Mechanism::new(&self.instrument()).with_casts(Arc::new(casts));
        match movement {
            None => mechanism.rest(),
            Some(movement) => {
                mechanism.at_from(movement, Station::advanced(advance), &mut LastPairs::default())
            }
        }
    }

    fn mounted(&self) -> Mounted {
        Mounted::new(self.instrument(), Arc::clone(self.casts), self.scene.occlusal_plane)
    }

    /// Pairs within the film that are not taken away.
    fn carrying(&self, placement: &Placement, movement: Movement, taken: &[Pair]) -> Vec<Nearest> {
        let contacts = self.mounted().contacts(movement, placement, self.stretch.film);
        contacts
            .into_iter()
            .map(|one| one.nearest)
            .filter(|nearest| !taken.contains(&pair_of(nearest)))
            .collect()
    }

    /// How deep taken pairs are in each other, the deepest place of each.
    fn depths(&self, placement: &Placement, of: &[Pair]) -> Vec<Nearest> {
        self.casts.vertical_gaps(
            &placement.jaw,
            self.scene.occlusal_plane,
            Arch::Upper,
            Length::ZERO,
            |upper, lower| of.contains(&(upper, lower)),
        )
    }

    /// What comes off in centric, each with what carries then, and where the jaw stands then.
    #[allow(clippy::type_complexity)]
    fn centric(
        &self,
        unreached: &mut Vec<(Option<Movement>, Region)>,
    ) -> Result<(Vec<(Nearest, Length, Vec<Pair>)>, Placement), NoPose> {
        let mut taken: Vec<Pair> = Vec::new();
        let mut placement = self.placed(&taken, None, Length::ZERO)?;
        for _ in 0..ROUNDS {
            let carrying = self.carrying(&placement, Movement::Opening, &taken);
            let on_pin = placement.pin_lift.is_none_or(|lift| lift.mm() <= self.stretch.film.mm());
            let missing = Side::BOTH.into_iter().find(|side| !carrying.iter().any(|one| is_back(one, *side)));
            let done = missing.is_none() && (on_pin || !self.has_pin());
            let stuck = on_pin && self.has_pin() || carrying.is_empty();
            if done || stuck {
                unreached.extend(missing.map(|side| (None, Region::Back(side))));
                break;
            }
            let mut next_taken = taken.clone();
            next_taken.extend(carrying.iter().map(pair_of));
            let next = self.placed(&next_taken, None, Length::ZERO)?;
            if self.depths(&next, &next_taken).iter().any(|one| -one.gap.mm() > MOST_GROUND_MM) {
                unreached.extend(missing.map(|side| (None, Region::Back(side))));
                break;
            }
            (taken, placement) = (next_taken, next);
        }
        let then: Vec<Pair> =
            self.carrying(&placement, Movement::Opening, &taken).iter().map(pair_of).collect();
        let mut off: Vec<_> = self
            .depths(&placement, &taken)
            .into_iter()
            .map(|nearest| (nearest, Length::from_mm(-nearest.gap.mm()), then.clone()))
            .collect();
        off.retain(|(_, amount, _)| amount.mm() > LEAST_MM);
        off.sort_by(|(_, one, _), (_, other, _)| other.mm().total_cmp(&one.mm()));
        Ok((off, placement))
    }

    /// What interferes in an excursion that canines or groups guide.
    fn interferences(
        &self,
        movement: Movement,
        scheme: IntendedScheme,
        away: &mut Vec<Grinding>,
    ) -> Result<(), NoPose> {
        let search = InterferenceSearch { intended: scheme.intended(), ..InterferenceSearch::default() };
        let found = self.mounted().interferences(movement, &search)?.found;
        for one in found {
            let ground = ground(one.kind, Meeting::of(self.casts, &one.nearest), &[]);
            let amount = match ground.arch() {
                Arch::Upper => one.upper_reduction,
                Arch::Lower => one.lower_reduction,
            };
            let all: Vec<Pair> = self.all_but_intended(movement, scheme);
            let placement = self.placed(&all, Some(movement), one.advance)?;
            let then = self.carrying(&placement, movement, &all).iter().map(pair_of).collect();
            let (kind, nearest, advance) = (one.kind, one.nearest, one.advance);
            away.push(Grinding { kind, movement: Some(movement), nearest, advance, ground, amount, then });
        }
        Ok(())
    }

    fn all_but_intended(&self, movement: Movement, scheme: IntendedScheme) -> Vec<Pair> {
        let mut pairs = Vec::new();
        let teeth = |arch| {
            let count = self.casts.surface(arch).triangles().len();
            let mut teeth: Vec<Option<Tooth>> = (0..count).map(|at| self.casts.tooth_of(arch, at)).collect();
            teeth.sort_unstable();
            teeth.dedup();
            teeth
        };
        for upper in teeth(Arch::Upper) {
            for lower in teeth(Arch::Lower) {
                if !scheme.intended().allows(movement, upper, lower) {
                    pairs.push((upper, lower));
                }
            }
        }
        pairs
    }

    /// What carries where balance lacks contact, look by look, until it lacks none.
    fn balance(
        &self,
        movement: Movement,
        taken: &mut Vec<Pair>,
        away: &mut Vec<Grinding>,
        unreached: &mut Vec<(Option<Movement>, Region)>,
    ) -> Result<(), NoPose> {
        let mut advance = self.stretch.from;
        while advance.mm() <= self.stretch.to.mm() + 1e-9 {
            let mut at_look: Vec<Pair> = taken.clone();
            let mut placement = self.placed(&at_look, Some(movement), advance)?;
            let mut reached = true;
            for round in 0..=ROUNDS {
                let carrying = self.carrying(&placement, movement, &at_look);
                let lacking = self.lacking(movement, &placement, &carrying);
                if lacking.is_empty() {
                    break;
                }
                let mut next_taken = at_look.clone();
                next_taken.extend(carrying.iter().map(pair_of));
                let next = self.placed(&next_taken, Some(movement), advance)?;
                let too_much = self.depths(&next, &next_taken[taken.len()..]);
                let too_much = too_much.iter().any(|one| -one.gap.mm() > MOST_GROUND_MM);
                if carrying.is_empty() || too_much || round == ROUNDS {
                    reached = false;
                    let new = lacking.into_iter().map(|region| (Some(movement), region));
                    unreached.extend(new.filter(|one| !unreached.contains(one)).collect::<Vec<_>>());
                    break;
                }
                (at_look, placement) = (next_taken, next);
            }
            if reached {
                let new = &at_look[taken.len()..];
                let then: Vec<Pair> =
                    self.carrying(&placement, movement, &at_look).iter().map(pair_of).collect();
                for nearest in self.depths(&placement, new) {
                    let amount = Length::from_mm(-nearest.gap.mm());
                    if amount.mm() <= LEAST_MM {
                        continue;
                    }
                    let kind = ContactKind::of(movement, &placement, side_of(&nearest));
                    let ground = ground(kind, Meeting::of(self.casts, &nearest), &[]);
                    let then = then.clone();
                    away.push(Grinding {
                        kind,
                        movement: Some(movement),
                        nearest,
                        advance,
                        ground,
                        amount,
                        then,
                    });
                }
                *taken = at_look;
            }
            advance = advance + self.stretch.step;
        }
        Ok(())
    }

    /// Regions that balance wants and that no carrying pair is of.
    fn lacking(&self, movement: Movement, placement: &Placement, carrying: &[Nearest]) -> Vec<Region> {
        let has = |region: &Region| {
            carrying.iter().any(|one| {
                let kind = ContactKind::of(movement, placement, side_of(one));
                match region {
                    Region::Working => kind == ContactKind::Working,
                    Region::Orbiting => kind == ContactKind::Orbiting,
                    Region::Back(side) => is_back(one, *side),
                    // Front teeth of dentures may stand clear; grinding back teeth to reach them is not done.
                    Region::Front => true,
                }
            })
        };
        let wanted = match movement {
            Movement::Protrusive => vec![Region::Back(Side::Right), Region::Back(Side::Left)],
            _ => vec![Region::Working, Region::Orbiting],
        };
        wanted.into_iter().filter(|region| !has(region)).collect()
    }
}

/// Less is not ground: the thinnest film.
const LEAST_MM: f64 = 0.008;

fn side_of(nearest: &Nearest) -> Side {
    let by_place = if nearest.upper.y() < 0.0 { Side::Right } else { Side::Left };
    nearest.upper_tooth.or(nearest.lower_tooth).map_or(by_place, Tooth::side)
}

fn is_back(nearest: &Nearest, side: Side) -> bool {
    let is_back = |tooth: Option<Tooth>| tooth.is_some_and(|tooth| tooth.position() > 3);
    side_of(nearest) == side && (is_back(nearest.upper_tooth) || is_back(nearest.lower_tooth))
}

//! What to grind where cusps are known and casts are not.
//!
//! Cusps do not carry the jaw: condyles and table do. So each is measured for itself, and grinding for one changes no
//! other's clearance.

use super::ground::Ground;
use super::rule::{Meeting, ground};
use super::{Remount, RemountError};
use crate::cusp::{Arch, Cusp, CuspReading, Gauges, OpposingIncline, Tooth};
use crate::excursion::{Mechanism, Movement, NoPose, Placement};
use crate::occlusion::{ContactKind, IntendedScheme};
use crate::scene::Scene;
use crate::units::Length;

/// A cusp in the way.
#[derive(Clone, Debug, PartialEq)]
pub struct CuspGrinding {
    /// The step that it belongs to.
    pub kind: ContactKind,
    /// The excursion; none in centric.
    pub movement: Option<Movement>,
    /// The tooth that carries the cusp.
    pub tooth: Tooth,
    /// The cusp, `36.mesiobuccal`.
    pub cusp: String,
    /// The incline of the opposing teeth that it meets; flat in centric.
    pub incline: OpposingIncline,
    /// Advance at which it is deepest in the way.
    pub advance: Length,
    /// What is ground by the rule, of this tooth or of the one that opposes it; none where the cusp's name does not tell
    /// whether it holds centric.
    pub ground: Option<Ground>,
    /// The least that must come off, along the occlusal plane's normal: the cusp's clearance below zero.
    pub amount: Length,
}

impl Remount {
    /// Cusps of the teeth that processing raised, by their place in the scene, and by how much.
    ///
    /// # Errors
    /// [`RemountError::NoSuchRaised`] for a tooth that has no cusp in the scene.
    pub fn high_cusps(&self, scene: &Scene) -> Result<Vec<(usize, Length)>, RemountError> {
        let mut high = Vec::new();
        for raised in &self.raised {
            let of_tooth = |(_, cusp): &(usize, &Cusp)| cusp.tooth() == raised.tooth;
            let before = high.len();
            let places = scene.cusps.iter().enumerate().filter(of_tooth);
            high.extend(places.map(|(at, _)| (at, raised.by_mm.length())));
            if high.len() == before {
                return Err(RemountError::NoSuchRaised(raised.tooth.number()));
            }
        }
        Ok(high)
    }
}

/// Cusps in the way, in the order of the work: raised ones with the pin on its table (centric), then those of teeth that
/// are not meant to touch and that the scene's excursions ask to pass through what opposes them: working, orbiting, protrusive;
/// within a step the deepest first. Excursions are looked at with the pin on its table and raised teeth ground back.
///
/// In balance all teeth are meant to touch, and only centric is listed: which cusps keep others apart in an excursion
/// is told by casts alone. `high` is [`Remount::high_cusps`].
///
/// # Errors
/// [`NoPose`] where an excursion of the scene cannot be run to its end.
pub fn list(
    scene: &Scene,
    high: &[(usize, Length)],
    scheme: IntendedScheme,
) -> Result<Vec<CuspGrinding>, NoPose> {
    let away = in_excursions(scene, scheme)?;
    let mut found = Vec::new();
    for (at, amount) in high.iter().filter(|(_, amount)| amount.mm() > 0.0) {
        let cusp = &scene.cusps[*at];
        let label = cusp.label();
        let leads: Vec<ContactKind> =
            away.iter().filter(|one| one.cusp == label).map(|one| one.kind).collect();
        found.push(CuspGrinding {
            kind: ContactKind::Centric,
            movement: None,
            tooth: cusp.tooth(),
            cusp: label,
            incline: OpposingIncline::Flat,
            advance: Length::ZERO,
            ground: meeting(cusp).map(|meeting| ground(ContactKind::Centric, meeting, &leads)),
            amount: *amount,
        });
    }
    found.extend(away);
    found.sort_by(|one, other| {
        order(one.kind).cmp(&order(other.kind)).then(other.amount.mm().total_cmp(&one.amount.mm()))
    });
    Ok(found)
}

const fn order(kind: ContactKind) -> u8 {
    match kind {
        ContactKind::Centric => 0,
        ContactKind::Working => 1,
        ContactKind::Orbiting => 2,
        ContactKind::Protrusive => 3,
    }
}

fn in_excursions(scene: &Scene, scheme: IntendedScheme) -> Result<Vec<CuspGrinding>, NoPose> {
    let mechanism = Mechanism::new(&scene.instrument);
    let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
    let mut found: Vec<CuspGrinding> = Vec::new();
    for excursion in &scene.excursions {
        let movement = excursion.movement();
        if movement == Movement::Opening {
            continue;
        }
        let motion = mechanism.motion(excursion, scene.samples);
        if let Some(no_pose) = motion.stopped() {
            return Err(*no_pose);
        }
        for placement in motion.placements() {
            for (cusp, reading) in scene.cusps.iter().zip(gauges.read(&placement.jaw)) {
                let kind = ContactKind::of(movement, placement, cusp.tooth().side());
                let is_away = kind != ContactKind::Centric;
                if is_away && reading.interferes() && !is_meant(movement, cusp.tooth(), scheme) {
                    offer(&mut found, cusp, kind, movement, placement, &reading);
                }
            }
        }
    }
    Ok(found)
}

fn is_meant(movement: Movement, tooth: Tooth, scheme: IntendedScheme) -> bool {
    let (upper, lower) = match tooth.arch() {
        Arch::Upper => (Some(tooth), None),
        Arch::Lower => (None, Some(tooth)),
    };
    scheme.intended().allows(movement, upper, lower)
}

/// Keeps the deepest of a cusp's readings in an excursion.
fn offer(
    found: &mut Vec<CuspGrinding>,
    cusp: &Cusp,
    kind: ContactKind,
    movement: Movement,
    placement: &Placement,
    reading: &CuspReading,
) {
    let (incline, advance) = (reading.incline, placement.advance());
    let amount = Length::from_mm(-reading.clearance.mm());
    let label = cusp.label();
    match found.iter_mut().find(|seen| seen.cusp == label && seen.movement == Some(movement)) {
        Some(seen) if seen.amount.mm() < amount.mm() => {
            (seen.incline, seen.amount, seen.advance) = (incline, amount, advance);
        }
        Some(_) => {}
        None => found.push(CuspGrinding {
            kind,
            movement: Some(movement),
            tooth: cusp.tooth(),
            cusp: label,
            incline,
            advance,
            ground: meeting(cusp).map(|meeting| ground(kind, meeting, &[])),
            amount,
        }),
    }
}

/// Where a cusp meets what opposes it, without crossbite: a lower buccal cusp stands in an upper fossa, an upper palatal
/// one in a lower fossa. Other cusps of back teeth hold no centric, and the rule has no row for their tips.
fn meeting(cusp: &Cusp) -> Option<Meeting> {
    if cusp.tooth().position() <= 3 {
        return Some(Meeting::Front);
    }
    let is_lower = cusp.tooth().arch() == Arch::Lower;
    let holds = if is_lower { "buccal" } else { "palatal" };
    cusp.name().contains(holds).then_some(Meeting::Back { is_buccal: is_lower, in_upper: is_lower })
}

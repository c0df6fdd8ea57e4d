//! Balanced articulation: contact on both sides and in front in every excursion.

use super::answer::Answer;
use super::error::PlanError;
use super::factor::{Factor, FactorChange, Setup, changes, with};
use super::gap::{Contacts, ToothGap, every_gap};
use super::goal::{AngleRange, Balance, Free, Weight};
use super::passage::Role;
use super::proportion::{ProportionRow, rows as proportion_rows};
use super::solve::{self, Solution, Unknown, Want};
use crate::cusp::{Arch, Tooth};
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::units::{Angle, Length};

/// What one factor alone would have to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alone {
    /// The change that comes nearest to balance, with all other factors as they stand.
    pub change: FactorChange,
    /// Whether it balances every tooth asked for.
    pub met: bool,
    /// The greatest gap or interference left at them.
    pub greatest: Length,
}

/// A denture brought to balance, or as near to it as can be.
#[derive(Clone, Debug, PartialEq)]
pub struct Balanced {
    /// As planned.
    pub setup: Setup,
    /// What changes.
    pub changes: Vec<FactorChange>,
    /// Back teeth at which contact was asked for.
    pub teeth: Vec<Tooth>,
    /// Excursions in which it was.
    pub excursions: Vec<Role>,
    /// Condylar advance at which it was, and at which every gap here is read.
    pub advance: Length,
    /// Whether every tooth and excursion asked for is in contact.
    pub met: bool,
    /// The greatest gap or interference left at the teeth and in the excursions asked for.
    pub greatest: Length,
    /// The same as it stood.
    pub greatest_before: Length,
    /// Gaps at every tooth in every excursion; of front teeth in protrusion.
    pub gaps: Vec<ToothGap>,
    /// What each of the five factors alone would have to be; a recorded path's guidance is left out.
    pub alone: Vec<Alone>,
    /// What the rule of proportion says where the condylar or the incisal guidance changes.
    pub proportion: Vec<ProportionRow>,
}

/// Brings a denture to balance.
///
/// The gap at a tooth is its separation less the rise of the opposing facet, the facet being inclined
/// by the cusp inclination and tipped with the compensating curves: `forward·tan(κ + δ)` ahead,
/// `−forward·tan(κ − δ)` back, `outward·tan(κ − τ)` outward, `−outward·tan(κ + τ)` inward, whichever
/// rises more, as in the clearance at a cusp. The front teeth's facets are inclined as the plate.
///
/// Moulds are tried one after the other; the one is taken that balances with the least change, or,
/// where none does, that comes nearest.
///
/// # Errors
/// [`PlanError`] for goals that do not make sense, teeth that do not fit, or an instrument without a
/// pose.
pub fn balance(setup: &Setup, goal: &Balance) -> Result<Balanced, PlanError> {
    let contacts = Contacts::of(setup, goal)?;
    let before = contacts.gaps(setup)?;
    let (planned, found, factors) = planned(setup, goal)?;
    let mut alone = Vec::new();
    for factor in Factor::FIVE {
        let profiled = |side: &Side| matches!(setup.instrument.guide(*side).path, GuidePath::Profile(_));
        if factor == Factor::CondylarGuidance && Side::BOTH.iter().any(profiled) {
            continue;
        }
        // A factor for which the mechanism has no pose nearby cannot be varied.
        if let Ok((own, found)) = one(setup, factor, &contacts) {
            let change = FactorChange { factor, from: setup.get(factor), to: own.get(factor) };
            alone.push(Alone { change, met: found.met, greatest: greatest(&found.measures) });
        }
    }
    Ok(Balanced {
        changes: changes(setup, &planned, &factors),
        met: found.met,
        greatest: greatest(&found.measures),
        greatest_before: greatest(&before),
        gaps: every_gap(&planned, goal.advance)?,
        teeth: contacts.teeth,
        excursions: contacts.roles,
        advance: goal.advance,
        alone,
        proportion: proportion_rows(&planned, goal.advance)?,
        setup: planned,
    })
}

/// The goal's answer, in short.
pub(super) fn balance_only(setup: &Setup, goal: &Balance) -> Result<Answer, PlanError> {
    let (planned, found, factors) = planned(setup, goal)?;
    Ok(Answer {
        changes: changes(setup, &planned, &factors),
        met: found.met,
        greatest: greatest(&found.measures),
    })
}

fn planned(setup: &Setup, goal: &Balance) -> Result<(Setup, Solution, Vec<Factor>), PlanError> {
    goal.check(&setup.instrument)?;
    let usual = [Free::CuspInclination(AngleRange {
        least: Angle::ZERO,
        most: Angle::from_degrees(60.0),
        weight: Weight::ONE,
    })];
    let free: &[Free] = if goal.free.is_empty() { &usual } else { &goal.free };
    let (planned, found) = several(setup, free, &Contacts::of(setup, goal)?)?;
    Ok((planned, found, free.iter().map(Free::factor).collect()))
}

fn greatest(gaps: &[f64]) -> Length {
    Length::from_mm(
        gaps.iter().copied().fold(0.0, |most: f64, gap| if gap.abs() > most.abs() { gap } else { most }),
    )
}

/// One factor within its usual bounds.
pub(super) fn one(
    setup: &Setup,
    factor: Factor,
    contacts: &Contacts,
) -> Result<(Setup, Solution), PlanError> {
    let (least, most) = factor.usual_bounds();
    let home = setup.get(factor).degrees();
    let unknown = Unknown { home, least, most, weight: 1.0 };
    search(setup, &[factor], &[unknown], contacts)
}

/// Several factors; of moulds the best.
fn several(setup: &Setup, free: &[Free], contacts: &Contacts) -> Result<(Setup, Solution), PlanError> {
    let factors: Vec<Factor> = free.iter().map(Free::factor).collect();
    let unknowns: Vec<Unknown> = free.iter().map(|own| own.unknown(setup.get(own.factor()))).collect();
    let moulds = free.iter().enumerate().find_map(|(index, own)| match own {
        Free::CuspMould(moulds) => Some((index, moulds)),
        _ => None,
    });
    let Some((index, moulds)) = moulds else { return search(setup, &factors, &unknowns, contacts) };
    let mut best: Option<(bool, f64, (Setup, Solution))> = None;
    let mut failed = None;
    for &mould in &moulds.inclinations_deg {
        let mut unknowns = unknowns.clone();
        (unknowns[index].least, unknowns[index].most) = (mould, mould);
        let (planned, found) = match search(setup, &factors, &unknowns, contacts) {
            Ok(found) => found,
            Err(error) => {
                failed = Some(error);
                continue;
            }
        };
        let change = |(at, own): (&f64, &Unknown)| ((at - own.home) * own.weight).powi(2);
        let cost = if found.met {
            found.at.iter().zip(&unknowns).map(change).sum()
        } else {
            found.measures.iter().map(|gap| gap * gap).sum::<f64>()
        };
        let better = best
            .as_ref()
            .is_none_or(|(met, least, _)| (found.met && !met) || (found.met == *met && cost < *least));
        if better {
            best = Some((found.met, cost, (planned, found)));
        }
    }
    match (best, failed) {
        (Some((_, _, best)), _) => Ok(best),
        (None, Some(error)) => Err(error),
        (None, None) => search(setup, &factors, &unknowns, contacts),
    }
}

fn search(
    setup: &Setup,
    factors: &[Factor],
    unknowns: &[Unknown],
    contacts: &Contacts,
) -> Result<(Setup, Solution), PlanError> {
    let measure = |at: &[f64]| contacts.gaps(&with(setup, factors, at));
    let wants = vec![Want::Zero; contacts.gaps(setup)?.len()];
    let found = solve::solve(&measure, &wants, unknowns)?;
    Ok((with(setup, factors, &found.at), found))
}

impl Balanced {
    /// The greatest gap or interference at any tooth in any excursion, asked for or not.
    #[must_use]
    pub fn greatest_of_all(&self) -> Option<&ToothGap> {
        self.gaps.iter().max_by(|one, other| one.gap.mm().abs().total_cmp(&other.gap.mm().abs()))
    }

    /// The gaps of one arch in one excursion, front to back on each side.
    pub fn gaps_of(&self, arch: Arch, role: Role) -> impl Iterator<Item = &ToothGap> {
        self.gaps.iter().filter(move |own| own.tooth.arch() == arch && own.role == role)
    }
}

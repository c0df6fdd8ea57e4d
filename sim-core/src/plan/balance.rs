//! Balanced articulation: contact on both sides and in front in every excursion.

use super::arch::{Spots, ToothPlace};
use super::error::PlanError;
use super::factor::{Factor, FactorChange, Setup, changes};
use super::goal::{AngleRange, Balance, Free, Weight};
use super::proportion::{ProportionRow, rows as proportion_rows};
use super::solve::{self, Found, Unknown, Want};
use super::way::{Course, Role, Way, moved};
use super::what_if::Answer;
use crate::cusp::{Arch, Tooth};
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::units::{Angle, Length};

/// Which way a facet turns is not asked of a part of the way less than this, in millimetres.
const NO_PART_MM: f64 = 1e-9;

/// The gap at a tooth in an excursion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothGap {
    /// The tooth.
    pub tooth: Tooth,
    /// What the excursion is to it.
    pub role: Role,
    /// How far the opposing facet stands off along the occlusal plane's normal; below zero it is in
    /// the way.
    pub gap: Length,
}

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
    /// Whether every tooth and excursion asked for is in contact.
    pub met: bool,
    /// The greatest gap or interference left at them.
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
    let asked = Asked::of(setup, goal)?;
    let before = asked.gaps(setup)?;
    let (planned, found, factors) = planned(setup, goal)?;
    let mut alone = Vec::new();
    for factor in Factor::FIVE {
        let profiled = |side: &Side| matches!(setup.instrument.guide(*side).path, GuidePath::Profile(_));
        if factor == Factor::CondylarGuidance && Side::BOTH.iter().any(profiled) {
            continue;
        }
        // A factor for which the mechanism has no pose nearby cannot be asked.
        if let Ok((own, found)) = one(setup, factor, &asked) {
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

fn planned(setup: &Setup, goal: &Balance) -> Result<(Setup, Found, Vec<Factor>), PlanError> {
    goal.check(&setup.instrument)?;
    let usual = [Free::CuspInclination(AngleRange {
        least: Angle::ZERO,
        most: Angle::from_degrees(60.0),
        weight: Weight::ONE,
    })];
    let free: &[Free] = if goal.free.is_empty() { &usual } else { &goal.free };
    let (planned, found) = several(setup, free, &Asked::of(setup, goal)?)?;
    Ok((planned, found, free.iter().map(Free::factor).collect()))
}

/// Where contact is asked.
pub(super) struct Asked {
    pub(super) teeth: Vec<Tooth>,
    pub(super) roles: Vec<Role>,
    pub(super) advance: Length,
    pub(super) spots: Spots,
}

impl Asked {
    fn of(setup: &Setup, goal: &Balance) -> Result<Self, PlanError> {
        let lower_back = || {
            [34, 35, 36, 37, 44, 45, 46, 47]
                .into_iter()
                .filter_map(|number| Tooth::new(number).ok())
                .collect()
        };
        Ok(Self {
            teeth: if goal.teeth.is_empty() { lower_back() } else { goal.teeth.clone() },
            roles: if goal.excursions.is_empty() { Role::ALL.to_vec() } else { goal.excursions.clone() },
            advance: goal.advance,
            spots: setup.arch.spots()?,
        })
    }

    /// The gaps asked for, in millimetres.
    pub(super) fn gaps(&self, setup: &Setup) -> Result<Vec<f64>, PlanError> {
        let course = Course::new(&setup.instrument)?;
        let places = self.spots.teeth(&setup.arch, &setup.instrument, setup.plane)?;
        let mut gaps = Vec::with_capacity(self.teeth.len() * self.roles.len());
        for tooth in &self.teeth {
            let Some(place) = places.iter().find(|place| place.tooth == *tooth) else { continue };
            for role in &self.roles {
                gaps.push(gap(setup, &course, place, *role, self.advance)?);
            }
        }
        Ok(gaps)
    }
}

fn greatest(gaps: &[f64]) -> Length {
    Length::from_mm(
        gaps.iter().copied().fold(0.0, |most: f64, gap| if gap.abs() > most.abs() { gap } else { most }),
    )
}

/// One factor within its usual bounds.
pub(super) fn one(setup: &Setup, factor: Factor, asked: &Asked) -> Result<(Setup, Found), PlanError> {
    let (least, most) = factor.usual_bounds();
    let home = setup.get(factor).degrees();
    let unknown = Unknown { home, least, most, weight: 1.0 };
    search(setup, &[factor], &[unknown], asked)
}

/// Several factors; of moulds the best.
fn several(setup: &Setup, free: &[Free], asked: &Asked) -> Result<(Setup, Found), PlanError> {
    let factors: Vec<Factor> = free.iter().map(Free::factor).collect();
    let unknowns: Vec<Unknown> = free.iter().map(|own| own.unknown(setup.get(own.factor()))).collect();
    let moulds = free.iter().enumerate().find_map(|(index, own)| match own {
        Free::CuspMould(moulds) => Some((index, moulds)),
        _ => None,
    });
    let Some((index, moulds)) = moulds else { return search(setup, &factors, &unknowns, asked) };
    let mut best: Option<(bool, f64, (Setup, Found))> = None;
    let mut failed = None;
    for &mould in &moulds.inclinations_deg {
        let mut unknowns = unknowns.clone();
        (unknowns[index].least, unknowns[index].most) = (mould, mould);
        let (planned, found) = match search(setup, &factors, &unknowns, asked) {
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
        (None, None) => search(setup, &factors, &unknowns, asked),
    }
}

fn search(
    setup: &Setup,
    factors: &[Factor],
    unknowns: &[Unknown],
    asked: &Asked,
) -> Result<(Setup, Found), PlanError> {
    let measure = |at: &[f64]| asked.gaps(&with(setup, factors, at));
    let wants = vec![Want::Zero; asked.gaps(setup)?.len()];
    let found = solve::solve(&measure, &wants, unknowns)?;
    Ok((with(setup, factors, &found.at), found))
}

/// A set-up with factors set, in degrees.
pub(super) fn with(setup: &Setup, factors: &[Factor], at: &[f64]) -> Setup {
    let mut own = setup.clone();
    for (factor, degrees) in factors.iter().zip(at) {
        own.set(*factor, Angle::from_degrees(*degrees));
    }
    own
}

/// Gaps at every tooth of a set-up; front teeth have theirs in protrusion, since to the sides the
/// guide's wings are their facets.
///
/// # Errors
/// As [`balance`].
pub fn every_gap(setup: &Setup, advance: Length) -> Result<Vec<ToothGap>, PlanError> {
    let course = Course::new(&setup.instrument)?;
    let mut gaps = Vec::new();
    for place in setup.arch.teeth(&setup.instrument, setup.plane)? {
        for role in Role::ALL {
            if place.is_front() && role != Role::Protrusive {
                continue;
            }
            let gap = gap(setup, &course, &place, role, advance)?;
            gaps.push(ToothGap { tooth: place.tooth, role, gap: Length::from_mm(gap) });
        }
    }
    Ok(gaps)
}

fn gap(
    setup: &Setup,
    course: &Course,
    place: &ToothPlace,
    role: Role,
    advance: Length,
) -> Result<f64, PlanError> {
    let since_rest = course.since_rest(role.movement(place.side()), advance)?;
    let way = Way::of(&moved(&since_rest, place.tooth, &place.at), setup.plane, place.side());
    let plate = setup.get(Factor::IncisalGuidance);
    let (cusp, curve, across) = if place.is_front() {
        (plate - setup.plane.inclination, Angle::ZERO, Angle::ZERO)
    } else {
        (setup.cusp_inclination, place.sagittal_tilt, place.transverse_tilt)
    };
    let sagittal =
        way.forward.abs() * if way.forward >= 0.0 { (cusp + curve).tan() } else { (cusp - curve).tan() };
    let transverse =
        way.outward.abs() * if way.outward >= 0.0 { (cusp - across).tan() } else { (cusp + across).tan() };
    let rise = match (way.forward.abs() > NO_PART_MM, way.outward.abs() > NO_PART_MM) {
        (_, false) => sagittal,
        (false, true) => transverse,
        (true, true) => sagittal.max(transverse),
    };
    Ok(way.fall - rise)
}

impl Balanced {
    /// The gaps of one arch in one excursion, front to back on each side.
    pub fn gaps_of(&self, arch: Arch, role: Role) -> impl Iterator<Item = &ToothGap> {
        self.gaps.iter().filter(move |own| own.tooth.arch() == arch && own.role == role)
    }
}

//! How far the opposing facets stand off at the teeth.

use super::arch::{Spots, ToothPlace};
use super::error::PlanError;
use super::factor::{Factor, Setup};
use super::goal::Balance;
use super::passage::{FromRest, Passage, Role, moved};
use crate::cusp::Tooth;
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

/// Where contact is wanted.
pub(super) struct Contacts {
    pub(super) teeth: Vec<Tooth>,
    pub(super) roles: Vec<Role>,
    pub(super) advance: Length,
    pub(super) spots: Spots,
}

impl Contacts {
    pub(super) fn of(setup: &Setup, goal: &Balance) -> Result<Self, PlanError> {
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
        let from_rest = FromRest::new(&setup.instrument)?;
        let places = self.spots.teeth(&setup.arch, &setup.instrument, setup.plane)?;
        let mut gaps = Vec::with_capacity(self.teeth.len() * self.roles.len());
        for tooth in &self.teeth {
            let Some(place) = places.iter().find(|place| place.tooth == *tooth) else { continue };
            for role in &self.roles {
                gaps.push(gap(setup, &from_rest, place, *role, self.advance)?);
            }
        }
        Ok(gaps)
    }
}

/// Gaps at every tooth of a set-up; front teeth have theirs in protrusion, since to the sides the
/// guide's wings are their facets.
///
/// # Errors
/// As [`super::balance`].
pub(crate) fn every_gap(setup: &Setup, advance: Length) -> Result<Vec<ToothGap>, PlanError> {
    let from_rest = FromRest::new(&setup.instrument)?;
    let mut gaps = Vec::new();
    for place in setup.arch.teeth(&setup.instrument, setup.plane)? {
        for role in Role::ALL {
            if place.is_front() && role != Role::Protrusive {
                continue;
            }
            let gap = gap(setup, &from_rest, &place, role, advance)?;
            gaps.push(ToothGap { tooth: place.tooth, role, gap: Length::from_mm(gap) });
        }
    }
    Ok(gaps)
}

fn gap(
    setup: &Setup,
    from_rest: &FromRest,
    place: &ToothPlace,
    role: Role,
    advance: Length,
) -> Result<f64, PlanError> {
    let since_rest = from_rest.since_rest(role.movement(place.side()), advance)?;
    let passage = Passage::of(&moved(&since_rest, place.tooth, &place.at), setup.plane, place.side());
    let plate = setup.get(Factor::IncisalGuidance);
    let (cusp, curve, across) = if place.is_front() {
        (plate - setup.plane.inclination, Angle::ZERO, Angle::ZERO)
    } else {
        (setup.cusp_inclination, place.sagittal_tilt, place.transverse_tilt)
    };
    let sagittal = passage.forward.abs()
        * if passage.forward >= 0.0 { (cusp + curve).tan() } else { (cusp - curve).tan() };
    let transverse = passage.outward.abs()
        * if passage.outward >= 0.0 { (cusp - across).tan() } else { (cusp + across).tan() };
    let rise = match (passage.forward.abs() > NO_PART_MM, passage.outward.abs() > NO_PART_MM) {
        (_, false) => sagittal,
        (false, true) => transverse,
        (true, true) => sagittal.max(transverse),
    };
    Ok(passage.fall - rise)
}

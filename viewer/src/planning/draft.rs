//! The goal being set.

use serde::Serialize;
use sim_core::cusp::{Cusp, Tooth};
use sim_core::plan::{
    AngleRange, Balance, Clearances, CurveRange, Factor, Free, Goal, Meeting, Moulds, Plan, Role, Wanted,
    Weight,
};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

/// Clearance and advance that a goal begins with: round numbers, to be changed.
const FIRST_CLEARANCE: Length = Length::from_mm(1.0);
const FIRST_ADVANCE: Length = Length::from_mm(3.0);
/// The position of first molars.
const FIRST_MOLAR: u8 = 6;
/// Inclinations of moulds to begin with: flat, shallow, semi-anatomic and anatomic teeth (common
/// practice, no source).
const FIRST_MOULDS_DEG: [f64; 4] = [0.0, 10.0, 20.0, 30.0];

/// What kind of goal it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum GoalKind {
    /// None: inclines alone are shown.
    None,
    /// Clearances wanted.
    Disclusion,
    /// Balanced articulation.
    Balance,
}

impl GoalKind {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::None, Self::Disclusion, Self::Balance];

    /// The word on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Disclusion => "disclusion",
            Self::Balance => "balance",
        }
    }
}

/// A plan whose goal is being set. The goal that is not chosen is kept beside.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The goal chosen.
    pub kind: GoalKind,
    /// Clearances wanted.
    pub clearances: Clearances,
    /// Balanced articulation.
    pub balance: Balance,
    /// All of the plan but its goal.
    beside: Plan,
}

impl Draft {
    /// The goal of a scene's plan; where it has none, goals to begin with, none chosen.
    #[must_use]
    pub fn of(scene: &Scene) -> Self {
        let beside = Plan { goal: None, ..scene.plan.clone().unwrap_or_default() };
        let mut draft = Self {
            kind: GoalKind::None,
            clearances: first_clearances(&scene.cusps),
            balance: Balance::usual(),
            beside,
        };
        match scene.plan.as_ref().and_then(|plan| plan.goal.clone()) {
            None => {}
            Some(Goal::Disclusion(goal)) => {
                (draft.kind, draft.clearances) = (GoalKind::Disclusion, goal);
            }
            Some(Goal::BalancedArticulation(goal)) => {
                (draft.kind, draft.balance) = (GoalKind::Balance, goal);
            }
        }
        draft
    }

    /// The plan.
    #[must_use]
    pub fn plan(&self) -> Plan {
        let goal = match self.kind {
            GoalKind::None => None,
            GoalKind::Disclusion => Some(Goal::Disclusion(self.clearances.clone())),
            GoalKind::Balance => Some(Goal::BalancedArticulation(self.balance.clone())),
        };
        Plan { goal, ..self.beside.clone() }
    }

    /// What may be changed for the goal chosen.
    pub fn free(&mut self) -> Option<&mut Vec<Free>> {
        match self.kind {
            GoalKind::None => None,
            GoalKind::Disclusion => Some(&mut self.clearances.free),
            GoalKind::Balance => Some(&mut self.balance.free),
        }
    }

    /// Takes over the arch and the cusp inclination of a plan: they are settings of the teeth, not
    /// something wanted.
    pub fn take_teeth_of(&mut self, plan: &Plan) {
        self.beside.arch = plan.arch;
        if let Some(Goal::BalancedArticulation(goal)) = &plan.goal {
            self.balance.cusp_inclination = goal.cusp_inclination;
        }
    }
}

/// Clearance in protrusion at the first molars that a scene watches, or at its first cusp.
fn first_clearances(cusps: &[Cusp]) -> Clearances {
    let mut teeth: Vec<_> =
        cusps.iter().map(Cusp::tooth).filter(|tooth| tooth.position() == FIRST_MOLAR).collect();
    teeth.sort_by_key(|tooth| tooth.number());
    teeth.dedup();
    if teeth.is_empty() {
        teeth.extend(cusps.first().map(Cusp::tooth));
    }
    Clearances {
        clearances: teeth.into_iter().map(first_wanted).collect(),
        by: Meeting::AtLeast,
        free: Vec::new(),
    }
}

/// A clearance to begin with: in protrusion, at all cusps of a tooth.
#[must_use]
pub const fn first_wanted(tooth: Tooth) -> Wanted {
    Wanted {
        tooth,
        name: None,
        excursion: Role::Protrusive,
        advance: FIRST_ADVANCE,
        clearance: FIRST_CLEARANCE,
    }
}

/// A factor made free, in the bounds that it has where a goal names none; cusp inclination from moulds
/// where that is wanted.
#[must_use]
pub fn first_bounds(factor: Factor, of_moulds: bool) -> Option<Free> {
    let range =
        |most: f64| AngleRange { least: Angle::ZERO, most: Angle::from_degrees(most), weight: Weight::ONE };
    Some(match factor {
        Factor::CondylarGuidance => Free::CondylarGuidance(range(60.0)),
        Factor::IncisalGuidance => Free::IncisalGuidance(range(60.0)),
        Factor::LateralIncisalGuidance => Free::LateralIncisalGuidance(range(45.0)),
        Factor::RightLateralIncisalGuidance => Free::RightLateralIncisalGuidance(range(45.0)),
        Factor::LeftLateralIncisalGuidance => Free::LeftLateralIncisalGuidance(range(45.0)),
        Factor::OcclusalPlane => Free::OcclusalPlane(range(20.0)),
        Factor::CompensatingCurve => {
            Free::CompensatingCurve(CurveRange { least_radius: Length::from_mm(60.0), weight: Weight::ONE })
        }
        Factor::CuspInclination if of_moulds => {
            Free::CuspMould(Moulds { inclinations_deg: FIRST_MOULDS_DEG.to_vec(), weight: Weight::ONE })
        }
        Factor::CuspInclination => Free::CuspInclination(range(60.0)),
        // No goal may change it.
        Factor::LateralCondylarAngle => return None,
    })
}

//! The answer to a plan's goal, and what it changes.

use sim_core::plan::{Factor, FactorChange};
use sim_core::scene::GoalAnswer;
use sim_core::units::Length;

use crate::name::{cusp_of, role};
use crate::number::{angle, change as signed, length};

/// Whether the goal is reached, in a sentence or two.
#[must_use]
pub fn answer(answer: &GoalAnswer) -> String {
    match answer {
        GoalAnswer::Balanced(result) if result.met => {
            "Balanced: every tooth and excursion asked for is in contact.".to_owned()
        }
        GoalAnswer::Balanced(result) => not_balanced(result.greatest, result.greatest_before),
        GoalAnswer::Disclosed(result) => match result.in_the_way.map(|index| &result.reached[index]) {
            None => "Reached: every cusp has the clearance wanted.".to_owned(),
            Some(cusp) => format!(
                "NOT REACHED: no setting within the bounds gives every clearance wanted. {}, {}, stands in the \
                 way: {} are wanted, {} are reached, and at most {} could be. The nearest is told.",
                cusp_of(cusp.tooth, &cusp.name),
                role(cusp.role),
                length(cusp.wanted, 2),
                length(cusp.reached, 2),
                length(cusp.reach.1, 2),
            ),
        },
    }
}

fn not_balanced(greatest: Length, before: Length) -> String {
    format!(
        "NOT BALANCED exactly: no setting within the bounds brings every tooth and excursion asked for into \
         contact. The nearest leaves at most {} (below zero an interference); as it stands it is {}.",
        length(greatest, 2),
        length(before, 2),
    )
}

/// A change of a factor; of a curve also its radius: `compensating curve from 0.00° to 5.00° (+5.00°, radius
/// 344 mm)`.
#[must_use]
pub fn change(change: &FactorChange) -> String {
    let radius = radius(change).map_or_else(String::new, |words| format!(", {words}"));
    format!(
        "{} from {} to {} ({}°{radius})",
        change.factor.label(),
        angle(change.from, 2),
        angle(change.to, 2),
        signed((change.to - change.from).degrees(), 2),
    )
}

/// The radius of a planned curve, `radius 344 mm` or `flat`; none for another factor.
#[must_use]
pub fn radius(change: &FactorChange) -> Option<String> {
    (change.factor == Factor::CompensatingCurve).then(|| {
        change.radius().map_or_else(|| "flat".to_owned(), |radius| format!("radius {}", length(radius, 0)))
    })
}

#[cfg(test)]
mod tests {
    use sim_core::plan::Goal;
    use sim_core::scene::Scene;
    use sim_core::units::Angle;

    use super::*;

    /// The answer to the goal of a scene that asks for clearances, with one of them replaced.
    fn disclosed(clearance_mm: f64) -> GoalAnswer {
        let scene = Scene::from_ron(include_str!("../../../scenes/planned_disclusion.ron")).expect("a scene");
        let mut plan = scene.plan.clone().expect("a plan");
        if let Some(Goal::Disclusion(goal)) = &mut plan.goal {
            goal.clearances[0].clearance = Length::from_mm(clearance_mm);
        }
        GoalAnswer::of(&scene, &plan).expect("a sound goal").expect("a goal")
    }

    /// The answer to a goal of balance with the given bounds.
    fn balanced(met: bool) -> GoalAnswer {
        let scene = Scene::from_ron(include_str!("../../../scenes/balanced_denture.ron")).expect("a scene");
        let plan = scene.plan.clone().expect("a plan");
        let answer = GoalAnswer::of(&scene, &plan).expect("a sound goal").expect("a goal");
        let GoalAnswer::Balanced(mut result) = answer else { panic!("a goal of balance") };
        (result.met, result.greatest, result.greatest_before) =
            (met, Length::from_mm(-0.126), Length::from_mm(1.5));
        GoalAnswer::Balanced(result)
    }

    #[test]
    fn every_answer_says_whether_the_goal_is_reached() {
        for one in [balanced(true), balanced(false), disclosed(0.0), disclosed(9.0)] {
            let (start, end) = match &one {
                GoalAnswer::Balanced(result) if result.met => ("Balanced: every tooth", "in contact."),
                GoalAnswer::Balanced(_) => (
                    "NOT BALANCED exactly",
                    "leaves at most −0.13 mm (below zero an interference); as it stands it is 1.50 mm.",
                ),
                GoalAnswer::Disclosed(result) if result.met => {
                    ("Reached: every cusp", "the clearance wanted.")
                }
                GoalAnswer::Disclosed(_) => ("NOT REACHED: no setting", "The nearest is told."),
            };
            let said = answer(&one);
            assert!(said.starts_with(start) && said.ends_with(end), "{said}");
        }
        let lacking = answer(&disclosed(9.0));
        assert!(
            lacking.contains(" 36 mesiobuccal, ") && lacking.contains(": 9.00 mm are wanted, "),
            "{lacking}"
        );
    }

    fn from(factor: Factor, from: f64, to: f64) -> FactorChange {
        FactorChange { factor, from: Angle::from_degrees(from), to: Angle::from_degrees(to) }
    }

    #[test]
    fn a_change_has_its_sign_and_a_curve_its_radius() {
        let said = |factor, one, other| change(&from(factor, one, other));
        assert_eq!(
            said(Factor::CondylarGuidance, 30.0, 25.5),
            "condylar guidance from 30.00° to 25.50° (−4.50°)"
        );
        assert_eq!(
            said(Factor::OcclusalPlane, -1.0, -0.999),
            "plane of occlusion from −1.00° to −1.00° (0.00°)"
        );
        assert_eq!(
            said(Factor::CompensatingCurve, 0.0, 30.0),
            "compensating curve from 0.00° to 30.00° (+30.00°, radius 60 mm)"
        );
        assert_eq!(
            said(Factor::CompensatingCurve, 5.0, 0.0),
            "compensating curve from 5.00° to 0.00° (−5.00°, flat)"
        );
        assert_eq!(radius(&from(Factor::CuspInclination, 0.0, 30.0)), None);
    }
}

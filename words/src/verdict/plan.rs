//! The answer to a plan's goal, and what it changes.

use sim_core::cusp::Tooth;
use sim_core::frame::Side;
use sim_core::plan::{Balanced, Factor, FactorChange, MUCH_STEEPER, Role, SteepGuidance};
use sim_core::scene::GoalAnswer;

use crate::name::{cusp_of, role};
use crate::number::{angle, change as signed, length};

/// Whether the goal is reached, in a sentence or two.
#[must_use]
pub fn answer(answer: &GoalAnswer) -> String {
    match answer {
        GoalAnswer::Balanced(result) => balance(result),
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

/// Gaps that differ by less than half a digit shown are told as one, in millimetres.
const SAME_MM: f64 = 5e-3;

fn balance(result: &Balanced) -> String {
    let asked = asked(result);
    let verdict = if result.met {
        format!("Balanced: every tooth and excursion asked for is in contact ({asked}).")
    } else {
        format!(
            "NOT BALANCED exactly: no setting within the bounds brings every tooth and excursion asked for into \
             contact. At those ({asked}) the nearest leaves at most {} (below zero an interference); as it stands \
             it is {}.",
            length(result.greatest, 2),
            length(result.greatest_before, 2),
        )
    };
    let Some(most) = result.greatest_of_all() else { return verdict };
    let as_far = result
        .gaps
        .iter()
        .filter(|gap| gap.role == most.role && (gap.gap - most.gap).mm().abs() < SAME_MM)
        .map(|gap| gap.tooth);
    let as_far: Vec<Tooth> = as_far.collect();
    format!(
        "{verdict} Of all teeth shown, asked for or not, the greatest is {} at {} ({}).",
        length(most.gap, 2),
        teeth(&as_far),
        role(most.role),
    )
}

/// What a balance was asked for: `34 to 37 and 44 to 47, every excursion, at 3.00 mm of advance`.
fn asked(result: &Balanced) -> String {
    let roles = if Role::ALL.iter().all(|role| result.excursions.contains(role)) {
        "every excursion".to_owned()
    } else {
        result.excursions.iter().map(|own| role(*own)).collect::<Vec<_>>().join(" and ")
    };
    format!("{}, {roles}, at {} of advance", teeth(&result.teeth), length(result.advance, 2))
}

/// Teeth by number, neighbours in a row as a range: `36`, `13 and 23`, `34 to 37 and 44 to 47`.
fn teeth(some: &[Tooth]) -> String {
    let mut numbers: Vec<u8> = some.iter().map(|tooth| tooth.number()).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let runs = numbers.chunk_by(|one, next| one + 1 == *next).map(|run| match run {
        [one] => one.to_string(),
        [one, other] => format!("{one} and {other}"),
        [first, .., last] => format!("{first} to {last}"),
        [] => String::new(),
    });
    let runs: Vec<String> = runs.collect();
    match runs.as_slice() {
        [] => "no teeth".to_owned(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// What is to be kept in mind of a guidance in front that is much steeper than the condylar path.
#[must_use]
pub fn steep_guidance(steep: &SteepGuidance) -> String {
    let of_side = match steep.flatter {
        None => "",
        Some(Side::Right) => " of the right side",
        Some(Side::Left) => " of the left side",
    };
    format!(
        "CAUTION: the incisal guidance as planned, {}, is {} steeper than the condylar path{of_side}, {}. Guidance \
         steeper by more than {} is commonly thought to load front teeth and joints ({STEEP_SOURCE}). Weigh it \
         against less clearance or flatter cusps before any tooth is shaped to it.",
        angle(steep.incisal, 2),
        angle(steep.by(), 2),
        angle(steep.condylar, 2),
        angle(MUCH_STEEPER, 0),
    )
}

/// Whence the caution of a steep guidance comes.
pub const STEEP_SOURCE: &str = "common practice, no source";

/// The rule of proportion, and whence it comes.
pub const RULE_OF_PROPORTION: &str = "The rule keeps condylar times incisal guidance, over plane, curve and cusp, \
    what it was (Thielemann's formula, as given in Christensen FT, J Prosthet Dent 1960;10:637: \
    K = I·C/(OK·op·ok) in his letters, empirical by his own word)";

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
    use sim_core::units::{Angle, Length};

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
                GoalAnswer::Balanced(result) if result.met => ("Balanced: every tooth", "(protrusive)."),
                GoalAnswer::Balanced(_) => ("NOT BALANCED exactly", "(protrusive)."),
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

    #[test]
    fn at_most_names_its_teeth_and_the_greatest_of_all_is_told_beside_it() {
        let answered = balanced(false);
        let said = answer(&answered);
        for words in [
            "At those (34 to 37 and 44 to 47, every excursion, at 3.00 mm of advance) the nearest leaves at most \
             −0.13 mm (below zero an interference); as it stands it is 1.50 mm.",
            // As the table of this scene shows at the canines, at which nothing was asked.
            "Of all teeth shown, asked for or not, the greatest is 0.22 mm at 13 and 23 (protrusive).",
        ] {
            assert!(said.contains(words), "{words}: {said}");
        }
        let GoalAnswer::Balanced(mut result) = answered else { panic!("a goal of balance") };
        assert!(result.gaps.iter().all(|gap| gap.gap.mm().abs() < 0.225), "no gap shown is greater");
        (result.teeth, result.excursions) = (vec![Tooth::new(46).unwrap()], vec![Role::Working]);
        let said = answer(&GoalAnswer::Balanced(result));
        assert!(said.contains("(46, working, at 3.00 mm of advance)"), "{said}");
    }

    #[test]
    fn teeth_in_a_row_are_a_range() {
        let said = |numbers: &[i64]| {
            teeth(&numbers.iter().map(|number| Tooth::new(*number).unwrap()).collect::<Vec<_>>())
        };
        assert_eq!(said(&[]), "no teeth");
        assert_eq!(said(&[36]), "36");
        assert_eq!(said(&[23, 13]), "13 and 23");
        assert_eq!(said(&[34, 35, 36, 37, 44, 45, 46, 47]), "34 to 37 and 44 to 47");
        assert_eq!(said(&[14, 34, 35, 36, 46]), "14, 34 to 36 and 46");
    }

    #[test]
    fn a_steep_guidance_is_told_with_its_numbers_and_source() {
        let GoalAnswer::Disclosed(result) = disclosed(1.1) else { panic!("a goal of disclusion") };
        let over = Length::from_mm(3.0);
        let mut steep = SteepGuidance::of(&result.instrument, over).unwrap().expect("53° over 36°");
        let said = steep_guidance(&steep);
        assert!(
            said.starts_with(
                "CAUTION: the incisal guidance as planned, 53.23°, is 17.23° steeper than the condylar path, 36.00°."
            ) && said.contains("common practice, no source"),
            "{said}"
        );
        steep.flatter = Some(Side::Left);
        assert!(steep_guidance(&steep).contains("condylar path of the left side, 36.00°"));
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

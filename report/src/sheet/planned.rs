//! The plan in short: what is reached, what changes, which inclines the answer leans on.

use sim_core::plan::{Goal, Role};
use sim_core::scene::Scene;
use words::number::two_decimals;

use super::printable::{LONGEST_DOUBT, printable};
use crate::planned::Planned;

const LONGEST_LINE: usize = 330;
/// The tooth whose inclines stand on the sheet.
const SHOWN_MOLAR: u8 = 36;

/// The plan of a scene, in sentences; empty where there is none.
pub(super) fn lines(scene: &Scene) -> Vec<String> {
    let Some(plan) = scene.plan.as_ref() else { return Vec::new() };
    let planned = match Planned::of(scene, plan) {
        Ok(planned) => planned,
        Err(error) => return vec![printable(&format!("No plan: {error}."), LONGEST_DOUBT)],
    };
    let molar = planned.teeth.iter().find(|tooth| tooth.place.tooth.number() == SHOWN_MOLAR);
    let inclines = molar.map(|tooth| {
        let of = |role| two_decimals(tooth.glide(role).tangent.along_way.degrees());
        format!(
            "Inclines needed at {SHOWN_MOLAR} to glide in contact: protrusive {}°, working {}°, orbiting {}° to the \
             occlusal plane.",
            of(Role::Protrusive),
            of(Role::Working),
            of(Role::Orbiting),
        )
    });
    let changes = match planned.change_words() {
        all if all.is_empty() => planned.answer.is_some().then(|| "Nothing changes.".to_owned()),
        all => Some(format!("Changes: {}.", all.join("; "))),
    };
    let wanted = plan.goal.as_ref().map(wanted);
    let all = wanted.into_iter().chain(planned.verdict()).chain(changes).chain(inclines);
    all.map(|line| printable(&line, LONGEST_LINE)).collect()
}

/// What the plan is to reach.
fn wanted(goal: &Goal) -> String {
    match goal {
        Goal::BalancedArticulation(goal) => format!(
            "Wanted: balanced articulation, of teeth with a cusp inclination of {}°.",
            two_decimals(goal.cusp_inclination.degrees())
        ),
        Goal::Disclusion(goal) => {
            let clearances = goal.clearances.iter().map(|target| {
                let cusp = target.name.as_deref().map(|name| format!(" {name}")).unwrap_or_default();
                let (clearance, advance) = (target.clearance.mm(), target.advance.mm());
                format!(
                    "{}{cusp} {} {} mm after {} mm",
                    target.tooth,
                    target.excursion.name(),
                    two_decimals(clearance),
                    two_decimals(advance)
                )
            });
            format!("Clearance wanted: {}.", clearances.collect::<Vec<_>>().join("; "))
        }
    }
}

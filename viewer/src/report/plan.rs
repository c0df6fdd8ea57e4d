//! What the report says of the plan.

use serde::Serialize;

use crate::page::Page;
use crate::planning::GoalKind;
use crate::state::State;

/// The goal and its answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct PlanLine {
    goal: GoalKind,
    /// Whether the answer is that to the goal and the settings as they are.
    is_new: bool,
    /// The verdict, or why there is none.
    verdict: Option<String>,
    met: Option<bool>,
    /// What is to be kept in mind of a steep guidance.
    caution: Option<String>,
    changes: Vec<String>,
    /// Plans applied that can be taken back.
    applied: usize,
}

pub(super) fn line(state: &State) -> Option<PlanLine> {
    let planning = &state.planning;
    let answered = planning.answered.as_ref().filter(|_| state.page == Page::Plan)?;
    let (verdict, met, changes) = match &answered.goal {
        Ok(Some(answer)) => (
            Some(words::verdict::plan::answer(answer)),
            Some(answer.is_met()),
            answer.changes().iter().map(words::verdict::plan::change).collect(),
        ),
        Ok(None) => (None, None, Vec::new()),
        Err(error) => (Some(error.to_string()), None, Vec::new()),
    };
    Some(PlanLine {
        goal: planning.draft.kind,
        is_new: planning.is_answered(&state.scene),
        verdict,
        met,
        caution: planning.caution(),
        changes,
        applied: planning.before.len(),
    })
}

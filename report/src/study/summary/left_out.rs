//! What a summary leaves out, and what is odd about what it does not, in sentences.

use sim_core::study::{ArcPassed, GroupSensitivity};

use super::measured::{Numbers, share};
use super::reasons::Reason;
use super::sensitivity::Sensitivity;
use words::name::column;
use words::number::{percent, whole};
use words::verdict::study::arc_passed;

/// What indices and tornados leave out, a sentence each for all measures together.
pub(super) fn warnings(numbers: &[Numbers]) -> Vec<String> {
    let groups = numbers.iter().filter_map(|measure| {
        let (groups, left_out) = measure.sensitivity.as_ref().ok()?.of_groups()?.groups();
        (left_out > 0).then_some((measure, left_out as u64, (groups + left_out) as u64))
    });
    let levels = numbers.iter().filter_map(|measure| match measure.sensitivity.as_ref().ok()? {
        Sensitivity::Tornado { bars, .. } => {
            let left_out: usize = bars.iter().map(|bar| bar.left_out).sum();
            (left_out > 0).then_some((measure, left_out as u64, 0))
        }
        _ => None,
    });
    let of_groups = worst(groups).map(|((measure, left_out, of), others)| {
        format!(
            "{} of {} {} ({}) are left out of the {} of {}{others}, since a row of theirs has no value: they describe \
             the settings that are left, not the distributions of the study.",
            whole(left_out),
            whole(of),
            groups_and_what(measure).0,
            percent(share(left_out, of)),
            groups_and_what(measure).1,
            column::full(&measure.column),
        )
    });
    let of_levels = worst(levels).map(|((measure, left_out, _), others)| {
        format!(
            "{} of the factors have no value of {}{others}: the tornado leaves them out.",
            if left_out == 1 { "One level".to_owned() } else { format!("{} levels", whole(left_out)) },
            column::full(&measure.column),
        )
    });
    of_groups.into_iter().chain(of_levels).collect()
}

/// The measure that loses most, and how the others are spoken of.
fn worst<'n>(
    losing: impl Iterator<Item = (&'n Numbers, u64, u64)>,
) -> Option<((&'n Numbers, u64, u64), String)> {
    let losing: Vec<(&Numbers, u64, u64)> = losing.collect();
    let most = losing.iter().map(|(_, left_out, _)| *left_out).max()?;
    let first = *losing.iter().find(|(_, left_out, _)| *left_out == most)?;
    let others = match losing.len() - 1 {
        0 => String::new(),
        1 => ", and as many or fewer of those of one other measure".to_owned(),
        others => format!(", and as many or fewer of those of {} other measures", whole(others as u64)),
    };
    Some((first, others))
}

/// What its groups of rows are called, and what is told of them.
const fn groups_and_what(measure: &Numbers) -> (&'static str, &'static str) {
    match &measure.sensitivity {
        Ok(Sensitivity::Groups(GroupSensitivity::Effects(_))) => ("trajectories", "elementary effects"),
        Ok(Sensitivity::Groups(GroupSensitivity::Shares(_))) => ("groups of rows", "Shapley effects"),
        _ => ("groups of rows", "Sobol’ indices"),
    }
}

/// What the column `note` says, a sentence a kind.
pub(super) fn notes(noted: &[Reason], rows: u64) -> Vec<String> {
    let mut sentences: Vec<String> = noted
        .iter()
        .map(|note| {
            let known = ArcPassed::ALL.into_iter().find(|passed| passed.name() == note.words);
            let says = known.map_or(note.words.as_str(), |passed| arc_passed(passed));
            let (these, of) = (whole(note.rows), whole(rows));
            format!("In {these} of {of} rows ({}) {says}.", percent(share(note.rows, rows)))
        })
        .collect();
    if !noted.is_empty() {
        sentences.push(
            "An arc may do so by its definition; a joint whose path rises again so early is not to be expected. See \
             whether such radii and inclinations are meant; the column `note` names the rows."
                .to_owned(),
        );
    }
    sentences
}

/// What the caption of a picture of a measure says of rows left out and of odd ones; nothing where there are none.
#[must_use]
pub fn of_measure(measure: &Numbers, noted: &[Reason]) -> String {
    let missing: u64 = measure.missing.iter().map(|reason| reason.rows).sum();
    let rows = missing + measure.moments.count();
    let mut said = String::new();
    if missing > 0 {
        said += &format!(
            " {} of {} rows ({}) have no value and are left out.",
            whole(missing),
            whole(rows),
            percent(share(missing, rows))
        );
    }
    let odd: u64 = noted.iter().map(|note| note.rows).sum();
    if odd > 0 {
        said += &format!(" In {} rows a condyle has passed the lowest point of its arc.", whole(odd));
    }
    said
}

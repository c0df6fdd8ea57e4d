//! Which columns are meant by a name or a part of one.

use sim_core::study::{Column, ColumnRole};

use super::SummaryError;

/// Names listed where none fits; more would hide what was wrong.
const LISTED: usize = 12;

/// What is summed up and drawn.
pub struct Selection {
    /// Places of the measured columns that are summed up.
    pub measures: Vec<usize>,
    /// Whether somebody named them.
    pub measures_named: bool,
    /// Factors to draw, by their place among the factors; none means that nobody named any.
    pub factors: Vec<usize>,
}

impl Selection {
    /// Looks names up among a study's columns.
    pub fn of(columns: &[Column], measures: &[String], factors: &[String]) -> Result<Self, SummaryError> {
        let of_measures = columns_named(columns, ColumnRole::Measured, ("--measure", "measure"), measures)?;
        let mut of_factors = Vec::new();
        for given in factors {
            let one = std::slice::from_ref(given);
            let places = columns_named(columns, ColumnRole::Factor, ("--factor", "factor"), one)?;
            for place in places {
                if of_factors.contains(&place) && factors.len() > 1 {
                    return Err(SummaryError::SameFactor { given: given.clone() });
                }
                of_factors.push(place);
            }
        }
        Ok(Self { measures: of_measures, measures_named: !measures.is_empty(), factors: of_factors })
    }
}

/// Places of the columns of a role that are meant: the one of that name, else all that have it in
/// their name; all of the role where nothing is given.
fn columns_named(
    columns: &[Column],
    role: ColumnRole,
    (option, what): (&'static str, &'static str),
    given: &[String],
) -> Result<Vec<usize>, SummaryError> {
    let of_role = || (0..columns.len()).filter(|place| columns[*place].role == role);
    if given.is_empty() {
        return Ok(of_role().collect());
    }
    let mut meant = Vec::new();
    for name in given {
        let exact: Vec<usize> = of_role().filter(|place| columns[*place].name == *name).collect();
        let matching = if exact.is_empty() {
            of_role().filter(|place| columns[*place].name.contains(name.as_str())).collect()
        } else {
            exact
        };
        if matching.is_empty() || name.is_empty() {
            let names: Vec<&str> = of_role().map(|place| columns[place].name.as_str()).collect();
            let more = names.len().saturating_sub(LISTED);
            let more = if more == 0 { String::new() } else { format!(" and {more} more") };
            let known = format!("it has {}{more}", names[..names.len().min(LISTED)].join(", "));
            return Err(SummaryError::NoSuchColumn { option, given: name.clone(), what, known });
        }
        meant.extend(matching);
    }
    meant.sort_unstable();
    meant.dedup();
    Ok(meant)
}

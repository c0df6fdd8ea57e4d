//! Names in a message.

/// Most column names that a message lists.
const MOST_NAMES: usize = 12;

/// The first of the names, and how many more there are.
pub(super) fn listed<'n>(names: impl ExactSizeIterator<Item = &'n str>) -> String {
    let more = names.len().saturating_sub(MOST_NAMES);
    let mut list: Vec<String> = names.take(MOST_NAMES).map(|name| format!("\"{name}\"")).collect();
    if more > 0 {
        list.push(format!("and {more} more"));
    }
    list.join(", ")
}

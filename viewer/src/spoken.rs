//! Names of the files' language as they are spoken.

/// `right_lateral` as it is spoken.
#[must_use]
pub fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

//! Files that were dropped on the page or chosen: a name and bytes each.

use std::cell::RefCell;

use words::quoted::steers;

/// A file as a browser hands it over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handed {
    /// Its name, without a folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl Handed {
    /// A file of this name. Letters in it that are not seen, and turn the ones that are, become signs that are.
    #[must_use]
    pub fn new(name: &str, bytes: Vec<u8>) -> Self {
        let seen = |letter: char| if steers(letter) { '\u{fffd}' } else { letter };
        Self { name: name.chars().map(seen).collect(), bytes }
    }
}

/// What came together: several files are dropped at once where a scene names its casts.
#[derive(Clone, Debug, PartialEq)]
pub enum Parcel {
    /// Files.
    Files(Vec<Handed>),
    /// Too much to be read.
    TooLarge {
        /// Its name.
        name: String,
        /// Its size in bytes.
        bytes: f64,
    },
}

thread_local! {
    static WAITING: RefCell<Vec<Parcel>> = const { RefCell::new(Vec::new()) };
}

/// Lays a parcel down until the loop takes it.
pub fn lay_down(parcel: Parcel) {
    WAITING.with_borrow_mut(|waiting| waiting.push(parcel));
}

/// Takes what has been laid down.
#[must_use]
pub fn take() -> Vec<Parcel> {
    WAITING.take()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_shows_what_it_is() {
        assert_eq!(Handed::new("bell\u{202e}gnp.ron", Vec::new()).name, "bell\u{fffd}gnp.ron");
        assert_eq!(Handed::new("a\u{7}é 日.stl", Vec::new()).name, "a\u{fffd}é 日.stl");
    }
}

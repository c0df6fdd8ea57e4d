//! Files that were dropped on the page or chosen: a name and bytes each.

use std::cell::RefCell;

/// A file as a browser hands it over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handed {
    /// Its name, without a folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
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

//! JSON: the fields that other programs rely on, in full precision, one object and nothing else. What to keep in mind
//! stands in every object, since it goes on without the page it was asked from.

use std::io::{self, Write};

use serde::Serialize;

/// An object about to be written. There is no other way for a report to have one, so that none goes out without the
/// caution.
pub(crate) struct Object<'r>(Written<'r>);

/// What writes it.
type Written<'r> = Box<dyn FnOnce(&mut dyn Write) -> io::Result<()> + 'r>;

#[derive(Serialize)]
struct Cautioned<T> {
    caution: &'static str,
    #[serde(flatten)]
    fields: T,
}

impl<'r> Object<'r> {
    /// Of a value that is a structure with named fields; it may be worked out while it is written.
    pub(crate) fn of(fields: impl Serialize + 'r) -> Self {
        Self(Box::new(move |out| {
            serde_json::to_writer(&mut *out, &Cautioned { caution: words::CAUTION, fields })?;
            writeln!(out)
        }))
    }

    /// Writes it as one line.
    pub(super) fn write(self, out: &mut dyn Write) -> io::Result<()> {
        (self.0)(out)
    }
}

//! JSON: the fields that other programs rely on, in full precision, one object and nothing else. What to keep in mind
//! stands in every object, since it goes on without the page it was asked from.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::ser::Formatter;
use words::quoted::steers;

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

/// JSON in which what steers a terminal stands as `\u202e`, which programs read as the letter itself.
struct Seen;

impl Formatter for Seen {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, writer: &mut W, fragment: &str) -> io::Result<()> {
        if !fragment.chars().any(steers) {
            return writer.write_all(fragment.as_bytes());
        }
        let mut units = [0; 2];
        for letter in fragment.chars() {
            if steers(letter) {
                letter
                    .encode_utf16(&mut units)
                    .iter()
                    .try_for_each(|unit| write!(writer, "\\u{unit:04x}"))?;
            } else {
                write!(writer, "{letter}")?;
            }
        }
        Ok(())
    }
}

impl<'r> Object<'r> {
    /// Of a value that is a structure with named fields; it may be worked out while it is written.
    pub(crate) fn of(fields: impl Serialize + 'r) -> Self {
        Self(Box::new(move |out| {
            let fields = Cautioned { caution: words::CAUTION, fields };
            fields.serialize(&mut serde_json::Serializer::with_formatter(&mut *out, Seen))?;
            writeln!(out)
        }))
    }

    /// Writes it as one line.
    pub(super) fn write(self, out: &mut dyn Write) -> io::Result<()> {
        (self.0)(out)
    }
}

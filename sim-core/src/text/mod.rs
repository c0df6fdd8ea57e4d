//! Texts that people write (RON): read with the place of every fault, and written back.
//!
//! ```
//! use sim_core::scene::Scene;
//! use sim_core::text::place_of;
//!
//! let text = "(\n    title: 30,\n)";
//! let refused = Scene::from_ron(text).unwrap_err();
//! assert_eq!((refused.line, refused.field.as_str()), (2, "title"));
//! // A field can be found in a text that is sound, too: to say what is odd about it.
//! assert_eq!(place_of("title", text), (2, 5));
//! ```

mod place;

use std::fmt;

use ron::Options;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Serialize;
use serde::de::DeserializeOwned;

pub use place::place_of;
pub(crate) use place::{Word, words};

/// Why a text was refused, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// Path of the field, as in `instrument.right_guide.lateral_angle_deg`; empty for the whole.
    pub field: String,
    /// What was given and what is allowed.
    pub what: String,
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}: ", self.line, self.column)?;
        // What starts with the field's own name goes on with it: `a.b.c is 90`, not `a.b.c: c is 90`.
        let last = self.field.rsplit('.').next().unwrap_or_default();
        match self.what.strip_prefix(last) {
            _ if self.field.is_empty() => f.write_str(&self.what),
            Some(rest) if rest.starts_with(' ') => write!(f, "{}{rest}", self.field),
            _ => write!(f, "{}: {}", self.field, self.what),
        }
    }
}

impl std::error::Error for ReadError {}

/// `Table(sagittal_inclination_deg: …)` rather than `Table((sagittal_inclination_deg: …))`, and
/// optional fields without `Some`.
fn options() -> Options {
    Options::default().with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES | Extensions::IMPLICIT_SOME)
}

/// Reads a value from its text and checks what no field can tell by itself; `check` returns the
/// field that its complaint is about.
pub(crate) fn read<T: DeserializeOwned>(
    text: &str,
    check: impl FnOnce(&T) -> Result<(), (&'static str, String)>,
) -> Result<T, ReadError> {
    let mut deserializer =
        ron::Deserializer::from_str_with_options(text, &options()).map_err(|error| plain(&error))?;
    let value: T = serde_path_to_error::deserialize(&mut deserializer).map_err(|error| {
        let path = error.path().to_string();
        let mut refusal = plain(&deserializer.span_error(error.into_inner()));
        // `?` is a place that has no name yet, as where the text ends.
        refusal.field = path.trim_end_matches(['?', '.']).to_owned();
        refusal
    })?;
    deserializer.end().map_err(|error| plain(&deserializer.span_error(error)))?;
    check(&value).map_err(|(field, what)| {
        let (line, column) = place_of(field, text);
        ReadError { line, column, field: String::new(), what }
    })?;
    Ok(value)
}

/// Writes a value as text that [`read`] takes.
#[allow(clippy::expect_used)] // writing to memory what the types allow cannot fail
pub(crate) fn write<T: Serialize>(value: &T) -> String {
    options().to_string_pretty(value, PrettyConfig::default()).expect("it has a form in RON")
}

/// As [`write`], on one line: ends of lines in a text of the value are written as `\n`.
#[allow(clippy::expect_used)] // as above
pub(crate) fn write_on_one_line<T: Serialize>(value: &T) -> String {
    options().to_string(value).expect("it has a form in RON")
}

fn plain(error: &ron::error::SpannedError) -> ReadError {
    let at = error.span.start;
    let what = match &error.code {
        ron::Error::MissingStructField { field, .. } => format!("`{field}` is missing and has to be given"),
        other => other.to_string(),
    };
    ReadError { line: at.line, column: at.col, field: String::new(), what }
}

//! A scene text that cannot be taken.

use std::fmt;

/// Why a scene text was refused, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SceneError {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// Path of the field, as in `instrument.right_guide.lateral_angle_deg`; empty for the whole.
    pub field: String,
    /// What was given and what is allowed.
    pub what: String,
}

impl fmt::Display for SceneError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}: ", self.line, self.column)?;
        // What starts with the field's own name goes on with it: `a.b.c is 90`, not `a.b.c: c is 90`.
        let own_name = self.field.rsplit('.').next().unwrap_or_default();
        match self.what.strip_prefix(own_name) {
            _ if self.field.is_empty() => f.write_str(&self.what),
            Some(rest) if rest.starts_with(' ') => write!(f, "{}{rest}", self.field),
            _ => write!(f, "{}: {}", self.field, self.what),
        }
    }
}

impl std::error::Error for SceneError {}

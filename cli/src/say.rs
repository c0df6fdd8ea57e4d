//! Words to the person at the terminal, on standard error. A standard error that takes nothing is
//! no reason to stop.
//!
//! Whatever they quote is made fit to be said here, once for all commands.

use std::error::Error as _;
use std::ffi::OsString;
use std::fmt::Display;
use std::io::Write as _;
use std::path::Path;

use anstyle::{AnsiColor, Style};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use words::quoted::{message, path, value};

const RED: Style = AnsiColor::Red.on_default().bold();
const YELLOW: Style = AnsiColor::Yellow.on_default().bold();

/// Says what went wrong.
pub(crate) fn error(what: &dyn Display) {
    let what = message(&what.to_string());
    let _ = writeln!(anstream::stderr(), "{RED}error:{RED:#} {what}");
}

/// Says what is wrong with the command line, whose words are given as they came.
pub(crate) fn mistake(mut what: clap::Error, given: impl Iterator<Item = OsString>) {
    if what.kind() == ErrorKind::InvalidUtf8
        && let Some(word) = given.into_iter().find(|word| word.to_str().is_none())
    {
        error(&format_args!(
            "`{}` is no UTF-8 text; only names of files may be something else",
            path(Path::new(&word))
        ));
        return;
    }
    let seen: Vec<_> = what
        .context()
        .filter_map(|(kind, quoted)| {
            Some((
                kind,
                match quoted {
                    ContextValue::String(text) => ContextValue::String(value(text)),
                    ContextValue::Strings(texts) => {
                        ContextValue::Strings(texts.iter().map(|text| value(text)).collect())
                    }
                    _ => return None,
                },
            ))
        })
        .collect();
    for (kind, quoted) in seen {
        what.insert(kind, quoted);
    }
    // Why a value is refused says which value, in words of ours that clap puts behind its own.
    match what.source().map(ToString::to_string) {
        Some(why) if message(&why) != why => {
            let told = |kind| what.get(kind).map(ToString::to_string).unwrap_or_default();
            let (value, option) = (told(ContextKind::InvalidValue), told(ContextKind::InvalidArg));
            error(&format_args!("invalid value '{value}' for '{option}': {why}"));
        }
        _ => {
            let _ = write!(anstream::stderr(), "{}", what.render().ansi());
        }
    }
}

/// Says what may not be as it was meant.
pub(crate) fn warning(what: &dyn Display) {
    let what = message(&what.to_string());
    let _ = writeln!(anstream::stderr(), "{YELLOW}warning:{YELLOW:#} {what}");
}

/// Says what helps.
pub(crate) fn hint(what: &dyn Display) {
    let _ = writeln!(anstream::stderr(), "{}", message(&what.to_string()));
}

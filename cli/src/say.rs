//! Words to the person at the terminal, on standard error. A standard error that takes nothing is
//! no reason to stop.
//!
//! Whatever they quote is made fit to be said here, once for all commands.

use std::error::Error;
use std::ffi::OsString;
use std::fmt::Display;
use std::io::Write as _;
use std::num::{IntErrorKind, ParseFloatError, ParseIntError};
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
    // Why a value is refused says which value, in words of ours that clap puts behind its own. What the libraries say of
    // a number says neither what was meant nor what is allowed.
    let long = |why: &(dyn Error + 'static)| Some(why.to_string()).filter(|why| message(why) != *why);
    match what.source().and_then(|why| number_wanted(why).or_else(|| long(why))) {
        Some(why) => {
            let told = |kind| what.get(kind).map(ToString::to_string).unwrap_or_default();
            let (value, option) = (told(ContextKind::InvalidValue), told(ContextKind::InvalidArg));
            error(&format_args!("invalid value '{value}' for '{option}': {why}"));
        }
        None => {
            let _ = write!(anstream::stderr(), "{}", what.render().ansi());
        }
    }
}

/// What is wanted in place of something that is no number, or none of those allowed; nothing of other faults.
fn number_wanted(why: &(dyn Error + 'static)) -> Option<String> {
    if why.is::<ParseFloatError>() {
        return Some("a number is needed, for example 2.5".to_owned());
    }
    if let Some(why) = why.downcast_ref::<ParseIntError>() {
        return Some(match why.kind() {
            IntErrorKind::PosOverflow | IntErrorKind::NegOverflow => "the number is too large".to_owned(),
            _ => "a whole number of 0 or more is needed, for example 12".to_owned(),
        });
    }
    let text = why.to_string();
    let (least, most) = text.split_once(" is not in ")?.1.split_once("..=")?;
    Some(format!("allowed are {least} to {most}"))
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

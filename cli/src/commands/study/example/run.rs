//! `eminentia study example`: studies to start from.

use std::io::{self, Write};

use files::built_in::{STUDIES, study_named};

use super::args::StudyExample;
use super::failure::NoExample;
use crate::failure::Outcome;
use crate::output::{BOLD, NO_INPUTS, Output, width};

/// Prints a study, or lists them all.
pub(crate) fn perform(args: &StudyExample) -> Outcome {
    let output = Output::open(args.out.as_deref(), NO_INPUTS)?;
    let Some(name) = &args.name else {
        output.write(true, list)?;
        return Ok(());
    };
    let text = study_named(name).ok_or_else(|| NoExample {
        name: name.clone(),
        known: STUDIES.iter().map(|study| study.name).collect::<Vec<_>>().join(", "),
    })?;
    output.write(false, |out| out.write_all(text.as_bytes()))?;
    Ok(())
}

/// Each by its name and what its head says.
fn list(out: &mut dyn Write) -> io::Result<()> {
    let options = textwrap::Options::new(width()).initial_indent("    ").subsequent_indent("    ");
    for study in STUDIES {
        let head = study.text.lines().map_while(|line| line.strip_prefix("//"));
        let head: Vec<&str> = head.map(str::trim).take_while(|line| !line.is_empty()).collect();
        let teaches = head.join(" ");
        let teaches = teaches.strip_prefix("What it teaches: ").unwrap_or(&teaches);
        writeln!(out, "{BOLD}{}{BOLD:#}\n{}", study.name, textwrap::fill(teaches, &options))?;
    }
    Ok(())
}

//! Lessons for people.

use std::io::{self, Write};

use words::lesson::{right_answer, said, size, source};

use super::checked::{CheckReport, ListReport};
use crate::output::{BOLD, FAINT, printable_line};

pub(super) fn checked(report: &CheckReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    for checked in &report.lessons {
        match &checked.found {
            Ok(lesson) => {
                let title = printable_line(&lesson.title);
                writeln!(out, "{}: sound: {title} ({})", checked.name, size(lesson))?;
                for (number, step) in lesson.steps.iter().enumerate().filter(|_| report.answers) {
                    let Some(question) = &step.question else { continue };
                    let ask = format!("step {}: {}", number + 1, printable_line(&said(question.ask())));
                    writeln!(out, "{}", indented(&ask, width, "  "))?;
                    let right = printable_line(&right_answer(question));
                    writeln!(out, "{}", indented(&format!("right: {right}"), width, "      "))?;
                }
            }
            Err(error) => {
                let faults = error.faults();
                if faults.is_empty() {
                    writeln!(out, "{error}")?;
                }
                for (line, column, what) in faults {
                    writeln!(out, "{}:{line}:{column}: {}", checked.name, printable_line(&what))?;
                }
            }
        }
    }
    Ok(())
}

pub(super) fn listed(report: &ListReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    for (name, lesson) in &report.lessons {
        writeln!(out, "{BOLD}{name}{BOLD:#}: {} ({})", lesson.title, size(lesson))?;
        writeln!(out, "{}", indented(&lesson.about, width, "    "))?;
        for cited in &lesson.sources {
            writeln!(out, "{FAINT}{}{FAINT:#}", indented(&source(cited), width, "    "))?;
        }
    }
    Ok(())
}

fn indented(text: &str, width: usize, indent: &str) -> String {
    let options = textwrap::Options::new(width).initial_indent(indent).subsequent_indent(indent);
    textwrap::fill(text, options)
}

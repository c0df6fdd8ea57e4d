//! Questions for people: first all of them, then the key, so that a sheet can be cut.

use std::io::{self, Write};

use words::viva::{answer, ask, set_up, slip};

use super::drawn::VivaReport;
use crate::output::{BOLD, FAINT};

pub(super) fn write(report: &VivaReport, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let (seed, level) = (report.viva.seed, report.viva.level.name());
    writeln!(out, "{BOLD}Viva, {level} level, seed {seed}{BOLD:#}")?;
    for (number, question) in report.questions.iter().enumerate() {
        let ask = format!("{}. {}", number + 1, ask(question));
        writeln!(out, "\n{}", textwrap::fill(&ask, width))?;
        let set_up = format!("Set-up: {}.", set_up(question).join("; "));
        writeln!(out, "{FAINT}{}{FAINT:#}", indented(&set_up, width))?;
        for (letter, given) in ('a'..).zip(&question.answers) {
            writeln!(out, "   {letter}) {}", answer(given))?;
        }
    }
    writeln!(out, "\n{BOLD}Key{BOLD:#}")?;
    for (number, question) in report.questions.iter().enumerate() {
        let letters: Vec<(char, _)> = ('a'..).zip(&question.answers).collect();
        let right = letters.iter().find(|(_, given)| given.slip.is_none());
        let right = right.map_or('?', |(letter, _)| *letter);
        writeln!(out, "{}. {right}", number + 1)?;
        for (letter, made) in letters.iter().filter_map(|(letter, given)| Some((letter, given.slip?))) {
            writeln!(out, "{FAINT}{}{FAINT:#}", indented(&format!("{letter}) {}", slip(made)), width))?;
        }
    }
    Ok(())
}

fn indented(text: &str, width: usize) -> String {
    let options = textwrap::Options::new(width).initial_indent("   ").subsequent_indent("   ");
    textwrap::fill(text, options)
}

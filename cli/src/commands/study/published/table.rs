//! Each distribution: what it is, its figures, how a study takes it, what it may stand for, its source.

use std::io::{self, Write};

use sim_core::study::{MEANS_ALONE, PUBLISHED, Published, Values};

use super::words::{figures, number, settings};
use crate::output::{BOLD, FAINT};
use words::number::{as_given, as_set};

const LEGEND: &str = "In a study: values: Published(\"NAME\"). A study may use each for the settings named with it and for no \
    other. Every figure is of the people of its source; none is of your patient.";
const MEANS: &str = "Means published without a spread, for a distribution of your own about them";

pub(super) fn write(width: usize, out: &mut dyn Write) -> io::Result<()> {
    let options = textwrap::Options::new(width).initial_indent("    ").subsequent_indent("      ");
    let line = |out: &mut dyn Write, text: &str| writeln!(out, "{}", textwrap::fill(text, &options));
    for published in &PUBLISHED {
        writeln!(out, "{BOLD}{}{BOLD:#}", published.name)?;
        let stands_for = settings(published);
        let stands_for = match stands_for.is_empty() {
            true => "no setting; a case's mounting takes such figures".to_owned(),
            false => stands_for.join(", "),
        };
        line(out, &format!("{}: {}", published.what, figures(published)))?;
        line(out, &format!("may stand for: {stands_for}"))?;
        line(out, &format!("taken as: {}", taken_as(published)))?;
        line(out, &format!("source: {}", published.source))?;
    }
    writeln!(out, "\n{BOLD}{MEANS}{BOLD:#}")?;
    for alone in &MEANS_ALONE {
        let unit = alone.stands_for.facts().unit;
        let means: Vec<String> =
            alone.means.iter().map(|(whose, mean)| format!("{} ({whose})", number(*mean, unit))).collect();
        line(out, &format!("{}: {}; {}", alone.stands_for.key(), means.join(", "), alone.source))?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

/// As a study file would write it.
fn taken_as(published: &Published) -> String {
    match published.values() {
        Values::Normal { mean, sd } => format!("Normal, mean {}, sd {}", as_given(mean), as_set(sd)),
        Values::TruncatedNormal { mean, sd, min, max } => format!(
            "TruncatedNormal, mean {}, sd {}, min {}, max {}",
            as_given(mean),
            as_set(sd),
            as_given(min),
            as_given(max)
        ),
        Values::Uniform { min, max } => format!("Uniform, min {}, max {}", as_given(min), as_given(max)),
        other => other.name().to_owned(),
    }
}

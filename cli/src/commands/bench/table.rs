//! The walk along the bench: each step with its state, what to do and what to doubt.

use std::io::{self, Write};

use report::bench_walk::BenchWalk;
use sim_core::bench::{Closing, Step, Trial};
use sim_core::frame::Side;
use sim_core::record::trial::TrialGaps;
use words::number::angle;
use words::verdict::bench::{state, title, to_do, to_doubt};

use crate::output::{ALARM, BOLD, FAINT, groove_gaps, printable_line};

const LEGEND: &str = "Gaps in millimetres, at the grooves of the upper base, with the guides at the angles above; the groove \
    that touches has none. A gap within the tolerance counts as closed. A lateral angle off its record opens no gap: it \
    carries the base aside.";

pub(super) fn write(report: &BenchWalk<'_>, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let worked = report.worked;
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&worked.case.title))?;
    writeln!(out, "{}", textwrap::fill(&printable_line(&worked.mounting_words()), width))?;
    writeln!(out, "{}", textwrap::fill(&set(&report.trial), width))?;
    for (number, step) in report.steps.iter().enumerate() {
        let word = state(step);
        let style =
            if matches!(word, "stop" | "cannot close" | "missing" | "not checked") { ALARM } else { BOLD };
        writeln!(out, "\n{BOLD}{}. {}{BOLD:#}  {style}{word}{style:#}", number + 1, title(step))?;
        if let Step::Record(record) = step
            && let Closing::Gaps { at, .. } = &record.closing
        {
            gaps(report, at, out)?;
        }
        let options = textwrap::Options::new(width).initial_indent("   ").subsequent_indent("   ");
        writeln!(out, "{}", textwrap::fill(&to_do(step).join(" "), &options))?;
        let options = textwrap::Options::new(width).initial_indent("   Doubt: ").subsequent_indent("   ");
        let doubt = to_doubt(step);
        if !doubt.is_empty() {
            writeln!(out, "{}", textwrap::fill(&doubt.join(" "), options))?;
        }
    }
    if !worked.warnings.is_empty() {
        writeln!(out, "\n{BOLD}Warnings{BOLD:#}")?;
    }
    for warning in &worked.warnings {
        let options = textwrap::Options::new(width).initial_indent("- ").subsequent_indent("  ");
        writeln!(out, "{}", textwrap::fill(&printable_line(warning), options))?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

/// The angles of the trial, in a sentence.
fn set(trial: &Trial) -> String {
    let guide = |side: Side| {
        let (inclination, lateral) = (trial.inclination[side], trial.lateral[side]);
        format!("{side} H {}, L {}", angle(inclination, 1), angle(lateral, 1))
    };
    format!("The guides are set to: {}; {}.", guide(Side::Right), guide(Side::Left))
}

fn gaps(report: &BenchWalk<'_>, at: &TrialGaps, out: &mut dyn Write) -> io::Result<()> {
    let case = &report.worked.case;
    groove_gaps(case.groove_names(), &at.gaps, case.split_cast_tolerance_mm.length(), 3, BOLD).write(out)
}

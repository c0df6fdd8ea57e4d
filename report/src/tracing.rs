//! What a tracing showed, made ready for the output formats and the plot.

use sim_core::frame::UpperPoint;
use sim_core::tracing::{Findings, LARGEST_SHARP_RADIUS, Objection, Overlay, Recorded, Tracing};

#[cfg(feature = "photos")]
use tracing_photo::PhotoFacts;
use words::number::length;

/// A tracing that was examined.
pub struct TracingReport {
    /// Name of its file.
    pub name: String,
    /// As it was read.
    pub recorded: Recorded,
    /// What its photo told, if it came from one.
    #[cfg(feature = "photos")]
    pub photo: Option<PhotoFacts>,
    /// What the examination found.
    pub findings: Findings,
    /// The tracing of an instrument over it, if one was asked for.
    pub over: Option<Over>,
}

/// The tracing that an instrument draws, laid over it.
pub struct Over {
    /// Title of the instrument's scene.
    pub title: String,
    /// Where its stylus stands.
    pub stylus: UpperPoint,
    /// What it draws.
    pub drawn: Tracing,
    /// How far the two are apart.
    pub overlay: Overlay,
}

/// The word that other programs have for an objection.
pub fn objection_name(objection: &Objection) -> &'static str {
    match objection {
        Objection::Rounded(_) => "rounded",
        Objection::Unclear(_) => "unclear",
        Objection::Double(_) => "double",
    }
}

/// An objection for people.
pub fn objection_text(objection: &Objection) -> String {
    match objection {
        Objection::Rounded(roundness) => {
            format!("the apex is rounded: an arc of {} radius fits best", length(roundness.radius, 2))
        }
        Objection::Unclear(roundness) => format!(
            "whether the apex is sharp cannot be told: arcs up to {} radius fit; more points are needed \
             near it",
            length(roundness.interval.1, 2)
        ),
        Objection::Double(second) => {
            format!("the apex is double: the second one lies {} off", length(second.distance.value, 2))
        }
    }
}

impl TracingReport {
    /// The verdict in one sentence.
    pub fn verdict(&self) -> String {
        let objections = self.findings.objections();
        if self.findings.is_narrow() {
            return format!(
                "One sharp apex: the tracing is accepted, but narrowly. An arc of up to {} radius fits it as well, and \
                 this program calls arcs beyond {} rounded; more points near the apex would make it surer.",
                length(self.findings.roundness.interval.1, 2),
                length(LARGEST_SHARP_RADIUS, 0),
            );
        }
        if objections.is_empty() {
            return "One sharp apex: the tracing is accepted.".to_owned();
        }
        let texts: Vec<String> = objections.iter().map(objection_text).collect();
        format!("Repeat the tracing: {}.", texts.join("; "))
    }
}

//! What a template holds: apex, legs, holes.

use sim_core::tracing::{Leg, PlatePoint, TracingSetup};
use sim_core::units::Length;
use words::number::as_given;

use crate::sheet::SheetError;
use crate::tracing::TracingReport;

/// Points of a drawn leg.
const POINTS: usize = 60;

/// A template.
pub struct Template {
    /// What it was made from.
    pub title: String,
    /// Distance of the holes from the apex.
    pub distance: Length,
    /// The legs, in the order of [`Leg::ALL`].
    pub legs: [TemplateLeg; 3],
}

/// One leg, its places from the apex.
pub struct TemplateLeg {
    /// Which leg.
    pub leg: Leg,
    /// Its line from the apex outward.
    pub line: Vec<PlatePoint>,
    /// Its hole.
    pub hole: PlatePoint,
}

/// Why there is no template.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TemplateError {
    /// A leg that was not drawn so far.
    #[error("the {leg} ends before {distance} mm; draw it farther, or take the holes nearer to the apex")]
    TooShort {
        /// The leg.
        leg: &'static str,
        /// The distance wanted, in millimetres.
        distance: String,
    },
    /// The page could not be drawn. A fault of the program.
    #[error(transparent)]
    Page(#[from] SheetError),
}

impl Template {
    /// Of a tracing that was examined, its holes where the legs meet the radius.
    ///
    /// # Errors
    /// [`TemplateError::TooShort`] where a leg does not go so far.
    pub fn of_tracing(report: &TracingReport) -> Result<Self, TemplateError> {
        let findings = &report.findings;
        let apex = findings.apex.at;
        let from_apex = |point: PlatePoint| PlatePoint {
            forward: point.forward - apex.forward,
            left: point.left - apex.left,
        };
        let leg = |leg: Leg| {
            let found = findings.leg(leg);
            let too_short =
                || TemplateError::TooShort { leg: leg.words(), distance: as_given(findings.radius.mm()) };
            Ok::<_, TemplateError>(TemplateLeg {
                leg,
                line: found.fitted(&apex, POINTS).into_iter().map(from_apex).collect(),
                hole: from_apex(found.meets.ok_or_else(too_short)?.at),
            })
        };
        Ok(Self {
            title: format!("Tracing {}", report.name),
            distance: findings.radius,
            legs: [leg(Leg::Protrusive)?, leg(Leg::RightLateral)?, leg(Leg::LeftLateral)?],
        })
    }

    /// Of the tracing that a scene's tracer draws.
    pub fn of_setup(title: &str, setup: &TracingSetup) -> Self {
        let leg = |which: Leg| TemplateLeg {
            leg: which,
            line: setup.drawn.leg(which).to_vec(),
            hole: setup.leg(which).hole,
        };
        Self { title: title.to_owned(), distance: setup.distance, legs: Leg::ALL.map(leg) }
    }
}

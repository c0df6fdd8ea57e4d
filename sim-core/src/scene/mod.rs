//! A scene: an instrument, the cusps watched and the excursions made, as its file gives it.
//!
//! ```
//! use sim_core::scene::Scene;
//! use sim_core::units::Angle;
//!
//! let mut scene = Scene::thirty_degree();
//! scene.title = "Steeper on the left (invented)".to_owned();
//! scene.instrument.left_guide.horizontal_inclination = Angle::from_degrees(40.0);
//! // What is written is read back as the same scene.
//! let text = scene.to_ron();
//! assert_eq!(Scene::from_ron(&text)?, scene);
//! // A setting out of range is refused, with the field that it stands in.
//! let steeper = text.replace("horizontal_inclination_deg: 40.0", "horizontal_inclination_deg: 400.0");
//! let refused = Scene::from_ron(&steeper).unwrap_err();
//! assert_eq!(refused.field, "instrument.left_guide.horizontal_inclination_deg");
//! # Ok::<(), sim_core::text::ReadError>(())
//! ```

mod answer;
mod bare_angle;
mod casts;
mod invented;
mod read;

/// Why a scene text was refused.
pub type SceneError = crate::text::ReadError;
pub use answer::GoalAnswer;
pub use casts::{CastFiles, CastMountingError};

use std::collections::HashSet;

use serde::{Deserialize, Serialize};

use crate::anterior::AnteriorGuide;
use crate::cast::invented::InventedCasts;
use crate::cusp::Cusp;
use crate::excursion::{Excursion, Mechanism, SampleCount};
use crate::frame::OcclusalPlane;
use crate::instrument::{Baseline, Instrument};
use crate::plan::{Plan, PlanError};
use crate::tracing::{Tracer, TracerError, TracerFields};

/// Text of the teaching scene that is compiled in: thirty-degree guides, invented geometry.
pub const THIRTY_DEGREE: &str = include_str!("thirty_degree.ron");

/// An instrument, the cusps watched and the excursions made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scene {
    /// What the scene is called.
    pub title: String,
    /// The instrument with its settings.
    pub instrument: Instrument,
    /// The settings at which that instrument starts; [`Baseline::example`] when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub baseline: Option<Baseline>,
    /// The occlusal plane (`occlusal_plane_inclination_deg` in a file).
    #[serde(rename = "occlusal_plane_inclination_deg", with = "bare_angle")]
    pub occlusal_plane: OcclusalPlane,
    /// Cusps at which separation and clearance are read; may be empty.
    pub cusps: Vec<Cusp>,
    /// Excursions, at least one.
    pub excursions: Vec<Excursion>,
    /// Samples of each excursion, both ends included.
    pub samples: SampleCount,
    /// Scanned casts; none when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub casts: Option<CastFiles>,
    /// Invented casts; none when absent. A scene has these or `casts`, not both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub invented_casts: Option<InventedCasts>,
    /// The tracer between its rims; one of usual places when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tracer: Option<TracerFields>,
    /// What is planned with it, if anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<Plan>,
}

/// What makes a scene senseless although each of its fields is in range.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Senseless {
    /// A pin let down where there is none.
    #[error(
        "instrument.pin_extension_mm is {given}, but the anterior guide is Incisors, which has no pin; allowed is 0, or a Table"
    )]
    PinWithoutTable {
        /// The extension given.
        given: f64,
    },
    /// Scanned and invented casts at once.
    #[error("the scene has casts and invented_casts; give one of them")]
    CastsTwice,
    /// Teeth are to guide, and there are none.
    #[error(
        "instrument.anterior_guide is Casts, but the scene has no casts; give casts: (upper: \"…\", lower: \"…\"), invented_casts: (kind: Dentate), or a Table"
    )]
    NoCasts,
    /// Nothing to do.
    #[error("excursions is empty; give at least one, for example Protrusive(advance_mm: 6.0)")]
    NoExcursion,
    /// Two cusps that cannot be told apart.
    #[error("cusps has tooth {tooth} \"{name}\" twice; give each cusp of a tooth a name of its own")]
    CuspTwice {
        /// The tooth.
        tooth: crate::cusp::Tooth,
        /// The name given twice.
        name: String,
    },
    /// A number of the tracer that no tracer has.
    #[error("tracer.{0}")]
    Tracer(TracerError),
    /// A plan that does not go with the scene.
    #[error("plan: {0}")]
    Plan(PlanError),
}

impl Senseless {
    /// The field that the complaint is about.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::PinWithoutTable { .. } => Instrument::PIN_EXTENSION.facts.key,
            Self::CastsTwice => "invented_casts",
            Self::NoCasts => "anterior_guide",
            Self::NoExcursion => "excursions",
            Self::CuspTwice { .. } => "cusps",
            Self::Tracer(error) => error.field,
            Self::Plan(error) => error.field(),
        }
    }
}

impl Scene {
    /// The teaching scene that is compiled in, [`THIRTY_DEGREE`].
    ///
    /// # Panics
    /// Never: a test reads the compiled-in text.
    #[must_use]
    #[allow(clippy::expect_used)] // the text is part of the program, not of its input
    pub fn thirty_degree() -> Self {
        Self::from_ron(THIRTY_DEGREE).expect("the compiled-in scene is sound")
    }

    /// The instrument made ready, with the occlusal plane that its tracings are measured along; casts
    /// that guide are mounted by who has them.
    #[must_use]
    pub fn mechanism(&self) -> Mechanism {
        Mechanism::new(&self.instrument).with_occlusal_plane(self.occlusal_plane)
    }

    /// The tracer, with what its fields leave open taken from the occlusal plane and the incisal point.
    #[must_use]
    pub fn completed_tracer(&self) -> Tracer {
        self.tracer.unwrap_or_default().completed(self.occlusal_plane, &self.instrument.incisal_point)
    }

    /// The settings at which the instrument starts: the scene's own, else [`Baseline::example`].
    #[must_use]
    pub fn baseline_or_example(&self) -> Baseline {
        self.baseline.clone().unwrap_or_else(Baseline::example)
    }

    /// Whether teeth stand on the members.
    #[must_use]
    pub const fn has_casts(&self) -> bool {
        self.casts.is_some() || self.invented_casts.is_some()
    }

    /// Checks what no field can tell by itself.
    ///
    /// # Errors
    /// The first thing found [`Senseless`].
    pub fn check(&self) -> Result<(), Senseless> {
        let given = self.instrument.pin_extension.mm();
        if given != 0.0 && matches!(self.instrument.anterior_guide, AnteriorGuide::Incisors(_)) {
            return Err(Senseless::PinWithoutTable { given });
        }
        if self.casts.is_some() && self.invented_casts.is_some() {
            return Err(Senseless::CastsTwice);
        }
        if matches!(self.instrument.anterior_guide, AnteriorGuide::Casts(_)) && !self.has_casts() {
            return Err(Senseless::NoCasts);
        }
        if self.excursions.is_empty() {
            return Err(Senseless::NoExcursion);
        }
        // A set, so that a scene of very many cusps is checked as fast as it is read.
        let mut seen = HashSet::with_capacity(self.cusps.len());
        for cusp in &self.cusps {
            if !seen.insert((cusp.tooth(), cusp.name())) {
                return Err(Senseless::CuspTwice { tooth: cusp.tooth(), name: cusp.name().to_owned() });
            }
        }
        self.tracer.map_or(Ok(()), |tracer| tracer.check()).map_err(Senseless::Tracer)?;
        match &self.plan {
            Some(plan) => plan.check(&self.instrument, &self.cusps).map_err(Senseless::Plan),
            None => Ok(()),
        }
    }
}

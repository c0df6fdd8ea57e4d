//! The border envelope of what is shown, solved once for it.

use sim_core::excursion::{Border, Drive, Envelope, Excursion, Followed, Reach, SampleCount};
use sim_core::units::{Angle, Length};

use crate::solved::SceneWithCasts;

/// How far the hinge arc is followed: so far that it is seen beside the other borders at their scale. A
/// jaw turns about the axis by some ten degrees before the condyles leave their seats (Posselt U, Studies
/// in the mobility of the human mandible, 1952; from memory).
const OPENING: Angle = Angle::from_degrees(6.0);
/// How far the other borders are followed where the excursion is not driven by a condyle: the usual
/// length of a protrusive record (common practice, no source).
const USUAL_ADVANCE: Length = Length::from_mm(6.0);
/// Places along each border.
const SAMPLES: i64 = 41;
/// The same where each place is a search among the triangles of casts.
const SEARCHED_SAMPLES: i64 = 13;

/// What is said of the border that is not drawn.
pub const WITHHELD: &str = "The envelope has the borders that the instrument guides: hinge arc, protrusion, both laterals. The opened border in front of the hinge arc is the ligaments’, and is not drawn.";

/// The envelope of a scene that is shown.
#[derive(Clone, Debug)]
pub struct SolvedEnvelope {
    /// The revision of what is shown.
    pub revision: u64,
    /// The borders.
    pub envelope: Envelope,
}

impl SolvedEnvelope {
    /// Solves the envelope as far as an excursion goes.
    #[must_use]
    pub fn of(scene: SceneWithCasts<'_>, excursion: Excursion, revision: u64) -> Option<Self> {
        let advance = match excursion.drive() {
            Drive::Advance(advance) => advance,
            Drive::IncisalDisplacement(_) | Drive::Tracing(_) | Drive::Opening(_) => USUAL_ADVANCE,
        };
        let reach = Reach::new(advance, OPENING).ok()?;
        let samples = if scene.has_tooth_guidance() { SEARCHED_SAMPLES } else { SAMPLES };
        let samples = SampleCount::new(samples).ok()?;
        Some(Self { revision, envelope: scene.mechanism().envelope(reach, samples) })
    }

    /// Where each border takes a point.
    pub fn borders(
        &self,
        followed: Followed,
    ) -> impl Iterator<Item = (Border, Vec<nalgebra::Vector3<f64>>)> + '_ {
        self.envelope
            .paths()
            .iter()
            .map(move |path| (path.border(), path.places(followed).map(|place| *place.coords()).collect()))
    }

    /// What is to be said of borders that end early.
    pub fn ends(&self) -> impl Iterator<Item = String> + '_ {
        self.envelope.paths().iter().filter_map(|path| {
            let name = words::name::spoken(path.border().movement().name());
            path.ended().map(|end| format!("{name}: {end}"))
        })
    }
}

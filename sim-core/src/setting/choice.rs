//! Settings that are chosen between words rather than turned.

use crate::anterior::{AnteriorGuide, Trough};
use crate::frame::Side;
use crate::guide::{ArcPath, GuidePath};
use crate::instrument::Design;
use crate::scene::Scene;
use crate::units::Length;

/// A setting chosen between words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Which member carries the spheres.
    Design,
    /// What stops the closing in front.
    AnteriorGuide,
    /// The form of a superior wall, each side its own.
    Path,
}

/// Radius that a path takes when it is made an arc without one being named: near the middle of
/// what a glenoid fossa shows (common practice, no source).
const USUAL_ARC_RADIUS: Length = Length::from_mm(20.0);

impl Choice {
    /// Every choice.
    pub const ALL: [Self; 3] = [Self::Design, Self::AnteriorGuide, Self::Path];

    /// Its field name in a scene file.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Design => "design",
            Self::AnteriorGuide => "anterior_guide",
            Self::Path => "path",
        }
    }

    /// What the trade calls it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Design => "design",
            Self::AnteriorGuide => "anterior guide",
            Self::Path => "condylar path",
        }
    }

    /// The words that can be chosen. A recorded profile and a table formed to the teeth come with a
    /// scene file only.
    #[must_use]
    pub const fn words(self) -> &'static [&'static str] {
        match self {
            Self::Design => &["Arcon", "NonArcon"],
            Self::AnteriorGuide => &["Table", "Incisors", "Casts"],
            Self::Path => &["Straight", "Arc"],
        }
    }

    /// Whether each side has its own.
    #[must_use]
    pub const fn is_per_side(self) -> bool {
        matches!(self, Self::Path)
    }

    /// The word now chosen. `side` matters only where [`Self::is_per_side`].
    #[must_use]
    pub const fn get(self, scene: &Scene, side: Side) -> &'static str {
        match self {
            Self::Design => scene.instrument.design.name(),
            Self::AnteriorGuide => scene.instrument.anterior_guide.name(),
            Self::Path => scene.instrument.guide(side).path.name(),
        }
    }

    /// Chooses a word; angles and widths stay as they are. Returns whether the word is one of
    /// [`Self::words`]; if not, the scene is as it was.
    pub fn set(self, scene: &mut Scene, side: Side, word: &str) -> bool {
        let instrument = &mut scene.instrument;
        // A table formed to the teeth has no angles; a level one stands in for it.
        let trough = instrument.anterior_guide.trough().copied().unwrap_or(Trough::LEVEL);
        match (self, word) {
            (Self::Design, "Arcon") => instrument.design = Design::Arcon,
            (Self::Design, "NonArcon") => instrument.design = Design::NonArcon,
            (Self::AnteriorGuide, "Table") => instrument.anterior_guide = AnteriorGuide::Table(trough),
            (Self::AnteriorGuide, "Incisors") => instrument.anterior_guide = AnteriorGuide::Incisors(trough),
            (Self::AnteriorGuide, "Casts") => instrument.anterior_guide = AnteriorGuide::Casts(trough),
            (Self::Path, "Straight") => instrument.guide_mut(side).path = GuidePath::Straight,
            (Self::Path, "Arc") => {
                let path = &mut instrument.guide_mut(side).path;
                if !matches!(path, GuidePath::Arc(_)) {
                    *path = GuidePath::Arc(ArcPath { radius: USUAL_ARC_RADIUS });
                }
            }
            _ => return false,
        }
        true
    }
}

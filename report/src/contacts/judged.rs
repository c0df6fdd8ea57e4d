//! By which scheme contacts are judged, and why by that one.

use sim_core::occlusion::IntendedScheme;
use sim_core::scene::Scene;

/// By which scheme contacts are judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judged {
    /// What the teeth are meant to do.
    pub scheme: IntendedScheme,
    /// Why it is taken that they are.
    pub because: Because,
}

/// Why contacts are judged by a scheme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// Somebody said so.
    Told,
    /// The casts are complete dentures.
    CompleteDentures,
    /// The casts are natural teeth.
    NaturalTeeth,
    /// Nothing says what they are, and natural teeth are assumed.
    Unknown,
}

impl Judged {
    /// By what was told, else by what is usual for the casts of the scene.
    #[must_use]
    pub fn by(told: Option<IntendedScheme>, scene: &Scene) -> Self {
        use sim_core::cast::invented::CastKind;
        let kind = scene.invented_casts.as_ref().map(|casts| casts.kind);
        let because = match (told, kind) {
            (Some(_), _) => Because::Told,
            (None, Some(CastKind::CompleteDenture)) => Because::CompleteDentures,
            (None, Some(CastKind::Dentate)) => Because::NaturalTeeth,
            (None, None) => Because::Unknown,
        };
        let scheme = told.or(kind.map(IntendedScheme::usual)).unwrap_or_default();
        Self { scheme, because }
    }

    /// Whether teeth are meant to touch on both sides in every excursion.
    #[must_use]
    pub fn by_balance(self) -> bool {
        self.scheme == IntendedScheme::Balanced
    }

    /// As a sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        let why = match self.because {
            Because::Told => ", as was asked",
            Because::CompleteDentures => ": these are complete dentures, and nothing else was asked",
            Because::NaturalTeeth => ": these are natural teeth, and nothing else was asked",
            Because::Unknown => {
                ": the scene does not say what these teeth are. Complete dentures are to be judged by balance"
            }
        };
        format!("Judged by {}{why}.", words::verdict::scheme::intended(self.scheme))
    }
}

#[cfg(test)]
mod tests {
    use sim_core::cast::invented::InventedCasts;

    use super::*;

    #[test]
    fn dentures_are_judged_by_balance_unless_told_otherwise() {
        let scene = |casts| Scene { invented_casts: casts, ..Scene::thirty_degree() };
        let (denture, natural) = (InventedCasts::complete_denture(), InventedCasts::dentate());
        for (casts, told, by, words) in [
            (Some(denture.clone()), None, IntendedScheme::Balanced, "these are complete dentures"),
            (Some(natural), None, IntendedScheme::CanineGuided, "these are natural teeth"),
            (None, None, IntendedScheme::CanineGuided, "Complete dentures are to be judged by balance."),
            (
                Some(denture),
                Some(IntendedScheme::GroupFunction),
                IntendedScheme::GroupFunction,
                "as was asked",
            ),
        ] {
            let judged = Judged::by(told, &scene(casts));
            assert_eq!((judged.scheme, judged.by_balance()), (by, by == IntendedScheme::Balanced));
            assert!(judged.sentence().contains(words), "{}", judged.sentence());
        }
    }
}

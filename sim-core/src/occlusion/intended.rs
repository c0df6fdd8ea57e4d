//! Which contacts are meant to be there.

use serde::{Deserialize, Serialize};

use super::ToothGroup;
use super::contact::{ContactKind, side_of_teeth};
use crate::cast::invented::CastKind;
use crate::cusp::Tooth;
use crate::excursion::Movement;

/// Groups of teeth that are meant to touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Guides {
    /// Central and lateral incisors.
    pub incisors: bool,
    /// Canines.
    pub canines: bool,
    /// Premolars.
    pub premolars: bool,
    /// Molars.
    pub molars: bool,
}

impl Guides {
    /// None of the teeth.
    pub const NONE: Self = Self { incisors: false, canines: false, premolars: false, molars: false };
    /// The canines alone.
    pub const CANINES: Self = Self { canines: true, ..Self::NONE };
    /// Incisors and canines.
    pub const FRONT: Self = Self { incisors: true, ..Self::CANINES };
    /// Canines, premolars and molars.
    pub const CANINES_AND_BACK: Self = Self { premolars: true, molars: true, ..Self::CANINES };
    /// All teeth.
    pub const ALL: Self = Self { incisors: true, ..Self::CANINES_AND_BACK };

    /// Whether a group is among them.
    #[must_use]
    pub(crate) const fn has(self, group: ToothGroup) -> bool {
        match group {
            ToothGroup::Incisor => self.incisors,
            ToothGroup::Canine => self.canines,
            ToothGroup::Premolar => self.premolars,
            ToothGroup::Molar => self.molars,
        }
    }
}

/// Which teeth are meant to touch in which excursion. In centric all are.
///
/// Which scheme a mouth is to have is the dentist's choice; what each asks of the teeth is common
/// practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Intended {
    /// In protrusion.
    pub protrusive: Guides,
    /// On the side that the jaw moves to.
    pub working: Guides,
    /// On the side whose condyle orbits.
    pub orbiting: Guides,
}

impl Intended {
    /// Front teeth guide protrusion, the canine alone a lateral excursion.
    pub const CANINE_GUIDED: Self =
        Self { protrusive: Guides::FRONT, working: Guides::CANINES, orbiting: Guides::NONE };
    /// Front teeth guide protrusion, canine and back teeth of the working side a lateral excursion.
    pub const GROUP_FUNCTION: Self =
        Self { protrusive: Guides::FRONT, working: Guides::CANINES_AND_BACK, orbiting: Guides::NONE };
    /// All teeth touch in every excursion, as complete dentures are to.
    pub const BALANCED: Self = Self { protrusive: Guides::ALL, working: Guides::ALL, orbiting: Guides::ALL };

    /// Whether teeth of the orbiting side are meant to touch: contact there is balance, and not in the
    /// way.
    #[must_use]
    pub(crate) fn is_balance(&self) -> bool {
        self.orbiting != Guides::NONE
    }

    /// The teeth meant to make a kind of contact.
    #[must_use]
    pub(crate) const fn guides(&self, kind: ContactKind) -> Guides {
        match kind {
            ContactKind::Centric => Guides::ALL,
            ContactKind::Protrusive => self.protrusive,
            ContactKind::Working => self.working,
            ContactKind::Orbiting => self.orbiting,
        }
    }

    /// Whether a pair of teeth is meant to touch once the jaw has left rest in a movement. What
    /// belongs to no tooth on either arch is meant to only where all teeth are.
    #[must_use]
    pub(crate) fn allows(&self, movement: Movement, upper: Option<Tooth>, lower: Option<Tooth>) -> bool {
        match (side_of_teeth(upper, lower), ToothGroup::of_pair(upper, lower)) {
            (Some(side), Some(group)) => self.guides(ContactKind::away(movement, side)).has(group),
            _ => *self == Self::BALANCED,
        }
    }
}

impl Default for Intended {
    /// [`Self::CANINE_GUIDED`].
    fn default() -> Self {
        Self::CANINE_GUIDED
    }
}

/// The occlusal scheme that teeth are meant to have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum IntendedScheme {
    /// [`Intended::CANINE_GUIDED`].
    #[default]
    CanineGuided,
    /// [`Intended::GROUP_FUNCTION`].
    GroupFunction,
    /// [`Intended::BALANCED`].
    Balanced,
}

impl IntendedScheme {
    /// Every scheme.
    pub const ALL: [Self; 3] = [Self::CanineGuided, Self::GroupFunction, Self::Balanced];

    /// `canine-guided`, `group function` or `balanced`, as [`Scheme::name`](super::Scheme::name) has it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::CanineGuided => "canine-guided",
            Self::GroupFunction => "group function",
            Self::Balanced => "balanced",
        }
    }

    /// What teeth are judged by when nobody says: complete dentures by balance, natural teeth by the
    /// guidance of their canines (common practice, no source).
    #[must_use]
    pub const fn usual(kind: CastKind) -> Self {
        match kind {
            CastKind::Dentate => Self::CanineGuided,
            CastKind::CompleteDenture => Self::Balanced,
        }
    }

    /// The teeth that are meant to touch.
    #[must_use]
    pub const fn intended(self) -> Intended {
        match self {
            Self::CanineGuided => Intended::CANINE_GUIDED,
            Self::GroupFunction => Intended::GROUP_FUNCTION,
            Self::Balanced => Intended::BALANCED,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Intended, IntendedScheme};
    use crate::cast::invented::CastKind;
    use crate::cusp::Tooth;
    use crate::excursion::Movement;
    use crate::frame::Side;

    fn allows(intended: &Intended, movement: Movement, upper: i64, lower: i64) -> bool {
        let tooth = |number| Tooth::new(number).ok();
        intended.allows(movement, tooth(upper), tooth(lower))
    }

    #[test]
    fn the_upper_tooth_decides_what_a_pair_is_meant_to_do_unless_the_lower_is_a_back_tooth() {
        let right = Movement::Lateral { working: Side::Right };
        let canine = Intended::CANINE_GUIDED;
        assert!(allows(&canine, right, 13, 42), "the upper canine is glided on");
        assert!(!allows(&canine, right, 13, 44), "a lower premolar is a back tooth");
        assert!(!allows(&canine, right, 14, 43));
        assert!(!allows(&canine, right, 23, 33), "the canine of the orbiting side");
        assert!(allows(&canine, Movement::Protrusive, 21, 31));
        assert!(!allows(&canine, Movement::Protrusive, 26, 36));
        assert!(!allows(&canine, Movement::Protrusive, 13, 44));
        assert!(allows(&Intended::GROUP_FUNCTION, right, 16, 46));
        assert!(allows(&Intended::GROUP_FUNCTION, right, 13, 44));
        assert!(!allows(&Intended::GROUP_FUNCTION, right, 26, 36));
        assert!(allows(&Intended::BALANCED, right, 26, 36));
        assert!(!canine.allows(right, None, None));
        assert!(Intended::BALANCED.allows(right, None, None));
    }

    #[test]
    fn dentures_are_judged_by_balance_and_natural_teeth_by_their_canines() {
        assert_eq!(IntendedScheme::usual(CastKind::CompleteDenture).intended(), Intended::BALANCED);
        assert_eq!(IntendedScheme::usual(CastKind::Dentate).intended(), Intended::CANINE_GUIDED);
        let balance = IntendedScheme::ALL.map(|scheme| scheme.intended().is_balance());
        assert_eq!(balance, [false, false, true]);
    }
}

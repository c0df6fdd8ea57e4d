//! Which teeth guide an excursion, how that is known, and by what teeth are judged.

use sim_core::excursion::Movement;
use sim_core::occlusion::{IntendedScheme, Region, Scheme};

/// What stands beside every amount that is to come off a tooth.
pub const REDUCTION_CAUTION: &str = "What is ground off cannot be put back: try it on the mounted casts first, \
                                     and check it in the mouth before a tooth is touched.";

/// What teeth are meant to do: `canine guidance`, `group function` or `balance`.
#[must_use]
pub const fn intended(scheme: IntendedScheme) -> &'static str {
    match scheme {
        IntendedScheme::CanineGuided => "canine guidance",
        IntendedScheme::GroupFunction => "group function",
        IntendedScheme::Balanced => "balance",
    }
}

/// The rule by which a scheme is known in a movement.
#[must_use]
pub const fn rule(scheme: Scheme, movement: Movement) -> &'static str {
    let is_lateral = movement.working_side().is_some();
    match scheme {
        Scheme::CanineGuided => {
            "on the working side the canine touches and no other tooth; the orbiting side is clear"
        }
        Scheme::GroupFunction => {
            "on the working side several teeth touch at once, back teeth among them; the orbiting side is clear"
        }
        Scheme::Balanced if is_lateral => "teeth of the working and of the orbiting side touch at once",
        Scheme::Balanced => "front teeth and back teeth of both sides touch at once",
        Scheme::AnteriorGuided if is_lateral => {
            "on the working side incisors touch, and no back tooth; the orbiting side is clear"
        }
        Scheme::AnteriorGuided => "front teeth touch, and no back tooth",
        Scheme::PosteriorGuided if is_lateral => {
            "on the working side one pair of back teeth touches alone; the orbiting side is clear"
        }
        Scheme::PosteriorGuided => "back teeth touch, and no front tooth",
        Scheme::OrbitingGuided => "teeth of the orbiting side touch, and none of the working side",
        Scheme::Uneven => "front teeth touch, and back teeth of one side only",
        Scheme::OrbitingInterference => {
            "teeth of the orbiting side touch; in natural teeth that is an interference, not balance"
        }
        Scheme::ProtrusiveInterference => {
            "back teeth touch in protrusion; in natural teeth that is an interference, not balance"
        }
        Scheme::NoContact => "no teeth touch",
        Scheme::Undetermined => "something touches that belongs to no known tooth",
    }
}

/// The teeth of which one is to touch: `no tooth of the orbiting side`, as a sentence begins.
#[must_use]
pub const fn no_tooth_of(region: Region) -> &'static str {
    use sim_core::frame::Side;
    match region {
        Region::Working => "no tooth of the working side",
        Region::Orbiting => "no tooth of the orbiting side",
        Region::Front => "no front tooth",
        Region::Back(Side::Right) => "no back tooth of the right side",
        Region::Back(Side::Left) => "no back tooth of the left side",
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;

    use super::*;

    /// What a rule has to speak of. The match is complete, so that a new scheme is missed here.
    const fn speaks_of(scheme: Scheme) -> &'static str {
        match scheme {
            Scheme::CanineGuided => "canine",
            Scheme::GroupFunction => "several teeth",
            Scheme::Balanced => "at once",
            Scheme::AnteriorGuided | Scheme::PosteriorGuided => "back t",
            Scheme::OrbitingGuided => "orbiting side touch",
            Scheme::Uneven => "one side only",
            Scheme::OrbitingInterference | Scheme::ProtrusiveInterference => "interference, not balance",
            Scheme::NoContact => "no teeth touch",
            Scheme::Undetermined => "no known tooth",
        }
    }

    #[test]
    fn every_scheme_has_its_rule() {
        let all = [
            Scheme::CanineGuided,
            Scheme::GroupFunction,
            Scheme::Balanced,
            Scheme::AnteriorGuided,
            Scheme::PosteriorGuided,
            Scheme::OrbitingGuided,
            Scheme::Uneven,
            Scheme::OrbitingInterference,
            Scheme::ProtrusiveInterference,
            Scheme::NoContact,
            Scheme::Undetermined,
        ];
        let lateral = Movement::Lateral { working: Side::Right };
        for scheme in all {
            for movement in [Movement::Protrusive, lateral] {
                let rule = rule(scheme, movement);
                assert!(rule.contains(speaks_of(scheme)), "{scheme:?}: {rule}");
            }
        }
        for (number, one) in all.into_iter().enumerate() {
            let same = |other: &&Scheme| rule(**other, lateral) == rule(one, lateral);
            assert_eq!(all[..number].iter().find(same), None, "{one:?}");
        }
        assert_ne!(rule(Scheme::Balanced, lateral), rule(Scheme::Balanced, Movement::Protrusive));
    }

    #[test]
    fn every_region_and_intended_scheme_has_its_own_words() {
        let regions = [
            Region::Working,
            Region::Orbiting,
            Region::Front,
            Region::Back(Side::Right),
            Region::Back(Side::Left),
        ];
        for region in regions {
            // The identifier's words are in the sentence.
            for word in region.name().split('_') {
                assert!(no_tooth_of(region).contains(word), "{region:?}");
            }
        }
        assert_eq!(IntendedScheme::ALL.map(intended), ["canine guidance", "group function", "balance"]);
    }
}

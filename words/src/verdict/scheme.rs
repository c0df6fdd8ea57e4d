//! Which teeth guide an excursion, and how that is known.

use sim_core::excursion::Movement;
use sim_core::occlusion::Scheme;

/// The rule by which a scheme is known in a movement.
#[must_use]
pub const fn rule(scheme: Scheme, movement: Movement) -> &'static str {
    let is_lateral = movement.working_side().is_some();
    match scheme {
        Scheme::CanineGuided => {
            "on the working side the canine touches and no other tooth; the orbiting side is clear"
        }
        Scheme::GroupFunction => {
            "on the working side back teeth touch together with the canine; the orbiting side is clear"
        }
        Scheme::Balanced if is_lateral => "teeth of the working and of the orbiting side touch at once",
        Scheme::Balanced => "front teeth and back teeth of both sides touch at once",
        Scheme::AnteriorGuided if is_lateral => {
            "on the working side incisors touch, and no back tooth; the orbiting side is clear"
        }
        Scheme::AnteriorGuided => "front teeth touch, and no back tooth",
        Scheme::PosteriorGuided if is_lateral => {
            "on the working side back teeth touch, and the canine does not; the orbiting side is clear"
        }
        Scheme::PosteriorGuided => "back teeth touch, and no front tooth",
        Scheme::OrbitingGuided => "teeth of the orbiting side touch, and none of the working side",
        Scheme::Uneven => "front teeth touch, and back teeth of one side only",
        Scheme::NoContact => "no teeth touch",
        Scheme::Undetermined => "something touches that belongs to no known tooth",
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;

    use super::*;

    /// What a rule has to speak of. The match is complete, so that a new scheme is missed here.
    const fn speaks_of(scheme: Scheme) -> &'static str {
        match scheme {
            Scheme::CanineGuided | Scheme::GroupFunction => "canine",
            Scheme::Balanced => "at once",
            Scheme::AnteriorGuided | Scheme::PosteriorGuided => "back t",
            Scheme::OrbitingGuided => "orbiting side touch",
            Scheme::Uneven => "one side only",
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
}

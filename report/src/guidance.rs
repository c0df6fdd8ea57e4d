//! What guides the jaw, in words.

use sim_core::cusp::Tooth;
use sim_core::excursion::{Guidance, ToothStop};

/// What guides, in a few words.
pub fn guidance_words(guidance: Guidance) -> String {
    match guidance {
        Guidance::Table(plane) | Guidance::Incisors(plane) => {
            format!("{} {}", guidance.name(), plane.name().replace('_', " "))
        }
        Guidance::Teeth(stop) => teeth_words(&stop),
        Guidance::CustomTable => "custom table".to_owned(),
        Guidance::None => "no guide".to_owned(),
    }
}

/// The teeth that guide, as far as the casts say which they are.
fn teeth_words(stop: &ToothStop) -> String {
    match (stop.upper_tooth, stop.lower_tooth) {
        (None, None) => "teeth".to_owned(),
        (Some(_), Some(_)) => format!("teeth {}", pair_words(stop.upper_tooth, stop.lower_tooth)),
        _ => format!("tooth {}", pair_words(stop.upper_tooth, stop.lower_tooth)),
    }
}

/// A pair of teeth, as far as the casts say which they are.
pub fn pair_words(upper: Option<Tooth>, lower: Option<Tooth>) -> String {
    match (upper, lower) {
        (Some(upper), Some(lower)) => format!("{upper} and {lower}"),
        (Some(one), None) | (None, Some(one)) => one.to_string(),
        (None, None) => "no known tooth".to_owned(),
    }
}

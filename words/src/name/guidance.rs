//! What guides the jaw in front.

use sim_core::cusp::Tooth;
use sim_core::excursion::{Guidance, ToothStop};

use super::{plane, tooth};

/// What guides, in a few words: `table right wing`, `teeth 13 and 43`, `custom table`.
#[must_use]
pub fn guidance(guidance: Guidance) -> String {
    match guidance {
        Guidance::Table(touched) => format!("table {}", plane(touched)),
        Guidance::Incisors(touched) => format!("incisors {}", plane(touched)),
        Guidance::Teeth(stop) => teeth(&stop),
        Guidance::CustomTable => "custom table".to_owned(),
        Guidance::None => "no guide".to_owned(),
    }
}

/// The teeth that guide, as far as the casts say which they are.
fn teeth(stop: &ToothStop) -> String {
    let pair = pair(stop.upper_tooth, stop.lower_tooth);
    match (stop.upper_tooth, stop.lower_tooth) {
        (None, None) => "teeth".to_owned(),
        (Some(_), Some(_)) => format!("teeth {pair}"),
        _ => format!("tooth {pair}"),
    }
}

/// A pair of teeth, as far as the casts say which they are: `16 and 46`.
#[must_use]
pub fn pair(upper: Option<Tooth>, lower: Option<Tooth>) -> String {
    match (upper, lower) {
        (Some(upper), Some(lower)) => format!("{} and {}", tooth(upper), tooth(lower)),
        (Some(one), None) | (None, Some(one)) => tooth(one),
        (None, None) => "no known tooth".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use sim_core::anterior::GuidePlane;
    use sim_core::frame::{Side, UpperPoint};

    use super::*;

    #[test]
    fn guidance_is_named_as_far_as_it_is_known() {
        let stop = |upper_tooth, lower_tooth| {
            let at = UpperPoint::mm(0.0, 0.0, 0.0);
            guidance(Guidance::Teeth(ToothStop { upper_tooth, lower_tooth, at }))
        };
        let [upper, lower] = [13, 43].map(|number| Tooth::new(number).ok());
        assert_eq!(stop(upper, lower), "teeth 13 and 43");
        assert_eq!(stop(None, lower), "tooth 43");
        assert_eq!(stop(None, None), "teeth");
        assert_eq!(pair(None, None), "no known tooth");
        assert_eq!(guidance(Guidance::Table(GuidePlane::Wing(Side::Right))), "table right wing");
        assert_eq!(guidance(Guidance::Incisors(GuidePlane::Plate)), "incisors plate");
        assert_eq!(guidance(Guidance::CustomTable), "custom table");
        assert_eq!(guidance(Guidance::None), "no guide");
    }
}

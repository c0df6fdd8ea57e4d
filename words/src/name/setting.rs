//! Settings.

use sim_core::facts::Facts;
use sim_core::setting::{CuspsNamed, SettingName};

use super::{cusp_of, side, tooth};

/// What the trade calls a setting, with the letter it writes for it where it has one: `horizontal
/// condylar inclination H`.
#[must_use]
pub fn lettered(facts: &Facts) -> String {
    match facts.symbol {
        Some(symbol) => format!("{} {symbol}", facts.label),
        None => facts.label.to_owned(),
    }
}

/// The letter that the trade writes for a setting, or what it calls it where there is none: for a table's
/// narrow column, beside a legend that says what [`lettered`] says.
#[must_use]
pub fn letter(facts: &Facts) -> &'static str {
    facts.symbol.unwrap_or(facts.label)
}

/// A setting by what the trade calls it and where it is: `horizontal condylar inclination, right`,
/// `opposing working incline at 36 mesiobuccal`.
#[must_use]
pub fn setting(name: &SettingName) -> String {
    let label = name.facts().label;
    match (name.cusps(), name.side()) {
        (Some(CuspsNamed::Every), _) => format!("{label}, every cusp"),
        (Some(CuspsNamed::Tooth(of)), _) => format!("{label} at {}", tooth(*of)),
        (Some(CuspsNamed::One(of, cusp)), _) => format!("{label} at {}", cusp_of(*of, cusp)),
        (None, Some(one)) => format!("{label}, {}", side(one)),
        (None, None) if name.is_per_side() => format!("{label}, both sides"),
        (None, None) => label.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use sim_core::guide::CondylarGuide;

    use super::*;

    #[test]
    fn a_setting_has_its_letter_where_the_trade_writes_one() {
        assert_eq!(lettered(&CondylarGuide::LATERAL_ANGLE.facts), "lateral condylar (Bennett) angle L");
        assert_eq!(lettered(&CondylarGuide::WALL_TILT.facts), "tilt of the superior wall");
        assert_eq!(letter(&CondylarGuide::HORIZONTAL_INCLINATION.facts), "H");
        assert_eq!(letter(&CondylarGuide::WALL_TILT.facts), "tilt of the superior wall");
    }

    #[test]
    fn a_setting_is_named_with_its_side_tooth_and_cusp() {
        for (written, words) in [
            ("right_guide.horizontal_inclination_deg", "horizontal condylar inclination, right"),
            ("horizontal_inclination_deg", "horizontal condylar inclination, both sides"),
            ("occlusal_plane_inclination_deg", "inclination of the occlusal plane"),
            ("cusps.working_deg", "opposing working incline, every cusp"),
            ("cusps.36.working_deg", "opposing working incline at 36"),
            ("cusps.36.mesiobuccal.working_deg", "opposing working incline at 36 mesiobuccal"),
        ] {
            assert_eq!(setting(&written.parse().expect(written)), words);
        }
    }
}

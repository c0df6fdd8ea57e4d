//! What an observer of a practice deal saw, a sentence a line.

use sim_core::anterior::AnteriorGuide;
use sim_core::frame::Side;
use sim_core::instrument::Instrument;
use sim_core::practice::{CentricStep, Observed};
use sim_core::units::Length;

use crate::number::{as_given, length};

/// What is less than this is nothing, in millimetres.
const NOTHING_MM: f64 = 0.05;

/// What an observer saw of a tracing, of records and of the instrument as it was found: measures, and no
/// verdict on them.
#[must_use]
pub fn observed(observed: &Observed, instrument: &Instrument) -> Vec<String> {
    let mut lines = vec![format!(
        "The tracing plate stands at {}° to the occlusal plane.",
        as_given(observed.plate_tilt.degrees())
    )];
    if let Some(step) = &observed.centric_step {
        lines.push(split(step));
    }
    if let Some(way) = observed.protrusive_on_tracing {
        lines.push(format!(
            "The stylus stood {} from the apex on the tracing when the protrusive record was made.",
            length(way, 1)
        ));
    }
    lines.push(pin(instrument.pin_extension));
    if let AnteriorGuide::Table(trough) = &instrument.anterior_guide {
        let degrees = |angle: sim_core::units::Angle| as_given(angle.degrees());
        lines.push(format!(
            "The incisal table reads {}° on its plate, {}° on its right wing and {}° on its left wing.",
            degrees(trough.sagittal_inclination),
            degrees(trough.right_wing),
            degrees(trough.left_wing),
        ));
    }
    for side in Side::BOTH {
        let guide = instrument.guide(side);
        lines.push(format!(
            "The {side} guide reads H {}° and L {}°, and is set to {} mm of immediate translation.",
            as_given(guide.horizontal_inclination.degrees()),
            as_given(guide.lateral_angle.degrees()),
            as_given(guide.immediate_translation.mm()),
        ));
    }
    lines
}

/// How the secondary base stands to the primary.
fn split(step: &CentricStep) -> String {
    let part = |way: Length, above: &str, below: &str| {
        let mm = way.mm();
        (mm.abs() >= NOTHING_MM).then(|| {
            format!("{} {}", length(Length::from_mm(mm.abs()), 1), if mm > 0.0 { above } else { below })
        })
    };
    let parts: Vec<String> =
        [part(step.ahead, "in front of", "behind"), part(step.left, "to the left of", "to the right of")]
            .into_iter()
            .flatten()
            .collect();
    let stands = if parts.is_empty() { "without a step on".to_owned() } else { parts.join(" and ") };
    format!(
        "With the repeat of the centric record between the casts, the secondary base (on the upper member) stands {stands} \
         the primary base (on the upper cast)."
    )
}

fn pin(extension: Length) -> String {
    let mm = extension.mm();
    if mm.abs() < NOTHING_MM {
        return "The top of the incisal pin is flush with the upper member.".to_owned();
    }
    // A pin that is let down stands lower in the member, and opens the instrument.
    let way = if mm > 0.0 { "below" } else { "above" };
    format!(
        "The top of the incisal pin stands {} {way} that of the upper member.",
        length(Length::from_mm(mm.abs()), 1)
    )
}

#[cfg(test)]
mod tests {
    use sim_core::anterior::Trough;
    use sim_core::units::Angle;

    use super::*;

    fn said(seen: &Observed, instrument: &Instrument) -> String {
        observed(seen, instrument).join("\n")
    }

    #[test]
    fn the_instrument_is_told_as_it_stands_zeroed_or_not() {
        let scanned = Observed {
            plate_tilt: Angle::from_degrees(2.5),
            protrusive_on_tracing: None,
            centric_step: None,
        };
        let zeroed = said(&scanned, &Instrument::zeroed());
        for line in [
            "2.5° to the occlusal plane",
            "is flush",
            "0° on its left wing",
            "right guide reads H 30° and L 30°",
        ] {
            assert!(zeroed.contains(line), "{line:?} not in {zeroed}");
        }
        assert!(!zeroed.contains("stylus") && !zeroed.contains("secondary"), "{zeroed}");
        let mut left = Instrument::zeroed();
        left.pin_extension = Length::from_mm(-1.5);
        left.left_guide.immediate_translation = Length::from_mm(0.4);
        left.anterior_guide =
            AnteriorGuide::Table(Trough { left_wing: Angle::from_degrees(5.0), ..Trough::LEVEL });
        let left = said(&scanned, &left);
        for line in
            ["pin stands 1.5 mm above that of the upper member", "5° on its left wing", "0.4 mm of immediate"]
        {
            assert!(left.contains(line), "{line:?} not in {left}");
        }
    }

    #[test]
    fn a_step_is_told_by_where_the_secondary_base_stands() {
        let step =
            |ahead, left| split(&CentricStep { ahead: Length::from_mm(ahead), left: Length::from_mm(left) });
        assert!(step(0.0, 0.0).contains("stands without a step on the primary"), "{}", step(0.0, 0.0));
        assert!(step(-0.8, 0.2).contains("stands 0.8 mm behind and 0.2 mm to the left of the primary"));
        assert!(step(0.1, -0.6).contains("stands 0.1 mm in front of and 0.6 mm to the right of the primary"));
    }
}

//! What to doubt in a programmed instrument.

use sim_core::frame::Side;
use sim_core::instrument::Instrument;
use sim_core::record::program::Source;
use sim_core::record::warning::{SHORT_PROTRUSION_MM, USUAL_PROTRUSION_MM, Warning};

use crate::name::nth_record;
use crate::number::{angle, as_given, length, one_decimal};

/// In place of a disclusion that would rest on a guide nobody has given.
pub const DISCLUSION_NOT_TOLD: &str = "Disclusion is not told, since nothing says what guides in front; give \
                                       incisal_guidance (the overlap of the incisors) or anterior_guide";

/// One thing to doubt, with its numbers.
#[must_use]
pub fn warning(warning: &Warning) -> String {
    match warning {
        Warning::Unconfirmed => {
            "no repeat of the centric record is given: nothing confirms the position that \
                                 every setting starts from"
                .to_owned()
        }
        Warning::AverageMounting { arm, balkwill } => format!(
            "mounted by averages, not by a face-bow: arms vary by ±{} and the Balkwill angle by ±{} between people, \
             and the settings with them",
            length(*arm, 1),
            angle(*balkwill, 1),
        ),
        Warning::ShortProtrusion { record, distance, right, left } => format!(
            "the {} goes {} forward as a tracing shows it, short of the usual {} mm (less than {} mm is too \
             little); the right condyle has advanced {} and the left {}: the same landmark error makes an error of H {} \
             times as large",
            nth_record(*record),
            length(*distance, 2),
            as_given(USUAL_PROTRUSION_MM),
            as_given(SHORT_PROTRUSION_MM),
            length(*right, 2),
            length(*left, 2),
            one_decimal(USUAL_PROTRUSION_MM / distance.mm().max(0.1)),
        ),
        Warning::UnequalAdvance { record, right, left } => format!(
            "the {} advances the right condyle by {} and the left by {}: not a straight protrusion",
            nth_record(*record),
            length(*right, 2),
            length(*left, 2),
        ),
        Warning::BadLandmark { record, landmark, misfit, expected } => format!(
            "the {}: landmark {} is {} off where the others put it, {} are to be expected",
            nth_record(*record),
            landmark + 1,
            length(*misfit, 3),
            length(*expected, 3),
        ),
        Warning::NotPerforated { record, kind } => format!(
            "the bearing point has not gone through the {} ({}): the jaw may not have been where the tracing was \
             made; take it again",
            nth_record(*record),
            kind.words(),
        ),
        Warning::ReadOnce { record, side } => format!(
            "the {side} scale was read once in the {}: its ± is the graduation's alone, and how well the closing \
             repeats is not known",
            nth_record(*record),
        ),
        Warning::GapsUnlike { record, left, expected } => format!(
            "no angle of the guides closes the gaps of the {}: {} are left (root mean square) where the caliper \
             leaves {}; a groove is misread, the key is soiled, or the record has moved",
            nth_record(*record),
            length(*left, 2),
            length(*expected, 2),
        ),
        Warning::FewGrooves { given } => format!(
            "the split is read at {given} grooves, not at six: one misread gap is less easily seen",
        ),
        Warning::UnequalRods { right, left } => format!(
            "the rods of the face-bow read {} on the right and {} on the left: the bow was not in the middle, or the \
             face is not even",
            length(*right, 1),
            length(*left, 1),
        ),
        Warning::AxisByRule => "the axis was found by a rule, and without coordinates nothing can be told of what an \
                                axis elsewhere would have made of the settings: they are less sure than their ±"
            .to_owned(),
        Warning::Unusual { side, setting, angle: read, usual_deg: (least, most) } => format!(
            "{} of the {side} guide is {}, outside the usual {}° to {}°",
            setting.facts().label,
            angle(*read, 1),
            as_given(*least),
            as_given(*most),
        ),
        Warning::ByRule { side } => format!(
            "lateral angle of the {side} guide is by the {}, for want of a lateral record to the other side",
            source(Source::Rule),
        ),
        Warning::IncisalPointAssumed { landmark } => format!(
            "incisal_point_mm is not given: the scene takes the foremost landmark, number {}, for the incisal point",
            landmark + 1,
        ),
        Warning::IncisalPointOfTheExample => {
            let at = Instrument::zeroed().incisal_point.coords();
            format!(
                "incisal_point_mm is not given: the scene takes that of the example instrument, {} mm in front of the \
                 axis and {} mm below it",
                as_given(at.x),
                as_given(-at.z),
            )
        }
        Warning::OcclusalPlaneAssumed { inclination } => format!(
            "occlusal_plane_mm is not given: the scene's cusps are measured from a plane inclined {}°",
            as_given(inclination.degrees()),
        ),
        Warning::OcclusalPlaneTilted { tilt } => format!(
            "the occlusal plane is {}° higher on the {}; the scene's plane is level from side to side",
            one_decimal(tilt.degrees().abs()),
            if tilt.degrees() > 0.0 { Side::Left } else { Side::Right },
        ),
        Warning::AnteriorGuideAssumed => {
            "no anterior guide is given: the scene takes a level table for want of one".to_owned()
        }
        Warning::WrongCondyle { record, kind, orbiting, working } => format!(
            "the {} is given as a {}, but the condyle that should stay has advanced {} and the one that \
             should orbit {}: are the sides swapped?",
            nth_record(*record),
            kind.words(),
            length(*working, 2),
            length(*orbiting, 2),
        ),
    }
}

/// Where a setting comes from: `protrusive record`, …, or `H/8 + 12 rule`.
#[must_use]
pub const fn source(source: Source) -> &'static str {
    match source {
        Source::Record(kind) => kind.words(),
        Source::Rule => "H/8 + 12 rule",
    }
}

#[cfg(test)]
mod tests {
    use sim_core::record::RecordKind;
    use sim_core::record::warning::GuideAngle;
    use sim_core::units::{Angle, Length};

    use super::*;

    /// The end of what a warning says. The match is complete, so that a new warning is missed here.
    const fn end(warning: &Warning) -> &'static str {
        match warning {
            Warning::Unconfirmed => "the position that every setting starts from",
            Warning::AverageMounting { .. } => {
                "arms vary by ±4.0 mm and the Balkwill angle by ±3.0° between people, and the settings with them"
            }
            Warning::ShortProtrusion { .. } => {
                "goes 3.00 mm forward as a tracing shows it, short of the usual 6 mm (less than 5 mm is too little); the \
                 right condyle has advanced 2.50 mm and the left 2.40 mm: the same landmark error makes an error of H \
                 2.0 times as large"
            }
            Warning::UnequalAdvance { .. } => {
                "right condyle by 6.00 mm and the left by 5.00 mm: not a straight protrusion"
            }
            Warning::BadLandmark { .. } => {
                "the second record: landmark 4 is 0.512 mm off where the others put it, 0.100 mm are to be expected"
            }
            Warning::Unusual { .. } => "of the right guide is −5.0°, outside the usual 0° to 30°",
            Warning::ByRule { .. } => "by the H/8 + 12 rule, for want of a lateral record to the other side",
            Warning::IncisalPointAssumed { .. } => "the foremost landmark, number 1, for the incisal point",
            Warning::NotPerforated { .. } => "was made; take it again",
            Warning::ReadOnce { .. } => "and how well the closing repeats is not known",
            Warning::GapsUnlike { .. } => {
                "closes the gaps of the second record: 0.30 mm are left (root mean square) where the caliper leaves \
                 0.05 mm; a groove is misread, the key is soiled, or the record has moved"
            }
            Warning::FewGrooves { .. } => {
                "read at 4 grooves, not at six: one misread gap is less easily seen"
            }
            Warning::UnequalRods { .. } => "the bow was not in the middle, or the face is not even",
            Warning::AxisByRule => "they are less sure than their ±",
            Warning::IncisalPointOfTheExample => "98 mm in front of the axis and 42 mm below it",
            Warning::OcclusalPlaneAssumed { .. } => "measured from a plane inclined −8.5°",
            Warning::OcclusalPlaneTilted { .. } => {
                "2.0° higher on the right; the scene's plane is level from side to side"
            }
            Warning::AnteriorGuideAssumed => "the scene takes a level table for want of one",
            Warning::WrongCondyle { .. } => {
                "given as a left lateral record, but the condyle that should stay has advanced 4.00 mm and the one \
                 that should orbit 0.20 mm: are the sides swapped?"
            }
        }
    }

    #[test]
    fn every_warning_gives_its_numbers() {
        let (mm, deg) = (Length::from_mm, Angle::from_degrees);
        for one in [
            Warning::Unconfirmed,
            Warning::AverageMounting { arm: mm(4.0), balkwill: deg(3.0) },
            Warning::ShortProtrusion { record: 0, distance: mm(3.0), right: mm(2.5), left: mm(2.4) },
            Warning::UnequalAdvance { record: 0, right: mm(6.0), left: mm(5.0) },
            Warning::BadLandmark { record: 1, landmark: 3, misfit: mm(0.5123), expected: mm(0.1) },
            Warning::Unusual {
                side: Side::Right,
                setting: GuideAngle::LateralAngle,
                angle: deg(-5.0),
                usual_deg: (0.0, 30.0),
            },
            Warning::ByRule { side: Side::Left },
            Warning::IncisalPointAssumed { landmark: 0 },
            Warning::NotPerforated { record: 1, kind: RecordKind::Protrusive },
            Warning::ReadOnce { record: 1, side: Side::Left },
            Warning::GapsUnlike { record: 1, left: mm(0.3), expected: mm(0.05) },
            Warning::FewGrooves { given: 4 },
            Warning::UnequalRods { right: mm(62.0), left: mm(58.0) },
            Warning::AxisByRule,
            Warning::IncisalPointOfTheExample,
            Warning::OcclusalPlaneAssumed { inclination: deg(-8.5) },
            Warning::OcclusalPlaneTilted { tilt: deg(-2.0) },
            Warning::AnteriorGuideAssumed,
            Warning::WrongCondyle {
                record: 2,
                kind: RecordKind::LeftLateral,
                orbiting: mm(0.2),
                working: mm(4.0),
            },
        ] {
            let said = warning(&one);
            assert!(said.ends_with(end(&one)), "{said}");
            assert!(!said.contains(" -"), "{said}");
        }
    }

    #[test]
    fn a_setting_comes_from_a_record_or_the_rule() {
        assert_eq!(source(Source::Record(RecordKind::Protrusive)), "protrusive record");
        assert_eq!(source(Source::Rule), "H/8 + 12 rule");
    }
}

//! Why a setting is refused or has no pose, to somebody who turns it and reads no file.

use sim_core::excursion::{NoPose, Obstacle};
use sim_core::facts::OutOfRange;
use sim_core::frame::Side;

use crate::number::{as_set, two_decimals};

/// A number beyond what its setting allows: `The horizontal condylar inclination, right, cannot be 999°. It goes
/// from −30° to 85°.`
#[must_use]
pub fn out_of_range(error: &OutOfRange, side: Option<Side>) -> String {
    let facts = error.facts;
    let sign = facts.unit.sign();
    let side = side.map(|side| format!(", {side},")).unwrap_or_default();
    format!(
        "The {}{side} cannot be {}{sign}. It goes from {}{sign} to {}{sign}.",
        facts.label,
        as_set(error.given),
        as_set(facts.min),
        as_set(facts.max),
    )
}

/// An excursion without a pose from some advance on.
#[must_use]
pub fn no_pose(error: &NoPose) -> String {
    let movement = crate::name::spoken(error.movement);
    let at = two_decimals(error.advance.mm());
    format!(
        "In the {movement} excursion there is no pose at {at} mm of condylar advance. {}",
        obstacle(&error.obstacle)
    )
}

fn obstacle(of: &Obstacle) -> String {
    match of {
        Obstacle::PastEnd { side, path, ends_at_mm } => format!(
            "The {path} path of the {side} guide ends at {} mm: it needs a longer path, or the excursion a shorter way.",
            two_decimals(*ends_at_mm)
        ),
        Obstacle::Unbridged { distance_mm } => format!(
            "The walls of the two guides leave no room for spheres {} mm apart: condylar inclinations, tilts of the \
             superior wall or laterosurtrusion of the two sides are too unlike.",
            as_set(*distance_mm)
        ),
        Obstacle::GuideNotReached => "The incisal point meets no plane of the anterior guide within a quarter turn of \
             closing: the incisal guide or a wing is too steep, or the pin is let down too far."
            .to_owned(),
        Obstacle::OffTable => {
            "The pin is beyond the edge of the custom table: it needs a larger table, or the excursion a shorter way."
                .to_owned()
        }
        Obstacle::NoCasts => "The teeth are to guide, and there are no casts.".to_owned(),
        Obstacle::NoPlanes => {
            "How fast the jaw goes is known where planes guide, not on teeth or on a table formed to them.".to_owned()
        }
        Obstacle::DisplacementNotReached { wanted_mm, farthest_mm } => format!(
            "The incisal point gets no farther than {} mm from rest; {} mm are asked for.",
            two_decimals(*farthest_mm),
            as_set(*wanted_mm)
        ),
        Obstacle::TracingNotReached { wanted_mm, farthest_mm } => format!(
            "The incisal point gets no farther than {} mm along the occlusal plane; {} mm are asked for.",
            two_decimals(*farthest_mm),
            as_set(*wanted_mm)
        ),
        Obstacle::NoOcclusalPlane => {
            "A tracing is measured along the occlusal plane, and none is given.".to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::guide::CondylarGuide;
    use sim_core::units::Length;

    #[test]
    fn a_refused_number_is_called_as_its_label_is() {
        let error = CondylarGuide::HORIZONTAL_INCLINATION.facts.check(999.0).unwrap_err();
        assert_eq!(
            out_of_range(&error, Some(Side::Right)),
            "The horizontal condylar inclination, right, cannot be 999°. It goes from −30° to 85°."
        );
        assert!(out_of_range(&error, None).starts_with("The horizontal condylar inclination cannot be"));
    }

    #[test]
    fn no_key_of_a_file_is_said_whatever_stands_in_the_way() {
        let obstacles = [
            Obstacle::PastEnd { side: Side::Left, path: "arc", ends_at_mm: 2.5 },
            Obstacle::Unbridged { distance_mm: 110.0 },
            Obstacle::GuideNotReached,
            Obstacle::OffTable,
            Obstacle::NoCasts,
            Obstacle::NoPlanes,
            Obstacle::DisplacementNotReached { wanted_mm: 6.0, farthest_mm: 5.25 },
            Obstacle::TracingNotReached { wanted_mm: 6.0, farthest_mm: 5.25 },
            Obstacle::NoOcclusalPlane,
        ];
        for obstacle in obstacles {
            let error = NoPose { movement: "right_lateral", advance: Length::from_mm(2.5), obstacle };
            let said = no_pose(&error);
            assert!(!said.contains('_') && !said.contains("guide."), "{said}");
            assert!(said.contains("right lateral") && said.contains("2.50 mm"), "{said}");
        }
    }
}

//! What things are called when they are spoken of: the words beside the identifiers of files.
//!
//! A file says `right_lateral` and `36.mesiobuccal`; a person reads "right lateral" and
//! "36 mesiobuccal". A function is named for what it names.

use sim_core::anterior::GuidePlane;
use sim_core::cusp::OpposingIncline;
use sim_core::cusp::{Cusp, Tooth};
use sim_core::excursion::{Drive, Movement};
use sim_core::frame::Side;
use sim_core::occlusion::ContactKind;
use sim_core::plan::Role;
use sim_core::record::{RecordFields, RecordKind};
use sim_core::units::Unit;

use crate::number::as_given;

pub mod column;
mod guidance;
mod setting;

pub use guidance::{guidance, pair};
pub use setting::{letter, lettered, setting};
pub use sim_core::record::nth_record;

/// An identifier as it is spoken, where nothing but its text is at hand: `right lateral`, and of a
/// cusp's label `36 mesiobuccal`.
#[must_use]
pub fn spoken(identifier: &str) -> String {
    match identifier.split_once('.') {
        // Of a cusp's label only the tooth is parted; its name is somebody's own. A ratio has a point
        // too, and no number before it.
        Some((tooth, cusp)) if tooth.bytes().all(|letter| letter.is_ascii_digit()) => {
            format!("{tooth} {cusp}")
        }
        _ => identifier.replace('_', " "),
    }
}

/// How a record without a pose was read; `None` for one that has a pose.
#[must_use]
pub fn read_at_the_bench(record: &RecordFields) -> Option<&'static str> {
    match record {
        RecordFields::ScaleReadings(_) => Some("read on the scales"),
        RecordFields::GrooveGaps(_) => Some("gaps at the grooves"),
        RecordFields::Centric(pose)
        | RecordFields::Protrusive(pose)
        | RecordFields::RightLateral(pose)
        | RecordFields::LeftLateral(pose) => pose.groove_gaps_mm.as_ref().map(|_| "gaps at the grooves"),
    }
}

/// A movement: `protrusive`, `right lateral`, `left lateroprotrusive`.
#[must_use]
pub const fn movement(movement: Movement) -> &'static str {
    match movement {
        Movement::Protrusive => "protrusive",
        Movement::Lateral { working: Side::Right } => "right lateral",
        Movement::Lateral { working: Side::Left } => "left lateral",
        Movement::Lateroprotrusive { working: Side::Right, .. } => "right lateroprotrusive",
        Movement::Lateroprotrusive { working: Side::Left, .. } => "left lateroprotrusive",
        Movement::Opening => "opening",
    }
}

/// An incline of the opposing teeth, as the trade says it.
#[must_use]
pub const fn incline(of: OpposingIncline) -> &'static str {
    match of {
        OpposingIncline::NonWorking => "orbiting",
        other => other.name(),
    }
}

/// A movement with the ratio that tells one lateroprotrusion from another:
/// `left lateroprotrusive 0.5`.
#[must_use]
pub fn movement_with_ratio(of: Movement) -> String {
    match of {
        Movement::Lateroprotrusive { ratio, .. } => format!("{} {}", movement(of), as_given(ratio.get())),
        _ => movement(of).to_owned(),
    }
}

/// How far an excursion goes: `3 mm`, `incisal point 3 mm`, `4°`.
#[must_use]
pub fn end(drive: Drive) -> String {
    let with = |number: f64, unit: Unit| format!("{}{}", as_given(number), unit.sign());
    match drive {
        Drive::Advance(length) => with(length.mm(), Unit::Millimetre),
        Drive::IncisalDisplacement(length) => {
            format!("incisal point {}", with(length.mm(), Unit::Millimetre))
        }
        Drive::Tracing(length) => format!("{} on the tracing", with(length.mm(), Unit::Millimetre)),
        Drive::Opening(angle) => with(angle.degrees(), Unit::Degree),
    }
}

/// What drives an excursion, and its unit, for an axis: `condylar advance` and `mm`.
#[must_use]
pub const fn driver(drive: Drive) -> (&'static str, &'static str) {
    match drive {
        Drive::Advance(_) => ("condylar advance", "mm"),
        Drive::IncisalDisplacement(_) => ("displacement of the incisal point", "mm"),
        Drive::Tracing(_) => ("distance on the tracing", "mm"),
        Drive::Opening(_) => ("opening", "°"),
    }
}

/// A side of the patient: `right` or `left`.
#[must_use]
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Right => "right",
        Side::Left => "left",
    }
}

/// A tooth by its number: `36`.
#[must_use]
pub fn tooth(tooth: Tooth) -> String {
    tooth.number().to_string()
}

/// A cusp by its tooth and its own name: `36 mesiobuccal`.
#[must_use]
pub fn cusp(cusp: &Cusp) -> String {
    cusp_of(cusp.tooth(), cusp.name())
}

/// A cusp by its tooth and its own name, where the cusp itself is not at hand.
#[must_use]
pub fn cusp_of(of: Tooth, name: &str) -> String {
    format!("{} {name}", tooth(of))
}

/// What a lateral excursion is to a tooth, and so which of its inclines is glided on: `protrusive`,
/// `working` or `orbiting`.
#[must_use]
pub const fn role(role: Role) -> &'static str {
    match role {
        Role::Protrusive => "protrusive",
        Role::Working => "working",
        Role::Orbiting => "orbiting",
    }
}

/// What a contact is called: `centric`, `protrusive`, `working` or `orbiting`.
#[must_use]
pub const fn contact(kind: ContactKind) -> &'static str {
    match kind {
        ContactKind::Centric => "centric",
        ContactKind::Protrusive => "protrusive",
        ContactKind::Working => "working",
        ContactKind::Orbiting => "orbiting",
    }
}

/// A plane of an anterior guide: `plate`, `right wing` or `left wing`.
#[must_use]
pub const fn plane(plane: GuidePlane) -> &'static str {
    match plane {
        GuidePlane::Plate => "plate",
        GuidePlane::Wing(Side::Right) => "right wing",
        GuidePlane::Wing(Side::Left) => "left wing",
    }
}

/// What was recorded: `centric`, `protrusive`, `right lateral` or `left lateral`.
#[must_use]
pub const fn record(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Centric => "centric",
        RecordKind::Protrusive => "protrusive",
        RecordKind::RightLateral => "right lateral",
        RecordKind::LeftLateral => "left lateral",
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use sim_core::excursion::Ratio;
    use sim_core::units::{Angle, Length};

    use super::*;

    #[test]
    fn identifiers_are_spoken_without_breaking_numbers_or_cusps() {
        for (identifier, words) in [
            ("right_lateral", "right lateral"),
            ("left_lateroprotrusive_0.5", "left lateroprotrusive 0.5"),
            ("36.mesiobuccal", "36 mesiobuccal"),
            ("36.tip no. 2_b", "36 tip no. 2_b"),
        ] {
            assert_eq!(spoken(identifier), words);
        }
    }

    #[test]
    fn what_is_spoken_of_is_the_identifier_with_spaces() {
        let ratio = Ratio::new(0.5).expect("a ratio");
        let sided = |working| [Movement::Lateral { working }, Movement::Lateroprotrusive { working, ratio }];
        let movements = Side::BOTH.into_iter().flat_map(sided);
        for one in movements.chain([Movement::Protrusive, Movement::Opening]) {
            assert_eq!(movement(one), spoken(one.name()));
        }
        for one in [GuidePlane::Plate, GuidePlane::Wing(Side::Right), GuidePlane::Wing(Side::Left)] {
            assert_eq!(plane(one), spoken(one.name()));
        }
        for one in
            [RecordKind::Centric, RecordKind::Protrusive, RecordKind::RightLateral, RecordKind::LeftLateral]
        {
            assert_eq!(record(one), spoken(one.name()));
        }
        for one in
            [ContactKind::Centric, ContactKind::Protrusive, ContactKind::Working, ContactKind::Orbiting]
        {
            assert_eq!(contact(one), one.name());
        }
        assert_eq!(Role::ALL.map(role), Role::ALL.map(Role::name));
        assert_eq!(Side::BOTH.map(side), Side::BOTH.map(Side::name));
    }

    #[test]
    fn ends_and_ratios_are_written_as_given() {
        let ratio = Ratio::new(0.5).expect("a ratio");
        let oblique = Movement::Lateroprotrusive { working: Side::Left, ratio };
        assert_eq!(movement_with_ratio(oblique), "left lateroprotrusive 0.5");
        assert_eq!(movement_with_ratio(Movement::Opening), "opening");
        assert_eq!(end(Drive::Advance(Length::from_mm(2.5))), "2.5 mm");
        assert_eq!(end(Drive::IncisalDisplacement(Length::from_mm(3.0))), "incisal point 3 mm");
        assert_eq!(end(Drive::Tracing(Length::from_mm(6.0))), "6 mm on the tracing");
        assert_eq!(end(Drive::Opening(Angle::from_degrees(4.0))), "4°");
    }

    proptest! {
        #[test]
        fn no_end_has_an_ascii_minus(number in -30.0..30.0_f64) {
            let (length, angle) = (Length::from_mm(number), Angle::from_degrees(number));
            for drive in [Drive::Advance(length), Drive::IncisalDisplacement(length), Drive::Opening(angle)] {
                prop_assert!(!end(drive).contains('-'));
            }
        }
    }
}

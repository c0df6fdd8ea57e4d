//! Files drawn at random in every form that they have: what is written must be read back as it was.

mod case;
mod plan;
mod scene;
mod study;

pub use case::case;
pub use scene::scene;
pub use study::study;

use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;
use sim_core::cusp::Tooth;
use sim_core::frame::ScanPoint;
use sim_core::record::{Millimetres, MountingFields, NamedAxis, ScanPlace, SideFields};
use sim_core::units::Length;

use crate::patient::millimetres;
use crate::random::length;

/// Any text: of any script, with quotes, backslashes and ends of lines.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![any::<String>(), "[ -~]{0,12}", Just("a \"name\" \\ in two\nlines".to_owned())]
}

/// A name that is not blank, and neither begins nor ends so.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("mesiobuccal".to_owned()),
        text().prop_map(|text| text.trim().to_owned()).prop_filter("a name", |name| !name.is_empty()),
    ]
}

fn maybe<T: Clone + std::fmt::Debug>(strategy: impl Strategy<Value = T>) -> impl Strategy<Value = Option<T>> {
    proptest::option::of(strategy)
}

fn tooth() -> impl Strategy<Value = Tooth> {
    (1..5_i64, 1..9_i64).prop_map(|(quadrant, position)| tooth_of(quadrant * 10 + position))
}

fn back_tooth() -> impl Strategy<Value = Tooth> {
    (1..5_i64, 4..8_i64).prop_map(|(quadrant, position)| tooth_of(quadrant * 10 + position))
}

fn tooth_of(number: i64) -> Tooth {
    Tooth::new(number).expect("a tooth number")
}

/// A length as a case file holds it.
fn mm(min: f64, max: f64) -> impl Strategy<Value = Millimetres> {
    (min..max).prop_map(millimetres)
}

/// A radius of a curve that may be flat.
fn curve() -> impl Strategy<Value = Length> {
    prop_oneof![Just(Length::ZERO), length(60.0, 1000.0)]
}

/// A point anywhere in a scan.
fn place() -> impl Strategy<Value = ScanPlace> {
    let reach = -1000.0..1000.0;
    [reach.clone(), reach.clone(), reach]
        .prop_map(|at| ScanPlace::new(ScanPoint::from_coords(Vector3::from(at))).expect("within reach"))
}

fn mounting() -> impl Strategy<Value = MountingFields> {
    prop_oneof![
        (place(), place(), place()).prop_map(|(right_axis_mm, left_axis_mm, anterior_reference_mm)| {
            MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm }
        }),
        (9.0..28.0, mm(85.0, 120.0), place(), place(), place()).prop_map(
            |(balkwill_deg, arm_mm, incisal_mm, right_molar_mm, left_molar_mm)| MountingFields::Average {
                balkwill_deg,
                arm_mm,
                incisal_mm,
                right_molar_mm,
                left_molar_mm,
            }
        ),
        (maybe(name()), name(), maybe((mm(20.0, 90.0), mm(20.0, 90.0)))).prop_map(
            |(rule, anterior_reference, rods)| MountingFields::Named {
                axis: rule.map_or(NamedAxis::Located, NamedAxis::Arbitrary),
                anterior_reference,
                rods_mm: rods.map(|(right, left)| SideFields { right, left }),
            }
        ),
    ]
}

/// A rigid motion as four rows.
fn transform() -> impl Strategy<Value = [[f64; 4]; 4]> {
    ([-3.0..3.0, -1.5..1.5, -1.5..1.5], [-200.0..200.0, -200.0..200.0, -200.0..200.0]).prop_map(
        |(turn, shift): ([f64; 3], [f64; 3])| {
            let rotation = Rotation3::new(Vector3::from(turn));
            std::array::from_fn(|row| {
                std::array::from_fn(|column| match (row, column) {
                    (3, column) => f64::from(u8::from(column == 3)),
                    (row, 3) => shift[row],
                    (row, column) => rotation[(row, column)],
                })
            })
        },
    )
}

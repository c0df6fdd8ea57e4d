//! The unit is given, or told from the size, or asked for.

use files::cast::{Fault, read_bytes};
use proptest::prelude::*;
use sim_core::cast::{CAST_EXTENT_MM, CastUnit, UnitUnclear};
use sim_core::cusp::Arch;

use super::shapes::{block, obj, volume};

fn sized(greatest: f64, unit: Option<CastUnit>) -> Result<files::cast::ReadCast, files::cast::CastFileError> {
    let body = block(greatest, greatest * 0.8, greatest * 0.3);
    read_bytes("a.obj", obj(&body).as_bytes(), Arch::Upper, unit)
}

#[test]
fn the_size_tells_the_unit_with_a_warning() {
    for (greatest, unit, in_words) in [
        (62.0, CastUnit::Millimetre, "millimetres"),
        (7.5, CastUnit::Centimetre, "centimetres"),
        (0.062, CastUnit::Metre, "metres"),
        (2.4, CastUnit::Inch, "inches"),
    ] {
        let cast = sized(greatest, None).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((cast.unit, cast.unit_inferred), (unit, true));
        assert_eq!(cast.warnings(), [format!("No unit is given; by its size the cast is in {in_words}.")]);
        let wanted_mm3 = (greatest * unit.mm()).powi(3) * 0.24;
        assert!((volume(&cast.surface) / wanted_mm3 - 1.0).abs() < 1e-12, "{unit}");
    }
}

#[test]
fn a_size_that_fits_two_units_or_none_asks_for_the_unit() {
    let fault = |greatest| sized(greatest, None).expect_err("unclear").fault;
    // 5 could be 50 mm or 127 mm.
    assert!(matches!(
        fault(5.0),
        Fault::Unit(UnitUnclear::TwoSizes { one: CastUnit::Centimetre, other: CastUnit::Inch, .. })
    ));
    for greatest in [1e-3, 0.4, 20.0, 400.0, 1e6] {
        let message = fault(greatest).to_string();
        assert!(message.contains("give the unit: Millimetre, Centimetre, Metre or Inch"), "{message}");
        assert!(message.contains(&format!("{greatest} by")), "{message}");
    }
    assert_eq!(
        sized(5.0, None).expect_err("unclear").to_string(),
        "a.obj (OBJ): the cast is 5 by 4 by 1.5 in the file's unit, which could be centimetres or inches; give \
         the unit: Centimetre or Inch"
    );
}

#[test]
fn a_unit_that_is_given_is_taken_and_an_odd_size_is_said() {
    let cast = sized(5.0, Some(CastUnit::Inch)).expect("a cast");
    assert_eq!((cast.unit, cast.unit_inferred, cast.warnings().len()), (CastUnit::Inch, false, 0));
    let cast = sized(5.0, Some(CastUnit::Millimetre)).expect("a cast");
    assert_eq!(
        cast.warnings(),
        ["In millimetres the cast is 5.0 × 4.0 × 1.5 mm, which is no size of an arch."]
    );
    let error = sized(5000.0, Some(CastUnit::Metre)).expect_err("five kilometres").to_string();
    assert!(error.contains("is the unit right?"), "{error}");
}

#[test]
fn vertices_that_nothing_uses_have_no_say() {
    let text = obj(&block(62.0, 50.0, 20.0)) + "v 1e9 0 0\n";
    let cast = read_bytes("a.obj", text.as_bytes(), Arch::Upper, None).expect("a cast");
    assert_eq!((cast.unit, cast.report.vertices_unused), (CastUnit::Millimetre, 1));
    assert_eq!(cast.surface.vertices().len(), 8);
}

proptest! {
    #[test]
    fn whatever_is_told_from_a_size_is_a_size_of_a_cast(greatest in -5.0..5.0_f64) {
        let greatest = 10.0_f64.powf(greatest);
        if let Ok(unit) = CastUnit::of_extents([greatest * 0.5, greatest, 0.0]) {
            let mm = greatest * unit.mm();
            prop_assert!(CAST_EXTENT_MM.0 <= mm && mm <= CAST_EXTENT_MM.1);
            let in_another = CastUnit::ALL.into_iter().filter(|&other| other != unit).any(|other| {
                let mm = greatest * other.mm();
                (CAST_EXTENT_MM.0..=CAST_EXTENT_MM.1).contains(&mm)
            });
            prop_assert!(unit == CastUnit::Millimetre || !in_another);
        } else {
            prop_assert!(!(CAST_EXTENT_MM.0..=CAST_EXTENT_MM.1).contains(&greatest));
        }
    }
}

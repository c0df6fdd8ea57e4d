//! A table given by heights, held to the table of planes that has the same form.

use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, HeightField, NoHeightField, Trough};
use sim_core::excursion::{Guidance, Mechanism, Movement, Obstacle, Station};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};
use whole_checks::random;

/// What rounding leaves of a triangle's normal, times a hundred millimetres of lever.
const ROUNDING_MM: f64 = 1e-9;
/// Half the side of the table, in whole millimetres: beyond what the pin crosses in these excursions.
const HALF_MM: i32 = 20;

/// The heights of a trough of three planes, written from its definition: the highest of them.
fn heights(trough: &Trough) -> HeightField {
    let (sin, cos) = trough.sagittal_inclination.sin_cos();
    let wing = |angle: Angle, outward: f64, x: f64| {
        let (rise, level) = angle.sin_cos();
        (rise * (outward - trough.flat_half_width.mm()) - sin * level * x) / (cos * level)
    };
    let row = |x: i32| {
        (-HALF_MM..=HALF_MM)
            .map(|y| {
                let (x, y) = (f64::from(x), f64::from(y));
                let plate = -x * sin / cos;
                plate.max(wing(trough.left_wing, y, x)).max(wing(trough.right_wing, -y, x))
            })
            .collect()
    };
    let rows: Vec<Vec<f64>> = (-HALF_MM..=HALF_MM).map(row).collect();
    HeightField::new([f64::from(-HALF_MM); 2], 1.0, &rows).expect("a table")
}

fn on_table() -> impl Strategy<Value = (Instrument, Trough)> {
    let angle = |most: f64| (0.0..most).prop_map(Angle::from_degrees);
    let trough =
        (angle(45.0), angle(40.0), angle(40.0), 0..3_i32).prop_map(|(plate, right, left, half)| Trough {
            sagittal_inclination: plate,
            right_wing: right,
            left_wing: left,
            // A whole number, so that the hinges run along the grid.
            flat_half_width: Length::from_mm(f64::from(half)),
        });
    (random::instrument(), trough)
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn a_custom_table_of_the_form_of_a_plate_and_wings_gives_the_same_poses(
        (mut instrument, trough) in on_table(), movement in random::movement(), t in 0.0..8.0, pin in -1.0..3.0,
    ) {
        instrument.pin_extension = Length::from_mm(pin);
        instrument.anterior_guide = AnteriorGuide::Table(trough);
        let station = Station::advanced(Length::from_mm(t));
        let planes = Mechanism::new(&instrument).at(movement, station).expect("a pose");
        instrument.anterior_guide = AnteriorGuide::CustomTable(heights(&trough));
        let placed = Mechanism::new(&instrument).at(movement, station).expect("a pose");
        prop_assert_eq!(placed.guidance, Guidance::CustomTable);
        prop_assert!((placed.jaw.translation() - planes.jaw.translation()).amax() <= ROUNDING_MM);
        prop_assert!((placed.jaw.rotation() - planes.jaw.rotation()).amax() * 100.0 <= ROUNDING_MM);
    }
}

#[test]
fn past_the_edge_of_its_table_the_pin_has_no_pose() {
    let mut instrument = Instrument::zeroed();
    let flat = HeightField::new([-4.0, -4.0], 2.0, &[vec![0.0; 5], vec![0.0; 5], vec![0.0; 5], vec![0.0; 5]]);
    instrument.anterior_guide = AnteriorGuide::CustomTable(flat.expect("a table"));
    let mechanism = Mechanism::new(&instrument);
    let on = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(3.0))).expect("a pose");
    assert_eq!((on.guidance, on.advance()), (Guidance::CustomTable, Length::from_mm(3.0)));
    let off = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(6.0))).unwrap_err();
    assert_eq!(off.obstacle, Obstacle::OffTable);
}

#[test]
fn heights_that_are_no_table_are_refused_with_their_place() {
    let row = || vec![0.0; 3];
    let new = |step: f64, rows: &[Vec<f64>]| HeightField::new([-1.0, -1.0], step, rows).unwrap_err();
    assert_eq!(new(1.0, &[row()]), NoHeightField::TooFew { rows: 1, columns: 3 });
    assert_eq!(new(1.0, &[]), NoHeightField::TooFew { rows: 0, columns: 0 });
    assert_eq!(new(1.0, &[row(), vec![0.0; 2]]), NoHeightField::Ragged { row: 2, given: 2, wanted: 3 });
    assert_eq!(new(0.0, &[row(), row()]), NoHeightField::Step { given: 0.0 });
    assert!(matches!(new(f64::NAN, &[row(), row()]), NoHeightField::Step { .. }));
    let message = new(1.0, &[row(), vec![0.0, f64::NAN, 0.0]]).to_string();
    assert!(message.contains("height 2 of row 2") && message.contains("NaN"), "{message}");
    assert!(matches!(new(5.0, &vec![row(); 40]), NoHeightField::Reach { axis: 'x', .. }));
    assert!(matches!(new(1.0, &vec![vec![0.0; 1000]; 101]), NoHeightField::TooMany { given: 101_000 }));
}

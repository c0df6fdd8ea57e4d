//! Casts that have the form of a plane guide and a point, held to the guide that has their form.

use std::sync::Arc;

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::{Casts, Surface, ToothPlaces};
use sim_core::excursion::{Guidance, Mechanism, Movement, NoPose, Obstacle, Placement, Station};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};
use whole_checks::definition::guide_gaps;
use whole_checks::random;
use whole_checks::tolerance::SOLVED;

/// What rounding leaves of a closed form in triangles and one in planes, over a hundred millimetres.
const ROUNDING_MM: f64 = 1e-9;
/// Half the length and breadth of the guiding surfaces, farther than any point goes on them.
const HALF_MM: f64 = 60.0;
/// A pin raised so far that it meets no table in these excursions.
const RAISED: Length = Length::from_mm(-30.0);
/// How far from its tip a point's base is, and how broad: steeper than any guide tried.
const POINT_MM: (f64, f64) = (8.0, 0.4);

/// Plate and wings as one surface through `rest`; `outward` is +1 where the wings rise outward (a
/// table, facing up), −1 where they fall (incisors, facing down).
fn guiding(trough: &Trough, rest: Vector3<f64>, outward: f64) -> Surface {
    let half_plate = trough.flat_half_width.mm();
    // z over the plate and over a wing, from n·(p − hinge) = 0.
    let (sin, cos) = trough.sagittal_inclination.sin_cos();
    let height = |x: f64, beside: f64, wing: Angle| {
        let (rise, level) = wing.sin_cos();
        (outward * rise * beside - sin * level * x) / (cos * level)
    };
    let columns = [
        (-half_plate - HALF_MM, trough.right_wing, HALF_MM),
        (-half_plate, Angle::ZERO, 0.0),
        (half_plate, Angle::ZERO, 0.0),
        (half_plate + HALF_MM, trough.left_wing, HALF_MM),
    ];
    let vertices = [-HALF_MM, HALF_MM]
        .into_iter()
        .flat_map(|x| columns.map(|(y, wing, beside)| rest + Vector3::new(x, y, height(x, beside, wing))))
        .collect();
    let mut triangles = Vec::new();
    for column in 0..3 {
        if column == 1 && half_plate == 0.0 {
            continue;
        }
        let [rear_right, rear_left, front_right, front_left] = [column, column + 1, column + 4, column + 5];
        triangles.push([rear_right, front_right, front_left]);
        triangles.push([rear_right, front_left, rear_left]);
    }
    if outward < 0.0 {
        triangles.iter_mut().for_each(|triangle| triangle.reverse());
    }
    Surface::new(vertices, triangles).expect("a surface")
}

/// A slender pyramid with its tip at a point; `up` is +1 where the tip is its top, −1 its bottom.
fn point(tip: Vector3<f64>, up: f64) -> Surface {
    let (length, half) = POINT_MM;
    let base = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let mut vertices = vec![tip];
    vertices.extend(base.map(|(x, y)| tip + Vector3::new(x * half, y * half, -up * length)));
    let mut triangles = vec![[0, 1, 2], [0, 2, 3], [0, 3, 4], [0, 4, 1], [1, 3, 2], [1, 4, 3]];
    if up < 0.0 {
        triangles.iter_mut().for_each(|triangle: &mut [u32; 3]| triangle.reverse());
    }
    Surface::new(vertices, triangles).expect("a surface")
}

fn guided_by(instrument: &Instrument, casts: [Surface; 2]) -> Mechanism {
    let [upper, lower] = casts;
    Mechanism::new(instrument).with_casts(Arc::new(Casts::new(upper, lower, &ToothPlaces::none())))
}

fn trough() -> impl Strategy<Value = Trough> {
    let angle = |most: f64| (0.0..most).prop_map(Angle::from_degrees);
    (angle(45.0), angle(40.0), angle(40.0), prop_oneof![Just(0.0), 0.5..3.0]).prop_map(
        |(plate, right, left, half)| Trough {
            sagittal_inclination: plate,
            right_wing: right,
            left_wing: left,
            flat_half_width: Length::from_mm(half),
        },
    )
}

fn apart_mm(one: &Placement, other: &Placement) -> f64 {
    let turned = (one.jaw.rotation() - other.jaw.rotation()).amax() * 100.0;
    turned.max((one.jaw.translation() - other.jaw.translation()).amax())
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn teeth_of_the_form_of_incisors_guide_as_incisors_do(
        mut instrument in random::instrument(), trough in trough(), movement in random::movement(), t in 0.0..8.0,
    ) {
        let rest = instrument.incisal_point.coords();
        let station = Station::advanced(Length::from_mm(t));
        instrument.anterior_guide = AnteriorGuide::Incisors(trough);
        let by_planes = Mechanism::new(&instrument).at(movement, station).expect("a pose");
        instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
        instrument.pin_extension = RAISED;
        let casts = [guiding(&trough, rest, -1.0), point(rest, 1.0)];
        let by_teeth = guided_by(&instrument, casts).at(movement, station).expect("a pose");
        let stop = by_teeth.guidance.teeth().expect("guided by teeth");
        prop_assert!(apart_mm(&by_teeth, &by_planes) <= ROUNDING_MM, "{}", apart_mm(&by_teeth, &by_planes));
        prop_assert!(stop.at.distance_mm(&by_planes.incisal_point) <= ROUNDING_MM);
    }

    #[test]
    fn teeth_of_the_form_of_pin_and_table_guide_as_those_do(
        mut instrument in random::instrument(), trough in trough(), movement in random::movement(), t in 0.0..8.0,
    ) {
        let rest = instrument.incisal_point.coords();
        let station = Station::advanced(Length::from_mm(t));
        instrument.anterior_guide = AnteriorGuide::Table(trough);
        let by_planes = Mechanism::new(&instrument).at(movement, station).expect("a pose");
        instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
        instrument.pin_extension = RAISED;
        let casts = [point(rest, -1.0), guiding(&trough, rest, 1.0)];
        let by_teeth = guided_by(&instrument, casts).at(movement, station).expect("a pose");
        prop_assert!(apart_mm(&by_teeth, &by_planes) <= ROUNDING_MM, "{}", apart_mm(&by_teeth, &by_planes));
    }

    #[test]
    fn whichever_of_pin_and_teeth_is_met_first_guides_and_the_lift_is_what_is_left_under_the_pin(
        mut instrument in random::instrument(), teeth in trough(), table in trough(), movement in random::movement(),
        t in 0.0..8.0, pin in -1.0..1.0,
    ) {
        let rest = instrument.incisal_point.coords();
        let station = Station::advanced(Length::from_mm(t));
        instrument.pin_extension = Length::from_mm(pin);
        instrument.anterior_guide = AnteriorGuide::Table(table);
        let by_pin = Mechanism::new(&instrument).at(movement, station).expect("a pose");
        instrument.anterior_guide = AnteriorGuide::Casts(table);
        let casts = [guiding(&teeth, rest, -1.0), point(rest, 1.0)];
        let both = guided_by(&instrument, casts.clone()).at(movement, station).expect("a pose");
        let raised = Instrument { pin_extension: RAISED, ..instrument.clone() };
        let by_teeth = guided_by(&raised, casts).at(movement, station).expect("a pose");
        let lift = both.pin_lift.expect("there is a pin").mm();
        let least = guide_gaps(&instrument, &both.jaw).into_iter().fold(f64::INFINITY, f64::min);
        prop_assert!((lift - least).abs() <= ROUNDING_MM, "{lift} is said, {least} is left");
        // The more open of the two poses holds the jaw; openings so near to each other may go either way.
        let (pin_open, teeth_open) = (by_pin.opening().radians(), by_teeth.opening().radians());
        let expected = if teeth_open > pin_open { &by_teeth } else { &by_pin };
        prop_assert!(apart_mm(&both, expected) <= ROUNDING_MM, "{}", apart_mm(&both, expected));
        match both.guidance {
            Guidance::Table(_) => prop_assert!(lift.abs() <= ROUNDING_MM),
            Guidance::Teeth(_) => prop_assert!(lift >= -ROUNDING_MM && teeth_open >= pin_open - SOLVED),
            other => return Err(TestCaseError::fail(format!("guided by {other:?}"))),
        }
    }
}

#[test]
fn without_casts_nothing_is_guided_by_them() {
    let mut instrument = Instrument::zeroed();
    instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    let NoPose { obstacle, .. } =
        Mechanism::new(&instrument).at(Movement::Protrusive, Station::REST).unwrap_err();
    assert_eq!(obstacle, Obstacle::NoCasts);
}

#[test]
fn casts_change_nothing_where_the_table_guides() {
    let instrument = Instrument::zeroed();
    let rest = instrument.incisal_point.coords();
    let steep = Trough { sagittal_inclination: Angle::from_degrees(40.0), ..Trough::LEVEL };
    let station = Station::advanced(Length::from_mm(4.0));
    let without = Mechanism::new(&instrument).at(Movement::Protrusive, station).unwrap();
    let casts = [guiding(&steep, rest, -1.0), point(rest, 1.0)];
    let with = guided_by(&instrument, casts).at(Movement::Protrusive, station).unwrap();
    assert_eq!(with, without);
}

//! The border envelope of instruments drawn at random, against the plain definition of the mechanism.

use proptest::prelude::*;
use sim_core::excursion::{Border, Followed, Mechanism, Reach, SampleCount};
use sim_core::frame::Side;
use sim_core::units::{Angle, Length};
use whole_checks::random::{self, REACH_MM, USUAL_CASES};
use whole_checks::tolerance::SOLVED;
use whole_checks::{definition, random::cases};

proptest! {
    #![proptest_config(cases(USUAL_CASES))]

    #[test]
    fn along_every_border_the_condyles_and_the_guide_are_where_the_definition_has_them(
        instrument in random::instrument(),
        extension in prop_oneof![Just(0.0), 0.5..4.0_f64],
        advance in 1.0..REACH_MM,
    ) {
        let mut instrument = instrument;
        instrument.pin_extension = Length::from_mm(extension);
        let reach = Reach::new(Length::from_mm(advance), Angle::from_degrees(15.0)).unwrap();
        let envelope = Mechanism::new(&instrument).envelope(reach, SampleCount::new(6).unwrap());
        for path in envelope.paths() {
            // A pin let down may bring a steep guide past reach; then the border says so.
            prop_assert!(path.ended().is_none() || extension > 0.0, "{:?}", path.ended());
            for placed in path.placements() {
                let read = |side| definition::condyle(&instrument, &placed.jaw, side);
                let least_gap =
                    definition::guide_gaps(&instrument, &placed.jaw).into_iter().fold(f64::INFINITY, f64::min);
                let t = placed.advance().mm();
                match path.border() {
                    Border::Hinge => {
                        for side in Side::BOTH {
                            prop_assert!(read(side).iter().all(|mm| mm.abs() < SOLVED));
                        }
                        prop_assert!(least_gap > -SOLVED, "{least_gap}");
                    }
                    Border::Protrusive => {
                        prop_assert!((read(Side::Right)[0] - t).abs() < SOLVED);
                        prop_assert!((read(Side::Left)[0] - t).abs() < SOLVED);
                        prop_assert!(least_gap.abs() < SOLVED, "{least_gap}");
                    }
                    Border::Lateral(working) => {
                        prop_assert!((read(working.opposite())[0] - t).abs() < SOLVED);
                        prop_assert!(least_gap.abs() < SOLVED, "{least_gap}");
                    }
                }
            }
        }
    }

    #[test]
    fn the_hinge_arc_of_any_point_is_a_circle_about_the_axis(
        instrument in random::instrument(),
        cusp in random::cusp(),
        opening in 1.0..40.0_f64,
    ) {
        let reach = Reach::new(Length::from_mm(6.0), Angle::from_degrees(opening)).unwrap();
        let envelope = Mechanism::new(&instrument).envelope(reach, SampleCount::new(9).unwrap());
        for followed in [Followed::incisal_point(&instrument), Followed::cusp(&cusp)] {
            let places: Vec<_> = envelope.path(Border::Hinge).places(followed).collect();
            let first = places[0];
            if let Followed::Lower(_) = followed {
                for (index, place) in places.iter().enumerate() {
                    prop_assert!((place.x().hypot(place.z()) - first.x().hypot(first.z())).abs() < SOLVED);
                    prop_assert!((place.y() - first.y()).abs() < SOLVED);
                    let turned = first.x().atan2(first.z()) + (opening / 8.0 * index as f64).to_radians();
                    let off = place.x().atan2(place.z()) - turned;
                    prop_assert!(off.abs() < SOLVED, "{off}");
                }
            } else {
                // An upper tip is passed by: its own circle turned about the tip.
                for place in &places {
                    let seen = first + (first - *place);
                    prop_assert!((seen.x().hypot(seen.z()) - first.x().hypot(first.z())).abs() < SOLVED);
                }
            }
        }
    }

    #[test]
    fn on_equal_sides_the_left_border_mirrors_the_right_one(instrument in random::symmetric_instrument()) {
        let reach = Reach::new(Length::from_mm(REACH_MM), Angle::from_degrees(10.0)).unwrap();
        let envelope = Mechanism::new(&instrument).envelope(reach, SampleCount::new(7).unwrap());
        let followed = Followed::incisal_point(&instrument);
        let [right, left] = [Side::Right, Side::Left]
            .map(|side| envelope.path(Border::Lateral(side)).places(followed).collect::<Vec<_>>());
        prop_assert_eq!(right.len(), left.len());
        for (a, b) in right.iter().zip(&left) {
            prop_assert!((a.x() - b.x()).abs() < SOLVED);
            prop_assert!((a.y() + b.y()).abs() < SOLVED);
            prop_assert!((a.z() - b.z()).abs() < SOLVED);
        }
    }
}

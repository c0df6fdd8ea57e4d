//! Closed on its teeth the jaw touches and pierces nothing: invented casts in every excursion.

use std::sync::Arc;

use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::invented::InventedCasts;
use sim_core::cast::{Casts, LastPairs, ToothPlaces};
use sim_core::cusp::Arch;
use sim_core::excursion::{Mechanism, Movement, Ratio, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};

/// What is asked of closing; rounding leaves a thousandth of a thousandth of it.
const TOUCHING_MM: f64 = 1e-3;
/// Coarse, so that a check of many poses is quick; the search knows no sizes.
const FINENESS: Length = Length::from_mm(0.8);
const PLANE: OcclusalPlane = OcclusalPlane { inclination: Angle::from_degrees(10.0) };

fn guided(casts: &Arc<Casts>) -> Mechanism {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(30.0);
        instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
    }
    instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    Mechanism::new(&instrument).with_casts(Arc::clone(casts))
}

#[test]
fn where_teeth_stop_the_jaw_they_touch_to_a_micrometre_and_no_tooth_is_pierced() {
    for kind in [InventedCasts::dentate(), InventedCasts::complete_denture()] {
        let made = InventedCasts { fineness: FINENESS, ..kind }.make(PLANE).unwrap();
        let casts = Arc::new(Casts::new(made.upper, made.lower, &ToothPlaces::none()));
        let mechanism = guided(&casts);
        let movements = [
            Movement::Protrusive,
            Movement::Lateral { working: Side::Right },
            Movement::Lateral { working: Side::Left },
            Movement::Lateroprotrusive { working: Side::Right, ratio: Ratio::new(0.5).unwrap() },
        ];
        let (mut warm, mut led) = (LastPairs::default(), 0);
        for movement in movements {
            for step in 0..9 {
                let station = Station::advanced(Length::from_mm(0.5 * f64::from(step)));
                let placed = mechanism.at_from(movement, station, &mut warm).unwrap();
                let reading = casts.measure(&placed.jaw, PLANE, &mut warm);
                let gap = reading.distance.gap.mm();
                assert!(gap >= -TOUCHING_MM, "{movement:?} {step}: {reading:?}");
                if placed.pin_lift.is_some_and(|lift| lift.mm() > 0.0) {
                    led += 1;
                    assert!(gap <= TOUCHING_MM, "{movement:?} {step}: {reading:?}");
                }
                for tooth in reading.teeth {
                    assert!(tooth.distance.gap.mm() >= -TOUCHING_MM, "{movement:?} {step}: {tooth:?}");
                }
            }
        }
        assert!(led > 20, "teeth led in {led} poses only");
    }
}

/// Both sides are mirror images, so at rest and in protrusion so are the gaps.
#[test]
fn casts_that_mirror_each_other_have_gaps_that_do() {
    let made = InventedCasts { fineness: FINENESS, ..InventedCasts::dentate() }.make(PLANE).unwrap();
    let casts = Arc::new(Casts::new(made.upper, made.lower, &ToothPlaces::none()));
    let mechanism = guided(&casts);
    let placed = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(2.0))).unwrap();
    let reading = casts.measure(&placed.jaw, PLANE, &mut LastPairs::default());
    let mut compared = 0;
    for right in reading.teeth.iter().filter(|reading| reading.tooth.side() == Side::Right) {
        let is_image = |other: &&sim_core::cast::ToothReading| {
            (other.tooth.side(), other.tooth.arch(), other.tooth.position())
                == (Side::Left, right.tooth.arch(), right.tooth.position())
        };
        let left = reading.teeth.iter().find(is_image).unwrap();
        compared += 1;
        assert!(
            (right.distance.gap.mm() - left.distance.gap.mm()).abs() < TOUCHING_MM * TOUCHING_MM,
            "{right:?}\n{left:?}"
        );
    }
    assert_eq!(compared, 14);
    assert!(reading.teeth.iter().any(|reading| reading.tooth.arch() == Arch::Upper));
}

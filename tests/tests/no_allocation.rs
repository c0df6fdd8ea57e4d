//! A pose with its cusps is solved and read without allocating, whatever the path.

use sim_core::cusp::Gauges;
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::Side;
use sim_core::guide::{ArcPath, GuidePath, Profile};
use sim_core::scene::Scene;
use sim_core::units::Length;

#[test]
fn a_pose_with_its_cusps_allocates_nothing() {
    let recorded = Profile::new(vec![(0.0, 0.0), (4.0, 3.0), (10.0, 5.0)]).expect("a path");
    for path in [
        GuidePath::Straight,
        GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) }),
        GuidePath::Profile(recorded),
    ] {
        let mut scene = Scene::thirty_degree();
        for side in Side::BOTH {
            scene.instrument.guide_mut(side).path = path.clone();
        }
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        let mut sum = 0.0;
        let counted = allocation_counter::measure(|| {
            for movement in [Movement::Protrusive, Movement::Lateral { working: Side::Right }] {
                let placed = mechanism.at(movement, Station::advanced(Length::from_mm(5.0))).expect("a pose");
                sum += gauges.read(&placed.jaw).map(|reading| reading.clearance.mm()).sum::<f64>();
                mechanism.at_incisal_displacement(movement, Length::from_mm(4.0)).expect("a pose");
            }
            for sample in mechanism.samples(&scene.excursions[1], scene.samples) {
                sum += sample.expect("a pose").incisal_point.x();
            }
        });
        assert!(sum.is_finite());
        assert_eq!(counted.count_total, 0, "{}", path.name());
    }
}

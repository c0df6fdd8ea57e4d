//! The paths of condyles, incisal point and cusps, in millimetres of the upper frame.

use nalgebra::Vector3;
use sim_core::excursion::{Border, Followed, Placement};
use sim_core::frame::Side;
use sim_core::scene::Scene;

use super::Spread;
use crate::solved::SolvedExcursion;

/// Whose path it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathOf {
    /// Of the centre of a condylar sphere, as its guide measures it.
    Condyle(Side),
    /// Of the lower member's incisal point.
    IncisalPoint,
    /// Of a cusp of the scene, by its number and the number of its mark.
    Cusp {
        /// Place in the scene's list.
        number: usize,
        /// Number of its mark.
        mark: usize,
    },
    /// Of the incisal point along a border.
    Border(Border),
}

/// One path.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Whose.
    pub of: PathOf,
    /// Every place, in millimetres on the sheet's world.
    pub places: Vec<Vector3<f64>>,
    /// Where it is now; none for a border.
    pub now: Option<Vector3<f64>>,
}

/// What a path is measured from: its point's zeroed centric place, or the frame's origin.
#[must_use]
pub fn origin(followed: Followed, spread: Spread) -> Vector3<f64> {
    match (spread, followed) {
        (Spread::InPlace, _) => Vector3::zeros(),
        (Spread::FromRest, Followed::Lower(point)) => *point.coords(),
        (Spread::FromRest, Followed::Upper(point)) => *point.coords(),
    }
}

/// The paths of an excursion: both condyles, the incisal point, the cusps that are marked.
#[must_use]
pub fn paths(
    scene: &Scene,
    solved: &SolvedExcursion,
    now: Option<&Placement>,
    marked: impl Iterator<Item = (usize, usize)>,
    spread: Spread,
) -> Vec<Path> {
    let instrument = &scene.instrument;
    let fixed = Side::BOTH
        .into_iter()
        .map(|side| (PathOf::Condyle(side), Followed::condyle(instrument, side)))
        .chain([(PathOf::IncisalPoint, Followed::incisal_point(instrument))]);
    let cusps = marked.filter_map(|(number, mark)| {
        let cusp = scene.cusps.get(number)?;
        Some((PathOf::Cusp { number, mark }, Followed::cusp(cusp)))
    });
    fixed
        .chain(cusps)
        .map(|(of, followed)| {
            let origin = origin(followed, spread);
            let place = |placed: &Placement| followed.place(placed).coords() - origin;
            Path {
                of,
                places: solved.samples().iter().map(|sample| place(&sample.placement)).collect(),
                now: now.map(place),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::projections::Plane;
    use sim_core::excursion::{Drive, Excursion, Movement};
    use sim_core::guide::CondylarGuide;
    use sim_core::units::{Angle, Length};

    fn solved(scene: &Scene, movement: Movement) -> SolvedExcursion {
        let excursion = Excursion::new(movement, Drive::Advance(Length::from_mm(6.0))).unwrap();
        SolvedExcursion::solve(scene, excursion).unwrap()
    }

    fn of(scene: &Scene, movement: Movement, spread: Spread, whose: PathOf) -> Path {
        let solved = solved(scene, movement);
        let now = solved.last().placement;
        paths(scene, &solved, Some(&now), [(0, 0)].into_iter(), spread)
            .into_iter()
            .find(|path| path.of == whose)
            .unwrap()
    }

    #[test]
    fn a_condyle_goes_down_its_guide_by_the_tangent_of_its_inclination() {
        let mut scene = Scene::thirty_degree();
        let (right, left) = (Angle::from_degrees(40.0), Angle::from_degrees(25.0));
        let lateral = Angle::from_degrees(12.0);
        scene.instrument.right_guide = CondylarGuide::straight(right, lateral);
        scene.instrument.left_guide = CondylarGuide::straight(left, lateral);
        for (side, inclination) in [(Side::Right, right), (Side::Left, left)] {
            let path = of(&scene, Movement::Protrusive, Spread::FromRest, PathOf::Condyle(side));
            let [across, up] = Plane::Sagittal.flat(path.places.last().unwrap());
            assert!((across - 6.0).abs() < 1e-9);
            assert!((up + 6.0 * inclination.tan()).abs() < 1e-9, "{side}: {up}");
            // From above the orbiting condyle goes forward and toward the midline.
            let movement = Movement::Lateral { working: side.opposite() };
            let orbiting = of(&scene, movement, Spread::FromRest, PathOf::Condyle(side));
            let [across, up] = Plane::Horizontal.flat(orbiting.places.last().unwrap());
            assert!((up - 6.0).abs() < 1e-9);
            // The patient's left is to the left: the right condyle goes there.
            assert!((across - side.outward_y() * 6.0 * lateral.tan()).abs() < 1e-9, "{side}: {across}");
        }
    }

    #[test]
    fn in_its_place_a_path_starts_where_its_point_stands() {
        let scene = Scene::thirty_degree();
        let half = scene.instrument.intercondylar_distance.mm() / 2.0;
        let starts = [
            (PathOf::Condyle(Side::Right), Vector3::new(0.0, -half, 0.0)),
            (PathOf::Condyle(Side::Left), Vector3::new(0.0, half, 0.0)),
            (PathOf::IncisalPoint, scene.instrument.incisal_point.coords()),
            (PathOf::Cusp { number: 0, mark: 0 }, scene.cusps[0].at_mm()),
        ];
        for (whose, start) in starts {
            let movement = Movement::Lateral { working: Side::Right };
            let in_place = of(&scene, movement, Spread::InPlace, whose);
            let from_rest = of(&scene, movement, Spread::FromRest, whose);
            assert!((in_place.places[0] - start).norm() < 1e-9, "{whose:?}");
            for (a, b) in in_place.places.iter().zip(&from_rest.places) {
                assert!((a - b - start).norm() < 1e-9);
            }
            assert_eq!(in_place.now, in_place.places.last().copied());
        }
    }
}

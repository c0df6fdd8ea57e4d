//! How far an excursion takes what is drawn: the box that holds all of it, from rest to its end.

use nalgebra::Vector3;
use sim_core::excursion::Placement;
use sim_core::frame::Side;
use sim_core::instrument::Instrument;

use super::poses::{MemberPoses, Moving};

/// A box of the world: its lowest and its highest corner.
pub type Bounds = (Vector3<f64>, Vector3<f64>);

/// Space about a sphere centre that is looked at along the axis, in millimetres.
const ABOUT_SPHERE_MM: f64 = 18.0;

/// The corners of a box.
fn corners((low, high): &Bounds) -> [Vector3<f64>; 8] {
    std::array::from_fn(|corner| {
        let pick = |axis: usize| if corner >> axis & 1 == 0 { low[axis] } else { high[axis] };
        Vector3::new(pick(0), pick(1), pick(2))
    })
}

/// The box that holds a place too.
#[must_use]
pub fn with((low, high): Bounds, place: &Vector3<f64>) -> Bounds {
    (low.inf(place), high.sup(place))
}

/// The box that holds both.
#[must_use]
pub fn union(a: Bounds, b: &Bounds) -> Bounds {
    with(with(a, &b.0), &b.1)
}

/// Whether the one box holds the other, but for less than a tenth of a millimetre.
#[must_use]
pub fn holds(outer: &Bounds, inner: &Bounds) -> bool {
    const SPARE_MM: f64 = 0.1;
    (0..3).all(|axis| outer.0[axis] <= inner.0[axis] + SPARE_MM && outer.1[axis] >= inner.1[axis] - SPARE_MM)
}

/// The box that holds what stands in `still`, and what stands in `moved` at rest in each of the poses.
#[must_use]
pub fn over<'p>(
    still: Bounds,
    moved: &Bounds,
    moving: Moving,
    poses: impl Iterator<Item = &'p Placement>,
) -> Bounds {
    let corners = corners(moved);
    poses.fold(still, |held, placed| {
        let poses = MemberPoses::of(&placed.jaw, moving);
        let pose = match moving {
            Moving::Lower => poses.lower,
            Moving::Upper => poses.upper,
        };
        corners.iter().fold(held, |held, corner| with(held, &pose.place(corner)))
    })
}

/// The box that holds `still` and both spheres with some space about them, in each of the poses.
#[must_use]
pub fn over_spheres<'p>(
    still: Bounds,
    instrument: &Instrument,
    moving: Moving,
    poses: impl Iterator<Item = &'p Placement>,
) -> Bounds {
    let space = Vector3::new(ABOUT_SPHERE_MM, 0.0, ABOUT_SPHERE_MM);
    poses.fold(still, |held, placed| {
        let poses = MemberPoses::of(&placed.jaw, moving);
        Side::BOTH.into_iter().fold(held, |held, side| {
            let centre = poses.sphere(instrument, side);
            with(with(held, &(centre - space)), &(centre + space))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::excursion::{Mechanism, Movement, Station};
    use sim_core::units::Length;

    #[test]
    fn every_corner_of_what_moves_is_held_in_every_pose() {
        let mechanism = Mechanism::new(&Instrument::zeroed());
        let placed: Vec<Placement> = [0.0, 3.0, 6.0]
            .map(|mm| {
                let movement = Movement::Lateral { working: Side::Right };
                mechanism.at(movement, Station::advanced(Length::from_mm(mm))).unwrap()
            })
            .to_vec();
        let rest = (Vector3::new(-20.0, -60.0, -80.0), Vector3::new(100.0, 60.0, 5.0));
        for moving in [Moving::Lower, Moving::Upper] {
            let held = over(rest, &rest, moving, placed.iter());
            assert!(holds(&held, &rest) && !holds(&rest, &held));
            for placed in &placed {
                for corner in corners(&rest) {
                    let moved = match moving {
                        Moving::Lower => placed.jaw.rotation() * corner + placed.jaw.translation(),
                        Moving::Upper => {
                            placed.jaw.rotation().transpose() * (corner - placed.jaw.translation())
                        }
                    };
                    assert!(holds(&held, &(moved, moved)), "{moved:?}");
                }
            }
        }
    }
}

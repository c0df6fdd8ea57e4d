//! Casts made by hand of cusp tips and fossae, so that what touches can be worked out on paper.

use std::sync::Arc;

use nalgebra::Vector3;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::{Casts, Surface, ToothPlaces};
use sim_core::cusp::Tooth;
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};

/// How far a fossa reaches from its middle along each axis, in millimetres: farther than any tip goes.
pub const REACH_MM: f64 = 9.0;

/// A lower cusp tip in an upper fossa. All invented.
///
/// The tip is a pyramid, three times as high as half its base is wide, so that only its tip meets a
/// fossa less steep. The fossa is four planes that meet over the tip; their slopes are rise over run:
/// how fast the upper surface goes down as the tip goes that way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bite {
    /// Number of the upper tooth; 0 for none.
    pub upper: i64,
    /// Number of the lower tooth; 0 for none.
    pub lower: i64,
    /// The tip at rest.
    pub tip: [f64; 3],
    /// How far the fossa is above it there.
    pub clear_mm: f64,
    /// Slope ahead of the tip.
    pub forward: f64,
    /// Slope behind it.
    pub backward: f64,
    /// Slope toward the cheek.
    pub outward: f64,
    /// Slope toward the tongue.
    pub inward: f64,
}

impl Bite {
    /// A pair of teeth by their position in the arch, on one side; on a level fossa.
    pub fn of(position: i64, side: Side) -> Self {
        let (upper, lower) = match side {
            Side::Right => (10 + position, 40 + position),
            Side::Left => (20 + position, 30 + position),
        };
        let (x, out) = match position {
            1 => (92.0, 6.0),
            3 => (82.0, 17.0),
            4 => (68.0, 22.0),
            6 => (50.0, 26.0),
            _ => panic!("no place for position {position}"),
        };
        let tip = [x, side.outward_y() * out, -40.0];
        let [forward, backward, outward, inward] = [0.0; 4];
        Self { upper, lower, tip, clear_mm: 0.0, forward, backward, outward, inward }
    }

    /// The same pair on the other side.
    pub fn mirrored(&self) -> Self {
        let other = |tooth: i64| if tooth / 10 % 2 == 1 { tooth + 10 } else { tooth - 10 };
        let [x, y, z] = self.tip;
        Self { upper: other(self.upper), lower: other(self.lower), tip: [x, -y, z], ..*self }
    }

    fn outward_y(&self) -> f64 {
        self.tip[1].signum()
    }

    /// Height of the fossa over a place in plan.
    pub fn fossa_height(&self, x: f64, y: f64) -> f64 {
        let ahead = x - self.tip[0];
        let out = (y - self.tip[1]) * self.outward_y();
        let down = |way: f64, one: f64, other: f64| if way > 0.0 { way * one } else { -way * other };
        self.tip[2] + self.clear_mm
            - down(ahead, self.forward, self.backward)
            - down(out, self.outward, self.inward)
    }

    fn upper_mesh(&self, lift: &Vector3<f64>) -> Mesh {
        let [x, y, _] = self.tip;
        let at = |ahead: f64, left: f64| {
            let (x, y) = (x + ahead, y + left);
            Vector3::new(x, y, self.fossa_height(x, y)) + lift
        };
        let r = REACH_MM;
        let corners = [at(0.0, 0.0), at(r, 0.0), at(0.0, r), at(-r, 0.0), at(0.0, -r)];
        (corners.into(), vec![[0, 2, 1], [0, 3, 2], [0, 4, 3], [0, 1, 4]])
    }

    fn lower_mesh(&self, drop: &Vector3<f64>) -> Mesh {
        let tip = Vector3::from(self.tip) - drop;
        let at = |ahead: f64, left: f64| tip + Vector3::new(ahead, left, -3.0);
        let corners = vec![tip, at(1.0, 1.0), at(-1.0, 1.0), at(-1.0, -1.0), at(1.0, -1.0)];
        (corners, vec![[0, 1, 2], [0, 2, 3], [0, 3, 4], [0, 4, 1]])
    }
}

type Mesh = (Vec<Vector3<f64>>, Vec<[u32; 3]>);

fn surface(parts: impl Iterator<Item = (i64, Mesh)>) -> Surface {
    let (mut vertices, mut triangles, mut teeth) = (Vec::new(), Vec::new(), Vec::new());
    for (tooth, (corners, facets)) in parts {
        let first = u32::try_from(vertices.len()).expect("few vertices");
        teeth.extend(facets.iter().map(|_| Tooth::new(tooth).ok()));
        triangles.extend(facets.iter().map(|facet| facet.map(|index| index + first)));
        vertices.extend(corners);
    }
    Surface::new(vertices, triangles).and_then(|surface| surface.with_teeth(teeth)).expect("a surface")
}

/// Casts of some bites.
pub fn casts(bites: &[Bite]) -> Arc<Casts> {
    ground(bites, |_| Vector3::zeros(), |_| Vector3::zeros())
}

/// The same after some is ground off: by how much each upper fossa goes up and each lower tip down, as
/// vectors in its own member's frame.
pub fn ground(
    bites: &[Bite],
    upper: impl Fn(&Bite) -> Vector3<f64>,
    lower: impl Fn(&Bite) -> Vector3<f64>,
) -> Arc<Casts> {
    let above = surface(bites.iter().map(|bite| (bite.upper, bite.upper_mesh(&upper(bite)))));
    let below = surface(bites.iter().map(|bite| (bite.lower, bite.lower_mesh(&lower(bite)))));
    Arc::new(Casts::new(above, below, &ToothPlaces::none()))
}

/// A pair and its mirror image.
pub fn both(bite: Bite) -> [Bite; 2] {
    [bite, bite.mirrored()]
}

/// An instrument on which nothing but teeth guides: its pin is out of the way.
pub fn tooth_guided() -> Instrument {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
    }
    instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    instrument.pin_extension = Length::from_mm(-30.0);
    instrument
}

/// The level occlusal plane.
pub const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

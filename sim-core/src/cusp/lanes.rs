//! Cusps read in many poses at once.

use super::displacement::{Displacement, Inclines};
use super::gauges::Gauges;
use crate::frame::JawLanes;
use crate::lanes::{LANES, Lane, Work, widely};

/// The cusps of a scene, to be read in [`LANES`] poses at once, each with an occlusal plane and opposing inclines
/// of its own: the same numbers as [`Gauges`] reads one by one, to the last bit.
#[derive(Clone, Debug)]
pub struct GaugeLanes {
    sin: Lane,
    cos: Lane,
    cusps: Vec<CuspLanes>,
    any_lower: bool,
    any_upper: bool,
    /// Of lower cusps, then of upper ones.
    displacements: Box<[DisplacementLanes; 2]>,
    separations: Vec<Lane>,
    clearances: Vec<Lane>,
}

#[derive(Clone, Debug)]
struct CuspLanes {
    at: [f64; 3],
    arch: usize,
    ahead: [Lane; 2],
    astern: [Lane; 2],
}

#[derive(Clone, Debug)]
struct DisplacementLanes {
    map: [[Lane; 3]; 3],
    constant: [Lane; 3],
}

const NOTHING: Lane = [0.0; LANES];

impl GaugeLanes {
    /// These gauges in every lane.
    #[must_use]
    pub fn new(gauges: &Gauges) -> Self {
        let cusps = gauges.cusps.iter().map(|gauge| {
            let of = |tan: f64| [tan; LANES];
            let Inclines { ahead, astern } = gauge.inclines;
            CuspLanes { at: gauge.at, arch: gauge.arch, ahead: ahead.map(of), astern: astern.map(of) }
        });
        let cusps: Vec<CuspLanes> = cusps.collect();
        let none = DisplacementLanes { map: [[NOTHING; 3]; 3], constant: [NOTHING; 3] };
        Self {
            sin: [gauges.plane.sin(); LANES],
            cos: [gauges.plane.cos(); LANES],
            any_lower: cusps.iter().any(|cusp| cusp.arch == 0),
            any_upper: cusps.iter().any(|cusp| cusp.arch == 1),
            separations: vec![NOTHING; cusps.len()],
            clearances: vec![NOTHING; cusps.len()],
            cusps,
            displacements: Box::new([none.clone(), none]),
        }
    }

    /// Puts the plane and the inclines of gauges at the same cusps into a lane.
    pub(crate) fn put(&mut self, lane: usize, gauges: &Gauges) {
        self.put_plane(lane, gauges);
        for (cusp, gauge) in self.cusps.iter_mut().zip(&gauges.cusps) {
            for way in 0..2 {
                cusp.ahead[way][lane] = gauge.inclines.ahead[way];
                cusp.astern[way][lane] = gauge.inclines.astern[way];
            }
        }
    }

    /// Puts the plane of gauges into a lane.
    #[inline]
    pub(crate) fn put_plane(&mut self, lane: usize, gauges: &Gauges) {
        (self.sin[lane], self.cos[lane]) = (gauges.plane.sin(), gauges.plane.cos());
    }

    /// Reads every cusp in every pose.
    pub fn read(&mut self, jaws: &JawLanes) {
        widely(Reading { of: self, jaws });
    }

    /// Separations in millimetres that were read last, cusp by cusp.
    #[must_use]
    pub fn separations_mm(&self) -> &[[f64; LANES]] {
        &self.separations
    }

    /// Clearances in millimetres that were read last, cusp by cusp.
    #[must_use]
    pub fn clearances_mm(&self) -> &[[f64; LANES]] {
        &self.clearances
    }
}

/// All cusps read in all lanes.
struct Reading<'a> {
    of: &'a mut GaugeLanes,
    jaws: &'a JawLanes,
}

impl Work for Reading<'_> {
    #[inline(always)]
    fn run(self) {
        let GaugeLanes { sin, cos, cusps, any_lower, any_upper, displacements, separations, clearances } =
            self.of;
        let [lower, upper] = &mut **displacements;
        if *any_lower {
            lower.take(self.jaws, |lane, columns, translation| {
                Displacement::of_lower((sin[lane], cos[lane]), columns, translation)
            });
        }
        if *any_upper {
            upper.take(self.jaws, |lane, columns, translation| {
                Displacement::of_upper((sin[lane], cos[lane]), columns, translation)
            });
        }
        for ((cusp, separation), clearance) in cusps.iter().zip(separations).zip(clearances) {
            cusp.read(if cusp.arch == 0 { lower } else { upper }, separation, clearance);
        }
    }
}

impl DisplacementLanes {
    #[inline(always)]
    fn take(&mut self, jaws: &JawLanes, of: impl Fn(usize, &[[f64; 3]; 3], &[f64; 3]) -> Displacement) {
        for lane in 0..LANES {
            let at = |lanes: &[Lane; 3]| [lanes[0][lane], lanes[1][lane], lanes[2][lane]];
            let columns = [at(&jaws.columns[0]), at(&jaws.columns[1]), at(&jaws.columns[2])];
            let displacement = of(lane, &columns, &at(&jaws.translation));
            for row in 0..3 {
                for column in 0..3 {
                    self.map[row][column][lane] = displacement.map[row][column];
                }
                self.constant[row][lane] = displacement.constant[row];
            }
        }
    }
}

impl CuspLanes {
    #[inline(always)]
    fn read(&self, displacements: &DisplacementLanes, separation: &mut Lane, clearance: &mut Lane) {
        let at = self.at;
        for lane in 0..LANES {
            let row = |row: usize| {
                let map = &displacements.map[row];
                [map[0][lane], map[1][lane], map[2][lane]]
            };
            let constant = &displacements.constant;
            let displacement = Displacement {
                map: [row(0), row(1), row(2)],
                constant: [constant[0][lane], constant[1][lane], constant[2][lane]],
            };
            let inclines = Inclines {
                ahead: [self.ahead[0][lane], self.ahead[1][lane]],
                astern: [self.astern[0][lane], self.astern[1][lane]],
            };
            let read = displacement.read(&at, &inclines);
            separation[lane] = read.separation;
            clearance[lane] = read.separation - read.rise;
        }
    }
}

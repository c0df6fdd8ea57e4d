//! Walls of many guides side by side.

use super::Profile;
use super::path::arc_drop_mm;
use super::walls::{Medial, Superior, Walls};
use crate::lanes::{LANES, Lane};

/// The walls of one side's guides, one instrument a lane.
#[derive(Clone, Debug)]
pub(crate) struct WallLanes {
    forms: [Form; LANES],
    /// The tangent of a straight wall; of an arc its sine.
    slant: Lane,
    cos: Lane,
    radius: Lane,
    profiles: [Option<Profile>; LANES],
    tan_lateral: Lane,
    immediate: Lane,
    early_amount: Lane,
    early_over: Lane,
    pub(crate) tan_tilt: Lane,
    pub(crate) tan_retrusion: Lane,
    pub(crate) tan_surtrusion: Lane,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Form {
    Straight,
    Arc,
    Profile,
}

impl Default for WallLanes {
    fn default() -> Self {
        let lane = [0.0; LANES];
        Self {
            forms: [Form::Straight; LANES],
            slant: lane,
            cos: lane,
            radius: [1.0; LANES],
            profiles: [const { None }; LANES],
            tan_lateral: lane,
            immediate: lane,
            early_amount: lane,
            early_over: [1.0; LANES],
            tan_tilt: lane,
            tan_retrusion: lane,
            tan_surtrusion: lane,
        }
    }
}

impl WallLanes {
    /// Puts walls into a lane.
    #[inline]
    pub(crate) fn put(&mut self, lane: usize, walls: &Walls) {
        self.forms[lane] = match walls.superior() {
            Superior::Straight { tan } => {
                self.slant[lane] = tan.tan();
                Form::Straight
            }
            Superior::Arc { of, radius } => {
                (self.slant[lane], self.cos[lane], self.radius[lane]) = (of.sin(), of.cos(), *radius);
                Form::Arc
            }
            Superior::Profile(profile) => {
                if !self.profiles[lane].as_ref().is_some_and(|known| known.is(profile)) {
                    self.profiles[lane] = Some(profile.clone());
                }
                Form::Profile
            }
        };
        let Medial { immediate, early_amount, early_over } = walls.medial;
        self.tan_lateral[lane] = walls.tan_lateral();
        self.immediate[lane] = immediate;
        self.early_amount[lane] = early_amount;
        self.early_over[lane] = early_over;
        self.tan_tilt[lane] = walls.tan_tilt();
        self.tan_retrusion[lane] = walls.tan_retrusion();
        self.tan_surtrusion[lane] = walls.tan_surtrusion();
    }

    /// f(a) of each lane; not a number where its path has ended.
    #[inline(always)]
    pub(crate) fn drops_mm(&self, advances: &Lane, drops: &mut Lane) {
        let are_all = |form| self.forms.iter().all(|own| *own == form);
        if are_all(Form::Straight) {
            for lane in 0..LANES {
                drops[lane] = advances[lane] * self.slant[lane];
            }
        } else if are_all(Form::Arc) {
            for lane in 0..LANES {
                drops[lane] = self.arc_drop_mm(lane, advances[lane]);
            }
        } else {
            for lane in 0..LANES {
                drops[lane] = match self.forms[lane] {
                    Form::Straight => advances[lane] * self.slant[lane],
                    Form::Arc => self.arc_drop_mm(lane, advances[lane]),
                    Form::Profile => (self.profiles[lane].as_ref())
                        .and_then(|profile| profile.drop_mm(advances[lane]).ok())
                        .unwrap_or(f64::NAN),
                };
            }
        }
    }

    #[inline(always)]
    fn arc_drop_mm(&self, lane: usize, advance: f64) -> f64 {
        arc_drop_mm(self.slant[lane], self.cos[lane], self.radius[lane], advance)
    }

    /// m of a lane.
    #[inline(always)]
    pub(crate) fn medial_mm(&self, lane: usize, advance: f64, shifted: f64) -> f64 {
        let medial = Medial {
            immediate: self.immediate[lane],
            early_amount: self.early_amount[lane],
            early_over: self.early_over[lane],
        };
        medial.mm(self.tan_lateral[lane], advance, shifted)
    }
}

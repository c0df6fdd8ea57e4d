//! A dealt patient on the bench: what the student finds of it, and the marks.

use std::sync::Arc;

use sim_core::frame::{PerSide, Side};
use sim_core::practice::{Answer, Deal, Mark, SideAnswer, Verdicts};

use super::dial::Dial;

/// A dealt patient, with the answer as far as it is given.
#[derive(Clone, Debug)]
pub struct Patient {
    /// The patient.
    pub deal: Arc<Deal>,
    /// What the student has found so far.
    pub verdicts: Verdicts,
    /// Which horizontal inclinations are left open, because what they rest on must be taken again.
    pub inclination_open: PerSide<bool>,
    /// Which lateral angles are.
    pub lateral_open: PerSide<bool>,
    /// The marks, once the answer is handed in.
    pub mark: Option<Arc<Mark>>,
}

impl Patient {
    /// A patient of whom nothing is said yet.
    #[must_use]
    pub fn new(deal: Deal) -> Self {
        Self {
            deal: Arc::new(deal),
            verdicts: Verdicts::default(),
            inclination_open: PerSide::default(),
            lateral_open: PerSide::default(),
            mark: None,
        }
    }

    /// Whether the answer is still to be given, so that nothing may be told that the student is to find.
    #[must_use]
    pub const fn is_asked(&self) -> bool {
        self.mark.is_none()
    }

    /// Whether a setting is left open.
    #[must_use]
    pub fn is_open(&self, dial: Dial) -> bool {
        match dial {
            Dial::Inclination(side) => self.inclination_open[side],
            Dial::Lateral(side) => self.lateral_open[side],
        }
    }

    /// The answer: what the guides are set to (degrees), but for what is left open, and the verdicts.
    #[must_use]
    pub fn answer(&self, set_deg: impl Fn(Dial) -> f64) -> Answer {
        let given = |dial: Dial| (!self.is_open(dial)).then(|| set_deg(dial));
        let of = |side: Side| SideAnswer {
            horizontal_inclination_deg: given(Dial::Inclination(side)),
            lateral_angle_deg: given(Dial::Lateral(side)),
        };
        Answer {
            deal: self.deal.number,
            right: of(Side::Right),
            left: of(Side::Left),
            verdicts: self.verdicts,
        }
    }
}

//! Where the pin tip goes while the teeth guide.

use std::sync::Arc;

use nalgebra::{Vector2, Vector3};

use super::super::Mounted;
use super::super::steps::steps;
use super::error::{NoTable, check};
use crate::anterior::{AnteriorGuide, Trough};
use crate::cast::LastPairs;
use crate::excursion::{Guidance, Mechanism, Movement, Ratio};
use crate::frame::{Side, UpperPoint};
use crate::instrument::Instrument;
use crate::units::Length;

/// How large a table is formed, and how fine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableSweep {
    /// Advance up to which every excursion is made; 0.5 to 15 mm.
    pub to: Length,
    /// Spacing of the table's grid; 0.05 to 5 mm. The net of excursions is as fine.
    pub step: Length,
    /// How far the table goes on beyond the sweep on every side; 0 to 20 mm.
    pub margin: Length,
}

/// How high the pin is raised out of the way, in millimetres: as far as an instrument lets it.
const RAISED_MM: f64 = 30.0;
/// The arc from the end of one excursion to the end of another, to its chord, at most: that of a
/// quarter circle.
const ARC_TO_CHORD: f64 = 1.12;
/// How many steps farther than asked each excursion is followed, so that the squares of the grid on
/// the edge of what was asked for are formed by it as well.
const STEPS_BEYOND: f64 = 1.5;

impl Default for TableSweep {
    /// Six millimetres of every excursion on a grid of half a millimetre, and three more all round.
    fn default() -> Self {
        Self { to: Length::from_mm(6.0), step: Length::from_mm(0.5), margin: Length::from_mm(3.0) }
    }
}

impl TableSweep {
    pub(super) fn check(&self) -> Result<(), NoTable> {
        check("the advance", self.to, 0.5, 15.0)?;
        check("the step", self.step, 0.05, 5.0)?;
        check("the margin", self.margin, 0.0, 20.0)
    }
}

/// The places of the tip on one side: for each ratio from lateral to protrusive, from rest on. A row
/// ends where no tooth guides any more.
pub(super) type Fan = Vec<Vec<Vector3<f64>>>;

/// Both sides.
pub(super) struct Sweep {
    pub(super) fans: [Fan; 2],
    pub(super) guided_to: Length,
}

/// The tooth-guided instrument and its flush pin.
struct Swept {
    mechanism: Mechanism,
    tip: UpperPoint,
    to: Length,
}

pub(super) fn sweep(mounted: &Mounted, asked: &TableSweep) -> Result<Sweep, NoTable> {
    let instrument = Instrument {
        anterior_guide: AnteriorGuide::Casts(Trough::LEVEL),
        pin_extension: Length::from_mm(-RAISED_MM),
        ..mounted.instrument().clone()
    };
    let mechanism = Mechanism::new(&instrument).with_casts(Arc::clone(mounted.casts()));
    let tip = UpperPoint::from_coords(instrument.incisal_point.coords());
    let to = Length::from_mm(asked.to.mm() + STEPS_BEYOND * asked.step.mm());
    let swept = Swept { mechanism, tip, to };
    let mut warm = LastPairs::default();
    // How far apart the ends are says how many excursions and stops keep the net as fine as the table.
    let start = swept.start(&mut warm)?;
    let mut end = |movement| swept.row(movement, 1, &mut warm).last().map_or(start, |end| end.xy());
    let ahead = end(Movement::Protrusive);
    let out = Side::BOTH.map(|working| end(Movement::Lateral { working }));
    let longest = [ahead, out[0], out[1]].map(|end| (end - start).norm()).into_iter().fold(to.mm(), f64::max);
    let stops = steps(Length::from_mm(ARC_TO_CHORD * longest), asked.step);
    // Both sides share the row of straight protrusion, number for number.
    let mut guided_mm = asked.to.mm();
    let mut row = |movement| {
        let row = swept.row(movement, stops, &mut warm);
        guided_mm = guided_mm.min(swept.advance_at(movement, row.len(), stops));
        row
    };
    let protrusive = row(Movement::Protrusive);
    let mut fan = |working, out: Vector2<f64>| -> Fan {
        let between = steps(Length::from_mm(ARC_TO_CHORD * (out - ahead).norm()), asked.step);
        let movement = |index: u32| match Ratio::new(f64::from(index) / f64::from(between)) {
            Ok(ratio) => Movement::Lateroprotrusive { working, ratio },
            Err(_) => Movement::Lateral { working },
        };
        (0..between).map(|index| row(movement(index))).chain([protrusive.clone()]).collect()
    };
    let fans = [fan(Side::Right, out[0]), fan(Side::Left, out[1])];
    Ok(Sweep { fans, guided_to: Length::from_mm(guided_mm) })
}

impl Swept {
    /// The tip's place with the condyles seated, from its place at rest.
    fn start(&self, warm: &mut LastPairs) -> Result<Vector2<f64>, NoTable> {
        let movement = Movement::Protrusive;
        let start = self.mechanism.travel(movement, self.to).start();
        let placement = self.mechanism.at_from(movement, start, warm)?;
        match placement.guidance {
            Guidance::Teeth(_) => Ok(self.tip_from_rest(&placement.jaw).xy()),
            _ => Err(NoTable::NoTeeth { movement: movement.name() }),
        }
    }

    /// The tip's places at rest and at even stops of a movement, as far as teeth guide it.
    fn row(&self, movement: Movement, stops: u32, warm: &mut LastPairs) -> Vec<Vector3<f64>> {
        let travel = self.mechanism.travel(movement, self.to);
        let mut row = Vec::new();
        for stop in 0..=stops {
            let station = travel.station(travel.length() * f64::from(stop) / f64::from(stops));
            match self.mechanism.at_from(movement, station, warm) {
                Ok(placement) if matches!(placement.guidance, Guidance::Teeth(_)) => {
                    row.push(self.tip_from_rest(&placement.jaw));
                }
                _ => break,
            }
        }
        row
    }

    fn tip_from_rest(&self, jaw: &crate::frame::JawPose) -> Vector3<f64> {
        jaw.to_lower(&self.tip).coords() - self.tip.coords()
    }

    /// Advance at the last of so many places.
    fn advance_at(&self, movement: Movement, places: usize, stops: u32) -> f64 {
        let travel = self.mechanism.travel(movement, self.to);
        let last = u32::try_from(places).unwrap_or(u32::MAX).saturating_sub(1);
        (travel.length() * f64::from(last) / f64::from(stops) - travel.sideways()).max(Length::ZERO).mm()
    }
}

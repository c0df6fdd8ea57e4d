//! Where the pin tip goes while the teeth guide.

use std::sync::Arc;

use nalgebra::{Vector2, Vector3};

use super::super::Mounted;
use super::super::steps::steps;
use super::error::{NoTable, TableSize, check};
use super::lattice::Lattice;
use crate::anterior::{AnteriorGuide, MOST_HEIGHTS, PinTip, Trough};
use crate::cast::LastPairs;
use crate::excursion::{Guidance, Mechanism, Movement, Ratio, Station, Travel};
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
    /// How far the table goes on beyond the sweep on every side, for a ball beside its radius; 0 to 20 mm.
    pub margin: Length,
    /// The tip of the pin.
    pub tip: PinTip,
}

/// How high the pin is raised out of the way, in millimetres: as far as an instrument lets it.
const RAISED_MM: f64 = 30.0;
/// The arc from the end of one excursion to the end of another, to its chord, at most: that of a
/// quarter circle.
const ARC_TO_CHORD: f64 = 1.12;
/// How many steps farther than asked each excursion is followed, so that the squares of the grid on
/// the edge of what was asked for are formed by it as well.
const STEPS_BEYOND: f64 = 1.5;

/// Squares of the net that are no wider than this, in millimetres, are looked at as a whole first: about
/// the width of the marks that guiding teeth leave.
const LOOKED_AT_MM: f64 = 0.8;

impl Default for TableSweep {
    /// Six millimetres of every excursion on a grid of a tenth of a millimetre, and three more all round;
    /// for a tip that is a point.
    fn default() -> Self {
        Self {
            to: Length::from_mm(6.0),
            step: Length::from_mm(0.1),
            margin: Length::from_mm(3.0),
            tip: PinTip::POINT,
        }
    }
}

impl TableSweep {
    pub(super) fn check(&self) -> Result<(), NoTable> {
        check(TableSize::Advance, self.to, 0.5, 15.0)?;
        check(TableSize::Step, self.step, 0.05, 5.0)?;
        check(TableSize::Margin, self.margin, 0.0, 20.0)?;
        let tip = PinTip::RADIUS.facts;
        check(TableSize::TipRadius, self.tip.radius, tip.min, tip.max)
    }
}

/// One excursion: the places of the tip from rest on, as far as teeth guide it.
pub(super) struct SweptRow {
    movement: Movement,
    pub(super) places: Vec<Vector3<f64>>,
}

/// The excursions of one side, from lateral to protrusive.
pub(super) type Fan = Vec<SweptRow>;

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
    // The pin stands upright on the upper member.
    let centre = instrument.incisal_point.coords() + Vector3::z() * asked.tip.radius.mm();
    let tip = UpperPoint::from_coords(centre);
    let to = Length::from_mm(asked.to.mm() + STEPS_BEYOND * asked.step.mm());
    let swept = Swept { mechanism, tip, to };
    let mut warm = LastPairs::default();
    // How far apart the ends are says how many excursions and stops keep the net as fine as the table.
    let start = swept.start(&mut warm)?;
    let mut end = |movement| swept.row(movement, 1, &mut warm).last().map_or(start, |end| end.xy());
    let ahead = end(Movement::Protrusive);
    let out = Side::BOTH.map(|working| end(Movement::Lateral { working }));
    has_room(&[start, ahead, out[0], out[1]], asked)?;
    let longest = [ahead, out[0], out[1]].map(|end| (end - start).norm()).into_iter().fold(to.mm(), f64::max);
    let looked_at = looked_at(asked.step);
    let count = |way: f64| steps(Length::from_mm(ARC_TO_CHORD * way), asked.step).next_multiple_of(looked_at);
    let stops = count(longest);
    // Both sides share the row of straight protrusion, number for number.
    let protrusive = swept.row(Movement::Protrusive, stops, &mut warm);
    let mut fan = |working, out: Vector2<f64>| -> Fan {
        let between = count((out - ahead).norm());
        let movement = |index: u32| match Ratio::new(f64::from(index) / f64::from(between)) {
            Ok(ratio) => Movement::Lateroprotrusive { working, ratio },
            Err(_) => Movement::Lateral { working },
        };
        swept.fan(&protrusive, between, stops, looked_at, &movement, &mut warm)
    };
    let fans = [fan(Side::Right, out[0]), fan(Side::Left, out[1])];
    let mut guided_mm = asked.to.mm();
    for row in fans.iter().flatten() {
        guided_mm = guided_mm.min(swept.advance_at(row.movement, row.places.len(), stops));
    }
    Ok(Sweep { fans, guided_to: Length::from_mm(guided_mm) })
}

/// Refuses a step with which the table would have too many heights, by the ends of the way alone: the net between them
/// takes minutes.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)] // finite and above 0
fn has_room(ends: &[Vector2<f64>], asked: &TableSweep) -> Result<(), NoTable> {
    let (step, margin) = (asked.step.mm(), asked.margin.mm() + asked.tip.radius.mm());
    let origin = Vector2::zeros();
    let least = ends.iter().fold(origin, |least, end| least.inf(end));
    let greatest = ends.iter().fold(origin, |greatest, end| greatest.sup(end));
    let size = greatest - least + Vector2::repeat(2.0 * margin);
    let heights = ((size.x / step).floor() + 1.0) * ((size.y / step).floor() + 1.0);
    if heights <= MOST_HEIGHTS as f64 {
        return Ok(());
    }
    // In hundredths, upward; a little more, since the grid ends at whole steps.
    let least = (step * (heights / MOST_HEIGHTS as f64).sqrt() * 100.0 + 1.0).ceil() / 100.0;
    Err(NoTable::TooFine { step, heights: heights as u64, most: MOST_HEIGHTS, least })
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

    /// The excursions of a side up to the protrusive one, which is known.
    fn fan(
        &self,
        protrusive: &[Vector3<f64>],
        between: u32,
        stops: u32,
        looked_at: u32,
        movement: &impl Fn(u32) -> Movement,
        warm: &mut LastPairs,
    ) -> Fan {
        let [rows, columns, size] = [between, stops, looked_at].map(|count| count as usize);
        let mut lattice = Lattice::new(rows + 1, columns + 1);
        lattice.set_row(rows, protrusive);
        // A lattice has no more rows and columns than there are excursions and stops.
        let index = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let mut solve = |row: usize, column: usize| {
            let movement = movement(index(row));
            let travel = self.mechanism.travel(movement, self.to);
            self.place(movement, travel.station(part(&travel, index(column), stops)), warm)
        };
        for row in (0..rows).step_by(size) {
            for column in (0..columns).step_by(size) {
                lattice.know([row, column], size, &mut solve);
            }
        }
        let row = |row: usize| SweptRow { movement: movement(index(row)), places: lattice.row(row) };
        (0..=rows).map(row).collect()
    }

    /// The tip's place at a station from its place at rest; none where no tooth guides.
    fn place(&self, movement: Movement, station: Station, warm: &mut LastPairs) -> Option<Vector3<f64>> {
        let placement = self.mechanism.at_from(movement, station, warm).ok()?;
        matches!(placement.guidance, Guidance::Teeth(_)).then(|| self.tip_from_rest(&placement.jaw))
    }

    /// The tip's places at rest and at even stops of a movement, as far as teeth guide it.
    fn row(&self, movement: Movement, stops: u32, warm: &mut LastPairs) -> Vec<Vector3<f64>> {
        let travel = self.mechanism.travel(movement, self.to);
        let place = |stop: u32| self.place(movement, travel.station(part(&travel, stop, stops)), warm);
        (0..=stops).map_while(place).collect()
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

/// So many of so many even parts of a movement's way.
fn part(travel: &Travel, stop: u32, stops: u32) -> Length {
    travel.length() * f64::from(stop) / f64::from(stops)
}

/// How many meshes wide a square is that is looked at as a whole: a power of two.
fn looked_at(step: Length) -> u32 {
    let mut meshes = 1;
    while f64::from(2 * meshes) * step.mm() <= LOOKED_AT_MM {
        meshes *= 2;
    }
    meshes
}

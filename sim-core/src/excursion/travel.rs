//! The path of a movement on one instrument, from rest to an advance, measured in millimetres.

use super::mechanism::Mechanism;
use super::{Movement, SampleCount, Station};
use crate::units::Length;

/// How far a movement goes, in its two parts: the pure sideways move of immediate lateral translation,
/// where it starts with one, and the advance.
///
/// ```
/// use sim_core::excursion::{Mechanism, Movement, SampleCount, Station};
/// use sim_core::frame::Side;
/// use sim_core::instrument::Instrument;
/// use sim_core::units::Length;
///
/// let mut instrument = Instrument::zeroed();
/// instrument.left_guide.immediate_translation = Length::from_mm(0.5);
/// let mechanism = Mechanism::new(&instrument);
/// // The left condyle orbits as the jaw goes to the right.
/// let to_the_right = Movement::Lateral { working: Side::Right };
/// let travel = mechanism.travel(to_the_right, Length::from_mm(3.0));
/// assert_eq!(travel.length(), Length::from_mm(3.5));
/// assert_eq!(travel.station(Length::from_mm(0.25)), Station::sideways(0.5));
/// assert_eq!(travel.station(Length::from_mm(2.5)), Station::advanced(Length::from_mm(2.0)));
///
/// let stations: Vec<Station> = travel.stations(SampleCount::new(3)?).collect();
/// let advanced = |mm| Station::advanced(Length::from_mm(mm));
/// assert_eq!(stations, [Station::REST, advanced(0.0), advanced(1.5), advanced(3.0)]);
/// for station in stations {
///     let placed = mechanism.at(to_the_right, station).expect("a pose");
///     assert_eq!(placed.station, station);
/// }
/// # Ok::<(), sim_core::excursion::NoSuchCount>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    sideways: Length,
    advance: Length,
}

impl Mechanism {
    /// The path of a movement as far as an advance. [`Movement::Opening`] makes none of it.
    #[must_use]
    pub fn travel(&self, movement: Movement, advance: Length) -> Travel {
        let immediate = movement.orbiting_side().map_or(0.0, |side| self.walls[side].immediate_mm());
        let share = match movement {
            Movement::Lateroprotrusive { ratio, .. } => 1.0 - ratio.get(),
            Movement::Protrusive | Movement::Lateral { .. } | Movement::Opening => 1.0,
        };
        Travel { sideways: Length::from_mm(share * immediate), advance }
    }
}

impl Travel {
    /// Length of the sideways move that comes before the advance; zero where there is none.
    #[must_use]
    pub const fn sideways(&self) -> Length {
        self.sideways
    }

    /// The whole way: the sideways move and the advance.
    #[must_use]
    pub fn length(&self) -> Length {
        self.sideways + self.advance
    }

    /// Whether the movement starts with a sideways move.
    #[must_use]
    pub(crate) fn starts_sideways(&self) -> bool {
        self.sideways > Length::ZERO
    }

    /// Where the path begins: at rest; without a sideways move that is no advance.
    #[must_use]
    pub fn start(&self) -> Station {
        if self.starts_sideways() { Station::REST } else { Station::advanced(Length::ZERO) }
    }

    /// The station after a part of the way.
    #[must_use]
    pub fn station(&self, travelled: Length) -> Station {
        if travelled < self.sideways {
            Station::sideways(travelled / self.sideways)
        } else {
            Station::advanced(travelled - self.sideways)
        }
    }

    /// How much of the way has been made at a station.
    #[must_use]
    pub fn travelled(&self, station: Station) -> Length {
        self.sideways * station.shifted() + station.advance()
    }

    /// The stations at which an excursion driven by advance is sampled: so many, evenly spaced in the
    /// advance, both ends included; before them one at rest where the movement starts sideways.
    pub fn stations(self, count: SampleCount) -> impl Iterator<Item = Station> {
        (0..self.station_count(count)).map(move |index| self.nth_station(index, count))
    }

    /// How many [`Self::stations`] there are.
    pub(super) fn station_count(&self, count: SampleCount) -> u64 {
        count.get() + u64::from(self.starts_sideways())
    }

    /// One of [`Self::stations`], counted from 0.
    #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
    pub(super) fn nth_station(&self, index: u64, count: SampleCount) -> Station {
        match index.checked_sub(u64::from(self.starts_sideways())) {
            None => Station::REST,
            // Multiplied before it is divided, so that round numbers stay round.
            Some(sample) => Station::advanced(self.advance * sample as f64 / (count.get() - 1) as f64),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Mechanism, Movement, SampleCount, Station, Travel};
    use crate::excursion::{Drive, Excursion, Ratio};
    use crate::frame::Side;
    use crate::instrument::Instrument;
    use crate::units::Length;

    fn mechanism(immediate_mm: f64) -> Mechanism {
        let mut instrument = Instrument::zeroed();
        for side in Side::BOTH {
            instrument.guide_mut(side).immediate_translation = Length::from_mm(immediate_mm);
        }
        Mechanism::new(&instrument)
    }

    fn movements() -> impl Strategy<Value = Movement> {
        let working = prop_oneof![Just(Side::Right), Just(Side::Left)];
        (working, 0.01..0.99, 0..3_u8).prop_map(|(working, ratio, kind)| match kind {
            0 => Movement::Protrusive,
            1 => Movement::Lateral { working },
            _ => Movement::Lateroprotrusive { working, ratio: Ratio::new(ratio).unwrap() },
        })
    }

    #[test]
    fn a_lateral_way_starts_with_the_immediate_translation_of_the_orbiting_side() {
        let mut instrument = Instrument::zeroed();
        instrument.left_guide.immediate_translation = Length::from_mm(0.5);
        let mechanism = Mechanism::new(&instrument);
        let right = Movement::Lateral { working: Side::Right };
        let travel = mechanism.travel(right, Length::from_mm(3.0));
        assert!((travel.length().mm() - 3.5).abs() < 1e-12);
        assert_eq!(travel.station(Length::ZERO), Station::REST);
        assert_eq!(travel.station(Length::from_mm(0.25)), Station::sideways(0.5));
        assert_eq!(travel.station(Length::from_mm(0.5)), Station::advanced(Length::ZERO));
        assert_eq!(travel.station(Length::from_mm(2.5)), Station::advanced(Length::from_mm(2.0)));
        let left = Movement::Lateral { working: Side::Left };
        assert!((mechanism.travel(left, Length::from_mm(3.0)).length().mm() - 3.0).abs() < 1e-12);
    }

    /// Above what rounding leaves of a way of some tens of millimetres.
    const ROUNDED_MM: f64 = 1e-12;

    proptest! {
        #[test]
        fn the_way_grows_along_the_path_and_is_the_way_back(
            movement in movements(),
            immediate in prop_oneof![Just(0.0), 0.01..5.0],
            advance in 0.001..30.0,
            parts in (0.0..=1.0_f64, 0.0..=1.0_f64),
        ) {
            let travel = mechanism(immediate).travel(movement, Length::from_mm(advance));
            let way = |part: f64| travel.length() * part;
            let (near, far) = (way(parts.0.min(parts.1)), way(parts.0.max(parts.1)));
            prop_assert!(travel.station(near) <= travel.station(far));
            prop_assert!(travel.start() <= travel.station(near));
            prop_assert!(travel.station(near).parameter() <= travel.station(far).parameter());
            for way in [near, far] {
                let station = travel.station(way);
                prop_assert!((travel.travelled(station) - way).abs().mm() <= ROUNDED_MM);
                let again = Station::from_parameter(station.parameter());
                prop_assert!((travel.travelled(again) - way).abs().mm() <= ROUNDED_MM);
            }
        }

        #[test]
        fn the_samples_of_an_excursion_stand_at_the_stations_of_its_travel(
            movement in movements(),
            immediate in prop_oneof![Just(0.0), 0.01..2.0],
            advance in 0.1..8.0,
            count in 2..20_i64,
        ) {
            let mechanism = mechanism(immediate);
            let (advance, count) = (Length::from_mm(advance), SampleCount::new(count).unwrap());
            let travel: Travel = mechanism.travel(movement, advance);
            let excursion = Excursion::new(movement, Drive::Advance(advance)).unwrap();
            let solved: Vec<Station> =
                mechanism.samples(&excursion, count).map(|placed| placed.unwrap().station).collect();
            prop_assert_eq!(&solved, &travel.stations(count).collect::<Vec<_>>());
            prop_assert!(solved.windows(2).all(|pair| pair[0] < pair[1]));
            prop_assert_eq!(solved[0], travel.start());
            // Multiplied and divided by the same number, the end is the end but for rounding.
            let end = solved[solved.len() - 1].advance();
            prop_assert!((end - advance).abs().mm() <= ROUNDED_MM);
        }
    }
}

//! What a misplaced axis does at the second molar when the bite is closed on the instrument, next to
//! what has been published.

use nalgebra::{Rotation3, Unit, Vector3};

use super::redraw::{generator, normal};
use super::source::{DoubtSource, Uncertainties};
use crate::frame::UpperPoint;
use crate::record::Case;
use crate::record::program::Programmed;
use crate::study::statistics::quantile;
use crate::units::{Angle, Length};

/// Random numbers of their own, beside those of the sources.
const STREAM: u64 = DoubtSource::ALL.len() as u64;
/// Place of the second molar where the case watches no cusp of one (invented).
const SECOND_MOLAR_MM: [f64; 3] = [48.0, 25.0, -36.0];
/// Incisal point where the case tells none (invented).
const INCISAL_MM: [f64; 3] = [98.0, 0.0, -42.0];
/// Second molars have this place from the midline.
const SECOND_MOLAR: u8 = 7;

/// The error at the second molar from a misplaced axis.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisError {
    /// Where the second molar stands in the instrument.
    pub second_molar: UpperPoint,
    /// Whether the case tells it; else it is invented.
    pub of_the_case: bool,
    /// An axis 5 mm off and a record 3 mm thick, closed out: at the second molar, then at the incisal
    /// point. Published: about 0.2 mm anteroposterior at the second molar (Weinberg LA, J Prosthet
    /// Dent 1961;11; the figure from memory).
    pub closed_form: [ClosedFormRow; 2],
    /// Axis points off at random, the vertical dimension changed by 2 mm at the incisal point.
    /// Published: under 0.3 mm in 87 %, 0.3–0.5 mm in 12 %, over 0.5 mm in 1 % of 57 subjects
    /// (Morneburg TR, Pröschel PA, Int J Prosthodont 2002;15:358–364, abstract).
    pub population: PopulationRow,
}

/// A row that is plane geometry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosedFormRow {
    /// How far the axis is off.
    pub axis_off: Length,
    /// Thickness of the record that is closed out.
    pub thickness: Length,
    /// Where it is that thick: `second molar` or `incisal point`.
    pub measured_at: &'static str,
    /// The turn that closes it.
    pub turn: Angle,
    /// Error at the second molar, 2·δ·sin(θ/2).
    pub error: Length,
}

/// A row of random axis errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PopulationRow {
    /// Standard deviation of each coordinate of an axis point.
    pub axis_sd: Length,
    /// Change of the vertical dimension at the incisal point.
    pub change: Length,
    /// Median error.
    pub median: Length,
    /// Error that nineteen in twenty stay below.
    pub most: Length,
    /// Part of the draws under 0.3 mm, from 0.3 to 0.5 mm, and over 0.5 mm.
    pub parts: [f64; 3],
}

/// Published beside [`AxisError::closed_form`] (Weinberg; from memory), in millimetres.
pub const PUBLISHED_ERROR_MM: f64 = 0.2;
/// Bounds between those parts, in millimetres.
const BOUNDS_MM: [f64; 2] = [0.3, 0.5];
/// Of Weinberg's figure.
const OFF_MM: f64 = 5.0;
const THICK_MM: f64 = 3.0;
/// Of Morneburg and Pröschel's. Their shares are not set beside [`PopulationRow::parts`]: they are those of
/// 57 subjects whose axes were off by other amounts than the deviation taken here.
const CHANGE_MM: f64 = 2.0;

/// Where a point closed through an angle about an axis displaced by δ, parallel to itself, ends from
/// where it should: 2·δ·sin(θ/2) (plane geometry), wherever the point is.
#[must_use]
pub fn hinge_error(axis_off: Length, turn: Angle) -> Length {
    Length::from_mm(2.0 * axis_off.mm() * (turn.radians() / 2.0).sin())
}

/// The same for axis ends displaced each by itself, in millimetres of the upper frame: the distance
/// between where `point` ends when it turns about the true axis (along y, `distance` long, through
/// the origin) and about the misplaced one.
#[must_use]
pub fn misplaced(
    point: &UpperPoint,
    distance: Length,
    [right_off, left_off]: [Vector3<f64>; 2],
    turn: Angle,
) -> Length {
    let half = Vector3::y() * (distance.mm() / 2.0);
    let about = |right: Vector3<f64>, left: Vector3<f64>| {
        // Ends that fall together have no direction; the point then stays.
        let axis = Unit::try_new(left - right, f64::MIN_POSITIVE);
        let turn =
            axis.map_or_else(Rotation3::identity, |axis| Rotation3::from_axis_angle(&axis, turn.radians()));
        right + turn * (point.coords() - right)
    };
    Length::from_mm((about(-half, half) - about(-half + right_off, half + left_off)).norm())
}

/// The turn by which a point goes through a chord.
fn turn_through(chord_mm: f64, radius_mm: f64) -> Angle {
    Angle::from_radians(2.0 * (chord_mm / 2.0 / radius_mm).asin())
}

/// Distance of a point from the axis.
fn radius_mm(point: &Vector3<f64>) -> f64 {
    point.x.hypot(point.z)
}

impl AxisError {
    pub(super) fn of(
        case: &Case,
        done: &Programmed,
        uncertainties: &Uncertainties,
        draws: u32,
        seed: u64,
    ) -> Self {
        let upper = |place: crate::record::ScanPlace| *done.mounting.to_upper(&place.point()).coords();
        let watched = case.cusps.iter().find(|cusp| cusp.tooth.position() == SECOND_MOLAR);
        let molar = watched.map_or(Vector3::from(SECOND_MOLAR_MM), |cusp| upper(cusp.at_mm));
        let incisal = case.incisal_point_mm.map_or(Vector3::from(INCISAL_MM), upper);
        let row = |measured_at, radius_mm: f64| {
            let turn = turn_through(THICK_MM, radius_mm);
            let axis_off = Length::from_mm(OFF_MM);
            ClosedFormRow {
                axis_off,
                thickness: Length::from_mm(THICK_MM),
                measured_at,
                turn,
                error: hinge_error(axis_off, turn),
            }
        };
        let closed_form = [row("second molar", radius_mm(&molar)), row("incisal point", radius_mm(&incisal))];
        let molar = UpperPoint::from_coords(molar);
        let sd = uncertainties.axis_sd.mm();
        let turn = turn_through(CHANGE_MM, radius_mm(&incisal));
        let mut random = generator(seed, STREAM);
        let mut errors: Vec<f64> = (0..draws)
            .map(|_| {
                let off = std::array::from_fn(|_| Vector3::from_fn(|_, _| normal(&mut random) * sd));
                misplaced(&molar, done.intercondylar_distance, off, turn).mm()
            })
            .collect();
        errors.sort_by(f64::total_cmp);
        let below = BOUNDS_MM
            .map(|bound| errors.partition_point(|error| *error < bound) as f64 / f64::from(draws.max(1)));
        Self {
            second_molar: molar,
            of_the_case: watched.is_some(),
            closed_form,
            population: PopulationRow {
                axis_sd: uncertainties.axis_sd,
                change: Length::from_mm(CHANGE_MM),
                median: Length::from_mm(quantile(&errors, 0.5)),
                most: Length::from_mm(quantile(&errors, 0.95)),
                parts: [below[0], below[1] - below[0], 1.0 - below[1]],
            },
        }
    }
}

//! The bench way: the settings that close the split-cast gap, over all records at once.
//!
//! With a record between the casts the jaw pose is given. The upper cast sits on the record; the
//! upper member, its guides set to some angle, comes down until both spheres are on their walls, and
//! what it then lacks of meeting the cast's grooves is the gap. A guide set to another angle than the
//! record's has its sphere off the wall by v − a·tan H, and off the medial wall of the orbiting side
//! by m − i − a·tan L. The gap is the displacement t + ω × p that brings the spheres onto their walls
//! straight up or down and straight across, their advance kept; what freedom is left (the turn about
//! the spheres, and in protrusion the shift along them) makes the gap at the grooves least.
//!
//! Paths are straight and walls untilted here, which makes the gap linear in tan H and tan L: the
//! least sum of its squares is one singular value decomposition, without a search. A sphere too high
//! and one too low are alike a gap. The working sphere of a lateral record stays where the record
//! holds it, since the superior wall does not guide it.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::practice::{Level, deal};
//! use sim_core::record::fit::close_the_gap;
//!
//! // An invented patient, whose jaw is known.
//! let patient = deal(1, Level::First, &[])?;
//! let fit = close_the_gap(&patient.case, &patient.case.program()?)?;
//! for side in Side::BOTH {
//!     let off = fit.side(side).horizontal_inclination - patient.jaw().guide(side).horizontal_inclination;
//!     assert!(off.degrees().abs() < 2.0, "{side}: {}°", off.degrees());
//! }
//! // What gap is left is of the size that the landmarks' noise explains.
//! assert!(fit.rms < fit.expected_rms.expect("the case says how noisy its landmarks are") * 3.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use nalgebra::{Const, DMatrix, DVector, Dyn, Matrix3, Matrix6, OMatrix, Vector3, Vector6};

use super::case::Case;
use super::kind::RecordKind;
use super::program::Programmed;
use super::reading::RecordReading;
use super::settings::{LEAST_ADVANCE_MM, UnreadableAngle};
use crate::excursion::CondyleReading;
use crate::frame::{Side, UpperPoint};
use crate::instrument::Design;
use crate::units::{Angle, Length};

/// Grooves nearer to one line than this part of their spread do not fix a plane.
const IN_LINE: f64 = 1e-3;
/// Unknowns: tan H right, tan H left, tan L right, tan L left.
const UNKNOWNS: usize = 4;

/// The settings of one guide as the gaps give them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedGuide {
    /// Horizontal condylar inclination.
    pub horizontal_inclination: Angle,
    /// Lateral condylar angle; `None` without a record in which this side orbits.
    pub lateral_angle: Option<Angle>,
}

/// The gap that one record leaves at the grooves.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordGap {
    /// Its place in the list of records, from 0.
    pub record: usize,
    /// What was recorded.
    pub kind: RecordKind,
    /// Gap at each groove.
    pub gaps: Vec<Length>,
    /// Root mean square of them.
    pub rms: Length,
    /// The greatest of them.
    pub greatest: Length,
}

/// Settings that make the gap least, with the gap left over.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchFit {
    /// Right guide, then left.
    pub guides: [FittedGuide; 2],
    /// The gap left in each record, in the order of the case; centric repeats are left out.
    pub records: Vec<RecordGap>,
    /// Root mean square over all records and grooves.
    pub rms: Length,
    /// The greatest of all.
    pub greatest: Length,
    /// The root mean square to be expected from the noise of the landmarks; `None` where nothing
    /// says how noisy a record is.
    pub expected_rms: Option<Length>,
}

impl BenchFit {
    /// The settings of one guide.
    #[must_use]
    pub const fn side(&self, side: Side) -> &FittedGuide {
        &self.guides[side as usize]
    }
}

/// Why the gap cannot be closed.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum FitError {
    /// Grooves that fix no plane.
    #[error("the grooves do not span a plane; at least three, not in one line, are needed")]
    InLine,
    /// No record moves a guide's sphere forward.
    #[error("horizontal_inclination_deg of the {side} guide: {why}")]
    Unreadable {
        /// The guide.
        side: Side,
        /// Why.
        why: UnreadableAngle,
    },
    /// The decomposition failed.
    #[error("the gaps of the records do not determine the settings")]
    Undetermined,
}

/// One wall that a sphere of a record is off by `constant − slope·tan`.
struct Wall {
    /// Place of the sphere, seen from the middle of the grooves.
    lever: Vector3<f64>,
    /// The direction in which it is off, in the upper frame.
    direction: Vector3<f64>,
    constant: f64,
    /// Which unknown moves the wall, and the advance that it moves it at.
    unknown: Option<(usize, f64)>,
    /// How the offset varies with the sphere's place as it is measured.
    sphere: Side,
}

/// One record between the casts.
struct Seated<'r> {
    index: usize,
    kind: RecordKind,
    reading: &'r RecordReading,
    walls: Vec<Wall>,
    /// From the offsets at the walls to the displacement (shift, turn) of the upper member.
    response: OMatrix<f64, Const<6>, Dyn>,
    /// Transposed factor F of the gap's square: |F·offsets|² is the sum of its squares at the grooves.
    factor: DMatrix<f64>,
}

/// The H and L that make the gap at the grooves least over all records of a case.
///
/// Records given in any form are used, repeats each by itself. The grooves are those of the case,
/// else its landmarks.
///
/// # Errors
/// [`FitError`] for grooves in one line, or a guide that no record moves forward.
pub fn close_the_gap(case: &Case, done: &Programmed) -> Result<BenchFit, FitError> {
    let grooves: Vec<UpperPoint> = case.grooves(&done.mounting);
    let count = grooves.len().max(1) as f64;
    let middle = grooves.iter().map(|groove| *groove.coords()).sum::<Vector3<f64>>() / count;
    let levers: Vec<Vector3<f64>> = grooves.iter().map(|groove| groove.coords() - middle).collect();
    let stiffness = stiffness(&levers)?;
    let set = Set {
        middle,
        stiffness,
        design: case.design,
        distance_mm: done.intercondylar_distance.mm(),
        translation_mm: Side::BOTH.map(|side| case.immediate_translation_mm.of(side).mm()),
    };
    let mut seated = Vec::new();
    for (index, record) in done.records.iter().enumerate() {
        if let (Some(reading), true) = (&record.reading, record.kind != RecordKind::Centric) {
            seated.push(set.seat(index, record.kind, reading)?);
        }
    }
    let unknowns = Unknowns::of(&seated)?;
    let (matrix, constants) = unknowns.system(&seated);
    let svd = matrix.clone().svd(true, true);
    let least = svd.singular_values.max() * IN_LINE * IN_LINE;
    if svd.singular_values.min() <= least {
        return Err(FitError::Undetermined);
    }
    let tangents = svd.solve(&constants, 0.0).map_err(|_| FitError::Undetermined)?;
    let tangent = |unknown: usize| unknowns.column(unknown).map(|column| tangents[column]);
    let guide = |side: Side| {
        let angle = |tangent: f64| Angle::from_radians(tangent.atan());
        Some(FittedGuide {
            horizontal_inclination: angle(tangent(horizontal(side))?),
            lateral_angle: tangent(lateral(side)).map(angle),
        })
    };
    let (Some(right), Some(left)) = (guide(Side::Right), guide(Side::Left)) else {
        return Err(FitError::Undetermined);
    };
    let records: Vec<RecordGap> = seated
        .iter()
        .map(|record| record.left_over(&levers, |unknown| tangent(unknown).unwrap_or(0.0)))
        .collect();
    let all: Vec<f64> = records.iter().flat_map(|record| &record.gaps).map(|gap| gap.mm()).collect();
    let expected_rms = expected_square(&seated, svd.u.as_ref(), |unknown| tangent(unknown).unwrap_or(0.0))
        .map(|square| Length::from_mm((square / all.len().max(1) as f64).sqrt()));
    let (rms, greatest) = size_of(&all);
    Ok(BenchFit { guides: [right, left], records, rms, greatest, expected_rms })
}

const fn horizontal(side: Side) -> usize {
    side as usize
}

const fn lateral(side: Side) -> usize {
    2 + side as usize
}

fn size_of(gaps: &[f64]) -> (Length, Length) {
    let square = gaps.iter().map(|gap| gap * gap).sum::<f64>() / gaps.len().max(1) as f64;
    (Length::from_mm(square.sqrt()), Length::from_mm(gaps.iter().copied().fold(0.0, f64::max)))
}

/// Sum of the squares of (shift, turn) at the grooves as a quadratic form, inverted.
fn stiffness(levers: &[Vector3<f64>]) -> Result<Matrix6<f64>, FitError> {
    let mut square = Matrix6::zeros();
    let mut spread = 0.0;
    for lever in levers {
        // |t + ω × r|²
        let cross = lever.cross_matrix();
        let mut block = square.fixed_view_mut::<3, 3>(0, 0);
        block += Matrix3::identity();
        let mut block = square.fixed_view_mut::<3, 3>(3, 3);
        block += cross.tr_mul(&cross);
        let mut block = square.fixed_view_mut::<3, 3>(0, 3);
        block -= cross;
        let mut block = square.fixed_view_mut::<3, 3>(3, 0);
        block += cross;
        spread += lever.norm_squared();
    }
    let turn: Matrix3<f64> = square.fixed_view::<3, 3>(3, 3).into();
    let least = nalgebra::SymmetricEigen::new(turn).eigenvalues.min();
    // What is not a number spans no plane either.
    let spans = least > IN_LINE * IN_LINE * spread;
    if levers.len() < 3 || !spans {
        return Err(FitError::InLine);
    }
    square.try_inverse().ok_or(FitError::InLine)
}

/// What is the same for every record.
struct Set {
    middle: Vector3<f64>,
    stiffness: Matrix6<f64>,
    design: Design,
    distance_mm: f64,
    translation_mm: [f64; 2],
}

impl Set {
    fn seat<'r>(
        &self,
        index: usize,
        kind: RecordKind,
        reading: &'r RecordReading,
    ) -> Result<Seated<'r>, FitError> {
        let orbiting = match kind {
            RecordKind::RightLateral => Some(Side::Left),
            RecordKind::LeftLateral => Some(Side::Right),
            RecordKind::Protrusive | RecordKind::Centric => None,
        };
        let walls: Vec<Wall> =
            Side::BOTH.into_iter().flat_map(|side| self.walls(side, orbiting, reading)).collect();
        let rows = DMatrix::from_fn(walls.len(), 6, |row, column| {
            let wall = &walls[row];
            let turn = wall.lever.cross(&wall.direction);
            Vector6::new(wall.direction.x, wall.direction.y, wall.direction.z, turn.x, turn.y, turn.z)[column]
        });
        let spread = self.stiffness * rows.transpose();
        let weight = (&rows * &spread).try_inverse().ok_or(FitError::Undetermined)?;
        // A rounding's asymmetry would be taken for a matrix that has no factor.
        let weight = (&weight + weight.transpose()) * 0.5;
        let factor = weight.clone().cholesky().ok_or(FitError::Undetermined)?.l().transpose();
        let response = spread * weight;
        Ok(Seated { index, kind, reading, walls, response, factor })
    }

    /// What holds one sphere: its advance is kept; it goes to its superior wall, where one guides it,
    /// and as the orbiting one to its medial wall.
    fn walls(&self, side: Side, orbiting: Option<Side>, reading: &RecordReading) -> Vec<Wall> {
        let outward = side.outward_y();
        let seat = Vector3::new(0.0, outward * self.distance_mm / 2.0, 0.0);
        let (place, axes) = match self.design {
            Design::Arcon => (reading.jaw.rotation() * seat + reading.jaw.translation(), Matrix3::identity()),
            // The housings are on the lower member, whose axes stand turned in the upper frame.
            Design::NonArcon => (seat, *reading.jaw.rotation()),
        };
        let (a, m, v) = measures(reading.condyle(side));
        let wall = |direction: Vector3<f64>, constant: f64, unknown| Wall {
            lever: place - self.middle,
            direction: axes * direction,
            constant,
            unknown,
            sphere: side,
        };
        let guided = orbiting.is_none_or(|orbiting| orbiting == side);
        let mut walls = vec![wall(Vector3::x(), 0.0, None)];
        // The member comes down by what the sphere is below its wall.
        walls.push(if guided {
            wall(-Vector3::z(), v, Some((horizontal(side), a)))
        } else {
            wall(-Vector3::z(), 0.0, None)
        });
        if orbiting == Some(side) {
            let beside = m - self.translation_mm[side as usize];
            walls.push(wall(-Vector3::y() * outward, beside, Some((lateral(side), a))));
        }
        walls
    }
}

fn measures(condyle: &CondyleReading) -> (f64, f64, f64) {
    (condyle.advance.mm(), condyle.medial.mm(), condyle.drop.mm())
}

/// Which unknowns the records speak of.
struct Unknowns {
    columns: [Option<usize>; UNKNOWNS],
    count: usize,
}

impl Unknowns {
    fn of(seated: &[Seated<'_>]) -> Result<Self, FitError> {
        let mut farthest: [Option<f64>; UNKNOWNS] = [None; UNKNOWNS];
        for (unknown, advance) in
            seated.iter().flat_map(|record| &record.walls).filter_map(|wall| wall.unknown)
        {
            let so_far = farthest[unknown].unwrap_or(advance);
            farthest[unknown] = Some(so_far.max(advance));
        }
        let mut own = Self { columns: [None; UNKNOWNS], count: 0 };
        for (unknown, farthest) in farthest.into_iter().enumerate() {
            let side = Side::BOTH[unknown % 2];
            match farthest {
                Some(advance) if advance >= LEAST_ADVANCE_MM => {
                    own.columns[unknown] = Some(own.count);
                    own.count += 1;
                }
                Some(advance_mm) => {
                    let why = UnreadableAngle::NoAdvance { side, advance_mm };
                    return Err(FitError::Unreadable { side, why });
                }
                None if unknown < 2 => {
                    return Err(FitError::Unreadable { side, why: UnreadableAngle::NoRecord });
                }
                None => {}
            }
        }
        Ok(own)
    }

    const fn column(&self, unknown: usize) -> Option<usize> {
        self.columns[unknown]
    }

    /// Rows F·slope and F·constant of all records: |rows·tan − constants|² is what is made least.
    fn system(&self, seated: &[Seated<'_>]) -> (DMatrix<f64>, DVector<f64>) {
        let height = seated.iter().map(|record| record.walls.len()).sum();
        let (mut matrix, mut constants) = (DMatrix::zeros(height, self.count), DVector::zeros(height));
        let mut from = 0;
        for record in seated {
            let size = record.walls.len();
            for (row, wall) in record.walls.iter().enumerate() {
                for line in 0..size {
                    let weight = record.factor[(line, row)];
                    constants[from + line] += weight * wall.constant;
                    if let Some((column, advance)) =
                        wall.unknown.and_then(|(unknown, advance)| Some((self.columns[unknown]?, advance)))
                    {
                        matrix[(from + line, column)] += weight * advance;
                    }
                }
            }
            from += size;
        }
        (matrix, constants)
    }
}

impl Seated<'_> {
    fn left_over(&self, levers: &[Vector3<f64>], tangent: impl Fn(usize) -> f64) -> RecordGap {
        let offsets = DVector::from_iterator(
            self.walls.len(),
            self.walls.iter().map(|wall| {
                let set = wall.unknown.map_or(0.0, |(unknown, advance)| advance * tangent(unknown));
                wall.constant - set
            }),
        );
        let moved = &self.response * offsets;
        let (shift, turn) =
            (Vector3::new(moved[0], moved[1], moved[2]), Vector3::new(moved[3], moved[4], moved[5]));
        let gaps: Vec<f64> = levers.iter().map(|lever| (shift + turn.cross(lever)).norm()).collect();
        let (rms, greatest) = size_of(&gaps);
        let gaps = gaps.into_iter().map(Length::from_mm).collect();
        RecordGap { record: self.index, kind: self.kind, gaps, rms, greatest }
    }

    /// How each offset varies with its sphere's place: by −e_z·error for the drop, less the advance's
    /// share; as a direction in the upper frame.
    fn sensitivity(&self, wall: &Wall, tangent: &impl Fn(usize) -> f64) -> Vector3<f64> {
        let Some((unknown, _)) = wall.unknown else { return Vector3::zeros() };
        let ahead = match self.reading.design() {
            Design::Arcon => Vector3::x(),
            Design::NonArcon => self.reading.jaw.rotation() * Vector3::x(),
        };
        wall.direction - ahead * tangent(unknown)
    }
}

/// Expected sum of the squares left over: trace of (1 − P)·Cov, with P = U·Uᵀ the projection onto what
/// the unknowns can close, taken block by block. Every record's noise is half its own and half the
/// centric's, which all share.
fn expected_square(
    seated: &[Seated<'_>],
    u: Option<&DMatrix<f64>>,
    tangent: impl Fn(usize) -> f64,
) -> Option<f64> {
    let u = u?;
    let (mut square, mut from) = (0.0, 0);
    for (index, first) in seated.iter().enumerate() {
        let mut beside = 0;
        for (other_index, second) in seated.iter().enumerate() {
            let common = if index == other_index { 1.0 } else { 0.5 };
            let block = DMatrix::from_fn(first.walls.len(), second.walls.len(), |row, column| {
                let (one, other) = (&first.walls[row], &second.walls[column]);
                let between = between(first.reading, one.sphere, second.reading, other.sphere);
                let one = first.sensitivity(one, &tangent);
                let other = second.sensitivity(other, &tangent);
                between.map_or(f64::NAN, |between| common * one.dot(&(between * other)))
            });
            let weighted = &first.factor * block * second.factor.transpose();
            if index == other_index {
                square += weighted.trace();
            }
            let (one, other) = (u.rows(from, first.walls.len()), u.rows(beside, second.walls.len()));
            square -= (one.transpose() * weighted * other).trace();
            beside += second.walls.len();
        }
        from += first.walls.len();
    }
    square.is_finite().then_some(square.max(0.0))
}

/// Covariance between the measured places of two spheres, in the upper frame.
fn between(first: &RecordReading, one: Side, second: &RecordReading, other: Side) -> Option<Matrix3<f64>> {
    let (near, far) = (first.noise.as_ref()?, second.noise.as_ref()?);
    let lever = |reading: &RecordReading, side: Side, middle: &Vector3<f64>| {
        (reading.measured_sphere(side) - middle).cross_matrix()
    };
    let (one, other) = (lever(first, one, &near.middle), lever(second, other, &far.middle));
    Some(one * near.turn * other.transpose() + Matrix3::identity() * near.shift_variance)
}

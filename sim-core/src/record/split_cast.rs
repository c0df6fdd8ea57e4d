//! The split-cast check: whether a repeat of the centric record finds the same position.
//!
//! ```
//! use sim_core::frame::UpperPoint;
//! use sim_core::record::split_cast::from_gaps;
//! use sim_core::units::Length;
//!
//! // Invented: four grooves, and a repeat that leaves 0.2 mm more on the right than on the left.
//! let grooves = [(30.0, -25.0), (30.0, 25.0), (70.0, -15.0), (70.0, 15.0)]
//!     .map(|(x, y)| UpperPoint::mm(x, y, 20.0));
//! let check = from_gaps(&[0.3, 0.05, 0.25, 0.1], &grooves, Length::from_mm(0.1))?;
//! assert!(!check.confirmed);
//! assert!((check.largest_gap.mm() - 0.3).abs() < 1e-12, "{}", check.largest_gap.mm());
//! # Ok::<(), sim_core::record::split_cast::GrooveError>(())
//! ```

use nalgebra::{DMatrix, DVector, Vector3};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, StandardNormal};

use super::reading::RecordReading;
use crate::frame::{LowerPoint, UpperPoint};
use crate::units::{Angle, Length};

/// The largest gap that a check lets pass where none is stated, in millimetres.
pub(crate) const USUAL_TOLERANCE_MM: f64 = 0.1;
/// Draws for the probability of a false alarm; its own error is then below half a percent.
const DRAWS: u32 = 20_000;

/// What a repeat centric record says of the tentative one.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitCast {
    /// Gap at every groove: how far the lower cast's point has moved.
    pub gaps: Vec<Length>,
    /// The greatest of them.
    pub largest_gap: Length,
    /// Shift of the middle of the grooves (forward, left, up) from the tentative position to the
    /// repeat, in the upper frame, millimetres.
    pub shift_mm: Vector3<f64>,
    /// Turn from the tentative position to the repeat about x, y and z of the upper frame; about y
    /// it opens the jaw.
    pub tilt: [Angle; 3],
    /// Whether every gap is within the tolerance.
    pub confirmed: bool,
    /// How likely a sound record is to be rejected by the noise of the landmarks alone; `None` where
    /// nothing says how noisy they are.
    pub false_alarm: Option<f64>,
}

/// Why gaps at grooves explain nothing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum GrooveError {
    /// Not one gap a groove.
    #[error("{gaps} gaps are given for {grooves} grooves; one for each, in the same order, is needed")]
    Unmatched {
        /// Gaps given.
        gaps: usize,
        /// Grooves given.
        grooves: usize,
    },
    /// Too few, or in line.
    #[error("the grooves do not span a plane; at least three, not in one line, are needed")]
    InLine,
    /// A gap that cannot be.
    #[error("gap {number} is {given}; allowed are 0 to {MOST_GAP_MM} mm")]
    Gap {
        /// Its place in the list, from 1.
        number: usize,
        /// What was given, in millimetres.
        given: f64,
    },
}

/// A key does not seat at all with more.
const MOST_GAP_MM: f64 = 20.0;

/// Compares a repeat centric record with the tentative one at grooves given in the upper frame.
///
/// The misfit at a groove is the full displacement of that point of the lower cast. The probability
/// of a false alarm is drawn 20,000 times from the noise of the landmarks, with a fixed seed.
#[must_use]
pub(crate) fn compare(repeat: &RecordReading, grooves: &[UpperPoint], tolerance: Length) -> SplitCast {
    let moved = |groove: &UpperPoint| {
        let before = LowerPoint::from_coords(*groove.coords());
        repeat.jaw.to_upper(&before).coords() - groove.coords()
    };
    let gaps: Vec<Length> = grooves.iter().map(|groove| Length::from_mm(moved(groove).norm())).collect();
    let middle =
        grooves.iter().map(|groove| *groove.coords()).sum::<Vector3<f64>>() / grooves.len().max(1) as f64;
    let turn = nalgebra::Rotation3::from_matrix_unchecked(*repeat.jaw.rotation()).scaled_axis();
    SplitCast {
        shift_mm: moved(&UpperPoint::from_coords(middle)),
        tilt: [turn.x, turn.y, turn.z].map(Angle::from_radians),
        false_alarm: false_alarm(repeat, grooves, tolerance),
        ..verdict(gaps, tolerance)
    }
}

/// Explains vertical gaps measured at grooves (upper frame) by a shift along the vertical and a tilt
/// about the other two axes, by least squares.
///
/// # Errors
/// [`GrooveError`] for lists that do not match, grooves in one line, or gaps that cannot be.
pub fn from_gaps(
    gaps_mm: &[f64],
    grooves: &[UpperPoint],
    tolerance: Length,
) -> Result<SplitCast, GrooveError> {
    if gaps_mm.len() != grooves.len() {
        return Err(GrooveError::Unmatched { gaps: gaps_mm.len(), grooves: grooves.len() });
    }
    if let Some(index) = gaps_mm.iter().position(|gap| !(0.0..=MOST_GAP_MM).contains(gap)) {
        return Err(GrooveError::Gap { number: index + 1, given: gaps_mm[index] });
    }
    if grooves.len() < 3 {
        return Err(GrooveError::InLine);
    }
    let middle = grooves.iter().map(|groove| *groove.coords()).sum::<Vector3<f64>>() / grooves.len() as f64;
    // The lower cast hangs below by the gap: −gap = z-part of shift + turn × r = s + ωx·ry − ωy·rx.
    let design = DMatrix::from_fn(grooves.len(), 3, |row, column| {
        let r = grooves[row].coords() - middle;
        [1.0, r.y, -r.x][column]
    });
    let svd = design.svd(true, true);
    if svd.singular_values.min() < 1e-3 * svd.singular_values.max() {
        return Err(GrooveError::InLine);
    }
    let lowered = DVector::from_iterator(gaps_mm.len(), gaps_mm.iter().map(|gap| -gap));
    let solved = svd.solve(&lowered, 0.0).map_err(|_| GrooveError::InLine)?;
    let gaps = gaps_mm.iter().map(|gap| Length::from_mm(*gap)).collect();
    Ok(SplitCast {
        shift_mm: Vector3::new(0.0, 0.0, solved[0]),
        tilt: [solved[1], solved[2], 0.0].map(Angle::from_radians),
        ..verdict(gaps, tolerance)
    })
}

/// As [`from_gaps`], with a caliper of known standard deviation: with it goes how likely its noise alone
/// is to reject a split that has closed. The gaps of a closed split read as the caliper's errors do, each
/// by itself; what is read below zero is no gap.
///
/// # Errors
/// As [`from_gaps`].
pub fn from_caliper(
    gaps_mm: &[f64],
    sd: Length,
    grooves: &[UpperPoint],
    tolerance: Length,
) -> Result<SplitCast, GrooveError> {
    let one_passes = 1.0 - libm::erfc(tolerance.mm() / sd.mm() / std::f64::consts::SQRT_2) / 2.0;
    let all_pass = one_passes.powf(gaps_mm.len() as f64);
    let check = from_gaps(gaps_mm, grooves, tolerance)?;
    Ok(SplitCast { false_alarm: all_pass.is_finite().then_some(1.0 - all_pass), ..check })
}

fn verdict(gaps: Vec<Length>, tolerance: Length) -> SplitCast {
    let largest = gaps.iter().map(|gap| gap.mm()).fold(0.0, f64::max);
    SplitCast {
        gaps,
        largest_gap: Length::from_mm(largest),
        shift_mm: Vector3::zeros(),
        tilt: [Angle::ZERO; 3],
        confirmed: largest <= tolerance.mm(),
        false_alarm: None,
    }
}

/// How often noise alone moves some groove farther than the tolerance.
fn false_alarm(repeat: &RecordReading, grooves: &[UpperPoint], tolerance: Length) -> Option<f64> {
    let noise = repeat.noise.as_ref()?;
    let turn = noise.turn.cholesky()?.l();
    let shift = noise.shift_variance.sqrt();
    let levers: Vec<Vector3<f64>> = grooves.iter().map(|groove| groove.coords() - noise.middle).collect();
    let mut random = ChaCha8Rng::seed_from_u64(0);
    let mut normal = || Vector3::from_fn(|_, _| StandardNormal.sample(&mut random));
    let mut alarms = 0;
    for _ in 0..DRAWS {
        let (turned, shifted): (Vector3<f64>, Vector3<f64>) = (turn * normal(), normal() * shift);
        let far = |lever: &Vector3<f64>| (shifted + turned.cross(lever)).norm() > tolerance.mm();
        alarms += u32::from(levers.iter().any(far));
    }
    Some(f64::from(alarms) / f64::from(DRAWS))
}

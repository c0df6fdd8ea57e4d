//! A handful of unknowns within bounds that make measures come to what is wanted.
//!
//! Two questions in this order: how near can the wants be met, in the sense of least squares; and of
//! all settings that meet them so, which is the least weighted change from home. Each is answered by
//! steps on the linearised measures, which are smooth but for creases. Five unknowns are the most a
//! plan asks for, so the linear parts are solved by trying every way of holding unknowns at bounds
//! ([`linear`]), and least changes under inequalities as least distances ([`distance`]).

mod distance;
mod linear;

use nalgebra::{DMatrix, DVector};

use super::PlanError;

/// Measures in millimetres at given unknowns in degrees.
pub(super) type Measure<'m> = dyn Fn(&[f64]) -> Result<Vec<f64>, PlanError> + 'm;

/// What a measure shall come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Want {
    /// Zero.
    Zero,
    /// Zero or more.
    AtLeastZero,
}

/// An unknown: where it stands, its bounds, and what a change of it weighs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Unknown {
    pub(super) home: f64,
    pub(super) least: f64,
    pub(super) most: f64,
    /// A change counts by its size times this.
    pub(super) weight: f64,
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Solution {
    pub(super) at: Vec<f64>,
    /// The measures there.
    pub(super) measures: Vec<f64>,
    /// Whether every want is met.
    pub(super) met: bool,
}

/// Wants are met where no measure misses by more, in millimetres: a thousandth of what rounding and
/// the last step leave would be seen.
pub(super) const MET_MM: f64 = 1e-9;
/// Step of the differences that derivatives are taken by, in degrees: it balances rounding (1e-13 mm
/// over it) against curvature.
const DIFFERENCE: f64 = 1e-3;
/// A step less than this, in degrees, ends the search.
const STILL: f64 = 1e-11;
/// Steps after which the search gives what it has: it gains a digit or more a step.
const MOST_STEPS: usize = 120;
/// Halvings of a step that makes things worse.
const MOST_HALVINGS: usize = 30;
/// The least part by which a step must lessen the misfit: above what rounding makes of none.
const LESS: f64 = 1e-12;
/// Places between the bounds of an unknown at which a nearer answer is looked for.
const LOOKS: u32 = 20;
/// Times that the search begins anew from a nearer place, at most.
const MOST_RESTARTS: usize = 8;
/// Misfit squared, in mm², below which creeping along an exact answer is no worsening.
const CREEP: f64 = 1e-13;

/// Finds the unknowns for which the measures (millimetres) come to the wants.
pub(super) fn solve(
    measure: &Measure<'_>,
    wants: &[Want],
    unknowns: &[Unknown],
) -> Result<Solution, PlanError> {
    let search = Search { measure, wants, unknowns };
    let home: Vec<f64> = unknowns.iter().map(|own| own.home.clamp(own.least, own.most)).collect();
    let nearest = search.nearest_anywhere(home)?;
    if nearest.met && wants.contains(&Want::AtLeastZero) {
        return search.least_change(&nearest);
    }
    Ok(nearest)
}

struct Search<'s> {
    measure: &'s Measure<'s>,
    wants: &'s [Want],
    unknowns: &'s [Unknown],
}

impl Search<'_> {
    /// The nearest from home; where that does not meet the wants, it may be nearest only among its
    /// neighbours, and each unknown is tried over all of its range for a place to begin anew from.
    fn nearest_anywhere(&self, home: Vec<f64>) -> Result<Solution, PlanError> {
        let mut best = self.nearest(home)?;
        for _ in 0..MOST_RESTARTS {
            if best.met {
                break;
            }
            let Some(start) = self.nearer_place(&best) else { break };
            let next = self.nearest(start)?;
            if self.misfit(&next.measures) >= self.misfit(&best.measures) {
                break;
            }
            best = next;
        }
        Ok(best)
    }

    /// The place that misses least of those that differ in one unknown from what was found, if any
    /// misses less. Places without a pose are passed over.
    fn nearer_place(&self, found: &Solution) -> Option<Vec<f64>> {
        let mut least = self.misfit(&found.measures) * (1.0 - LESS);
        let mut nearer = None;
        for (index, unknown) in self.unknowns.iter().enumerate() {
            for look in 0..=LOOKS {
                let mut place = found.at.clone();
                place[index] =
                    unknown.least + (unknown.most - unknown.least) * f64::from(look) / f64::from(LOOKS);
                let Ok(measures) = (self.measure)(&place) else { continue };
                let misfit = self.misfit(&measures);
                if misfit < least {
                    (least, nearer) = (misfit, Some(place));
                }
            }
        }
        nearer
    }

    /// By how much each want is missed; nothing for an inequality that holds.
    fn misses<'m>(&'m self, measures: &'m [f64]) -> impl Iterator<Item = f64> + 'm {
        self.wants.iter().zip(measures).map(|(want, measure)| match want {
            Want::Zero => *measure,
            Want::AtLeastZero => measure.min(0.0),
        })
    }

    fn misfit(&self, measures: &[f64]) -> f64 {
        self.misses(measures).map(|miss| miss * miss).sum()
    }

    fn found(&self, at: Vec<f64>, measures: Vec<f64>) -> Solution {
        let met = self.misses(&measures).all(|miss| miss.abs() <= MET_MM);
        Solution { at, measures, met }
    }

    /// Derivatives by central differences, one-sided where the other side has no pose.
    fn derivatives(&self, at: &[f64], here: &[f64]) -> Result<DMatrix<f64>, PlanError> {
        let mut derivatives = DMatrix::zeros(here.len(), at.len());
        for index in 0..at.len() {
            let beside = |step: f64| {
                let mut beside = at.to_vec();
                beside[index] += step;
                (self.measure)(&beside)
            };
            let column: Vec<f64> = match (beside(DIFFERENCE), beside(-DIFFERENCE)) {
                (Ok(up), Ok(down)) => {
                    up.iter().zip(&down).map(|(up, down)| (up - down) / (2.0 * DIFFERENCE)).collect()
                }
                (Ok(up), Err(_)) => up.iter().zip(here).map(|(up, here)| (up - here) / DIFFERENCE).collect(),
                (Err(_), Ok(down)) => {
                    here.iter().zip(&down).map(|(here, down)| (here - down) / DIFFERENCE).collect()
                }
                (Err(error), Err(_)) => return Err(error),
            };
            derivatives.set_column(index, &DVector::from_vec(column));
        }
        Ok(derivatives)
    }

    /// Bounds and derivatives in the scale in which a change counts, from home.
    fn scaled(&self, derivatives: &DMatrix<f64>) -> (DMatrix<f64>, DVector<f64>, DVector<f64>) {
        let mut scaled = derivatives.clone();
        for (mut column, unknown) in scaled.column_iter_mut().zip(self.unknowns) {
            column /= unknown.weight;
        }
        let bound = |read: fn(&Unknown) -> f64| {
            let scaled = self.unknowns.iter().map(|own| (read(own) - own.home) * own.weight);
            DVector::from_iterator(self.unknowns.len(), scaled)
        };
        (scaled, bound(|own| own.least), bound(|own| own.most))
    }

    fn in_scale(&self, at: &[f64]) -> DVector<f64> {
        let scaled = at.iter().zip(self.unknowns).map(|(at, own)| (at - own.home) * own.weight);
        DVector::from_iterator(at.len(), scaled)
    }

    fn unscaled(&self, y: &DVector<f64>) -> Vec<f64> {
        let plain = y
            .iter()
            .zip(self.unknowns)
            .map(|(y, own)| (own.home + y / own.weight).clamp(own.least, own.most));
        plain.collect()
    }

    /// The least misfit, and of equal ones the least change.
    fn nearest(&self, home: Vec<f64>) -> Result<Solution, PlanError> {
        let mut at = home;
        let mut measures = (self.measure)(&at)?;
        for _ in 0..MOST_STEPS {
            let aim = self.aim(&at, &measures)?;
            let Some((next, there)) = self.step_toward(&at, &measures, &aim) else { break };
            let moved = next.iter().zip(&at).map(|(next, at)| (next - at).abs()).fold(0.0, f64::max);
            (at, measures) = (next, there);
            if moved < STILL {
                break;
            }
        }
        Ok(self.found(at, measures))
    }

    /// Where the linearised measures are best met. An inequality that holds there is left out; one
    /// that would be missed is taken in.
    fn aim(&self, at: &[f64], measures: &[f64]) -> Result<Vec<f64>, PlanError> {
        let (slopes, least, most) = self.scaled(&self.derivatives(at, measures)?);
        let here = self.in_scale(at);
        let constant = &slopes * &here - DVector::from_column_slice(measures);
        let mut taken: Vec<usize> = (0..measures.len())
            .filter(|index| self.wants[*index] == Want::Zero || measures[*index] < 0.0)
            .collect();
        let mut aim = here;
        for _ in 0..measures.len() {
            if taken.is_empty() {
                break;
            }
            let (rows, values) = (slopes.select_rows(&taken), constant.select_rows(&taken));
            aim = linear::within_bounds(&rows, &values, &least, &most);
            let there = &slopes * &aim - &constant;
            let missed: Vec<usize> = (0..measures.len())
                .filter(|index| {
                    self.wants[*index] == Want::Zero || there[*index] < 0.0 || measures[*index] < 0.0
                })
                .collect();
            if missed.len() == taken.len() {
                break;
            }
            taken = missed;
        }
        Ok(self.unscaled(&aim))
    }

    /// The longest of the halved steps toward the aim that does not make things worse.
    fn step_toward(&self, at: &[f64], measures: &[f64], aim: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
        let before = self.misfit(measures);
        let mut part = 1.0;
        for _ in 0..MOST_HALVINGS {
            let next: Vec<f64> = at.iter().zip(aim).map(|(at, aim)| at + part * (aim - at)).collect();
            if let Ok(there) = (self.measure)(&next) {
                let after = self.misfit(&there);
                if after <= before * (1.0 - LESS) || after <= CREEP {
                    return Some((next, there));
                }
            }
            part /= 2.0;
        }
        None
    }

    /// From settings that meet every want, those of least change that still do: of all that the steps
    /// come by, should they not settle.
    fn least_change(&self, from: &Solution) -> Result<Solution, PlanError> {
        let Solution { mut at, mut measures, .. } = from.clone();
        let mut best = from.clone();
        for _ in 0..MOST_STEPS {
            let Some(next) = self.least_change_nearby(&at, &measures)? else { break };
            let Ok(there) = (self.measure)(&next) else { break };
            let moved = next.iter().zip(&at).map(|(next, at)| (next - at).abs()).fold(0.0, f64::max);
            (at, measures) = (next, there);
            let found = self.found(at.clone(), measures.clone());
            if found.met && self.change(&found) < self.change(&best) {
                best = found;
            }
            if moved < SETTLED {
                break;
            }
        }
        Ok(best)
    }

    /// The least change that meets the wants as they are linearised at a place; none where they then
    /// contradict each other.
    fn least_change_nearby(&self, at: &[f64], measures: &[f64]) -> Result<Option<Vec<f64>>, PlanError> {
        let (slopes, least, most) = self.scaled(&self.derivatives(at, measures)?);
        let constant = &slopes * self.in_scale(at) - DVector::from_column_slice(measures);
        let count = at.len();
        let mut rows: Vec<(DVector<f64>, f64)> = Vec::new();
        for (index, want) in self.wants.iter().enumerate() {
            let row = slopes.row(index).transpose();
            if *want == Want::Zero {
                rows.push((-&row, -constant[index]));
            }
            rows.push((row, constant[index]));
        }
        for index in 0..count {
            let unit = DVector::from_fn(count, |row, _| if row == index { 1.0 } else { 0.0 });
            rows.push((-&unit, -most[index]));
            rows.push((unit, least[index]));
        }
        let g = DMatrix::from_fn(rows.len(), count, |row, column| rows[row].0[column]);
        let h = DVector::from_iterator(rows.len(), rows.iter().map(|(_, value)| *value));
        Ok(distance::least_distance(&g, &h).map(|y| self.unscaled(&y)))
    }

    /// How far settings are from home, in the scale in which a change counts.
    fn change(&self, found: &Solution) -> f64 {
        self.in_scale(&found.at).norm()
    }
}

/// A least change is settled when it moves by less, in degrees. Measures are known to 1e-13 mm, so their
/// slopes to 1e-10 mm a degree ([`DIFFERENCE`]), and a change of tens of degrees to some 1e-9.
const SETTLED: f64 = 1e-8;

#[cfg(test)]
mod tests {
    use super::*;

    const FREE: Unknown = Unknown { home: 0.0, least: -10.0, most: 10.0, weight: 1.0 };

    #[test]
    fn of_all_answers_of_a_curved_measure_the_least_change_is_found() {
        // x² + y = 2 nearest the origin: y = 1/2, x² = 3/2 (Lagrange).
        let measure = |at: &[f64]| Ok(vec![at[0] * at[0] + at[1] - 2.0]);
        let start = Unknown { home: 0.1, ..FREE };
        for want in [Want::Zero, Want::AtLeastZero] {
            let found = solve(&measure, &[want], &[start, FREE]).expect("found");
            assert!(found.met, "{found:?}");
            let (x, y) = (found.at[0], found.at[1]);
            assert!((x * x + y - 2.0).abs() < 1e-9, "{found:?}");
            // At the least change, home lies along the normal (2x, 1).
            assert!(((x - 0.1) - y * 2.0 * x).abs() < 1e-5, "{found:?}");
        }
    }

    #[test]
    fn an_inequality_that_holds_at_home_changes_nothing() {
        let measure = |at: &[f64]| Ok(vec![at[0] + 1.0, 3.0 - at[1]]);
        let found = solve(&measure, &[Want::AtLeastZero; 2], &[FREE, FREE]).expect("found");
        assert_eq!((found.at, found.met), (vec![0.0, 0.0], true));
    }

    #[test]
    fn wants_out_of_reach_are_come_near_to_and_said_to_be_missed() {
        let measure = |at: &[f64]| Ok(vec![at[0] - 30.0, at[0] + at[1] - 5.0]);
        for want in [Want::Zero, Want::AtLeastZero] {
            let found = solve(&measure, &[want; 2], &[FREE, FREE]).expect("found");
            assert!(!found.met);
            assert!((found.at[0] - 10.0).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn a_heavier_unknown_moves_less() {
        let measure = |at: &[f64]| Ok(vec![at[0] + at[1] - 5.0]);
        let heavy = Unknown { weight: 2.0, ..FREE };
        let found = solve(&measure, &[Want::Zero], &[FREE, heavy]).expect("found");
        // Least x² + 4y² on x + y = 5.
        assert!((found.at[0] - 4.0).abs() < 1e-9 && (found.at[1] - 1.0).abs() < 1e-9, "{found:?}");
    }
}

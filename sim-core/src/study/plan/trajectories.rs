//! Trajectories for elementary effects: from a random place one factor after the other takes a step.
//!
//! Morris (Technometrics 1991;33:161–174, from memory), in parts of the factors' distributions: with p
//! levels at (i + ½)/p and a step of half of a distribution every level is as likely as any other, and no
//! factor is taken at the very end of its distribution, which may be infinite.

use super::random::Random;

/// Most factors of such a plan.
pub(super) const MOST_FACTORS: usize = 64;
/// Half of a distribution.
const STEP: f64 = 0.5;

/// A factor's step on the way to a row from the row before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorStep {
    /// The factor's place, from 0.
    pub factor: usize,
    /// By which part of its distribution it changes, with sign.
    pub change: f64,
}

#[derive(Clone, Debug)]
pub(super) struct Trajectories {
    random: Random,
    levels: u32,
    factors: usize,
}

/// A factor on a trajectory.
#[derive(Clone, Copy, Default)]
struct Course {
    /// Orders the factors' steps.
    key: u64,
    /// The lower of its two parts.
    low: f64,
    falls: bool,
}

impl Trajectories {
    pub(super) const fn new(random: Random, levels: u32, factors: usize) -> Self {
        Self { random, levels, factors }
    }

    fn courses(&self, trajectory: u64) -> [Course; MOST_FACTORS] {
        let mut courses = [Course::default(); MOST_FACTORS];
        let mut draws = self.random.row(trajectory);
        let levels = f64::from(self.levels);
        for course in courses.iter_mut().take(self.factors) {
            let level = (draws.part() * levels / 2.0).floor();
            *course =
                Course { low: (level + 0.5) / levels, falls: draws.bits() >> 63 == 1, key: draws.bits() };
        }
        courses
    }

    /// The parts at a place of a trajectory, 0 where it starts.
    pub(super) fn parts(&self, trajectory: u64, place: usize, parts: &mut [f64]) {
        let courses = self.courses(trajectory);
        let courses = courses.get(..self.factors).unwrap_or_default();
        for (at, (part, own)) in parts.iter_mut().zip(courses).enumerate() {
            let has_stepped = rank(courses, at) < place;
            *part = if has_stepped == own.falls { own.low } else { own.low + STEP };
        }
    }

    /// The step that leads to a place of a trajectory; none to its start.
    pub(super) fn step(&self, trajectory: u64, place: usize) -> Option<FactorStep> {
        let before = place.checked_sub(1)?;
        let courses = self.courses(trajectory);
        let courses = courses.get(..self.factors)?;
        let factor = (0..courses.len()).find(|at| rank(courses, *at) == before)?;
        let change = if courses.get(factor)?.falls { -STEP } else { STEP };
        Some(FactorStep { factor, change })
    }
}

/// How many factors step before the one at this place.
fn rank(courses: &[Course], at: usize) -> usize {
    let key = |at: usize| courses.get(at).map(|own| (own.key, at));
    (0..courses.len()).filter(|other| key(*other) < key(at)).count()
}

//! Undo and redo: what was there before each change, as far back as the window was opened.
//!
//! A change is whatever makes the set-up another: its scene, the goal of its plan, the cusps marked, the file
//! it belongs to. Looking at it from elsewhere is no change.

use std::path::PathBuf;
use std::sync::Arc;

use sim_core::scene::Scene;

use crate::bench::OnBench;
use crate::casts::Scans;
use crate::kept::SetUp;
use crate::planning::{Applied, Draft};

/// All that undo brings back.
#[derive(Clone, Debug)]
pub struct Moment {
    /// The file.
    pub file: Option<PathBuf>,
    /// Its casts.
    pub scans: Option<Arc<Scans>>,
    /// The scene as it was read.
    pub as_read: Scene,
    /// The scene as edited.
    pub scene: Scene,
    /// The goal of the plan.
    pub draft: Draft,
    /// The plans applied.
    pub applied: Vec<Applied>,
    /// The cusps marked.
    pub marks: Vec<Option<usize>>,
    /// The case on the bench.
    pub bench: Option<Arc<OnBench>>,
    /// The second set-up.
    pub kept: Option<Arc<SetUp>>,
}

impl Moment {
    /// Whether another moment is of the same file, with the same casts.
    #[must_use]
    pub fn is_of_same_file(&self, other: &Self) -> bool {
        let same_scans = match (&self.scans, &other.scans) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (None, None) => true,
            _ => false,
        };
        same_scans && self.file == other.file && self.as_read == other.as_read
    }

    fn has_same_bench(&self, other: &Self) -> bool {
        match (&self.bench, &other.bench) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (None, None) => true,
            _ => false,
        }
    }

    fn has_same_kept(&self, other: &Self) -> bool {
        match (&self.kept, &other.kept) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (None, None) => true,
            _ => false,
        }
    }

    /// Whether nothing has changed from one to the other.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        self.scene == other.scene
            && self.draft == other.draft
            && self.marks == other.marks
            && self.has_same_bench(other)
            && self.has_same_kept(other)
            && self.is_of_same_file(other)
    }
}

/// The moments before and after.
#[derive(Clone, Debug, Default)]
pub struct History {
    before: Vec<Moment>,
    after: Vec<Moment>,
    /// What is being done in one go, and is undone in one go: a slider dragged, say.
    gesture: Option<String>,
}

impl History {
    /// Remembers a moment that has just been left by a change. Changes of one gesture are one.
    pub fn remember(&mut self, left: Moment, gesture: Option<String>) {
        let goes_on = gesture.is_some() && gesture == self.gesture && !self.before.is_empty();
        if !goes_on {
            self.before.push(left);
        }
        self.gesture = gesture;
        self.after.clear();
    }

    /// The hand has let go: what comes next is a change of its own.
    pub fn let_go(&mut self) {
        self.gesture = None;
    }

    /// The moment before the last change, which leaves `now` to be redone.
    pub fn undo(&mut self, now: Moment) -> Option<Moment> {
        let moment = self.before.pop()?;
        self.after.push(now);
        self.gesture = None;
        Some(moment)
    }

    /// The moment after the change that was undone last, which leaves `now` to be undone.
    pub fn redo(&mut self, now: Moment) -> Option<Moment> {
        let moment = self.after.pop()?;
        self.before.push(now);
        self.gesture = None;
        Some(moment)
    }

    /// Leaves the bench as it is now, whatever is undone: of `now`, what was done at the bench before cannot be taken
    /// back.
    pub fn seal_bench(&mut self, now: &Moment) {
        for moment in self.before.iter_mut().chain(&mut self.after) {
            moment.bench.clone_from(&now.bench);
        }
        self.before.dedup_by(|one, other| one.is_same(other));
        while self.before.last().is_some_and(|last| last.is_same(now)) {
            self.before.pop();
        }
    }

    /// The set-up has been saved: what is of the same file is of the saved one from now on.
    pub fn saved(&mut self, was: &Moment, now: &Moment) {
        for moment in self.before.iter_mut().chain(&mut self.after) {
            if moment.is_of_same_file(was) {
                moment.file.clone_from(&now.file);
                moment.as_read.clone_from(&now.as_read);
            }
        }
    }

    /// How many changes can be undone, and redone.
    #[must_use]
    pub fn depth(&self) -> (usize, usize) {
        (self.before.len(), self.after.len())
    }
}

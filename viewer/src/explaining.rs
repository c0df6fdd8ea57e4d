//! Which number is taken apart, and its account; the glossary, while it is open.

use std::sync::Arc;

use sim_core::account::{Account, Number, SolvedPose};
use words::glossary::{Term, matching};

use crate::solved::{SceneWithCasts, SolvedExcursion};

/// The number that the page "Why" is about.
#[derive(Clone, Debug)]
pub struct Explaining {
    /// Which number.
    pub number: Number,
    /// Its account where it was taken apart last; nothing while the page is not shown.
    pub found: Option<Found>,
}

/// An account, and of what.
#[derive(Clone, Debug)]
pub struct Found {
    /// Number, revision of what is shown, and sample: what the account is of.
    of: (Number, u64, usize),
    /// The account, or why there is none.
    pub account: Result<Arc<Account>, String>,
}

impl Default for Explaining {
    fn default() -> Self {
        Self { number: Number::Clearance(0), found: None }
    }
}

impl Explaining {
    /// Takes the number apart at a sample of what is shown, unless that has been done.
    pub fn look(&mut self, scene: SceneWithCasts<'_>, solved: &SolvedExcursion, revision: u64, at: usize) {
        let of = (self.number, revision, at);
        if self.found.as_ref().is_some_and(|found| found.of == of) {
            return;
        }
        let mechanism = scene.mechanism();
        let pose = SolvedPose {
            scene: scene.scene,
            mechanism: &mechanism,
            excursion: solved.excursion,
            placement: &solved.sample(at).placement,
        };
        let account = pose.account(self.number).map(Arc::new).map_err(|error| error.to_string());
        self.found = Some(Found { of, account });
    }

    /// The account, if there is one.
    #[must_use]
    pub fn account(&self) -> Option<&Account> {
        self.found.as_ref()?.account.as_deref().ok()
    }
}

/// The glossary, while it is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Glossary {
    /// What is looked for; all of it where nothing is.
    pub wanted: String,
}

impl Glossary {
    /// The terms to be shown.
    #[must_use]
    pub fn terms(&self) -> Vec<&'static Term> {
        matching(&self.wanted)
    }
}

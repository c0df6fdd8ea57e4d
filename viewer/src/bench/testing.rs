//! What the tests of the bench share.

use report::case::WorkedCase;
use sim_core::practice::{Fault, Form, Level, deal_as};
use sim_core::record::Case;

use super::OnBench;

pub(super) const DENTATE: &str = include_str!("../../../scenes/cases/dentate.ron");
pub(super) const BENCH: &str = include_str!("../../../scenes/cases/bench.ron");
pub(super) const FAULTY: &str = include_str!("../../../scenes/cases/faulty_centric.ron");
pub(super) const EDENTULOUS: &str = include_str!("../../../scenes/cases/edentulous.ron");

pub(super) fn laid_out(text: &str) -> OnBench {
    let worked =
        WorkedCase::of(Case::from_ron(text).unwrap(), "case.ron".to_owned(), text.to_owned()).unwrap();
    OnBench::of_case(worked, None)
}

pub(super) fn dealt(form: Form, seed: u64, faults: &[Fault]) -> OnBench {
    OnBench::of_deal(deal_as(form, seed, Level::First, faults).unwrap()).unwrap()
}

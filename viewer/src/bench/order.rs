//! The order of the work: what is done, what was skipped, what is still to come.

use sim_core::bench::{Centric, ON_ITS_STOP_MM, Step};
use sim_core::frame::Side;
use sim_core::record::program::Source;
use words::number::length;
use words::verdict::bench as say;

use super::dial::Dial;
use super::on_bench::{LateralFrom, OnBench};

/// A step of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Item {
    /// The guides are zeroed.
    Zeroed,
    /// The split closes with nothing between.
    Split,
    /// The centric record is judged, with the spheres on their stops.
    Centric,
    /// The split is closed on a record, and the scales are read.
    Record(usize),
    /// A lateral angle is set.
    Lateral(Side),
    /// The anterior guide is set.
    Anterior,
}

/// How a step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Done.
    Done,
    /// Done, and to be doubted.
    Doubtful,
    /// Not done, though a later step is.
    Skipped,
    /// Still to come.
    NotYet,
}

impl Standing {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Doubtful => "done, doubtful",
            Self::Skipped => "skipped",
            Self::NotYet => "not yet",
        }
    }
}

/// A line of the checklist.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// The step.
    pub item: Item,
    /// What it is called.
    pub title: String,
    /// Why it is taken.
    pub why: &'static str,
    /// How it stands.
    pub standing: Standing,
    /// What is to be said of how it was done, a sentence each.
    pub said: Vec<String>,
}

impl OnBench {
    /// The work in its order.
    #[must_use]
    pub fn order(&self) -> Vec<OrderLine> {
        let mut items = vec![Item::Zeroed, Item::Split, Item::Centric];
        items.extend(self.bench.order().into_iter().map(Item::Record));
        items.extend(Side::BOTH.map(Item::Lateral));
        items.push(Item::Anterior);
        let last_done = items.iter().rposition(|item| self.is_done(*item));
        let line = |(place, item): (usize, Item)| {
            let said = self.said(item);
            let standing = match (self.is_done(item), said.iter().any(|one| one.is_doubt)) {
                (true, false) => Standing::Done,
                (true, true) => Standing::Doubtful,
                (false, _) if last_done.is_some_and(|last| place < last) => Standing::Skipped,
                (false, _) => Standing::NotYet,
            };
            let step = self.step(item);
            OrderLine {
                item,
                title: step.as_ref().map_or_else(String::new, say::title),
                why: step.as_ref().map_or("", say::why),
                standing,
                said: said.into_iter().map(|one| one.words).collect(),
            }
        };
        items.into_iter().enumerate().map(line).collect()
    }

    fn is_done(&self, item: Item) -> bool {
        match item {
            Item::Zeroed => self.done.zeroed,
            Item::Split => self.done.split,
            Item::Centric => self.done.centric.is_some(),
            Item::Record(record) => self.done.read.contains_key(&record),
            Item::Lateral(side) => self.done.lateral[side].is_some(),
            Item::Anterior => self.done.anterior,
        }
    }

    /// The step as the sums of the bench know it.
    fn step(&self, item: Item) -> Option<Step> {
        Some(match item {
            Item::Zeroed => Step::Zeroed,
            Item::Split => Step::Split { grooves: self.bench.grooves().len() },
            Item::Centric => Step::Centric(self.bench.centric()),
            Item::Record(record) => Step::Record(self.bench.on_record(record, &self.trial)?),
            Item::Lateral(side) => Step::Lateral {
                side,
                angle: self.worked.programmed.side(side).map(|own| own.lateral_angle.clone()),
            },
            Item::Anterior => {
                let case = &self.worked.case;
                Step::Anterior { given: case.anterior_guide.is_some() || case.incisal_guidance.is_some() }
            }
        })
    }

    fn said(&self, item: Item) -> Vec<Said> {
        match item {
            Item::Zeroed | Item::Split => Vec::new(),
            Item::Centric => self.said_of_centric(),
            Item::Record(record) => self.said_of_reading(record),
            Item::Lateral(side) => match self.done.lateral[side] {
                Some(LateralFrom::Rule) if self.has_lateral_record(side) => vec![Said::doubt(
                    "It was set by the rule, though a record shows it.".to_owned(),
                )],
                Some(LateralFrom::Rule) => {
                    vec![Said::doubt("It was set by the rule, which knows nothing of this patient.".to_owned())]
                }
                Some(LateralFrom::Record) => vec![Said::fact("It was set by a record.".to_owned())],
                None => Vec::new(),
            },
            Item::Anterior => match self.step(Item::Anterior) {
                Some(Step::Anterior { given: false }) if self.done.anterior => vec![Said::doubt(
                    "The case does not say what sets it: the table stays level, and no disclusion is to be read.".to_owned(),
                )],
                _ => Vec::new(),
            },
        }
    }

    /// Whether a record of the case shows a lateral angle. A dealt patient always has one of each.
    fn has_lateral_record(&self, side: Side) -> bool {
        let programmed = self.worked.programmed.side(side);
        programmed.is_some_and(|own| own.lateral_angle.from != Source::Rule)
            || !self.read_before(Dial::Lateral(side)).is_empty()
    }

    fn said_of_centric(&self) -> Vec<Said> {
        let Some(found) = self.done.centric else { return Vec::new() };
        let word = if found {
            "It was found confirmed."
        } else {
            "It was found not confirmed: take it again before anything is set."
        };
        let mut said = vec![if found { Said::fact(word.to_owned()) } else { Said::doubt(word.to_owned()) }];
        // A student is to see it in the gaps.
        if self.is_asked() {
            return said.into_iter().map(|one| Said { is_doubt: false, ..one }).collect();
        }
        let Some(Centric { confirmed, greatest, tolerance, off_stop }) = self.bench.centric() else {
            return vec![Said::doubt(
                "The case has no repeat of the centric record: nothing confirms it.".to_owned(),
            )];
        };
        if found != confirmed {
            let way = if confirmed { "within" } else { "beyond" };
            said.push(Said::doubt(format!(
                "The greatest gap is {}, which is {way} the tolerance of {}.",
                length(greatest, 2),
                length(tolerance, 2),
            )));
        }
        if let Some(off) = off_stop {
            for side in Side::BOTH.into_iter().filter(|side| off[*side].mm() > ON_ITS_STOP_MM) {
                let off = length(off[side], 2);
                said.push(Said::doubt(format!("The {side} sphere stands {off} off its stop.")));
            }
        }
        said
    }

    fn said_of_reading(&self, record: usize) -> Vec<Said> {
        let Some(greatest) = self.done.read.get(&record) else { return Vec::new() };
        let Some(greatest) = greatest else {
            return vec![Said::fact("The scales had been read at another bench.".to_owned())];
        };
        let gap = length(*greatest, 2);
        if *greatest > self.bench.tolerance() {
            vec![Said::doubt(format!("The scales were read with a gap of {gap}: the split was not closed."))]
        } else {
            vec![Said::fact(format!("The scales were read with the split closed to {gap}."))]
        }
    }
}

/// A sentence, and whether it is a doubt.
struct Said {
    words: String,
    is_doubt: bool,
}

impl Said {
    const fn fact(words: String) -> Self {
        Self { words, is_doubt: false }
    }

    const fn doubt(words: String) -> Self {
        Self { words, is_doubt: true }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::record::RecordKind;

    use super::*;
    use crate::bench::BenchAct;
    use crate::bench::testing::{BENCH, DENTATE, FAULTY, laid_out};

    fn standing(on: &OnBench, item: Item) -> Standing {
        on.order().into_iter().find(|line| line.item == item).unwrap().standing
    }

    fn said(on: &OnBench, item: Item) -> String {
        on.order().into_iter().find(|line| line.item == item).unwrap().said.join(" ")
    }

    #[test]
    fn the_work_stands_in_its_order_with_a_reason_for_every_step() {
        for text in [DENTATE, BENCH, FAULTY] {
            let on = laid_out(text);
            let order = on.order();
            assert_eq!(order[0].item, Item::Zeroed);
            assert_eq!(order.last().unwrap().item, Item::Anterior);
            for line in &order {
                assert!(!line.title.is_empty() && line.why.ends_with('.'), "{line:?}");
                assert_eq!(line.standing, Standing::NotYet);
            }
            // Protrusive records come before lateral ones.
            let kinds: Vec<RecordKind> = order
                .iter()
                .filter_map(|line| match line.item {
                    Item::Record(record) => on.kind(record),
                    _ => None,
                })
                .collect();
            assert!(kinds.is_sorted(), "{kinds:?}");
        }
    }

    #[test]
    fn what_is_passed_over_is_skipped_and_comes_back_when_it_is_done() {
        let mut on = laid_out(BENCH);
        on.act(BenchAct::Lay(Some(0))).unwrap();
        on.act(BenchAct::JudgeCentric(true)).unwrap();
        assert_eq!(standing(&on, Item::Zeroed), Standing::Skipped);
        assert_eq!(standing(&on, Item::Split), Standing::Skipped);
        assert_eq!(standing(&on, Item::Centric), Standing::Done);
        assert_eq!(standing(&on, Item::Anterior), Standing::NotYet);
        on.act(BenchAct::Zero).unwrap();
        on.act(BenchAct::Lay(None)).unwrap();
        assert_eq!(standing(&on, Item::Zeroed), Standing::Done);
        assert_eq!(standing(&on, Item::Split), Standing::Done);
    }

    #[test]
    fn a_reading_at_an_open_split_is_doubted_with_its_gap() {
        let mut on = laid_out(DENTATE);
        let record = on.bench.order()[0];
        on.act(BenchAct::Lay(Some(record))).unwrap();
        for dial in Dial::ALL {
            on.act(BenchAct::Lock(dial, true)).unwrap();
        }
        on.act(BenchAct::ReadScales).unwrap();
        assert_eq!(standing(&on, Item::Record(record)), Standing::Doubtful);
        let (_, gap) = on.split.widest().unwrap();
        assert!(
            said(&on, Item::Record(record)).contains(&length(gap, 2)),
            "{}",
            said(&on, Item::Record(record))
        );
        for dial in Dial::ALL {
            on.act(BenchAct::Lock(dial, false)).unwrap();
        }
        on.act(BenchAct::TurnToClose).unwrap();
        for dial in Dial::ALL {
            on.act(BenchAct::Lock(dial, true)).unwrap();
        }
        on.act(BenchAct::ReadScales).unwrap();
        assert_eq!(standing(&on, Item::Record(record)), Standing::Done);
    }

    #[test]
    fn a_centric_record_judged_against_its_gaps_is_doubted_with_them() {
        let mut on = laid_out(FAULTY);
        on.act(BenchAct::Lay(Some(0))).unwrap();
        on.act(BenchAct::JudgeCentric(true)).unwrap();
        assert_eq!(standing(&on, Item::Centric), Standing::Doubtful);
        assert!(
            said(&on, Item::Centric).contains("beyond the tolerance of 0.10 mm"),
            "{}",
            said(&on, Item::Centric)
        );
        on.act(BenchAct::JudgeCentric(false)).unwrap();
        assert!(said(&on, Item::Centric).starts_with("It was found not confirmed"));
    }

    #[test]
    fn a_rule_is_doubted_and_more_so_where_a_record_shows_the_angle() {
        let mut on = laid_out(DENTATE);
        on.act(BenchAct::LateralByRule(Side::Right)).unwrap();
        assert_eq!(standing(&on, Item::Lateral(Side::Right)), Standing::Doubtful);
        assert!(said(&on, Item::Lateral(Side::Right)).contains("though a record shows it"));
        on.act(BenchAct::LateralByRecord(Side::Right)).unwrap();
        assert_eq!(standing(&on, Item::Lateral(Side::Right)), Standing::Done);
    }
}

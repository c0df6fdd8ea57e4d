//! Once through the whole table, in flat memory.

use std::collections::BTreeMap;

use sim_core::study::statistics::{Moments, Regression, ShareTally};
use sim_core::study::{ColumnKind, ColumnRole};

use super::measured::{Flags, Words};
use super::reasons::{Reason, Reasons, count};
use super::sensitivity::takes_regression;
use crate::study::error::SummaryError;
use crate::study::study_table::{RowNumbers, StudyTable};
use crate::study::table::Cells;

/// Most words of a column that are told apart.
const MOST_WORDS: usize = 64;
/// What all further ones are called.
const OTHER_WORDS: &str = "other words";

/// What was seen.
pub(super) struct Surveyed {
    /// Of every number column, by its place; empty ones of all others.
    pub(super) moments: Vec<Moments>,
    /// The same of the rows that are whole.
    pub(super) whole_moments: Vec<Moments>,
    /// Rows with a note, by what it says.
    pub(super) noted: Vec<Reason>,
    pub(super) reasons: Vec<Reason>,
    pub(super) flags: Vec<Flags>,
    pub(super) words: Vec<Words>,
    taken: Vec<(usize, Taken)>,
}

/// What was seen of one measured column of numbers.
pub(super) struct Taken {
    pub(super) moments: Moments,
    pub(super) missing: Vec<Reason>,
    /// On the factors, where the plan allows one: of each part that is independent of the others.
    pub(super) regression: Option<Vec<Regression>>,
}

impl Surveyed {
    /// What was seen of a measured column of numbers; once.
    pub(super) fn take(&mut self, place: usize) -> Taken {
        match self.taken.iter().position(|(column, _)| *column == place) {
            Some(at) => self.taken.swap_remove(at).1,
            None => Taken { moments: Moments::default(), missing: Vec::new(), regression: None },
        }
    }
}

/// A measured column being counted.
struct Counting {
    place: usize,
    missing: Vec<u64>,
    seen: Seen,
}

enum Seen {
    Numbers(Moments, Option<Vec<Regression>>),
    Flags(u64, u64, ShareTally),
    Words(BTreeMap<String, u64>),
}

/// Goes through factors, derived settings, these measures and the reason.
pub(super) fn survey(opened: &StudyTable, measures: &[usize]) -> Result<Surveyed, SummaryError> {
    let columns = opened.table.columns();
    let settings: Vec<usize> = (0..columns.len())
        .filter(|place| matches!(columns[*place].role, ColumnRole::Factor | ColumnRole::Derived))
        .collect();
    let factors = columns.iter().filter(|column| column.role == ColumnRole::Factor).count();
    let reason = columns.len() - 1;
    let note = columns.iter().position(|column| column.role == ColumnRole::Note);
    let wanted: Vec<usize> = settings.iter().chain(measures).copied().chain([reason]).chain(note).collect();
    let regression = takes_regression(&opened.study.prepared.study().plan);
    let units = opened.study.prepared.design().units();
    let mut counting: Vec<Counting> = measures
        .iter()
        .map(|place| {
            let seen = match columns[*place].kind {
                ColumnKind::Number => {
                    let parts = || vec![Regression::new(factors); units.parts()];
                    Seen::Numbers(Moments::default(), regression.then(parts))
                }
                ColumnKind::Flag => Seen::Flags(0, 0, ShareTally::new(units, opened.table.first_row())),
                ColumnKind::Text => Seen::Words(BTreeMap::new()),
            };
            Counting { place: *place, missing: Vec::new(), seen }
        })
        .collect();
    let mut moments = vec![Moments::default(); columns.len()];
    let mut whole_moments = moments.clone();
    let mut noted: BTreeMap<String, u64> = BTreeMap::new();
    let (mut reasons, mut reason_counts) = (Reasons::default(), Vec::new());
    let mut ends = Ends::default();
    opened.table.scan(&wanted, |row, block| {
        let (of_settings, rest) = block.split_at(settings.len());
        let (of_measures, of_reason) = rest.split_at(measures.len());
        let places: Vec<usize> = match of_reason.first() {
            Some(Cells::Words(words)) => words.iter().map(|word| reasons.place(word.as_deref())).collect(),
            _ => Vec::new(),
        };
        places.iter().for_each(|place| count(&mut reason_counts, *place));
        for (place, cells) in settings.iter().zip(of_settings) {
            for (at, number) in numbers(cells).iter().enumerate() {
                moments[*place].push(*number);
                if places.get(at) == Some(&0) {
                    whole_moments[*place].push(*number);
                }
            }
        }
        if let Some(Cells::Words(words)) = of_reason.get(1) {
            words.iter().flatten().for_each(|word| count_word(&mut noted, word));
        }
        for (counting, cells) in counting.iter_mut().zip(of_measures) {
            counting.take(cells, &places, &of_settings[..factors], |at| units.part_of(row + at as u64));
        }
        ends.take(row, &wanted, block);
    })?;
    opened.check_rows(&ends.first, &ends.last)?;
    if let Some(whole) = reason_counts.first_mut() {
        *whole = 0;
    }
    let mut surveyed = Surveyed {
        moments,
        whole_moments,
        noted: noted.into_iter().map(|(words, rows)| Reason { words, rows }).collect(),
        reasons: reasons.worded(&reason_counts),
        flags: Vec::new(),
        words: Vec::new(),
        taken: Vec::new(),
    };
    for Counting { place, missing, seen } in counting {
        let (column, missing) = (columns[place].clone(), reasons.worded(&missing));
        match seen {
            Seen::Numbers(moments, regression) => {
                surveyed.taken.push((place, Taken { moments, missing, regression }));
            }
            Seen::Flags(yes, no, tally) => {
                surveyed.flags.push(Flags { column, yes, no, share: tally.estimate(), missing });
            }
            Seen::Words(words) => {
                let mut counts: Vec<(String, u64)> = words.into_iter().collect();
                counts.sort_by_key(|(_, rows)| std::cmp::Reverse(*rows));
                surveyed.words.push(Words { column, counts, missing });
            }
        }
    }
    Ok(surveyed)
}

/// Counts one row with this word; a foreign table may have a word a row.
fn count_word(counts: &mut BTreeMap<String, u64>, word: &str) {
    if let Some(rows) = counts.get_mut(word) {
        *rows += 1;
    } else {
        let others = counts.len() + 1 >= MOST_WORDS;
        let word = if others { OTHER_WORDS } else { word };
        *counts.entry(word.to_owned()).or_default() += 1;
    }
}

fn numbers(cells: &Cells) -> &[f64] {
    match cells {
        Cells::Numbers(numbers) => numbers,
        Cells::Words(_) | Cells::Flags(_) => &[],
    }
}

impl Counting {
    fn take(
        &mut self,
        cells: &Cells,
        reasons: &[usize],
        factors: &[Cells],
        part_of: impl Fn(usize) -> usize,
    ) {
        let mut row = vec![0.0; factors.len()];
        let missing = &mut self.missing;
        let mut none = |at: usize| count(missing, reasons.get(at).copied().unwrap_or_default());
        match (&mut self.seen, cells) {
            (Seen::Numbers(moments, regression), Cells::Numbers(numbers)) => {
                for (at, number) in numbers.iter().enumerate() {
                    moments.push(*number);
                    if number.is_nan() {
                        none(at);
                    }
                    if let Some(regression) = regression.as_mut().and_then(|parts| parts.get_mut(part_of(at)))
                    {
                        for (value, factor) in row.iter_mut().zip(factors) {
                            *value = self::numbers(factor).get(at).copied().unwrap_or(f64::NAN);
                        }
                        regression.push(&row, *number);
                    }
                }
            }
            (Seen::Flags(yes, no, tally), Cells::Flags(flags)) => {
                for (at, flag) in flags.iter().enumerate() {
                    tally.push(*flag);
                    match flag {
                        Some(true) => *yes += 1,
                        Some(false) => *no += 1,
                        None => none(at),
                    }
                }
            }
            (Seen::Words(counts), Cells::Words(words)) => {
                for (at, word) in words.iter().enumerate() {
                    let Some(word) = word else {
                        none(at);
                        continue;
                    };
                    count_word(counts, word);
                }
            }
            _ => {}
        }
    }
}

/// The numbers of the first and of the last row.
#[derive(Default)]
struct Ends {
    first: RowNumbers,
    last: RowNumbers,
}

impl Ends {
    fn take(&mut self, row: u64, wanted: &[usize], block: &[Cells]) {
        let count = block.iter().map(|cells| numbers(cells).len()).max().unwrap_or_default();
        let Some(last) = count.checked_sub(1) else { return };
        let at = |at: usize| -> Vec<(usize, f64)> {
            let all = wanted.iter().zip(block);
            all.filter_map(|(place, cells)| Some((*place, *numbers(cells).get(at)?))).collect()
        };
        self.first.get_or_insert_with(|| (row, at(0)));
        self.last = Some((row + last as u64, at(last)));
    }
}

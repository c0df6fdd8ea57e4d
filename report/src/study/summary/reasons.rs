//! Reasons counted, those that differ only in their numbers together.

use std::collections::HashMap;

/// Most reasons that are told apart; a foreign table may have one a row.
const MOST_REASONS: usize = 24;
/// What all further ones are called.
const OTHERS: &str = "other reasons";
/// Said where a row gives none.
const NO_REASON: &str = "nothing there to measure";

/// A reason and the rows that have it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The reason.
    pub words: String,
    /// Rows that have it.
    pub rows: u64,
}

/// The reasons met so far; each is known by its place.
#[derive(Default)]
pub(super) struct Reasons {
    /// By what is left when numbers are taken out.
    known: HashMap<String, usize>,
    words: Vec<String>,
}

impl Reasons {
    /// The place of a row's reason; 0 is none.
    pub(super) fn place(&mut self, reason: Option<&str>) -> usize {
        let Some(reason) = reason else { return 0 };
        let key = numbers_out(reason);
        if let Some(place) = self.known.get(&key) {
            let words = &mut self.words[*place - 1];
            if words != reason && *words != key {
                *words = key;
            }
            return *place;
        }
        let others = self.words.len() + 1 >= MOST_REASONS;
        let (key, words) = if others { (OTHERS.to_owned(), OTHERS) } else { (key, reason) };
        if let Some(place) = self.known.get(&key) {
            return *place;
        }
        self.words.push(words.to_owned());
        self.known.insert(key, self.words.len());
        self.words.len()
    }

    /// Counts by place put into words, the most frequent first; those of no rows left out.
    pub(super) fn worded(&self, counts: &[u64]) -> Vec<Reason> {
        let words = |place: usize| match place.checked_sub(1) {
            Some(place) => self.words.get(place).map_or(OTHERS, String::as_str),
            None => NO_REASON,
        };
        let all = counts.iter().enumerate().filter(|(_, rows)| **rows > 0);
        let mut reasons: Vec<Reason> =
            all.map(|(place, rows)| Reason { words: words(place).to_owned(), rows: *rows }).collect();
        reasons.sort_by(|one, other| other.rows.cmp(&one.rows).then_with(|| one.words.cmp(&other.words)));
        reasons
    }
}

/// Adds one at a place.
pub(super) fn count(counts: &mut Vec<u64>, place: usize) {
    if counts.len() <= place {
        counts.resize(place + 1, 0);
    }
    counts[place] += 1;
}

/// A text with `…` for each number in it.
fn numbers_out(text: &str) -> String {
    let mut left = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let begins =
            letter.is_ascii_digit() || (letter == '-' && letters.peek().is_some_and(char::is_ascii_digit));
        if !begins {
            left.push(letter);
            continue;
        }
        left.push('…');
        while let Some(next) = letters.peek().copied() {
            let mut after = letters.clone();
            after.next();
            let goes_on =
                next.is_ascii_digit() || (next == '.' && after.peek().is_some_and(char::is_ascii_digit));
            if !goes_on {
                break;
            }
            letters.next();
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_that_differ_in_their_numbers_are_one() {
        let mut reasons = Reasons::default();
        let mut counts = Vec::new();
        for reason in [
            Some("a: 85.25 is too much; allowed are -30 to 85"),
            None,
            Some("a: 91 is too much; allowed are -30 to 85"),
            Some("b ends at 3.5 mm."),
            Some("b ends at 3.5 mm."),
            Some("b ends at 3.5 mm."),
        ] {
            let place = reasons.place(reason);
            count(&mut counts, place);
        }
        let reason = |words: &str, rows| Reason { words: words.to_owned(), rows };
        assert_eq!(
            reasons.worded(&counts),
            [
                reason("b ends at 3.5 mm.", 3),
                reason("a: … is too much; allowed are … to …", 2),
                reason(NO_REASON, 1)
            ]
        );
    }

    #[test]
    fn a_table_with_a_reason_a_row_needs_no_more_room_than_another() {
        let mut reasons = Reasons::default();
        let letters = |number: u32| (0..=number).map(|_| 'x').collect::<String>();
        let places: Vec<usize> = (0..100).map(|number| reasons.place(Some(&letters(number)))).collect();
        assert_eq!(reasons.words.len(), MOST_REASONS);
        assert_eq!(places.iter().filter(|place| **place == MOST_REASONS).count(), 100 - MOST_REASONS + 1);
    }
}

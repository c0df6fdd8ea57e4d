//! Why a set-up does not travel by a link, and what of a stranger's text may stand in a message.

use sim_core::text::ReadError;

use super::limits::{MOST_LINK_LETTERS, MOST_UNPACKED_BYTES, VERSION};
use crate::text::without_place;

/// Which of the two set-ups of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetUp {
    /// The scene.
    Scene,
    /// The second one, B.
    Beside,
}

impl SetUp {
    const fn words(self) -> &'static str {
        match self {
            Self::Scene => "the set-up",
            Self::Beside => "the second set-up, B,",
        }
    }
}

/// Why a set-up cannot be put into a link, or read from one. Texts in it are fit to show: short, and without
/// control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LinkError {
    /// Nothing there.
    #[error("the link carries nothing; behind #set-up= stands {VERSION} and what `eminentia link` writes")]
    Empty,
    /// Another form.
    #[error("the link begins with “{given}”; a link that can be read here begins with {VERSION}")]
    Version {
        /// What it begins with.
        given: String,
    },
    /// A letter that no link has.
    #[error(
        "letter {place} of the link is “{given}”; a link has A to Z, a to z, 0 to 9, - and _ only: copy it again, whole"
    )]
    Letter {
        /// The letter.
        given: String,
        /// Its place, from 1.
        place: usize,
    },
    /// A link that is too long.
    #[error(
        "the link has {letters} letters; allowed are {MOST_LINK_LETTERS}: send the scene as a file where it is larger, \
         as with long recorded paths or tables of heights"
    )]
    TooLong {
        /// How many there are.
        letters: usize,
    },
    /// Cut off or changed.
    #[error(
        "the link was cut off or changed on its way, so that it cannot be unpacked; copy it again, whole"
    )]
    Damaged,
    /// It unpacks to too much.
    #[error("what the link carries is larger than {MOST_UNPACKED_BYTES} bytes; send the scene as a file")]
    TooLarge,
    /// Bytes that are no text.
    #[error(
        "what the link carries is not UTF-8 text; a link is written by `eminentia link` or by the viewer"
    )]
    NotText,
    /// A line that says nothing known.
    #[error(
        "the link says “{given}”, which is not known; known are excursion, driven, view and beside, each once"
    )]
    Line {
        /// The line.
        given: String,
    },
    /// A scene that is refused.
    #[error("{} is refused: {why}", .which.words())]
    Unsound {
        /// Which of the two.
        which: SetUp,
        /// The field and what would be accepted.
        why: String,
    },
    /// A scene with files.
    #[error(
        "{} names the cast files “{upper}” and “{lower}”; files stay on the machine that has them, and a link cannot \
         carry them: send the scene and its casts as files, or give it invented_casts in place of casts",
        .which.words()
    )]
    CastFiles {
        /// Which of the two.
        which: SetUp,
        /// The file of the upper cast.
        upper: String,
        /// That of the lower.
        lower: String,
    },
    /// An excursion that is not there.
    #[error("“{given}”: there is no such excursion; those of the set-up are {known}")]
    NoSuchExcursion {
        /// The name given.
        given: String,
        /// Those that there are.
        known: String,
    },
    /// No place of that excursion.
    #[error("{excursion} at {given}; allowed is from 0 to {most} {unit}")]
    Driven {
        /// The excursion.
        excursion: &'static str,
        /// The number given.
        given: String,
        /// The farthest.
        most: f64,
        /// `mm` or `degrees`.
        unit: &'static str,
    },
    /// A place, and no excursion.
    #[error(
        "the link says how far along an excursion one stands, but not along which; give both, or the excursion alone"
    )]
    DrivenAlone,
    /// No name of a viewpoint.
    #[error("“{given}” names no viewpoint; a name has small letters and _ only, at most 20, as in oblique")]
    Viewpoint {
        /// What was given.
        given: String,
    },
}

impl LinkError {
    /// Of a scene text that is refused. Line and column are left out: nobody sees that text.
    pub(super) fn unsound(which: SetUp, error: &ReadError) -> Self {
        Self::Unsound { which, why: fit_to_show(&without_place(error)) }
    }
}

/// Letters of a stranger's text that stand in a message.
pub(crate) const MOST_QUOTED: usize = 40;
/// Letters of a word outside quotation marks: more than the longest path of a field, such as
/// `instrument.right_guide.early_translation.amount_mm`.
const LONGEST_WORD: usize = 60;
/// Letters of a whole message in which pieces of such a text may stand.
const MOST_SAID: usize = 400;

/// A piece of a stranger's text as a message quotes it: short, control characters and those that turn the
/// direction of writing as their numbers.
pub(crate) fn quoted(text: &str) -> String {
    cut(text, MOST_QUOTED)
}

/// A message of our own that quotes such a text somewhere: what stands in its quotation marks is
/// cut as by [`quoted`], and so is a word that is longer than any of ours.
pub(super) fn fit_to_show(message: &str) -> String {
    let mut said = String::new();
    for (nth, part) in message.split(['"', '`', '“', '”']).enumerate() {
        if nth > 0 {
            said.push('"');
        }
        if nth % 2 == 1 {
            said += &quoted(part);
        } else {
            let words: Vec<String> = part.split(' ').map(|word| cut(word, LONGEST_WORD)).collect();
            said += &words.join(" ");
        }
    }
    cut(&said, MOST_SAID)
}

fn cut(text: &str, most: usize) -> String {
    let mut letters = text.chars();
    let mut short = String::new();
    for letter in letters.by_ref().take(most) {
        if words::quoted::steers(letter) {
            short.extend(letter.escape_unicode());
        } else {
            short.push(letter);
        }
    }
    if letters.next().is_some() {
        short.push('…');
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_quoted_is_short_and_steers_nothing() {
        assert_eq!(quoted("a\u{1b}[31m\u{202e}b"), "a\\u{1b}[31m\\u{202e}b");
        assert_eq!(quoted(&"é".repeat(40)), "é".repeat(40));
        assert_eq!(quoted(&"é".repeat(41)), format!("{}…", "é".repeat(40)));
    }

    #[test]
    fn a_message_keeps_its_own_words_and_cuts_what_it_quotes() {
        let long = "a b ".repeat(300);
        let said = fit_to_show(&format!("cusps has tooth 36 \"{long}\" twice; give each a name of its own"));
        assert!(said.starts_with("cusps has tooth 36 \"a b "), "{said}");
        assert!(said.ends_with("…\" twice; give each a name of its own"), "{said}");
        let digits = "1".repeat(300);
        assert_eq!(fit_to_show(&format!("samples is {digits}")), format!("samples is {}…", "1".repeat(60)));
        assert!(fit_to_show(&"\u{1b} ".repeat(5000)).chars().count() < 10 * MOST_SAID);
    }
}

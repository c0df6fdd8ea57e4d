//! What of an address could not be used, as a page says it.

use crate::built_in::{BuiltIn, LESSONS, SCENES};
use crate::link::LinkError;

/// What an address may say, as a note lists it.
const KNOWN: &str = "#scene=NAME, #lesson=NAME, #set-up=LINK and ?only=picture";
/// Unknown words that a note lists.
const MOST_LISTED: usize = 3;

/// Something in an address that could not be used: a sentence or two for the person who opened it. Texts in it are
/// fit to show.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum AddressNote {
    /// A link that cannot be read.
    #[error("The set-up in this address cannot be opened: {0}.")]
    SetUp(Box<LinkError>),
    /// A link where it would be sent to the server.
    #[error(
        "The set-up in this address stands behind ?, where it is sent to the server. It must stand behind #: #set-up=LINK."
    )]
    SetUpSent,
    /// No scene of that name.
    #[error("No scene “{given}” comes with the program. There are {}.", names(SCENES))]
    NoSuchScene {
        /// The name.
        given: String,
    },
    /// No lesson of that name.
    #[error("No lesson “{given}” comes with the program. There are {}.", names(LESSONS))]
    NoSuchLesson {
        /// The name.
        given: String,
    },
    /// Only what?
    #[error("This address asks for only “{given}”; known is only=picture.")]
    Only {
        /// What was asked for.
        given: String,
    },
    /// More than one thing to open.
    #[error(
        "This address names more than one thing to open. A set-up goes before a lesson, a lesson before a scene, and the \
         first before the next."
    )]
    Several,
    /// Words that nobody knows.
    #[error("This address says {listed}, which is not known; known are {KNOWN}.")]
    Unknown {
        /// The words, and how many more there are.
        listed: String,
    },
    /// More parts than are looked at.
    #[error("This address has more than {most} parts; the rest of it was not looked at.")]
    TooMany {
        /// How many are.
        most: usize,
    },
}

impl AddressNote {
    pub(super) fn unknown(words: &[String]) -> Self {
        let mut listed: Vec<String> =
            words.iter().take(MOST_LISTED).map(|word| format!("“{word}”")).collect();
        if words.len() > MOST_LISTED {
            listed.push(format!("{} more", words.len() - MOST_LISTED));
        }
        Self::Unknown { listed: listed.join(", ") }
    }
}

fn names(of: &[BuiltIn]) -> String {
    of.iter().map(|one| one.name).collect::<Vec<_>>().join(", ")
}

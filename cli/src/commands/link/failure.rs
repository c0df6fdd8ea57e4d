//! Why a set-up is not put into a link, and none is read from an address.

use files::address::AddressNote;
use files::link::{LinkError, SetUp};

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum LinkFailure {
    #[error("{}{error}", before(.error, .scene, .beside))]
    NotMade { error: LinkError, scene: String, beside: String },
    #[error("--read: the address carries no set-up; one that does has #set-up= in it")]
    NoSetUp,
    #[error(
        "--read: the address names the {what} {name}, which comes with the program; it carries no set-up"
    )]
    BuiltIn { what: &'static str, name: &'static str },
    #[error("--read: {0}")]
    NotRead(AddressNote),
    #[error("--second: the link carries no second set-up")]
    NoSecond,
    #[error("--read: standard input is no text of at most {most} bytes; an address is needed")]
    Unreadable { most: u64 },
}

/// The option or the file that the fault is about.
fn before(error: &LinkError, scene: &str, beside: &str) -> String {
    match error {
        LinkError::NoSuchExcursion { .. } => "--excursion ".to_owned(),
        LinkError::Driven { .. } => "--at: ".to_owned(),
        LinkError::CastFiles { which: SetUp::Beside, .. }
        | LinkError::Unsound { which: SetUp::Beside, .. } => {
            format!("--beside {beside}: ")
        }
        _ => format!("{scene}: "),
    }
}

impl Failure for LinkFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

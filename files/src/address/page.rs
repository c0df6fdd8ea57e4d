//! The address of a page, with a set-up behind it.

use std::fmt;
use std::str::FromStr;

use words::quoted::value;

use crate::link::{LinkError, Sent};

const ONLY_PICTURE: &str = "only=picture";

/// What goes behind a page's own address so that it opens a set-up: `#set-up=…`, with `?only=picture` before it
/// where only the picture is to be shown.
///
/// # Errors
/// [`LinkError`] as of [`Sent::to_link`].
pub fn reference(sent: &Sent, only_picture: bool) -> Result<String, LinkError> {
    let query = if only_picture { format!("?{ONLY_PICTURE}") } else { String::new() };
    Ok(format!("{query}#set-up={}", sent.to_link()?))
}

/// The address of the built page, as in `https://course.example/eminentia/`.
///
/// ```
/// use files::address::{Address, Opens, PageAddress};
/// use files::link::Sent;
/// use sim_core::scene::Scene;
///
/// let page: PageAddress = "https://course.example/eminentia/".parse()?;
/// let sent = Sent::from(Scene::thirty_degree());
/// let address = page.carrying(&sent, true)?;
/// assert!(address.starts_with("https://course.example/eminentia/?only=picture#set-up=1"));
/// assert_eq!(Address::read(&address).opens, Some(Opens::SetUp(Box::new(sent))));
/// assert!("javascript:alert(1)".parse::<PageAddress>().is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageAddress(String);

/// Why a text is no address of a page.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PageAddressError {
    /// No web address.
    #[error(
        "“{given}” is no address of a page; give one that begins with https:// or http://, as in https://course.example/eminentia/"
    )]
    NotHttp {
        /// What was given.
        given: String,
    },
    /// A letter that no address has.
    #[error(
        "“{given}” has “{letter}” in it, which no address has; write it with % as a browser shows it when it is copied"
    )]
    Letter {
        /// What was given.
        given: String,
        /// The letter.
        letter: String,
    },
    /// Something behind `#` already.
    #[error(
        "“{given}” has a # already; give the page's address without it and what follows: the set-up stands there"
    )]
    Fragment {
        /// What was given.
        given: String,
    },
}

impl FromStr for PageAddress {
    type Err = PageAddressError;

    fn from_str(given: &str) -> Result<Self, PageAddressError> {
        let not_http = || PageAddressError::NotHttp { given: value(given) };
        let (scheme, rest) = given.split_once("://").ok_or_else(not_http)?;
        let is_http = ["http", "https"].iter().any(|http| scheme.eq_ignore_ascii_case(http));
        let host = rest.split(['/', '?', '#']).next().unwrap_or_default();
        if !is_http || host.is_empty() {
            return Err(not_http());
        }
        // Those that RFC 3986 leaves out, and what is no letter of any script.
        let is_allowed = |letter: char| match letter {
            '"' | '<' | '>' | '\\' | '^' | '`' | '{' | '|' | '}' => false,
            ascii if ascii.is_ascii() => ascii.is_ascii_graphic(),
            other => other.is_alphanumeric(),
        };
        if let Some(letter) = given.chars().find(|letter| !is_allowed(*letter)) {
            let letter = value(&letter.to_string());
            return Err(PageAddressError::Letter { given: value(given), letter });
        }
        if given.contains('#') {
            return Err(PageAddressError::Fragment { given: value(given) });
        }
        Ok(Self(given.to_owned()))
    }
}

impl fmt::Display for PageAddress {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl PageAddress {
    /// The address at which the page opens a set-up; only its picture, where that is asked for.
    ///
    /// # Errors
    /// [`LinkError`] as of [`Sent::to_link`].
    pub fn carrying(&self, sent: &Sent, only_picture: bool) -> Result<String, LinkError> {
        let (page, own) = self.0.split_once('?').unwrap_or((&self.0, ""));
        let own = own.split('&').filter(|part| !part.is_empty() && *part != ONLY_PICTURE);
        let query: Vec<&str> = own.chain(only_picture.then_some(ONLY_PICTURE)).collect();
        let query = if query.is_empty() { String::new() } else { format!("?{}", query.join("&")) };
        Ok(format!("{page}{query}{}", reference(sent, false)?))
    }
}

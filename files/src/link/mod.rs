//! A set-up as a text that stands in an address: what a teacher sends and a page opens.
//!
//! A [`Sent`] is the scene, perhaps a second set-up beside it, and what of it is shown.
//! [`Sent::to_link`] makes the text that goes behind `#set-up=`, [`Sent::from_link`] reads one. Where
//! it stands in an address is [`crate::address`]'s.
//!
//! The text is [`VERSION`], then base64url without padding (RFC 4648, section 5) of a zlib stream (RFC
//! 1950) of lines in UTF-8: the scene as RON on one line, then in any order, each at most once,
//! `excursion NAME`, `driven NUMBER`, `view NAME`, `beside SCENE`. A link comes from anybody: nothing of
//! it is believed before it is checked, and no more is unpacked than [`MOST_UNPACKED_BYTES`].
//!
//! ```
//! use files::link::Sent;
//! use sim_core::scene::Scene;
//!
//! let sent = Sent::from(Scene::thirty_degree());
//! let link = sent.to_link()?;
//! assert!(link.starts_with('1') && link.len() < 1_000);
//! assert_eq!(Sent::from_link(&link)?, sent);
//! // One letter lost on the way.
//! let refused = Sent::from_link(&link[..link.len() - 1]).unwrap_err();
//! assert!(refused.to_string().contains("copy it again"), "{refused}");
//! # Ok::<(), files::link::LinkError>(())
//! ```

mod check;
mod error;
mod limits;
mod lines;
mod packed;
mod sent;

pub use error::{LinkError, SetUp};
pub use limits::{MOST_LINK_LETTERS, MOST_UNPACKED_BYTES, VERSION};
pub use sent::{Sent, Shown};

impl Sent {
    /// The text that goes behind `#set-up=`: letters, digits, `-` and `_`.
    ///
    /// # Errors
    /// [`LinkError`] for what cannot travel: a scene that names cast files or makes no sense, an excursion
    /// that it has not, a set-up whose link were longer than [`MOST_LINK_LETTERS`].
    pub fn to_link(&self) -> Result<String, LinkError> {
        check::check(self)?;
        let text = lines::written(self);
        // What was set in it without a file may be out of a range that only a text's reader knows.
        lines::read(&text)?;
        packed::pack(&text)
    }

    /// Reads the text that stands behind `#set-up=`.
    ///
    /// # Errors
    /// [`LinkError`] says what is wrong with it. What it holds of the link is short and without control
    /// characters.
    pub fn from_link(link: &str) -> Result<Self, LinkError> {
        let sent = lines::read(&packed::unpack(link)?)?;
        check::check(&sent)?;
        Ok(sent)
    }
}

#[cfg(test)]
mod tests;

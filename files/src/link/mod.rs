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
mod lines;
mod packed;

use sim_core::scene::Scene;

pub(crate) use error::quoted;
pub use error::{LinkError, SetUp};

/// What a link begins with. It is another digit where a link of another form is written.
pub const VERSION: char = '1';

/// Letters that a link has at most, [`VERSION`] among them. Browsers take far longer addresses, but mail and
/// course pages cut them; the scenes that come with the program need fewer than a tenth of it.
pub const MOST_LINK_LETTERS: usize = 16_000;

/// Bytes that a link unpacks to at most: four times what such a length of ordinary scenes holds. A stream made
/// to burst would unpack to a thousand times its length.
pub const MOST_UNPACKED_BYTES: usize = 200_000;

/// What a link carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent {
    /// The scene, with whatever was set in it. It names no cast files: those stay where they are.
    pub scene: Scene,
    /// The second set-up, B, where one stands beside it.
    pub beside: Option<Scene>,
    /// The excursion shown; the page's usual when absent.
    pub shown: Option<Shown>,
    /// The viewpoint by its name, as `oblique`: small letters and `_`, at most twenty. Whether there is one of
    /// that name, who shows it knows. The page's usual when absent.
    pub viewpoint: Option<String>,
}

/// An excursion that is shown, and where in it one stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The name of its movement, as `right_lateral`: one of the scene's, or `protrusive`, `right_lateral`,
    /// `left_lateral`, which every scene can make.
    pub excursion: String,
    /// How far along it one stands, in the unit of its drive (mm, or degrees of an opening), from 0 to
    /// the farthest that drives go; where the page begins when absent.
    pub driven: Option<f64>,
}

impl From<Scene> for Sent {
    /// The scene alone.
    fn from(scene: Scene) -> Self {
        Self { scene, beside: None, shown: None, viewpoint: None }
    }
}

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

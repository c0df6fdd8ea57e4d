//! What the address of a page says: the part behind `?`, and the part behind `#`, which no browser sends to
//! a server.
//!
//! | in the address | what it does |
//! | --- | --- |
//! | `#scene=NAME` | opens a scene that comes with the program |
//! | `#lesson=NAME` | opens a lesson that comes with it |
//! | `#set-up=LINK` | opens the set-up that a [link](crate::link) carries |
//! | `?only=picture` | the picture with few controls, for a page that embeds it; also behind `#` |
//! | `?only=numbers` | settings and numbers as a table, without a picture |
//!
//! Several behind `#` are joined by `&`. What cannot be used is a note for the page, and never stops it;
//! other words behind `?` are those of whoever handed the address on, and passed over.
//!
//! ```
//! use files::address::{Address, Opens};
//!
//! let read = Address::read("https://course.example/page/?only=picture#scene=steep_guides&colour=red");
//! assert!(matches!(read.opens, Some(Opens::Scene(scene)) if scene.name == "steep_guides"));
//! assert!(read.only_picture);
//! assert!(read.notes[0].to_string().contains("colour"));
//! ```

mod note;
mod page;

use percent_encoding::percent_decode_str;
use words::quoted;

use crate::built_in::{BuiltIn, lesson_named, scene_named};
use crate::link::Sent;

pub use note::AddressNote;
pub use page::{PageAddress, PageAddressError, reference};

/// Parts between `&` that are looked at; an address that somebody wrote has a few.
const MOST_PARTS: usize = 20;

/// What a page opens.
#[derive(Clone, Debug, PartialEq)]
pub enum Opens {
    /// A scene that comes with the program.
    Scene(BuiltIn),
    /// A lesson that comes with it.
    Lesson(BuiltIn),
    /// The set-up of a link.
    SetUp(Box<Sent>),
}

/// What an address says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Address {
    /// What is opened. Of several things a set-up goes before a lesson, a lesson before a scene, and the first
    /// named before a later one.
    pub opens: Option<Opens>,
    /// Whether only the picture is shown, with few controls.
    pub only_picture: bool,
    /// What could not be used, for the person who opened it.
    pub notes: Vec<AddressNote>,
}

impl Address {
    /// Reads an address, whole or from its `?` or `#` on. What stands before those is not looked at.
    #[must_use]
    pub fn read(address: &str) -> Self {
        let (before, fragment) = address.split_once('#').unwrap_or((address, ""));
        let (_, query) = before.split_once('?').unwrap_or((before, ""));
        let behind = |text: &'static str| move |part| (text, part);
        let query = query.split('&').map(behind("?"));
        let parts = query.chain(fragment.split('&').map(behind("#"))).filter(|(_, part)| !part.is_empty());

        let mut read = Reading::default();
        for (number, (mark, part)) in parts.enumerate() {
            if number == MOST_PARTS {
                read.notes.push(AddressNote::TooMany { most: MOST_PARTS });
                break;
            }
            let (key, value) = part.split_once('=').unwrap_or((part, ""));
            let decoded = |text| percent_decode_str(text).decode_utf8_lossy();
            read.part(mark == "#", &decoded(key), &decoded(value));
        }
        read.end()
    }
}

/// An address while it is read.
#[derive(Default)]
struct Reading {
    set_ups: Vec<Sent>,
    lessons: Vec<BuiltIn>,
    scenes: Vec<BuiltIn>,
    only_picture: bool,
    unknown: Vec<String>,
    notes: Vec<AddressNote>,
}

impl Reading {
    fn part(&mut self, behind_hash: bool, key: &str, value: &str) {
        match key {
            "scene" => match scene_named(value) {
                Some(scene) => self.scenes.push(scene),
                None => self.notes.push(AddressNote::NoSuchScene { given: quoted::value(value) }),
            },
            "lesson" => match lesson_named(value) {
                Some(lesson) => self.lessons.push(lesson),
                None => self.notes.push(AddressNote::NoSuchLesson { given: quoted::value(value) }),
            },
            "set-up" if behind_hash => {
                // Mail breaks long lines.
                let link: String = value.split_ascii_whitespace().collect();
                match Sent::from_link(&link) {
                    Ok(sent) => self.set_ups.push(sent),
                    Err(error) => self.notes.push(AddressNote::SetUp(Box::new(error))),
                }
            }
            "set-up" => self.notes.push(AddressNote::SetUpSent),
            "only" if value == "picture" => self.only_picture = true,
            // The page itself looks for that, before anything draws.
            "only" if value == "numbers" => {}
            "only" => self.notes.push(AddressNote::Only { given: quoted::value(value) }),
            // Mail, chats and course pages add words of their own behind `?`, which a student could not explain.
            _ if !behind_hash => {}
            _ => self.unknown.push(quoted::value(key)),
        }
    }

    fn end(mut self) -> Address {
        if self.set_ups.len() + self.lessons.len() + self.scenes.len() > 1 {
            self.notes.push(AddressNote::Several);
        }
        if !self.unknown.is_empty() {
            self.notes.push(AddressNote::unknown(&self.unknown));
        }
        let set_up = self.set_ups.into_iter().next().map(|sent| Opens::SetUp(Box::new(sent)));
        let opens = set_up
            .or_else(|| self.lessons.first().copied().map(Opens::Lesson))
            .or_else(|| self.scenes.first().copied().map(Opens::Scene));
        Address { opens, only_picture: self.only_picture, notes: self.notes }
    }
}

#[cfg(test)]
mod tests;

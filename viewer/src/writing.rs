//! What is to be written into a file, and the card on which that is said.

use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};

use crate::place::Place;

/// Pictures of an animation for each millimetre, or degree, where nothing else is said.
pub const FRAMES_PER_MM: u16 = 4;

/// Least and greatest width and height of a picture, in pixels: the least in which the panels are of
/// use, and what graphics drivers can hold.
const WIDTH: RangeInclusive<u32> = 640..=8192;
const HEIGHT: RangeInclusive<u32> = 400..=8192;

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutKind {
    /// The whole window as it stands.
    Picture,
    /// The picture without its panels.
    PictureAlone,
    /// Separation and clearance of the marked cusps, on the axes of the plot.
    PlotSvg,
    /// The same in pixels.
    PlotPng,
    /// Every sample and cusp of every excursion of the scene.
    Table,
    /// The excursion as an animated PNG.
    Animation,
    /// The excursion as a folder of pictures.
    Frames,
}

impl OutKind {
    /// Each, in the order of its buttons.
    pub const ALL: [Self; 7] = [
        Self::Picture,
        Self::PictureAlone,
        Self::PlotSvg,
        Self::PlotPng,
        Self::Table,
        Self::Animation,
        Self::Frames,
    ];

    /// The words on its button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Picture => "window (PNG)",
            Self::PictureAlone => "picture alone (PNG)",
            Self::PlotSvg => "plot (SVG)",
            Self::PlotPng => "plot (PNG)",
            Self::Table => "table (CSV)",
            Self::Animation => "animation (PNG)",
            Self::Frames => "folder of pictures",
        }
    }

    /// How its file ends; nothing for a folder.
    #[must_use]
    pub const fn ending(self) -> Option<&'static str> {
        match self {
            Self::Picture | Self::PictureAlone | Self::PlotPng | Self::Animation => Some("png"),
            Self::PlotSvg => Some("svg"),
            Self::Table => Some("csv"),
            Self::Frames => None,
        }
    }

    /// Whether it is drawn by the graphics crate, in a size of one's own.
    #[must_use]
    pub const fn has_size(self) -> bool {
        matches!(self, Self::Picture | Self::PictureAlone | Self::Animation | Self::Frames)
    }

    /// Whether it is of an excursion, which a case on the bench does not have.
    #[must_use]
    pub const fn is_of_an_excursion(self) -> bool {
        !matches!(self, Self::Picture | Self::PictureAlone)
    }

    /// Why it is not written here, if it is not.
    #[must_use]
    pub const fn why_not(self, place: Place) -> Option<&'static str> {
        match (place, self) {
            (Place::Page, Self::PlotPng) => Some(
                "a page of a browser writes the plot as SVG; the viewer on a computer writes it in pixels too",
            ),
            (Place::Page, Self::Animation | Self::Frames) => Some(
                "a page of a browser writes the picture as it stands; the viewer on a computer writes an excursion in \
                 motion",
            ),
            _ => None,
        }
    }

    /// What stands behind the scene's name in the name first offered.
    const fn suffix(self) -> &'static str {
        match self {
            Self::Picture | Self::Table => "",
            Self::PictureAlone => "_picture",
            Self::PlotSvg | Self::PlotPng => "_plot",
            Self::Animation => "_motion",
            Self::Frames => "_frames",
        }
    }

    /// Refuses a name that another kind of file ends in.
    ///
    /// # Errors
    /// What is written, and how its name ends.
    pub fn check(self, path: &Path) -> Result<(), String> {
        let Some(wanted) = self.ending() else { return Ok(()) };
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if ending.as_deref() == Some(wanted) {
            return Ok(());
        }
        Err(format!(
            "{}: {} is written; give the file a name that ends in .{wanted}",
            words::quoted::path(path),
            wanted.to_uppercase()
        ))
    }

    /// A path as it was typed, with the ending where none was given.
    #[must_use]
    pub fn with_ending(self, typed: &str) -> PathBuf {
        let path = PathBuf::from(typed.trim());
        match self.ending() {
            Some(ending) if path.extension().is_none() => path.with_extension(ending),
            _ => path,
        }
    }
}

/// A file that is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Writing {
    /// What.
    pub kind: OutKind,
    /// The file, or the folder.
    pub path: PathBuf,
    /// Of a picture, in pixels.
    pub size: (u32, u32),
    /// Pictures of an animation for each millimetre, or degree.
    pub per_mm: u16,
    /// Cards and notes are drawn too.
    pub is_shown_as_it_stands: bool,
}

/// The card on which is said what is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WriteCard {
    /// What.
    pub kind: OutKind,
    /// The path as it is being typed.
    pub path: String,
    /// The size as it is being typed.
    pub size: String,
    /// Why it is not written yet.
    pub problem: Option<String>,
}

impl WriteCard {
    /// The card as it comes up, for the scene of a file.
    #[must_use]
    pub fn new(file: Option<&Path>) -> Self {
        let kind = OutKind::Picture;
        Self { kind, path: suggested(file, kind), size: "1920x1200".to_owned(), problem: None }
    }

    /// Chooses what is written; the name follows.
    pub fn choose(&mut self, file: Option<&Path>, kind: OutKind) {
        self.kind = kind;
        self.path = suggested(file, kind);
        self.problem = None;
    }

    /// What is to be written.
    ///
    /// # Errors
    /// What is wrong with path or size.
    pub fn writing(&self) -> Result<Writing, String> {
        if self.path.trim().is_empty() {
            return Err("Give it a name.".to_owned());
        }
        let path = self.kind.with_ending(&self.path);
        self.kind.check(&path)?;
        let size = if self.kind.has_size() { size(&self.size)? } else { (*WIDTH.start(), *HEIGHT.start()) };
        Ok(Writing { kind: self.kind, path, size, per_mm: FRAMES_PER_MM, is_shown_as_it_stands: false })
    }
}

/// A name beside the scene's file.
fn suggested(file: Option<&Path>, kind: OutKind) -> String {
    let file = file.unwrap_or(Path::new("my_scene"));
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    let ending = kind.ending().map_or_else(String::new, |ending| format!(".{ending}"));
    file.with_file_name(format!("{stem}{}{ending}", kind.suffix())).display().to_string()
}

/// Reads a size in pixels: `1600x1000`.
///
/// # Errors
/// What was given, and what is possible.
pub fn size(text: &str) -> Result<(u32, u32), String> {
    let form = || format!("`{text}` is not a size; write WIDTHxHEIGHT, for example 1600x1000");
    let (width, height) = text.split_once(['x', 'X', '×']).ok_or_else(form)?;
    let side = |text: &str, name: &str, allowed: RangeInclusive<u32>| {
        let side: u32 = text.trim().parse().map_err(|_| form())?;
        if allowed.contains(&side) {
            Ok(side)
        } else {
            Err(format!(
                "a {name} of {side} pixels is not possible; allowed are {} to {}",
                allowed.start(),
                allowed.end()
            ))
        }
    };
    Ok((side(width, "width", WIDTH)?, side(height, "height", HEIGHT)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_says_what_is_wrong_and_gives_the_ending() {
        let mut card = WriteCard::new(None);
        assert_eq!(card.writing().unwrap().path, Path::new("my_scene.png"));
        card.path = "lecture/one".to_owned();
        assert_eq!(card.writing().unwrap().path, Path::new("lecture/one.png"));
        card.path = "one.jpg".to_owned();
        assert!(card.writing().unwrap_err().contains("PNG"));
        card.choose(None, OutKind::Table);
        assert_eq!(card.writing().unwrap().path, Path::new("my_scene.csv"));
        card.choose(None, OutKind::Animation);
        card.size = "100x100".to_owned();
        assert!(card.writing().unwrap_err().contains("640"));
        card.path = " ".to_owned();
        assert!(card.writing().is_err());
    }
}

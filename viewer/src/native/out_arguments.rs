//! What the command line says of pictures: which are written, and how one looks.

use std::path::{Path, PathBuf};

use clap::Args;

use super::values::{finite, png};
use crate::action::Action;
use crate::state::State;
use crate::writing::{FRAMES_PER_MM, OutKind, Writing};

/// Pictures, and how they are looked at.
#[derive(Args, Debug)]
pub struct OutArguments {
    /// Write the excursion as an animated PNG, from rest to its end or to --at, instead of opening a window.
    #[arg(long, value_name = "FILE.png", value_parser = png, conflicts_with = "snapshot")]
    pub animation: Option<PathBuf>,

    /// Write its pictures into this folder, numbered; the folder is made, or is empty.
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["snapshot", "animation"])]
    pub frames: Option<PathBuf>,

    /// Pictures for each millimetre (degree) of it.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=20), default_value_t = FRAMES_PER_MM)]
    pub frames_per_mm: u16,

    /// Size of the words, from 1 to 4: twice as large for a picture of twice as many pixels.
    #[arg(long, value_name = "TIMES", value_parser = scale)]
    pub scale: Option<f32>,

    /// Turn the picture about the vertical, in degrees from the view; above 0 to the right.
    #[arg(long, value_name = "DEG", value_parser = finite, allow_negative_numbers = true)]
    pub turn: Option<f64>,

    /// Raise the viewpoint, in degrees from the view.
    #[arg(long, value_name = "DEG", value_parser = finite, allow_negative_numbers = true)]
    pub tilt: Option<f64>,

    /// Show it this many times as large.
    #[arg(long, value_name = "TIMES", value_parser = zoom)]
    pub zoom: Option<f64>,

    /// The picture without panels, with its legend and the caution.
    #[arg(long)]
    pub picture_alone: bool,
}

impl OutArguments {
    /// What is to be written, if anything.
    #[must_use]
    pub fn wanted(&self, snapshot: Option<&Path>, size: (u32, u32)) -> Option<Writing> {
        let ways = [
            (OutKind::Picture, snapshot),
            (OutKind::Animation, self.animation.as_deref()),
            (OutKind::Frames, self.frames.as_deref()),
        ];
        let (kind, path) = ways.into_iter().find_map(|(kind, path)| Some((kind, path?)))?;
        let per_mm = self.frames_per_mm;
        Some(Writing { kind, path: path.to_owned(), size, per_mm, is_shown_as_it_stands: true })
    }

    /// Looks at the state so.
    pub fn look(&self, state: &mut State) {
        if let Some(scale) = self.scale {
            state.appearance.text_scale = scale;
        }
        state.appearance.picture_alone = self.picture_alone;
        if self.turn.is_some() || self.tilt.is_some() {
            state.act(Action::Turn(self.turn.unwrap_or(0.0), self.tilt.unwrap_or(0.0)));
        }
        if let Some(zoom) = self.zoom {
            state.act(Action::Zoom(1.0 / zoom));
        }
    }
}

fn scale(text: &str) -> Result<f32, String> {
    match text.trim().parse::<f32>() {
        Ok(scale) if (1.0..=4.0).contains(&scale) => Ok(scale),
        _ => Err(format!("`{text}` is not a size of words; a number from 1 to 4 is")),
    }
}

fn zoom(text: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(zoom) if (0.1..=20.0).contains(&zoom) => Ok(zoom),
        _ => Err(format!("`{text}` is not how many times as large; a number from 0.1 to 20 is")),
    }
}

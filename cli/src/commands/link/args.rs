//! What `eminentia link` takes.

use std::path::PathBuf;

use clap::Args;
use files::address::PageAddress;
use sim_core::setting::Change;

use crate::args::OneScene;

/// What is said of a link that is made.
const OF_MAKING: [&str; 7] = ["path", "page", "with", "excursion", "at", "beside", "only_picture"];

#[derive(Args)]
pub(crate) struct Link {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    /// Address of the page that opens the link, as in `https://course.example/eminentia/` [default: only what goes
    /// behind it is printed]
    #[arg(long, value_name = "URL")]
    pub(crate) page: Option<PageAddress>,
    /// Change a setting of the set-up that is sent, as in `left_guide.horizontal_inclination_deg=40`; may be repeated
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) with: Vec<Change>,
    /// The excursion that is shown: protrusive, right_lateral, left_lateral, or any other that the scene has
    /// [default: the page's usual]
    #[arg(long, value_name = "NAME")]
    pub(crate) excursion: Option<String>,
    /// How far along it, in the unit of what drives it: millimetres, or degrees of an opening; of the scene's first
    /// where none is named [default: where the page begins]
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    pub(crate) at: Option<f64>,
    /// A second scene (RON), which is laid beside it as B
    #[arg(long, value_name = "SCENE")]
    pub(crate) beside: Option<PathBuf>,
    /// Show the picture only, with few controls: for a page that embeds it
    #[arg(long)]
    pub(crate) only_picture: bool,
    /// Print the scene (RON) that a link carries, in place of making one: its address in quotation marks, or `-` for
    /// standard input
    #[arg(
        long,
        value_name = "ADDRESS",
        conflicts_with_all = OF_MAKING
    )]
    pub(crate) read: Option<String>,
    /// Of a link that is read, print the second set-up, B
    #[arg(long, requires = "read", conflicts_with_all = OF_MAKING)]
    pub(crate) second: bool,
}

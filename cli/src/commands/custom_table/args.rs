//! What `eminentia custom-table` takes.

use std::path::PathBuf;

use clap::Args;
use sim_core::anterior::PinTip;
use sim_core::occlusion::{TablePrint, TableSweep};
use sim_core::setting::Change;
use sim_core::units::Length;

use crate::args::ReportArgs;

#[derive(Args)]
pub(crate) struct CustomTable {
    /// Scene file (RON) with casts; `-` is standard input [default: the compiled-in dentate pair]
    #[arg(value_name = "SCENE")]
    pub(crate) scene: Option<PathBuf>,
    /// Change a setting for this run; may be repeated
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) with: Vec<Change>,
    /// Advance up to which every excursion is made
    #[arg(long, value_name = "MM", default_value_t = TableSweep::default().to.mm(), allow_negative_numbers = true)]
    to: f64,
    /// Spacing of the table's grid
    #[arg(long, value_name = "MM", default_value_t = TableSweep::default().step.mm(), allow_negative_numbers = true)]
    step: f64,
    /// How far the table goes on beyond what the pin swept, on every side
    #[arg(long, value_name = "MM", default_value_t = TableSweep::default().margin.mm(), allow_negative_numbers = true)]
    margin: f64,
    /// Radius of the ball at the pin's tip; 0 is a point. The table is then such that the ball's centre
    /// follows the teeth
    #[arg(long = "tip-radius", value_name = "MM", value_parser = tip, default_value = "0", allow_negative_numbers = true)]
    tip: PinTip,
    /// Write the table as a closed solid to print: .stl, .ply or .obj, in millimetres from the pin
    /// tip's place at rest
    #[arg(long, value_name = "FILE")]
    pub(crate) print: Option<PathBuf>,
    /// Material below the lowest point of the printed table
    #[arg(long, value_name = "MM", requires = "print", default_value_t = TablePrint::default().thickness.mm(), allow_negative_numbers = true)]
    thickness: f64,
    /// Write the scene (RON) with this table as its anterior guide and the pin flush
    #[arg(long, value_name = "FILE")]
    pub(crate) scene_out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}

impl CustomTable {
    /// The table asked for.
    pub(crate) fn sweep(&self) -> TableSweep {
        TableSweep {
            to: Length::from_mm(self.to),
            step: Length::from_mm(self.step),
            margin: Length::from_mm(self.margin),
            tip: self.tip,
        }
    }

    /// How it is printed.
    pub(crate) fn solid(&self) -> TablePrint {
        TablePrint { thickness: Length::from_mm(self.thickness) }
    }
}

fn tip(given: &str) -> Result<PinTip, String> {
    let radius: f64 = given.trim().parse().map_err(|_| format!("`{given}` is no number"))?;
    let radius = PinTip::RADIUS.facts.check(radius).map_err(|error| error.to_string())?;
    Ok(PinTip { radius: Length::from_mm(radius) })
}

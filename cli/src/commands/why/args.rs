//! What `eminentia why` takes.

use clap::{Args, ValueEnum};
use sim_core::account::Number;
use sim_core::frame::Side;

use crate::args::{Changes, OneScene, ReportWithoutCsvArgs};

#[derive(Args)]
pub(crate) struct Why {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    /// The excursion: protrusive, right_lateral, left_lateral, or any other that the scene has [default: the
    /// scene's first]
    #[arg(long, value_name = "NAME")]
    pub(crate) excursion: Option<String>,
    /// Where in it: millimetres of condylar advance, degrees of an opening [default: its end]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    pub(crate) at: Option<f64>,
    /// The cusp, by tooth and name, as in `36:mesiobuccal`; a tooth alone is the first cusp of it [default: the
    /// scene's first]
    #[arg(long, value_name = "TOOTH:NAME")]
    pub(crate) cusp: Option<String>,
    /// The number that is taken apart
    #[arg(long, value_enum, default_value_t)]
    pub(crate) number: NumberName,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

/// The numbers that can be taken apart.
#[derive(ValueEnum, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum NumberName {
    /// Clearance at the cusp
    #[default]
    Clearance,
    /// Separation at the cusp
    Separation,
    /// Way of the incisal point from rest, in a straight line
    IncisalDisplacement,
    /// How far the jaw is rotated open
    Opening,
    /// Advance of the right condyle
    RightAdvance,
    /// Advance of the left condyle
    LeftAdvance,
    /// Medial shift of the right condyle
    RightMedial,
    /// Medial shift of the left condyle
    LeftMedial,
    /// Drop of the right condyle
    RightDrop,
    /// Drop of the left condyle
    LeftDrop,
}

impl NumberName {
    /// The number, at the cusp of that place where it is read at one.
    pub(crate) const fn at(self, cusp: usize) -> Number {
        match self {
            Self::Clearance => Number::Clearance(cusp),
            Self::Separation => Number::Separation(cusp),
            Self::IncisalDisplacement => Number::IncisalDisplacement,
            Self::Opening => Number::Opening,
            Self::RightAdvance => Number::Advance(Side::Right),
            Self::LeftAdvance => Number::Advance(Side::Left),
            Self::RightMedial => Number::Medial(Side::Right),
            Self::LeftMedial => Number::Medial(Side::Left),
            Self::RightDrop => Number::Drop(Side::Right),
            Self::LeftDrop => Number::Drop(Side::Left),
        }
    }
}

//! How the pictures that a command draws are set for print.

use std::ops::RangeInclusive;

use clap::Args;
use report::figures::Print;

/// Of a command whose option, or group of options, `plot` draws.
#[derive(Args, Default)]
pub(crate) struct PrintArgs {
    /// Width of the plot on paper in millimetres, 80 to 420; its letters keep their size where it can be laid out
    /// anew [default: 190.5, both columns of a page]
    #[arg(long, value_name = "MM", requires = "plot", value_parser = width)]
    plot_width_mm: Option<f64>,
    /// Dots an inch of a PNG, 72 to 1200, which the file tells [default: 300]
    #[arg(long, value_name = "N", requires = "plot", value_parser = dpi())]
    plot_dpi: Option<u32>,
    /// Put the title into the plot [default: left off, for a caption to say]
    #[arg(long, requires = "plot")]
    plot_title: bool,
}

impl PrintArgs {
    /// As asked, or as usual.
    pub(crate) fn print(&self) -> Print {
        Print {
            width_mm: self.plot_width_mm.unwrap_or(Print::USUAL.width_mm),
            dpi: self.plot_dpi.unwrap_or(Print::USUAL.dpi),
            titled: self.plot_title,
        }
    }
}

fn width(given: &str) -> Result<f64, String> {
    let allowed = RangeInclusive::new(Print::LEAST_MM, Print::MOST_MM);
    given
        .parse::<f64>()
        .ok()
        .filter(|width| allowed.contains(width))
        .ok_or_else(|| format!("{} to {} millimetres are allowed", Print::LEAST_MM, Print::MOST_MM))
}

fn dpi() -> clap::builder::RangedI64ValueParser<u32> {
    clap::value_parser!(u32).range(i64::from(Print::LEAST_DPI)..=i64::from(Print::MOST_DPI))
}

#[cfg(test)]
mod tests {
    use super::width;

    #[test]
    fn a_width_is_one_that_words_find_room_in() {
        assert_eq!(width("84"), Ok(84.0));
        for wrong in ["79.9", "421", "NaN", "inf", "-84", "84mm", ""] {
            assert!(width(wrong).is_err(), "{wrong}");
        }
    }
}

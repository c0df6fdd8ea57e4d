//! The picture of curves that a command may draw, and how high its axes are.

use std::path::PathBuf;

use clap::Args;

use super::PrintArgs;

#[derive(Args, Default)]
pub(crate) struct PlotArgs {
    /// Draw separation (solid) and clearance (dashed) along each excursion into this file (.svg, .png or .pdf)
    #[arg(long, value_name = "FILE")]
    pub(crate) plot: Option<PathBuf>,
    /// Hold the axes of the plot at these millimetres, so that two plots can be laid beside each other [default: what
    /// the curves need]
    #[arg(long, value_name = "LOW:HIGH", requires = "plot", value_parser = range, allow_hyphen_values = true)]
    pub(crate) plot_range: Option<(f64, f64)>,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
}

/// Two numbers of millimetres, the lower one first.
fn range(given: &str) -> Result<(f64, f64), String> {
    let needed = || "two numbers of millimetres are needed, the lower one first, for example -1:5".to_owned();
    let (low, high) = given.split_once(':').ok_or_else(needed)?;
    let number = |text: &str| text.trim().replace('−', "-").parse::<f64>().map_err(|_| needed());
    let (low, high) = (number(low)?, number(high)?);
    let most = |end: f64| end.abs() <= MOST_MM;
    if high - low >= LEAST_MM && most(low) && most(high) { Ok((low, high)) } else { Err(needed()) }
}

/// Higher than any jaw opens.
const MOST_MM: f64 = 1000.0;
/// Lower than anybody can see.
const LEAST_MM: f64 = 0.01;

#[cfg(test)]
mod tests {
    use super::range;

    #[test]
    fn a_range_is_two_numbers_the_lower_one_first() {
        assert_eq!(range("-1:5"), Ok((-1.0, 5.0)));
        assert_eq!(range("−0.5 : 2.25"), Ok((-0.5, 2.25)));
        for wrong in ["", "5", "5:1", "1:1", "a:b", "NaN:1", "0:inf", "0:1e9", "0:1:2"] {
            assert!(range(wrong).is_err(), "{wrong}");
        }
    }
}

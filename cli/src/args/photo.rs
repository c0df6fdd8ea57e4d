//! What is typed about a photo of a tracing.

use clap::Args;

use super::numbers::numbers;
use tracing_photo::{Forward, Part, Scale};

/// What a photo does not tell by itself.
#[derive(Args)]
#[command(next_help_heading = "For a photo")]
pub(crate) struct PhotoOptions {
    /// Two marks on the plate, in pixels from the left and from the top of the picture
    #[arg(long, value_name = "X,Y,X,Y", requires = "apart", value_parser = marks, allow_hyphen_values = true)]
    pub(crate) marks: Option<[f64; 4]>,
    /// Distance of the two marks on the plate
    #[arg(long, value_name = "MM", requires = "marks", value_parser = apart, allow_hyphen_values = true)]
    pub(crate) apart: Option<f64>,
    /// Where in the picture the patient's front lies: up, down, left, right, degrees clockwise from
    /// up, or `marks`, from the first mark to the second [default: up]
    #[arg(long, value_name = "WAY", requires = "marks", value_parser = forward, allow_hyphen_values = true)]
    pub(crate) forward: Option<Forward>,
    /// Look for the tracing only in this part of the picture, in pixels
    #[arg(long, value_name = "LEFT,TOP,RIGHT,BOTTOM", requires = "marks", value_parser = part)]
    pub(crate) within: Option<Part>,
}

impl PhotoOptions {
    /// What brings pixels to millimetres, where it was given.
    pub(crate) fn scale(&self) -> Option<Scale> {
        let [x1, y1, x2, y2] = self.marks?;
        Some(Scale {
            marks: [[x1, y1].into(), [x2, y2].into()],
            apart_mm: self.apart?,
            forward: self.forward.unwrap_or(Forward::Clockwise(0.0)),
        })
    }
}

/// Farthest apart that marks on a plate are, in mm.
const FARTHEST_APART_MM: f64 = 300.0;

fn marks(given: &str) -> Result<[f64; 4], String> {
    numbers(given, "210,640,980,652")
}

fn apart(given: &str) -> Result<f64, String> {
    let [mm] =
        numbers(given, "30").map_err(|_| "a number of millimetres is needed, for example 30".to_owned())?;
    if mm > 0.0 && mm <= FARTHEST_APART_MM {
        Ok(mm)
    } else {
        Err(format!("allowed are numbers above 0, up to {FARTHEST_APART_MM} mm"))
    }
}

fn forward(given: &str) -> Result<Forward, String> {
    match given {
        "up" => Ok(Forward::Clockwise(0.0)),
        "right" => Ok(Forward::Clockwise(90.0)),
        "down" => Ok(Forward::Clockwise(180.0)),
        "left" => Ok(Forward::Clockwise(270.0)),
        "marks" => Ok(Forward::AlongMarks),
        _ => match numbers(given, "12.5") {
            Ok([degrees]) if f64::abs(degrees) <= 360.0 => Ok(Forward::Clockwise(degrees)),
            _ => Err("allowed are up, down, left, right, marks, or −360 to 360 degrees clockwise from up"
                .to_owned()),
        },
    }
}

fn part(given: &str) -> Result<Part, String> {
    let numbers: Vec<u32> = given
        .split(',')
        .map(|number| number.trim().parse())
        .collect::<Result<_, _>>()
        .map_err(|_| "4 whole numbers are needed, for example 200,150,1400,1100".to_owned())?;
    let [left, top, right, bottom] = numbers[..] else {
        return Err("4 whole numbers are needed, for example 200,150,1400,1100".to_owned());
    };
    Ok(Part { left, top, right, bottom })
}

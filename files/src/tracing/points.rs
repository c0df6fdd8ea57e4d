//! Points of a tracing, from CSV: one row a point.
//!
//! The first row is `leg,forward_mm,left_mm`, in any order; `leg` is `protrusive`, `right_lateral`
//! or `left_lateral`; a leg gone over again is more rows of it. Lines that start with `#` are
//! comments.

use csv::{ReaderBuilder, StringRecord, Trim};
use sim_core::tracing::{Leg, PlatePoint};

use crate::open::without_mark;

/// The columns.
pub const COLUMNS: [&str; 3] = ["leg", "forward_mm", "left_mm"];

/// Why a text holds no points. Each starts with the line it stands in, from 1.
#[derive(Clone, Debug, thiserror::Error, PartialEq, Eq)]
pub enum PointsError {
    /// No row.
    #[error(" is empty; the first row is {}, then comes one row a point", heads())]
    Empty,
    /// Bytes that are no text.
    #[error(
        " is not UTF-8 text, nor a PNG or JPEG photo (line {line}); a tracing is a CSV file of points, or a photo"
    )]
    NotText {
        /// The line.
        line: u64,
    },
    /// A first row that names other columns.
    #[error("{line}: the first row is `{given}`; it is {}, in any order{hint}", heads())]
    Heads {
        /// The line.
        line: u64,
        /// The row, as far as it helps.
        given: String,
        /// What may have happened.
        hint: &'static str,
    },
    /// A row that is too short or too long.
    #[error("{line}: the row has {given} fields; it has 3, as the first row says")]
    Fields {
        /// The line.
        line: u64,
        /// Its fields.
        given: usize,
    },
    /// A leg that there is not.
    #[error("{line}: field leg is `{given}`; it is one of protrusive, right_lateral, left_lateral")]
    Leg {
        /// The line.
        line: u64,
        /// What stands there.
        given: String,
    },
    /// A coordinate that is no number.
    #[error(
        "{line}: field {field} is `{given}`; a finite number of millimetres is needed, as in -4.25{hint}"
    )]
    Number {
        /// The line.
        line: u64,
        /// The column.
        field: &'static str,
        /// What stands there.
        given: String,
        /// What may have happened.
        hint: &'static str,
    },
}

fn heads() -> String {
    format!("`{}`", COLUMNS.join(","))
}

/// Reads the points of the legs, in the order of [`Leg::ALL`].
///
/// # Errors
/// [`PointsError`] with the line.
pub fn points(bytes: &[u8]) -> Result<[Vec<PlatePoint>; 3], PointsError> {
    let bytes = without_mark(bytes);
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        PointsError::NotText { line: 1 + before.iter().filter(|&&byte| byte == b'\n').count() as u64 }
    })?;
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let mut row = StringRecord::new();
    let mut next = |row: &mut StringRecord| reader.read_record(row).unwrap_or(false);
    if !next(&mut row) {
        return Err(PointsError::Empty);
    }
    let places = places(&row)?;
    let mut legs = [const { Vec::new() }; 3];
    while next(&mut row) {
        let (leg, point) = point(&row, places)?;
        legs[leg as usize].push(point);
    }
    Ok(legs)
}

fn line(row: &StringRecord) -> u64 {
    row.position().map_or(0, csv::Position::line)
}

/// Places of the columns in a row, in the order of [`COLUMNS`].
fn places(row: &StringRecord) -> Result<[usize; 3], PointsError> {
    let place = |column: &str| row.iter().position(|head| head == column);
    let places = COLUMNS.map(place);
    if let ([Some(leg), Some(forward), Some(left)], 3) = (places, row.len()) {
        return Ok([leg, forward, left]);
    }
    let given = row.iter().collect::<Vec<_>>().join(",").chars().take(80).collect::<String>();
    let has = |endings: &[&str]| row.iter().any(|head| endings.iter().any(|ending| head.ends_with(ending)));
    let hint = if has(&["_px", "_pixel", "_pixels", "px"]) {
        ". Pixels are brought to millimetres first, or the photo itself is given, with two marks of known distance"
    } else if has(&["_cm", "_m", "_in", "_inch", "_um", "_µm"]) {
        ". Coordinates are in millimetres"
    } else if row.iter().any(|head| head.contains(';') || head.contains('\t')) {
        ". Fields are parted by commas"
    } else {
        ""
    };
    Err(PointsError::Heads { line: line(row), given, hint })
}

fn point(row: &StringRecord, places: [usize; 3]) -> Result<(Leg, PlatePoint), PointsError> {
    let line = line(row);
    if row.len() != COLUMNS.len() {
        return Err(PointsError::Fields { line, given: row.len() });
    }
    let given = |place: usize| row[places[place]].chars().take(80).collect::<String>();
    let leg = Leg::named(&row[places[0]]).ok_or_else(|| PointsError::Leg { line, given: given(0) })?;
    let number = |place: usize| {
        let text = &row[places[place]];
        text.parse().ok().filter(|number: &f64| number.is_finite()).ok_or_else(|| PointsError::Number {
            line,
            field: COLUMNS[place],
            given: given(place),
            hint: if text.contains("mm") { ", without its unit" } else { "" },
        })
    };
    Ok((leg, PlatePoint::mm(number(1)?, number(2)?)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_stand_in_any_order_and_comments_are_passed_over() {
        let text = "# invented\nleft_mm, leg ,forward_mm\n1,protrusive,2\n# more\n3, left_lateral ,-4.5\n";
        let legs = points(text.as_bytes()).unwrap();
        assert_eq!(legs[0], [PlatePoint::mm(2.0, 1.0)]);
        assert_eq!(legs[2], [PlatePoint::mm(-4.5, 3.0)]);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        let refusal = |text: &str| points(text.as_bytes()).unwrap_err().to_string();
        assert!(refusal("# nothing\n").contains("is empty"));
        assert!(refusal("leg,forward_px,left_px\n").contains("Pixels"));
        assert!(refusal("leg,forward_cm,left_cm\n").contains("in millimetres"));
        assert!(refusal("leg;forward_mm;left_mm\n").contains("parted by commas"));
        let head = "# a\nleg,forward_mm,left_mm\n";
        assert!(refusal(&format!("{head}protrusive,1\n")).starts_with("3: the row has 2 fields"));
        assert!(refusal(&format!("{head}middle,1,2\n")).starts_with("3: field leg is `middle`"));
        assert!(
            refusal(&format!("{head}protrusive,1,2\nprotrusive,NaN,2\n"))
                .starts_with("4: field forward_mm is `NaN`")
        );
        assert!(refusal(&format!("{head}protrusive,1,2 mm\n")).contains("without its unit"));
        let bytes = [head.as_bytes(), b"protrusive,\xff,2\n"].concat();
        assert_eq!(points(&bytes).unwrap_err(), PointsError::NotText { line: 3 });
    }
}

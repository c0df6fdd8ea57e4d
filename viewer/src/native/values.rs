//! Values of the command line, read and checked.

use std::path::PathBuf;

use sim_core::cast::Film;
use sim_core::units::Length;

use crate::writing::OutKind;

pub(super) fn png(text: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(text);
    OutKind::Picture.check(&path)?;
    Ok(path)
}

pub(super) fn film(text: &str) -> Result<Length, String> {
    let um = |film: &Length| (film.mm() * 1000.0).round();
    let given = text.trim().parse::<f64>();
    Film::THICKNESSES
        .into_iter()
        .find(|film| given.as_ref().is_ok_and(|given| um(film).total_cmp(given).is_eq()))
        .ok_or_else(|| {
            let known: Vec<String> = Film::THICKNESSES.iter().map(|film| um(film).to_string()).collect();
            format!("there is no film of `{text}` µm; there is film of {} µm", known.join(", "))
        })
}

pub(super) fn finite(text: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        _ => Err(format!("`{text}` is not a finite number")),
    }
}

pub(super) fn position(text: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(number) if number.is_finite() && number >= 0.0 => Ok(number),
        Ok(_) => Err("a position is a finite number, 0 or more".to_owned()),
        Err(_) => Err(format!("`{text}` is not a number")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::writing::size;

    #[test]
    fn sizes_and_positions_are_checked() {
        assert_eq!(size("1600x1000"), Ok((1600, 1000)));
        assert!(size("1600").is_err() && size("0x10").is_err() && size("9000x900").is_err());
        assert_eq!(position("3.0"), Ok(3.0));
        assert!(png("x.PNG").is_ok() && png("x").is_err());
        assert!(png("x.jpg").unwrap_err().contains("PNG"));
        for wrong in ["-1", "nan", "inf", "three"] {
            assert!(position(wrong).is_err(), "{wrong}");
        }
        assert_eq!(film("40"), Ok(Length::from_mm(0.04)));
        for wrong in ["41", "-8", "nan", "thin"] {
            assert!(film(wrong).unwrap_err().contains("8, 20, 40, 100, 200"), "{wrong}");
        }
        assert_eq!(finite("-24.5"), Ok(-24.5));
        assert!(finite("inf").is_err());
    }
}

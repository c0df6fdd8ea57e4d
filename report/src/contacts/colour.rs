//! The colours that marks have on a cast.
//!
//! From dark blue over green to yellow, the scale grows lighter all the way, and its end is darker than
//! the cast: those who do not see red and green apart tell its steps by blue against yellow, and a grey
//! print tells them by lightness alone.

/// The colour of a cast where no film marks: stone.
pub(super) const STONE: [u8; 3] = [240, 236, 230];

/// Where the scale begins, passes through, and ends.
const SCALE: [[f64; 3]; 3] = [[18.0, 30.0, 110.0], [40.0, 140.0, 130.0], [222.0, 170.0, 40.0]];

/// The colour of one film of so many, from the thinnest, 0.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // between 0 and 255
pub(super) fn of_film(film: usize, films: usize) -> [u8; 3] {
    let part = if films > 1 { film as f64 / (films - 1) as f64 } else { 0.0 };
    let (from, to, along) =
        if part <= 0.5 { (SCALE[0], SCALE[1], part * 2.0) } else { (SCALE[1], SCALE[2], part * 2.0 - 1.0) };
    [0, 1, 2].map(|channel| (from[channel] + (to[channel] - from[channel]) * along).round() as u8)
}

#[cfg(test)]
mod tests {
    use super::{STONE, of_film};

    /// Relative luminance of a colour (ITU-R BT.709 coefficients, from memory).
    fn luminance(colour: [u8; 3]) -> f64 {
        let linear = colour.map(|channel| (f64::from(channel) / 255.0).powf(2.2));
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    #[test]
    fn thicker_films_are_lighter_and_the_thickest_is_darker_than_stone() {
        for films in 1..=6 {
            let colours: Vec<[u8; 3]> = (0..films).map(|film| of_film(film, films)).collect();
            for pair in colours.windows(2) {
                assert!(luminance(pair[1]) > luminance(pair[0]) + 0.02, "{colours:?}");
            }
            assert!(luminance(STONE) > luminance(colours[films - 1]) + 0.2, "{colours:?}");
        }
    }
}

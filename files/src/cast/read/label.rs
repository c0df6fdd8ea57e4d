//! Groups that are named for a tooth.

use sim_core::cusp::Tooth;

/// The tooth that a group's name says it is: its number alone (`36`), or with the word `tooth` before or
/// after it (`tooth_36`, `Tooth 36`, `36-tooth`). A number in any other name is not taken for a tooth:
/// programs number all sorts of things.
pub(super) fn tooth(name: &[u8]) -> Option<Tooth> {
    let name = std::str::from_utf8(name).ok()?.to_ascii_lowercase();
    let mut number = None;
    for word in name.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty()) {
        let digits = word.strip_prefix("tooth").or_else(|| word.strip_suffix("tooth")).unwrap_or(word);
        match (digits, number) {
            ("", _) => {}
            (digits, None) if digits.len() == 2 => number = Some(digits.parse().ok()?),
            _ => return None,
        }
    }
    Tooth::new(number?).ok()
}

#[cfg(test)]
mod tests {
    use super::tooth;

    #[test]
    fn a_number_alone_or_with_the_word_tooth_is_a_label_and_others_are_not() {
        for name in ["36", "tooth_36", "Tooth 36", "tooth36", "TOOTH-36", "36_tooth", "tooth.36"] {
            assert_eq!(tooth(name.as_bytes()).map(|tooth| tooth.number()), Some(36), "{name}");
        }
        for name in ["", "tooth", "19", "mesh_36", "group36", "tooth_36_2", "36 37", "2036", "3 6", "a36"] {
            assert_eq!(tooth(name.as_bytes()), None, "{name}");
        }
        assert_eq!(tooth(b"\xff36"), None);
    }
}

//! Which letters the typeface of pictures and papers has.

use std::collections::BTreeSet;

/// Most letters that are listed.
const MOST_LISTED: usize = 12;

/// What to say of the letters of a page that its typeface has no shape for; nothing where it has all. They are left as
/// boxes on PDF and PNG. HTML and SVG take the reader's own typefaces.
#[must_use]
pub fn without_shape(page: &str) -> Option<String> {
    let face = ttf_parser::Face::parse(dejavu::sans::regular(), 0).ok()?;
    let lacks = |letter: &char| {
        !letter.is_ascii()
            && !letter.is_whitespace()
            && !letter.is_control()
            && face.glyph_index(*letter).is_none()
    };
    let letters: BTreeSet<char> = page.chars().filter(lacks).collect();
    if letters.is_empty() {
        return None;
    }
    let mut list: Vec<String> = letters.iter().take(MOST_LISTED).map(char::to_string).collect();
    if letters.len() > MOST_LISTED {
        list.push(format!("and {} more", letters.len() - MOST_LISTED));
    }
    Some(format!(
        "the typeface of PDF and PNG has no {}; each stands there as an empty box. HTML and SVG show them in a typeface of \
         the reader's",
        list.join(" ")
    ))
}

#[cfg(test)]
mod tests {
    use super::without_shape;

    #[test]
    fn greek_and_cyrillic_have_shapes_and_chinese_has_none() {
        assert_eq!(without_shape("Größe, Ωμέγα, Проверка: 30° − ≤ × →"), None);
        let said = without_shape("患者 漢字 (invented)").expect("the typeface lacks them");
        assert!(said.contains("字 患 漢 者"), "{said}");
        let many: String = ('\u{4e00}'..'\u{4e40}').collect();
        assert!(without_shape(&many).expect("none of them").contains("and 52 more"));
    }
}

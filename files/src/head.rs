//! The head of a scene that the program writes: comments that say what it was made from and what to keep in mind, since
//! the file goes on without the page it was asked from.

use sim_core::scene::Scene;
use words::caution::{CAUTION, MORE_DIGITS_THAN_A_SCALE};

/// Letters that a line of the head has at most.
const LINE: usize = 110;
/// Letters of a title that stand there.
const LONGEST_TITLE: usize = 200;

/// What a scene was made from.
#[derive(Clone, Copy, Debug)]
pub struct MadeFrom<'m> {
    /// `case`, `scene` or `link`.
    pub what: &'static str,
    /// Its title.
    pub title: &'m str,
    /// SHA-256 of its file; `None` where it is no file that a person keeps.
    pub sha256: Option<&'m str>,
    /// By which command.
    pub by: &'static str,
    /// On which day, as `2026-11-27`; the caller asks the clock.
    pub day: &'m str,
    /// What else a reader of the scene is to know.
    pub notes: &'m [String],
}

/// The scene as text with its head; read again it is the same scene.
#[must_use]
pub fn scene_with_head(scene: &Scene, made: &MadeFrom<'_>) -> String {
    let mut sentences = vec![
        CAUTION.to_owned(),
        format!(
            "Written by eminentia {} on {} from the {}: {}",
            made.by,
            made.day,
            made.what,
            on_one_line(made.title)
        ),
    ];
    sentences.extend_from_slice(made.notes);
    sentences.extend(made.sha256.map(|hash| format!("SHA-256 of the {}: {hash}", made.what)));
    sentences.push(MORE_DIGITS_THAN_A_SCALE.to_owned());
    let mut text = String::new();
    for sentence in &sentences {
        for line in textwrap::wrap(sentence, LINE) {
            text += &format!("// {line}\n");
        }
    }
    text + &scene.to_ron() + "\n"
}

/// A title that cannot end its comment.
fn on_one_line(title: &str) -> String {
    words::quoted::escaped(title).chars().take(LONGEST_TITLE).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_head_says_what_it_is_of_and_the_scene_reads_back_the_same() {
        let scene = Scene::thirty_degree();
        let hash = crate::sha256([b"case".as_slice()]);
        let made = MadeFrom {
            what: "case",
            title: "A title\nthat tries ) to end ( its comment\r\u{2028}",
            sha256: Some(&hash),
            by: "program",
            day: "2026-11-27",
            notes: &[],
        };
        let text = scene_with_head(&scene, &made);
        assert_eq!(Scene::from_ron(&text).unwrap(), scene);
        let head: Vec<&str> = text.lines().take_while(|line| line.starts_with("// ")).collect();
        let said = head.iter().map(|line| &line[3..]).collect::<Vec<_>>().join(" ");
        assert!(said.starts_with(CAUTION), "{said}");
        for told in [r"from the case: A title\nthat tries", &hash, "on 2026-11-27", MORE_DIGITS_THAN_A_SCALE]
        {
            assert!(said.contains(told), "{told}: {said}");
        }
        assert!(head.iter().all(|line| line.chars().count() <= LINE + 3), "{head:?}");
        let no_file = scene_with_head(&scene, &MadeFrom { sha256: None, ..made });
        assert!(!no_file.contains("SHA-256"));
    }
}

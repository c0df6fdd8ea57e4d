//! A file that may be a case or a scene, told apart by what stands in it.

use sim_core::record::Case;
use sim_core::scene::Scene;

use crate::source::Source;
use crate::text::{TextError, from_text, without_mark};

/// What a file has turned out to hold.
#[derive(Debug)]
pub enum CaseOrScene {
    /// A patient's records.
    Case(Box<Case>),
    /// Settings without records.
    Scene(Box<Scene>),
}

/// A case or a scene, with the text it was read from.
///
/// # Errors
/// [`TextError`] names the file and the place. A text that is neither is refused as the one that it was read as the
/// farther: the fields of the other end its reading early.
pub fn case_or_scene(source: &Source) -> Result<(String, CaseOrScene), TextError> {
    let text = source.text::<Case>()?;
    let name = source.name();
    let read = case_or_scene_from_text(&text, &name)?;
    Ok((text, read))
}

/// As [`case_or_scene`], of a text that was read already; `name` is how messages call it.
///
/// # Errors
/// As [`case_or_scene`].
pub fn case_or_scene_from_text(text: &str, name: &str) -> Result<CaseOrScene, TextError> {
    let bare = without_mark(text);
    match (Case::from_ron(bare), Scene::from_ron(bare)) {
        (Ok(case), _) => Ok(CaseOrScene::Case(Box::new(case))),
        (_, Ok(scene)) => Ok(CaseOrScene::Scene(Box::new(scene))),
        (Err(of_case), Err(of_scene)) => {
            let is_scene = (of_scene.line, of_scene.column) > (of_case.line, of_case.column);
            if is_scene {
                from_text(text, name).map(|scene| CaseOrScene::Scene(Box::new(scene)))
            } else {
                from_text(text, name).map(|case| CaseOrScene::Case(Box::new(case)))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(text: &str) -> String {
        case_or_scene_from_text(text, "mine.ron").unwrap_err().to_string()
    }

    #[test]
    fn a_file_is_what_it_holds_and_is_refused_as_what_it_nearly_is() {
        let scene = Scene::thirty_degree().to_ron();
        let case = sim_core::practice::deal(1, sim_core::practice::Level::First, &[]).unwrap().case.to_ron();
        assert!(matches!(case_or_scene_from_text(&scene, "").unwrap(), CaseOrScene::Scene(_)));
        assert!(matches!(
            case_or_scene_from_text(&format!("\u{feff}{case}"), "").unwrap(),
            CaseOrScene::Case(_)
        ));
        // The last field of each misspelt.
        let wrong_scene = scene.replacen("samples", "sample", 1);
        let wrong_case = case.replacen("Protrusive(", "Protusive(", 1);
        assert_ne!((wrong_scene.as_str(), wrong_case.as_str()), (scene.as_str(), case.as_str()));
        assert!(refusal(&wrong_scene).contains("`sample`"), "{}", refusal(&wrong_scene));
        assert!(refusal(&wrong_case).contains("Protusive"), "{}", refusal(&wrong_case));
        assert!(refusal("no RON").starts_with("mine.ron:1:"));
    }
}

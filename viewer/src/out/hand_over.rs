//! Files handed over by name: what a page of a browser does instead of writing them to a disk.

use std::path::{Path, PathBuf};

use report::figures::Print;

use super::made::{
    OutFile, beside_text, name_beside, name_of_beside, scene_text, sheet, table, template_svg,
};
use super::{plot, without_cards};
use crate::opened::Request;
use crate::state::State;
use crate::writing::OutKind;

/// Does what is asked for where a file goes out that is made of the state alone, and gives the state the answer; the
/// files are to be handed to the person. `day` is today (`2026-11-27`). Another request is given back.
///
/// # Errors
/// The request, where it is of another kind: of no file, or of one that has to be drawn.
pub fn hand_over(state: &mut State, request: Request, day: &str) -> Result<Vec<OutFile>, Request> {
    match request {
        Request::WriteSheet(kind) => {
            let Some(bench) = state.bench.clone() else { return Ok(Vec::new()) };
            let name = name_beside(bench.file.as_deref(), "sheet", 1, kind.ending());
            let made = sheet(&bench, kind, day);
            state.written(made.as_ref().map(|_| PathBuf::from(&name)).map_err(Clone::clone));
            Ok(made.into_iter().map(|bytes| OutFile { name: name.clone(), bytes }).collect())
        }
        Request::WriteTemplate(setup) => {
            let bytes = template_svg(&setup, &state.shown.scene.title).into_bytes();
            let name = name_beside(state.file.as_deref(), "template", 1, "svg");
            state.written(Ok(PathBuf::from(&name)));
            Ok(vec![OutFile { name, bytes }])
        }
        Request::Save { path, .. } => {
            let name = last_name(&path);
            let text = scene_text(state, day);
            let fingerprint = files::sha256([text.as_bytes()]);
            let beside = beside_text(state, day)
                .map(|text| OutFile { name: name_of_beside(Path::new(&name), 1), bytes: text.into_bytes() });
            let said = beside.as_ref().map(|file| format!("B: {}", file.name));
            state.saved(Path::new(&name), fingerprint, said, false);
            Ok(std::iter::once(OutFile { name, bytes: text.into_bytes() }).chain(beside).collect())
        }
        Request::Write { writing, .. } if matches!(writing.kind, OutKind::PlotSvg | OutKind::Table) => {
            let name = last_name(&writing.path);
            let shown = without_cards(state);
            let made = match writing.kind {
                OutKind::Table => table(&shown),
                _ => plot(&shown)
                    .alone(&Print::TITLED)
                    .map(String::into_bytes)
                    .map_err(|error| error.to_string()),
            };
            state.went_out(made.as_ref().map(|_| PathBuf::from(&name)).map_err(Clone::clone));
            Ok(made.into_iter().map(|bytes| OutFile { name: name.clone(), bytes }).collect())
        }
        request => Err(request),
    }
}

/// A name without the folders that may have been typed before it: a page knows none.
fn last_name(path: &Path) -> String {
    path.file_name().map_or_else(|| "eminentia".to_owned(), |name| name.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests {
    use sim_core::scene::Scene;

    use super::*;
    use crate::action::Action;
    use crate::action::testing::opened;
    use crate::asking::Answer;
    use crate::writing::{FRAMES_PER_MM, Writing};

    const DAY: &str = "2026-11-27";

    fn handed(state: &mut State, action: Action) -> Vec<OutFile> {
        let request = state.act(action).unwrap();
        hand_over(state, request, DAY).unwrap()
    }

    #[test]
    fn a_scene_is_handed_over_with_its_b_and_read_again_they_are_the_same() {
        let mut state = opened();
        state.act(Action::Keep);
        state.act(Action::Zero);
        state.act(Action::AskWhereToSave);
        state.act(Action::TypePath("a folder/mine".to_owned()));
        let files = handed(&mut state, Action::Answer(Answer::Go));
        let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
        assert_eq!(names, ["mine.ron", "mine_b.ron"]);
        let read = |file: &OutFile| Scene::from_ron(std::str::from_utf8(&file.bytes).unwrap()).unwrap();
        assert_eq!((read(&files[0]), read(&files[1])), (state.scene.clone(), Scene::thirty_degree()));
        assert_ne!(state.scene, Scene::thirty_degree());
        assert!(!state.is_changed() && !state.done);
        let note = state.file_note.unwrap();
        assert!(note.what.contains("mine.ron") && note.what.contains("mine_b.ron"), "{note:?}");
        let text = String::from_utf8(files[0].bytes.clone()).unwrap();
        assert!(text.contains(DAY) && text.contains("verified on the patient"), "{text}");
    }

    #[test]
    fn sheet_and_template_are_named_after_what_they_are_of() {
        let mut state = opened();
        assert_eq!(
            hand_over(&mut state, Request::WriteSheet(report::sheet::Kind::Html), DAY),
            Ok(Vec::new())
        );
        state.act(Action::UsualTracer(true));
        state.file = Some("lecture/steep.ron".into());
        let template = handed(&mut state, Action::WriteTemplate).remove(0);
        assert_eq!(template.name, "steep-template.svg");
        assert!(template.bytes.starts_with(b"<svg") && state.file_note.is_some());
        state.act(Action::Deal(7));
        let mut bench = (**state.bench.as_ref().unwrap()).clone();
        bench.file = Some("mine.ron".into());
        state.bench = Some(std::sync::Arc::new(bench));
        let request = Request::WriteSheet(report::sheet::Kind::Html);
        let sheet = hand_over(&mut state, request, DAY).unwrap().remove(0);
        assert_eq!(sheet.name, "mine-sheet.html");
        let text = String::from_utf8(sheet.bytes).unwrap();
        assert!(text.contains(DAY) && text.contains("</html>"));
    }

    #[test]
    fn what_has_to_be_drawn_is_given_back() {
        let mut state = opened();
        for kind in OutKind::ALL {
            let writing = Writing {
                kind,
                path: "folder/a".into(),
                size: (640, 400),
                per_mm: FRAMES_PER_MM,
                is_shown_as_it_stands: false,
            };
            let request = Request::Write { writing, replace: false };
            match hand_over(&mut state, request.clone(), DAY) {
                Ok(files) => {
                    assert!(matches!(kind, OutKind::PlotSvg | OutKind::Table), "{kind:?}");
                    assert_eq!(files[0].name, "a");
                    assert!(state.file_note.take().unwrap().what == "a" && !files[0].bytes.is_empty());
                }
                Err(back) => assert_eq!((back, &state.file_note), (request, &None)),
            }
        }
        let request = Request::Browse { to_save: false };
        assert_eq!(hand_over(&mut state, request.clone(), DAY), Err(request));
    }
}
